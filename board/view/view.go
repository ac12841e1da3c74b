// Package view says what screens show of a board that takes no forecast: where
// each robot is on its strip, what works of it, what it weighs in each setup, how
// its parts are reached, what the team's own times are, and how good the chances
// were. It gives no command and plans nothing.
package view

import (
	"fmt"
	"slices"

	"mendline/board"
)

// Views are those of one board, robots by number.
type Views struct {
	Strips  []Strip
	Works   []Works
	Costs   []Cost
	Setups  []Setups
	Access  []Access
	Bends   []Bends
	Learned []Learned
	Relaxed Relaxed
	Owed    Owed
	// First is none once all that a new board lacks is there.
	First *FirstSteps
	// Calibration is none while few calls were judged.
	Calibration *Calibration
	Tests       *Tests
}

// Relaxed lists the settings that ask for less than the board would by itself
// (relaxed/event; none when there are none).
type Relaxed struct {
	List []string `json:"list"`
}

// robotsOf are the robots on the board, by number.
func robotsOf(s board.State) []board.Robot {
	all := board.Sorted(s.Robots, func(r board.Robot) string { return fmt.Sprintf("%02d", r.Number) })
	return slices.DeleteFunc(all, func(r board.Robot) bool { return r.Retired })
}

// Of is the views of a board with the records of its work, at a moment.
func Of(s board.State, all Records, at board.Moment) Views {
	v := Views{Costs: costsOf(s, at), Learned: learnedOf(s, all), Relaxed: Relaxed{List: s.Relaxed()}, Owed: owedOf(s), Calibration: calibrationOf(s), Tests: testsOf(s)}
	if first, lacks := firstStepsOf(s); lacks {
		v.First = &first
	}
	for _, r := range robotsOf(s) {
		v.Strips = append(v.Strips, stripOf(s, r))
		if w, ok := worksOf(s, r); ok {
			v.Works = append(v.Works, w)
		}
		if u, ok := setupsOf(s, r); ok {
			v.Setups = append(v.Setups, u)
		}
		if a, ok := accessOf(s, r); ok {
			v.Access = append(v.Access, a)
		}
		if b, ok := bendsOf(s, r); ok {
			v.Bends = append(v.Bends, b)
		}
	}
	return v
}
