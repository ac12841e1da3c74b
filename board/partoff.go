package board

import "slices"

// atWork refuses that a part is off while work on it goes on: what that leaves behind is
// said when it has ended.
func (t *turn) atWork(d Damage) *Refusal {
	for _, j := range inJobOrder(t.before) {
		if t.before.worksOn(j, d, func(st Stint) bool { return st.To == 0 }) {
			return breaks(11, "Job %d, %s, is running, and it is work on that part. Finish or hold it first; then say whether the part is off.", j.Number, j.Name).of(j)
		}
	}
	return nil
}

// partBack makes a robot unknown that is signed or has power, where a part of it that was
// off is on again: hands were in it since, or it is not as the board has it.
func (t *turn) partBack(power Power) {
	if power.State != Ready && !power.State.Energised() {
		return
	}
	for _, d := range t.s().damagesOn(power.Robot) {
		if d.BackAt > t.before.Damages[d.ID].BackAt {
			t.becomeUnknown(power, "damage "+itoa(d.Number)+", "+d.Part+": the part is on it again", false)
			return
		}
	}
}

// opened refuses that a part comes off a robot that is not open for work, with the tag on
// of whoever takes it off.
func (t *turn) opened(d Damage) *Refusal {
	robot, power := t.s().Robots[d.Robot], t.before.Powers[d.Robot]
	switch power.State {
	case Work:
		return t.firstInDone(robot)
	case Isolated:
		if slices.Equal(d.Touches, []System{SysLight}) {
			return nil // the check that comes next asks for the light
		}
	case Verified:
		return breaks(11, "A part comes off at work, and nobody's tag is on %s. Put a tag on; then say that the part is off.", robot.Name)
	case ClosingUp:
		return breaks(11, "%s is closed up. A part comes off at work: %s reopens it first; what was answered since is asked again.", robot.Name, t.s().leadName(robot))
	case Ready:
		return breaks(11, "%s is signed ready. A part comes off at work: set it unknown, which anyone may, and make it safe again.", robot.Name)
	case Test, Live:
		return breaks(11, "%s is %s. A part comes off at work: that ends first, then make it safe again.", robot.Name, power.State)
	}
	return breaks(11, "%s is %s. A part comes off at work, one that was torn off too: make it safe, verify it and put a tag on; then say that the part is off.", robot.Name, power.State)
}

// lookable refuses a look at damage on a robot that nobody has verified since it had power.
func (t *turn) lookable(d Damage) *Refusal {
	robot := t.s().Robots[d.Robot]
	switch state := t.before.Powers[d.Robot].State; state {
	case Verified, Work, ClosingUp, Ready:
		return nil
	case Test, Live:
		return breaks(11, "%s is %s: stay clear of it until that has ended and it is verified. Then look.", robot.Name, state)
	default:
		return breaks(11, "%s is %s. Make it safe and verify it; then look.", robot.Name, state)
	}
}
