package forecast

import "mendline/board"

// A chance is kept at the fixed lead of 30 minutes before the call, or as soon
// after it as there is one; with less than 5 minutes left nobody could do anything
// about it, and none is. Our own decision.
const (
	sayLeadSec  = 30 * 60
	sayLeastSec = 5 * 60
)

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
