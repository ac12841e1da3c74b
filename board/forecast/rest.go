package forecast

import (
	"cmp"
	"slices"
	"time"

	"mendline/board"
	"mendline/board/fightclock"
)

// postponed is the fight later by the postponement it was granted. One that was
// passed over in the running order meanwhile is still to come.
func (t times) postponed(f board.Fight, at board.Moment) times {
	if f.Postponed.At == 0 {
		return t
	}
	t.start, t.call = t.start.later(f.Postponed.Sec), t.call.later(f.Postponed.Sec)
	t.past = t.past && t.start.Median <= at
	return t
}

func (p Spread) later(sec int) Spread {
	return Spread{plusSec(p.Early, sec), plusSec(p.Median, sec), plusSec(p.Late, sec)}
}

func (p Spread) notBefore(m Spread) Spread {
	return Spread{max(p.Early, m.Early), max(p.Median, m.Median), max(p.Late, m.Late)}
}

// holdBack gives every fight the promised gap after the robot's last one, and after
// each one that is to come before it, and the postponement it was granted. Early,
// median and late are held back by early, median and late: both depend on the same
// slips of the day.
func holdBack(s board.State, fights []board.Fight, clock map[board.FightID]times, at board.Moment) {
	order := slices.SortedStableFunc(slices.Values(fights), func(a, b board.Fight) int {
		return cmp.Compare(clock[a.ID].start.Median, clock[b.ID].start.Median)
	})
	for k, f := range order {
		if clock[f.ID].known && f.State != board.FightOn {
			clock[f.ID] = clock[f.ID].rested(s, gapBefore(s, f, order[:k], clock, at)).postponed(f, at)
		}
	}
}

// gapBefore is when the promised gap before fight f is over, none where no gap is
// promised or the robot has not fought. sooner are the fights that start earlier.
func gapBefore(s board.State, f board.Fight, sooner []board.Fight, clock map[board.FightID]times, at board.Moment) Spread {
	earliest := Spread{}
	if s.Event().RestSec == 0 {
		return earliest
	}
	if last, fought := lastFight(s, f.Robot); fought {
		end := restUntil(s, gapFrom(s, last), last.Pauses, at)
		earliest = Spread{end, end, end}
	}
	for _, before := range sooner {
		if before.Robot == f.Robot && comesBefore(s, before, f) && clock[before.ID].known {
			earliest = earliest.notBefore(restAfter(s, clock[before.ID].start, at))
		}
	}
	return earliest
}

// gapFrom is the moment after fight f that the event counts the gap from. Where
// nobody has said when the robot was out of the arena it is the end of the match;
// where nobody has said that it is back, so long after as the way takes.
func gapFrom(s board.State, f board.Fight) board.Moment {
	switch from := s.Event().RestFrom; {
	case from == board.RestLeftArena && f.LeftAt != 0:
		return f.LeftAt
	case from == board.RestAtBench && f.BenchAt != 0:
		return f.BenchAt
	case from == board.RestAtBench:
		return plusSec(f.EndAt, returnSec)
	}
	return f.EndAt
}

// comesBefore tells whether fight f cannot be fought without fight before: f hangs
// on its result, or it comes whatever happens.
func comesBefore(s board.State, before, f board.Fight) bool {
	for id := f.After; id != ""; id = s.Fights[id].After {
		if id == before.ID {
			return true
		}
	}
	return !pending(s, before)
}

// restAfter is the gap after a fight that is on or to come.
func restAfter(s board.State, start Spread, at board.Moment) Spread {
	end := start.later(matchSec).notBefore(Spread{at, at, at})
	if s.Event().RestFrom == board.RestAtBench {
		end = end.later(returnSec)
	}
	return Spread{restUntil(s, end.Early, nil, at), restUntil(s, end.Median, nil, at), restUntil(s, end.Late, nil, at)}
}

// restUntil is when the promised gap after end is over; a pause that still lasts
// lasts until at.
func restUntil(s board.State, end board.Moment, pauses []board.Span, at board.Moment) board.Moment {
	var windows []fightclock.Window
	for _, p := range pauses {
		to := p.To
		if to == 0 {
			to = at
		}
		if to <= p.From {
			continue
		}
		windows = append(windows, fightclock.Window{From: p.From.Time(), To: to.Time()})
	}
	earliest, err := fightclock.EarliestStart(end.Time(), time.Duration(s.Event().RestSec)*time.Second, windows)
	if err != nil {
		panic("forecast: " + err.Error())
	}
	return board.MomentOf(earliest)
}

// rested holds the fight's start back to earliest, or its call where the event
// promises the gap to the call; the other follows by the lead.
func (t times) rested(s board.State, earliest Spread) times {
	if earliest == (Spread{}) {
		return t
	}
	lead := t.start.Median - t.call.Median
	if s.Event().RestTo == board.RestCall {
		t.call = t.call.notBefore(earliest)
		t.start = t.start.notBefore(earliest.later(int(lead / 1000)))
		return t
	}
	t.start = t.start.notBefore(earliest)
	t.call = t.call.notBefore(earliest.later(-int(lead / 1000)))
	return t
}
