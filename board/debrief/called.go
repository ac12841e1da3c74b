package debrief

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
)

// CallsLeast is how many calls there must be before anything is said of how good
// the chances were.
const CallsLeast = 10

// Called is a call that has come, with the chance that was shown before it: once
// for a fight, at one lead.
type Called struct {
	Robot board.RobotID `json:"robot"`
	Fight board.FightID `json:"fight"`
	Name  string        `json:"name"`
	At    board.Moment  `json:"at"`
	// Of10 is on how many of 10 such days the call would be made, as it was shown;
	// Met whether it was.
	Of10 int  `json:"of10"`
	Met  bool `json:"met"`
}

// calls are the judged calls by the chance given, the highest first.
func (r Record) calls() []Called {
	list := []Called{}
	for _, foretold := range r.State.Foretolds {
		if foretold.Judged != 0 {
			list = append(list, Called{foretold.Robot, foretold.Fight, r.fightName(foretold.Robot, foretold.Fight), foretold.CallAt, foretold.Ready, foretold.Met})
		}
	}
	slices.SortFunc(list, func(a, b Called) int {
		return cmp.Or(cmp.Compare(b.Of10, a.Of10), cmp.Compare(a.At, b.At), cmp.Compare(a.Fight, b.Fight))
	})
	return list
}

// Chances say how good the chances were.
type Chances struct {
	N int `json:"n"`
	// Brier is the mean squared error of a chance, 0 best; Always is what one chance,
	// the share of all calls that were met, would have got.
	Brier  float64 `json:"brier"`
	Always float64 `json:"always"`
}

// chancesOf scores the calls; nil while there are few.
func chancesOf(calls []Called) *Chances {
	if len(calls) < CallsLeast {
		return nil
	}
	var series []estimate.Said
	for _, c := range calls {
		series = append(series, estimate.Said{Chance: float64(c.Of10) / 10, Met: c.Met})
	}
	score, err := estimate.Calibrate(series)
	if err != nil {
		return nil
	}
	return &Chances{len(calls), score.Brier, score.Always}
}
