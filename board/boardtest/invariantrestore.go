package boardtest

import (
	"slices"
	"strings"

	. "mendline/board"
)

// restoreInvariants compare a board with the one that it took the place of, which is the
// last that a witness saw.
var restoreInvariants = []Invariant{
	{18, "what a replaced board kept from use is kept from it, or stands in a note", func(w *Witness, x Step) bool {
		return restoredOver(w, x, func(was State) bool {
			for id, p := range was.Packs {
				is, known := x.After.Packs[id]
				if SetAside(p) && !p.Retired && !(known && outOfUse(is)) && (known || !noted(x.After, p.Name)) {
					return false
				}
			}
			for id, power := range was.Powers {
				if is, known := x.After.Powers[id]; known && power.Stop.At != 0 && is.Stop.At == 0 {
					return false
				}
			}
			for _, d := range was.Damages {
				_, known := x.After.Robots[d.Robot]
				hurts := d.Grade == GX && !d.Dropped && !(putRight(was, d) && seenAfter(was, d))
				if hurts && known && !slices.ContainsFunc(damageOf(x.After, d.Robot), func(is Damage) bool { return is.Grade == GX && is.Looked.At == 0 }) {
					return false
				}
			}
			return true
		})
	}},
	{18, "what ran on a replaced board's chargers may run, or stands in a note", func(w *Witness, x Step) bool {
		return restoredOver(w, x, func(was State) bool {
			for id, p := range was.Packs {
				if is := x.After.Packs[id]; p.State == PackCharging && !outOfUse(is) && !(is.State == PackCharging && is.Unsure) && !noted(x.After, p.Name) {
					return false
				}
			}
			return true
		})
	}},
	{18, "who was on a robot by a replaced board is on it, and stands in a note where it is not there; its notices and emergencies too", func(w *Witness, x Step) bool {
		return restoredOver(w, x, func(was State) bool {
			for robot := range was.Robots {
				_, there := x.After.Robots[robot]
				for id, who := range was.People {
					on := ownOn(was, robot, id) || atWork(was, robot, id)
					if on && (there && !namedOn(x.After, robot, who.Name) || !there && !noted(x.After, who.Name)) {
						return false
					}
				}
			}
			for id, notice := range was.Notices {
				_, robot := x.After.Robots[notice.Robot]
				_, person := x.After.People[notice.Person]
				if _, stands := x.After.Notices[id]; !stands && notice.Taken == 0 && robot && person {
					return false
				}
			}
			for id, emergency := range was.Emergencies {
				if _, stands := x.After.Emergencies[id]; !stands && emergency.EndedAt == 0 {
					return false
				}
			}
			return true
		})
	}},
}

// restoredOver asks ok of the board that a backup took the place of.
func restoredOver(w *Witness, x Step, ok func(was State) bool) bool {
	return !restores(x) || w.last.Rev == 0 || ok(w.last)
}

func restores(x Step) bool {
	_, restored := x.Command.(BoardRestore)
	return restored
}

// namedOn tells whether somebody of a name is on a robot.
func namedOn(s State, robot RobotID, name string) bool {
	for id, who := range s.People {
		if ownOn(s, robot, id) && reads(who.Name) == reads(name) {
			return true
		}
	}
	return false
}

// wasOn tells whether anything of a person's was on a robot, or they were at work in one.
func wasOn(s State, who PersonID) bool {
	for robot := range s.Robots {
		if ownOn(s, robot, who) || atWork(s, robot, who) {
			return true
		}
	}
	return false
}

func atWork(s State, robot RobotID, who PersonID) bool {
	for _, j := range s.Jobs {
		for _, st := range j.Stints {
			if j.Robot == robot && st.By == who && st.To == 0 && j.Fixes[st.Fix].Where != OffRobot {
				return true
			}
		}
	}
	return false
}

// noted tells whether a note of a restore that nobody has settled names something.
func noted(s State, name string) bool {
	for _, n := range s.Notes {
		if n.Held && n.SettledAt == 0 && strings.Contains(n.Text, name) {
			return true
		}
	}
	return false
}
