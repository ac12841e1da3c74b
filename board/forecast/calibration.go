package forecast

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
)

// A chance is kept at the fixed lead of 30 minutes before the call, or as soon
// after it as there is one; with less than 5 minutes left nobody could do anything
// about it, and none is. Our own decision.
const (
	sayLeadSec  = 30 * 60
	sayLeastSec = 5 * 60
	// calibrationLeast is how many calls there must be before anything is said of
	// how good the chances are.
	calibrationLeast = 10
)

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

// toSay are the chances to be kept now: those that are given, of calls that come
// whatever happens.
func toSay(s board.State, at board.Moment, calls []Call, chances []Chance) []board.ChanceSay {
	given := map[board.FightID]int{}
	for _, n := range chances {
		if n.Ready != nil {
			given[n.Fight] = *n.Ready
		}
	}
	var list []board.ChanceSay
	for _, c := range calls {
		ready, ok := given[c.Fight]
		lead := secUntil(at, c.CallAt.Median)
		_, kept := s.Foretolds[c.Fight]
		if ok && !kept && !c.OnNow && c.If == "" && c.CallAt.Median != 0 && lead <= sayLeadSec && lead >= sayLeastSec {
			list = append(list, board.ChanceSay{Fight: c.Fight, Ready: ready, CallAt: c.CallAt.Median})
		}
	}
	return list
}

// toJudge are the calls that have come and for which a chance was kept: met if the
// robot is signed for or in the arena then, and no postponement was asked for. Of a
// robot that the board lost sight of nothing can be said before its result.
func toJudge(s board.State, calls []Call) []board.ChanceJudge {
	come := map[board.FightID]bool{}
	for _, c := range calls {
		come[c.Fight] = c.CallNow
	}
	var list []board.ChanceJudge
	for _, foretold := range board.Sorted(s.Foretolds, func(foretold board.Foretold) string { return foretold.At.String() }) {
		f, ok := s.Fights[foretold.Fight]
		if foretold.Judged != 0 || !ok {
			continue
		}
		state := s.Powers[foretold.Robot].State
		signed := state == board.Ready || state == board.Live
		switch {
		case f.Postponed.At != 0 || f.State == board.FightDone && f.Result == board.Forfeited:
			list = append(list, board.ChanceJudge{Fight: f.ID})
		case f.State == board.FightOn && signed || f.State == board.FightPlanned && come[f.ID]:
			list = append(list, board.ChanceJudge{Fight: f.ID, Met: signed})
		case f.State == board.FightDone && f.Result != board.WonForfeit:
			list = append(list, board.ChanceJudge{Fight: f.ID, Met: true})
		}
	}
	return list
}

// calibration is the account of all judged calls, none while there are few.
func calibration(s board.State) *Calibration {
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
		panic("forecast: " + err.Error())
	}
	c := &Calibration{N: len(series), Said: []SaidAndMet{}, Brier: float64(int(score.Brier*1000+0.5)) / 1000}
	for _, g := range groups {
		c.Said = append(c.Said, g)
	}
	slices.SortFunc(c.Said, func(a, b SaidAndMet) int { return cmp.Compare(b.Of10, a.Of10) })
	return c
}
