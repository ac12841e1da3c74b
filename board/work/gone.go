package work

import (
	"fmt"
	"slices"

	"mendline/board"
)

// Gone tells whether a robot cannot be worked on before the fight that it is in, or is
// closed up for.
func Gone(s board.State, r board.Robot) bool {
	open := OpenFights(s, r)
	next := slices.ContainsFunc(open, func(f board.Fight) bool {
		before := s.Fights[f.After]
		return before.Robot != r.ID || before.State != board.FightPlanned
	})
	on := slices.ContainsFunc(open, func(f board.Fight) bool { return f.State == board.FightOn })
	return next && (on || s.Powers[r.ID].State == board.Live || Shut(s, r))
}

// Shut tells whether a robot is closed up or ready, with no blocking job open and no damage
// that asks for one: all else waits until it is back.
func Shut(s board.State, r board.Robot) bool {
	p := s.Powers[r.ID].State
	if p != board.Ready && p != board.ClosingUp {
		return false
	}
	for _, j := range s.Jobs {
		if j.Robot == r.ID && j.Blocking() && ToDo(j) {
			return false
		}
	}
	return len(Undecided(s, r.ID)) == 0
}

// ToDo tells whether a job is still to be done.
func ToDo(j board.Job) bool {
	return j.State == board.JobOpen || j.State == board.JobRunning || j.State == board.JobHeld
}

// OpenFights lists a robot's fights that are on or may still come. One that is
// withdrawn has no calls.
func OpenFights(s board.State, r board.Robot) []board.Fight {
	var list []board.Fight
	for _, f := range board.Sorted(s.Fights, func(f board.Fight) string { return fmt.Sprintf("%04d", f.Number) }) {
		if f.Robot == r.ID && (f.State == board.FightOn || f.Open(s) && !r.Withdrawn) {
			list = append(list, f)
		}
	}
	return list
}

// Fixes lists the fixes that may be chosen from: the one chosen once work has begun or
// someone has chosen another than the first, or else all, but no patch on what can hurt
// people.
func Fixes(s board.State, j board.Job) []int {
	if j.Started != 0 || j.State != board.JobOpen || j.Chosen != 0 || len(j.Fixes) == 1 {
		return []int{j.Chosen}
	}
	hurts := slices.ContainsFunc(j.Damages, func(id board.DamageID) bool {
		return s.Damages[id].Grade == board.GX && !s.Damages[id].Dropped
	})
	var list []int
	for i, fix := range j.Fixes {
		if !hurts || fix.Way != board.WayPatch {
			list = append(list, i)
		}
	}
	return list
}

// Waits tells whether a job waits for the sheets before the first job: where a fix of
// it needs lockout or packs out, or where hands cannot be at the robot now: gone says that
// it fights first.
func Waits(s board.State, j board.Job, gone bool) bool {
	barred := gone || s.Powers[j.Robot].State.Energised()
	return slices.ContainsFunc(Fixes(s, j), func(f int) bool {
		fix := j.Fixes[f]
		return fix.Lockout || fix.PackOut || barred && fix.Where != board.OffRobot
	})
}
