package board

import "slices"

// MayOweFailsafe tells whether the failsafe may be left to the officials' check: where
// the event says so, or has not said where it may be proven.
func (s State) MayOweFailsafe() bool { return s.Event().mayOweFailsafe() }

func (e EventFields) mayOweFailsafe() bool {
	return len(e.FailsafeAt) == 0 || slices.Contains(e.FailsafeAt, FailsafeOfficials)
}

// testLeast is how long a test runs that may have shown a failsafe: drive and weapon moved,
// the transmitter off, and all of it seen to stop. Common practice, no source.
const testLeast = 10 * second

// poweredAt is when a robot last had power that shows something: to the end of a test
// of some seconds that ended as it should, or in a fight.
func (s State) poweredAt(robot RobotID) Moment {
	return max(s.Powers[robot].PoweredAt, s.foughtFor(robot, testLeast))
}

// foughtAt is when a robot was declared live for the last fight whose result says that
// it was fought. Hands that came after that came after the fight, however late its result
// came; and a fight for which nobody declared it live is nothing but a word.
func (s State) foughtAt(robot RobotID) Moment { return s.foughtFor(robot, 0) }

// foughtFor is foughtAt of the fights that lasted some time from then on.
func (s State) foughtFor(robot RobotID, least Moment) Moment {
	var last Moment
	for _, f := range s.Fights {
		if f.Robot == robot && f.State == FightDone && f.Result.fought() && f.EndAt-f.LiveAt >= least {
			last = max(last, f.LiveAt)
		}
	}
	return last
}

// ProvenFailsafe tells whether a test or a fight has shown a robot's failsafe since
// hands were last on what it rests on.
func (s State) ProvenFailsafe(robot RobotID, l Line) bool {
	at := s.poweredAt(robot)
	return at != 0 && !s.touched(robot, l, at)
}

// unproven refuses a failsafe proven on a robot that had no power since that was
// touched: it is run to be proven.
func (s State) unproven(r Robot, l Line) *Refusal {
	if s.ProvenFailsafe(r.ID, l) {
		return nil
	}
	then := "Test its failsafe first, then walk its sheets again."
	if s.MayOweFailsafe() {
		then = "Test it, or say that the failsafe is owed to the officials."
	}
	return breaks(11, "%s had no test of %d s that ended in order, and no fight as long that it was declared live for, since radio, wiring, drive or weapon were last touched. %s", r.Name, testLeast/second, then)
}

// ruleFailsafe lets no robot be ready on a failsafe that nothing has shown.
func ruleFailsafe(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		if power.State != Ready || t.before.Powers[id].State == Ready {
			continue
		}
		sheet, _ := t.s().Sheet(id, ListReady)
		for _, l := range sheet.Lines {
			a, ok := sheet.Answered(l.ID)
			proven := a.Said == SaidDone || !t.s().MayOweFailsafe()
			if !ok || l.Kind != LineProof || !proven {
				continue
			}
			if bad := t.s().unproven(t.s().Robots[id], l); bad != nil {
				return bad
			}
		}
	}
	return nil
}
