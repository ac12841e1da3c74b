package board

import "slices"

// recheckSec is how long an answer about gas or capacitors holds while people
// are at work, where the event says nothing else, in seconds: our decision after
// 29 CFR 1910.147(d)(5)(ii), where stored energy can build up again.
const recheckSec = 15 * 60

// Recheck is how long such an answer holds at this event.
func (e Event) Recheck() Moment {
	if e.RecheckSec != 0 {
		return Moment(e.RecheckSec) * second
	}
	return recheckSec * second
}

// buildsUp tells whether an energy can come back behind its isolator.
func (k EnergyKind) buildsUp() bool { return k == EnergyGas || k == EnergyCapacitor }

// Recheck is a line that has to be answered again while people are at work.
type Recheck struct {
	Sheet SheetID
	Line  Line
	// Answered is when it was answered last, Due when that runs out.
	Answered Moment
	Due      Moment
}

// Rechecks lists a robot's lines about gas and capacitors that were answered and
// fall due again, the first due first. Each is on the newest sheet that asks it.
func (s State) Rechecks(robot RobotID) []Recheck {
	newest := map[string]Recheck{}
	for _, list := range []SheetList{ListMakeSafe, ListFirstIn, ListReopen} {
		sheet, _ := s.Sheet(robot, list)
		for _, l := range sheet.Lines {
			a, ok := sheet.Answered(l.ID)
			if was := newest[l.ID]; ok && l.Energy.buildsUp() && a.At >= was.Answered {
				newest[l.ID] = Recheck{Sheet: sheet.ID, Line: l, Answered: a.At, Due: a.At + s.Event().Recheck()}
			}
		}
	}
	return Sorted(newest, func(r Recheck) string { return r.Due.String() + r.Line.ID })
}

// recheckDue is the first re-check that falls due while the robot is in work.
func (s State) recheckDue(power Power) (Recheck, bool) {
	if power.State != Work {
		return Recheck{}, false
	}
	if list := s.Rechecks(power.Robot); len(list) > 0 {
		return list[0], true
	}
	return Recheck{}, false
}

// overdue makes a robot in work unknown whose re-check is overdue. The work until
// then counts; what came after it is not covered.
func (t *turn) overdue(power Power) {
	r, ok := t.s().recheckDue(power)
	if !ok || r.Due > t.now {
		return
	}
	for _, j := range inJobOrder(t.s()) {
		if j.Robot == power.Robot && j.State == JobRunning && j.Fix().Lockout {
			t.put(t.stop(j, JobHeld, HoldLockout, "a re-check is overdue", r.Due, ""))
		}
	}
	if n := len(power.Covered); n > 0 && power.Covered[n-1].To == 0 {
		power.Covered = slices.Clone(power.Covered)
		power.Covered[n-1].To = max(power.Covered[n-1].From+1, r.Due)
	}
	t.becomeUnknown(power, "not checked again in time: "+r.Line.Ask, true)
}

// recheckFirst keeps people from work while an answer about what is reached from
// outside is overdue.
func (t *turn) recheckFirst(robot Robot) *Refusal {
	for _, r := range t.s().Rechecks(robot.ID) {
		if r.Due <= t.now && t.s().Sheets[r.Sheet].List != ListFirstIn {
			return breaks(3, "This was checked too long ago on %s. Answer it again first: %s", robot.Name, r.Line.Ask)
		}
	}
	return nil
}

// firstInAgain asks the first one in again about what is reached from inside only and
// was answered too long ago.
func (t *turn) firstInAgain(robot Robot) {
	for _, r := range t.s().Rechecks(robot.ID) {
		if r.Due <= t.now && t.s().Sheets[r.Sheet].List == ListFirstIn {
			t.openSheet(robot, ListFirstIn)
			return
		}
	}
}
