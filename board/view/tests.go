package view

import (
	"math"

	"mendline/board"
)

// How many failsafe tests in a pit fail, and how many tests that guess is worth: our own.
const (
	testsFail  = 0.1
	testsWorth = 10
)

// Tests says how many failsafe tests failed, where they are done in the pit
// (tests/event; none before the first). Each has the robot mended, closed up and tested
// again.
type Tests struct {
	N      int `json:"n"`
	Failed int `json:"failed"`
	// SaidOf100 was believed before, Of100 is what counts now.
	SaidOf100 int `json:"saidOf100"`
	Of100     int `json:"of100"`
}

// TestsFail is the share of failsafe tests that fail: that of the board's own record, from
// a guess. Where the officials may prove it, nothing is tested here.
func TestsFail(s board.State) float64 {
	if s.MayOweFailsafe() {
		return 0
	}
	n, failed := tested(s)
	return (testsFail*testsWorth + float64(failed)) / float64(testsWorth+n)
}

func tested(s board.State) (n, failed int) {
	for _, sheet := range s.Sheets {
		for _, a := range sheet.Answers {
			l, ok := sheet.LineOf(a.Line)
			if !ok || l.Kind != board.LineProof || a.Said == board.SaidOwed || a.Standing {
				continue
			}
			n++
			if a.Said == board.SaidNo {
				failed++
			}
		}
	}
	return n, failed
}

func testsOf(s board.State) *Tests {
	n, failed := tested(s)
	if n == 0 || s.MayOweFailsafe() {
		return nil
	}
	return &Tests{N: n, Failed: failed, SaidOf100: 100 * testsFail, Of100: int(math.Round(100 * TestsFail(s)))}
}
