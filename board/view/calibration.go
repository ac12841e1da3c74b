package view

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
)

// calibrationLeast is how many calls there must be before anything is said of how
// good the chances are.
const calibrationLeast = 10

// Calibration says how good the chances were (calibration/event; none before ten
// calls).
type Calibration struct {
	N     int          `json:"n"`
	Said  []SaidAndMet `json:"said"`
	Brier float64      `json:"brier"`
}

// SaidAndMet is how many calls of those given a chance were met.
type SaidAndMet struct {
	Of10 int `json:"of10"`
	N    int `json:"n"`
	Met  int `json:"met"`
}

// calibrationOf is the account of all judged calls, none while there are few.
func calibrationOf(s board.State) *Calibration {
	groups := map[int]SaidAndMet{}
	var series []estimate.Said
	for _, foretold := range board.Sorted(s.Foretolds, func(foretold board.Foretold) string { return foretold.At.String() }) {
		if foretold.Judged == 0 {
			continue
		}
		g := groups[foretold.Ready]
		g.Of10, g.N = foretold.Ready, g.N+1
		if foretold.Met {
			g.Met++
		}
		groups[foretold.Ready] = g
		series = append(series, estimate.Said{Chance: float64(foretold.Ready) / 10, Met: foretold.Met})
	}
	if len(series) < calibrationLeast {
		return nil
	}
	score, err := estimate.Calibrate(series)
	if err != nil {
		panic("view: " + err.Error())
	}
	c := &Calibration{N: len(series), Said: []SaidAndMet{}, Brier: float64(int(score.Brier*1000+0.5)) / 1000}
	for _, g := range groups {
		c.Said = append(c.Said, g)
	}
	slices.SortFunc(c.Said, func(a, b SaidAndMet) int { return cmp.Compare(b.Of10, a.Of10) })
	return c
}
