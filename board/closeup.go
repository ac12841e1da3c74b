package board

import "slices"

// RobotCloseUp begins the closing-up sheet, at the lead's word, when the
// blocking jobs are finished. Where nobody went under the covers since it was
// verified, the first-in lines are not owed.
type RobotCloseUp struct {
	Robot RobotID `json:"robot"`
}

func (c RobotCloseUp) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad == nil {
		bad = t.leadOnly(robot, "close it up")
	}
	if bad == nil && power.State == ClosingUp {
		bad = refuse(CodeNothingToDo, "%s is being closed up already. Next: %s", robot.Name, t.nextLine(robot.ID))
	}
	if bad == nil {
		bad = power.must(robot, "close up", Verified, Work)
	}
	if bad == nil {
		bad = t.s().blockedBy(robot.ID, func(j Job) bool { return j.State.handsDone() })
	}
	if bad == nil && power.State == Work {
		bad = t.firstInDone(robot)
	}
	if bad != nil {
		return bad
	}
	t.step(power, ClosingUp)
	t.endSheets(robot.ID, ListFirstIn)
	t.openSheet(robot, ListCloseUp)
	return nil
}

// nextLine is the question that a robot which is being closed up waits for.
func (t *turn) nextLine(robot RobotID) string {
	for _, list := range []SheetList{ListReopen, ListCloseUp, ListReady} {
		if ask := t.openLine(robot, list); ask != "" {
			return ask
		}
	}
	return "its signature."
}

// RobotReopen goes back from closing up to work: the lock and the link are
// looked at again.
type RobotReopen struct {
	Robot RobotID `json:"robot"`
}

func (c RobotReopen) do(t *turn) *Refusal {
	power, robot, bad := t.power(c.Robot)
	if bad == nil {
		bad = t.leadOnly(robot, "reopen it")
	}
	switch {
	case bad != nil:
	case power.State == Verified || power.State == Work:
		bad = refuse(CodeNothingToDo, "%s is %s and not closed up: there is nothing to reopen.", robot.Name, power.State)
	case power.State == Ready:
		bad = breaks(3, "%s is signed ready. To open it, set it unknown, which anyone may, and make it safe again.", robot.Name)
	default:
		bad = power.must(robot, "reopen it", ClosingUp)
	}
	if bad != nil {
		return bad
	}
	t.endSheets(robot.ID, ListCloseUp, ListReady)
	t.openSheet(robot, ListReopen)
	if len(t.s().linesOf(robot, ListReopen)) == 0 {
		t.reopened(power, robot)
	}
	return nil
}

// reopened brings a robot back from closing up. What is reached under the covers
// is first in again.
func (t *turn) reopened(power Power, r Robot) {
	t.step(power, Verified)
	t.openSheet(r, ListFirstIn)
}

// waitsFor tells whether a line of the closing up is answered only after another: covers go
// on over what is inside, and people are told when all of it is done.
func (l Line) waitsFor(o Line) bool {
	switch {
	case l.Part != partCloseUp || o.Part != partCloseUp:
		return false
	case l.ID == "covers":
		return o.ID == "inside" || o.ID == "bolts" || o.Kind == LinePack
	}
	return l.ID == "told" && o.ID != l.ID
}

// waitingLast puts each line behind those that it waits for.
func waitingLast(lines []Line) []Line {
	for _, l := range slices.Clone(lines) {
		at := slices.IndexFunc(lines, func(o Line) bool { return o.ID == l.ID })
		last := at
		for i, o := range lines {
			if i > last && l.waitsFor(o) {
				last = i
			}
		}
		lines = slices.Insert(slices.Delete(lines, at, at+1), last, l)
	}
	return lines
}
