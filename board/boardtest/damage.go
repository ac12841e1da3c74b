package boardtest

import (
	"slices"

	. "mendline/board"
)

// damageOf lists what is damaged on a robot.
func damageOf(s State, robot RobotID) []Damage {
	var all []Damage
	for _, d := range s.Damages {
		if d.Robot == robot && !d.Dropped {
			all = append(all, d)
		}
	}
	return all
}

// jobsOf lists the jobs that are or were for a damage.
func jobsOf(s State, d Damage) []Job {
	var all []Job
	for _, j := range s.Jobs {
		if slices.Contains(j.Damages, d.ID) && j.State != JobDropped {
			all = append(all, j)
		}
	}
	return all
}

func putRight(s State, d Damage) bool {
	return slices.ContainsFunc(jobsOf(s, d), func(j Job) bool {
		fix := j.Fixes[j.Chosen]
		since := slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.To > d.RaisedAt })
		return j.State == JobClosed && since && (d.Grade != GX || (fix.Lockout && fix.Way != WayPatch && fix.Way != WayCheck))
	})
}

func partOff(s State, d Damage) bool {
	for _, j := range jobsOf(s, d) {
		for _, st := range j.Stints {
			if (st.To == 0 || st.To > d.Off.At) && j.Fixes[st.Fix].Where != OffRobot {
				return false
			}
		}
	}
	return d.Off.What != "" && s.Fits[d.Robot].At <= d.Off.At
}

// seenAfter tells whether someone who did no work on it looked after the last of it.
func seenAfter(s State, d Damage) bool {
	if d.Looked.At == 0 || d.Looked.At < d.Off.At {
		return false
	}
	for _, j := range jobsOf(s, d) {
		for _, st := range j.Stints {
			if st.By == d.Looked.By || st.To == 0 || st.To > d.Looked.At {
				return false
			}
		}
	}
	return true
}

// noDamage asks that no damage of a robot bars its fight; at the signature, also that
// someone answers for what is small.
func noDamage(s State, robot RobotID, small bool) bool {
	for _, d := range damageOf(s, robot) {
		switch d.Grade {
		case G1, G2:
			left := slices.ContainsFunc(jobsOf(s, d), func(j Job) bool { return j.State == JobDeferred && j.Acceptor != "" })
			if small && d.Acceptor == "" && !left && !putRight(s, d) && !partOff(s, d) {
				return false
			}
		case G3, G4:
			left := slices.ContainsFunc(jobsOf(s, d), func(j Job) bool { return j.State == JobDeferred && j.Acceptor != "" })
			if !putRight(s, d) && !left && !(partOff(s, d) && seenAfter(s, d) && d.Looked.By != d.Off.By) {
				return false
			}
		case GX:
			person := s.People[d.Looked.By]
			mayLook := person.Signer || hasAuthority(person, s.Robots[robot])
			if (!putRight(s, d) && !partOff(s, d)) || !seenAfter(s, d) || (small && d.Looked.At == s.Powers[robot].Since && !mayLook) {
				return false
			}
		}
	}
	return true
}

// eachLessened asks ok of every damage that counts for less after the step, or whose
// part is said to be off by it. What someone takes back in its first minute is a slip.
func eachLessened(x Step, ok func(was, is Damage) bool) bool {
	order := []Grade{G0, G1, G2, G3, G4, GX}
	for id, was := range x.Before.Damages {
		is, there := x.After.Damages[id]
		less := !there || is.Robot != was.Robot || (is.Dropped && !was.Dropped) || slices.Index(order, is.Grade) < slices.Index(order, was.Grade)
		_, undo := x.Command.(Undo)
		if undo && x.Now-was.GradedAt <= 60_000 {
			less = false
		}
		if (less || (is.Off.At != 0 && is.Off != was.Off)) && !ok(was, is) {
			return false
		}
	}
	return true
}

// liveBefore is when a robot was last seen live by the end of a fight of its own.
func (w *Witness) liveBefore(f Fight) Moment {
	var last Moment
	for _, g := range w.seen[f.Robot] {
		if g.state == Live && g.from <= f.EndAt {
			last = g.from
		}
	}
	return last
}

// failsafeShown tells whether the newest answer about a robot's failsafe is "owed", or
// nobody worked on what it rests on since the robot last had power.
func failsafeShown(w *Witness, s State, robot RobotID) bool {
	var newest Sheet
	for _, sheet := range s.Sheets {
		if sheet.Robot == robot && sheet.List == ListReady && sheet.Number > newest.Number {
			newest = sheet
		}
	}
	owed := true
	for i, a := range newest.Answers {
		if a.Line == "failsafe" && !onlyRecord(newest, i) {
			owed = a.Said != SaidDone
		}
	}
	powered := Moment(0)
	for i, g := range w.seen[robot] {
		if i > 0 && w.seen[robot][i-1].state == Test {
			powered = g.from
		}
	}
	for _, f := range s.Fights {
		if live := w.liveBefore(f); f.Robot == robot && f.State == FightDone && (f.Result == Won || f.Result == Lost || f.Result == Drawn) && f.EndAt-live >= 10_000 {
			powered = max(powered, live)
		}
	}
	touched := powered == 0
	for _, j := range s.Jobs {
		for _, st := range j.Stints {
			rests := slices.ContainsFunc(j.Fixes[st.Fix].Touches, func(y System) bool { return y == SysRadio || y == SysDrive || y == SysWeapon })
			touched = touched || (j.Robot == robot && rests && (st.To == 0 || st.To > powered))
		}
	}
	return owed || !touched
}
