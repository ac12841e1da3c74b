package board

// dueByNow does what time brought since the last command: tests that ended and
// the start of a new day.
func (t *turn) dueByNow() {
	today := t.now.Day(t.s().Event().OffsetMin)
	for _, power := range Sorted(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		switch {
		case power.State == Test && power.Test.Until <= t.now:
			t.testEnded(power, "the time of the test is over: ")
		case power.State != Unknown && power.Day != today:
			t.becomeUnknown(power, "a new day has begun", false)
		case power.State == Unknown && t.stale(power.Robot, today):
			t.openSheet(t.s().Robots[power.Robot], ListMakeSafe)
		default:
			t.overdue(power)
		}
	}
}

// stale tells whether an unknown robot's make-safe sheet was begun on an earlier
// day: its answers were about that day.
func (t *turn) stale(robot RobotID, today string) bool {
	sheet, ok := t.s().Sheet(robot, ListMakeSafe)
	return ok && len(sheet.Answers) > 0 && sheet.OpenedAt.Day(t.s().Event().OffsetMin) != today
}

// Due is the next moment at which time changes the board by itself, or 0. The
// desk then gives BoardTick.
func Due(s State, now Moment) Moment {
	due := Moment(0)
	sooner := func(m Moment) {
		if due == 0 || m < due {
			due = m
		}
	}
	for _, power := range s.Powers {
		if power.State == Test {
			sooner(power.Test.Until)
		}
		if r, ok := s.recheckDue(power); ok {
			sooner(max(now, r.Due))
		}
		if power.State != Unknown {
			sooner(now.nextDay(s.Event().OffsetMin))
		}
	}
	for _, j := range s.Jobs {
		if permit := s.Event().HotWork; j.State == JobRunning && hotWork(j) && permit.Needed && permit.Until > now {
			sooner(permit.Until)
		}
	}
	return due
}

// BoardTick does what has fallen due. The desk gives it.
type BoardTick struct{}

func (BoardTick) do(*turn) *Refusal { return nil }

// BoardStart is given once when the program starts or restores, before anyone is
// let in: every robot is unknown, tags and hands near stay, and what was charging may
// be charging still, with nobody there, until someone says.
type BoardStart struct {
	Why string `json:"why"`
	// Last is when the board last did something before, none where it never stopped:
	// nobody knows what was so since then.
	Last Moment `json:"last,omitzero"`
}

func (c BoardStart) do(t *turn) *Refusal {
	if c.Last != 0 {
		t.endedAt(min(c.Last, t.now))
	}
	for _, power := range Sorted(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		t.becomeUnknown(power, c.Why, false)
	}
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		if p.State == PackCharging {
			t.put(p.doubted(t.now))
		}
	}
	return nil
}

// endedAt ends, as of when the board stopped, the stretches in which robots were in work
// and packs were out, and the work in robots.
func (t *turn) endedAt(last Moment) {
	for _, power := range Sorted(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		power.Covered, power.PackOut = span(power.Covered, false, 0, last), span(power.PackOut, false, 0, last)
		t.put(power)
	}
	for _, j := range inJobOrder(t.s()) {
		if j.State == JobRunning && (j.Fix().Lockout || j.Fix().Where != OffRobot) {
			t.put(t.stop(j, JobHeld, HoldLockout, "the board was away", last, ""))
		}
	}
}

// rule18 lets the board itself move no robot toward power and no pack toward use, and
// the time be set by nobody who leaves a robot declared or a pack for use.
func rule18(t *turn) *Refusal {
	if _, set := t.command.(TimeSet); set {
		return rule18TimeSet(t)
	}
	if t.by.Role != RoleSystem {
		return nil
	}
	for id, power := range inOrder(t.s().Powers) {
		if power.State != Unknown && power.State != t.before.Powers[id].State {
			return breaks(18, "The board moves no robot toward power by itself.")
		}
	}
	for id, p := range inOrder(t.s().Packs) {
		if was := t.before.Packs[id].State; p.State != was && p.State != PackUnread && !p.State.setAside() && !(p.State == PackCharging && p.Unsure) {
			return breaks(18, "The board moves no pack toward use by itself.")
		}
	}
	return nil
}
