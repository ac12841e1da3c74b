package board

// testMostMin is the longest a test may be asked for.
const testMostMin = 30

// RobotTest turns power on for one test at a test box or the arena.
type RobotTest struct {
	Robot   RobotID `json:"robot"`
	What    string  `json:"what"`
	Place   PlaceID `json:"place"`
	Minutes int     `json:"minutes"`
}

func (c RobotTest) Guards(State) []Key { return []Key{KeyOf(KindPower, c.Robot)} }

func (c RobotTest) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad == nil {
		bad = t.leadOnly(robot, "start a test")
	}
	if bad == nil {
		bad = t.mayGivePower(robot)
	}
	if bad == nil {
		bad = first(t.s().stopped(robot), power.must(robot, "be tested", ClosingUp))
	}
	if bad == nil {
		bad = first(checkName("what", c.What), t.loadedIn(robot), t.s().setAsideIn(robot, 13), t.s().eachNamed(robot), t.sheetDone(robot, ListCloseUp))
	}
	if open := t.openLine(robot.ID, ListReopen); bad == nil && open != "" {
		bad = breaks(3, "%s is being reopened. Answer this, then close it up again: %s", robot.Name, open)
	}
	sheet, _ := t.s().Sheet(robot.ID, ListCloseUp)
	if l, stale := t.s().staleOn(sheet); bad == nil && stale {
		bad = breaks(3, "A pack went in, or work was done, since this was answered at the closing up of %s. Answer it there again: %s", robot.Name, l.Ask)
	}
	if bad != nil {
		return bad
	}
	if c.Minutes < 1 || c.Minutes > testMostMin {
		return &Refusal{Code: CodeSafety, Rule: 17, Field: "minutes", Sentence: "A test needs an end: say how many minutes, 1 to 30."}
	}
	place, ok := t.s().Places[c.Place]
	if !ok || place.Retired || !place.powered() {
		return &Refusal{Code: CodeSafety, Rule: 16, Field: "place", Sentence: "Power for a test is only for a test box or the arena. Choose one of them."}
	}
	power.Place = place.ID
	power.Test = TestRun{What: c.What, Place: place.ID, Until: t.now + Moment(c.Minutes)*minute, By: t.by.Person}
	t.endSheets(robot.ID, ListReady)
	t.step(power, Test)
	return nil
}

// RobotTestEnd ends a test early. The robot is unknown, as after every test.
type RobotTestEnd struct {
	Robot RobotID `json:"robot"`
}

func (c RobotTestEnd) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad == nil && power.State != Test {
		bad = refuse(CodeNothingToDo, "%s is %s: no test runs that could be ended.", robot.Name, power.State)
	}
	if bad != nil {
		return bad
	}
	t.testEnded(power, "test ended: ")
	return nil
}

// testEnded makes a robot unknown whose test ended as it should, and so may have shown
// something where it lasted.
func (t *turn) testEnded(power Power, how string) {
	if t.now >= power.Since+testLeast {
		power.PoweredAt = t.now
	}
	t.becomeUnknown(power, how+power.Test.What, false)
}

// RobotLive declares a ready robot energised, in the arena, on the call.
type RobotLive struct {
	Robot RobotID `json:"robot"`
	Place PlaceID `json:"place"`
}

func (c RobotLive) Guards(State) []Key { return []Key{KeyOf(KindPower, c.Robot)} }

func (c RobotLive) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad == nil {
		bad = t.mayDeclare(robot)
	}
	if bad == nil {
		bad = t.mayGivePower(robot)
	}
	if bad == nil {
		bad = first(t.s().stopped(robot), power.must(robot, "go live", Ready))
	}
	if bad == nil {
		bad = t.s().fitToFight(robot)
	}
	if bad != nil {
		return bad
	}
	place, ok := t.s().Places[c.Place]
	if !ok || place.Retired || place.Kind != PlaceArena {
		return &Refusal{Code: CodeSafety, Rule: 16, Field: "place", Sentence: "A robot goes live in the arena and nowhere else. Choose the arena it is in."}
	}
	power.Place, power.FoughtAt, power.LiveAt = place.ID, t.now, t.now
	t.step(power, Live)
	return nil
}

// mayGivePower lets only someone with authority for every energy of a robot give it power, or
// event safety.
func (t *turn) mayGivePower(r Robot) *Refusal {
	person := t.s().People[t.by.Person]
	if person.AuthorisedFor(r) || person.Answers() && person.Role == RoleSafety {
		return nil
	}
	return breaks(5, "%s has no authority for every energy of %s and gives it no power. The captain can give them that authority on the roster.", person.Name, r.Name)
}

// mayDeclare says whose word it is that a robot is live: its lead's, the captain's, or
// its driver's where that is no minor or guest.
func (t *turn) mayDeclare(r Robot) *Refusal {
	driver, ok := t.s().People[t.by.Person]
	switch {
	case !ok || driver.ID != r.Driver:
		return t.leadOnly(r, "declare it live")
	case driver.Answers():
		return nil
	}
	return breaks(5, "%s is %s: they may drive %s and do not declare it live. %s handles lock and link and says so.", driver.Name, driver.whatIs(), r.Name, upper(t.s().leadName(r)))
}

// ruleWithdrawn keeps a robot that has no calls any more from going live.
func ruleWithdrawn(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		if robot := t.s().Robots[id]; power.State == Live && t.before.Powers[id].State != Live && robot.Withdrawn {
			return refuse(CodeForbidden, "%s is withdrawn and has no fights any more: it does not go live. The captain enters it again first, on its page.", robot.Name)
		}
	}
	return nil
}

// rule16 keeps power to the arena and the test box.
func rule16(t *turn) *Refusal {
	for _, power := range inOrder(t.s().Powers) {
		if power.State.Energised() && !t.s().Places[power.Place].powered() {
			return breaks(16, "Power is for the arena or a test box only.")
		}
	}
	return nil
}

// rule17 gives every test an end.
func rule17(t *turn) *Refusal {
	for _, power := range inOrder(t.s().Powers) {
		if power.State == Test && power.Test.Until <= t.now {
			return breaks(17, "A test must end later than now. Choose a later end.")
		}
	}
	return nil
}
