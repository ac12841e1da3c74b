package forecast

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"mendline/board"
	"mendline/board/fightclock"
	"mendline/board/view"
	"mendline/board/work"
)

// Lengths the clock and the plan need and no event setting holds. Common
// practice, no source.
const (
	matchSec  = 3 * 60 // a match
	returnSec = 5 * 60 // from the end of a match to the bench, with the robot
)

// What is believed of the pace where the captain has said nothing. Our own guess.
const guessMeanSec = 6 * 60

// times is what the clock says of one fight.
type times struct {
	start, call Spread
	known       bool
	callNow     bool
	past        bool   // a later fight has been seen
	why         string // why it is not known, a sentence
}

// fightTimes asks the fight clock about every fight that may still come or is on.
// A not-before, a postponement and the promised rest hold start and call back.
func fightTimes(s board.State, at board.Moment) map[board.FightID]times {
	in, fights := clockInput(s, at)
	answers, err := fightclock.Predict(in)
	if err != nil {
		panic("forecast: the board asked the fight clock badly: " + err.Error())
	}
	out := map[board.FightID]times{}
	for i, a := range answers {
		t := times{start: spreadOf(a.Start), call: spreadOf(a.Call), known: a.State != fightclock.Unknown, why: a.Why, past: a.State == fightclock.Past}
		f := fights[i]
		if f.State == board.FightOn {
			t.start, t.known, t.past = Spread{f.OnAt, f.OnAt, f.OnAt}, true, false
			t.call = t.start
		}
		out[f.ID] = t
	}
	holdBack(s, fights, out, at)
	for _, f := range fights {
		if t := out[f.ID]; t.known && f.State != board.FightOn {
			t.callNow = t.call.Median <= at
			out[f.ID] = t
		}
	}
	return out
}

func clockInput(s board.State, at board.Moment) (fightclock.Input, []board.Fight) {
	e := s.Event()
	in := fightclock.Input{Now: at.Time(), Prior: fightclock.DefaultPrior(guessMeanSec), Sightings: sightings(s)}
	if e.FightMeanSec > 0 {
		in.Prior.MeanSec = float64(e.FightMeanSec)
	}
	if e.FightMeanWorth > 0 {
		in.Prior.Worth = float64(e.FightMeanWorth)
	}
	for _, b := range e.Breaks {
		in.Breaks = append(in.Breaks, fightclock.Window{From: b.From.Time(), To: b.To.Time()})
	}
	in.Arenas = arenas(s, in.Prior.MeanSec)
	var fights []board.Fight
	for _, f := range board.Sorted(s.Fights, func(f board.Fight) string { return f.Arena }) {
		if f.State != board.FightOn && !f.Open(s) {
			continue
		}
		w := fightclock.Wanted{Arena: f.Arena, Fight: f.Number, Lead: fightclock.Lead{Fights: e.LeadFights, Sec: float64(e.LeadSec)}}
		if f.NotBefore != 0 {
			w.NotBefore = f.NotBefore.Time()
		}
		fights, in.Wanted = append(fights, f), append(in.Wanted, w)
	}
	return in, fights
}

// sightings are the board's, and for a fight of ours that nobody saw begin but
// that has ended, a start one match before its end.
func sightings(s board.State) []fightclock.Sighting {
	var seen []fightclock.Sighting
	highest := map[string]int{}
	for _, sighting := range board.Sorted(s.Sightings, sightingOrder) {
		seen = append(seen, fightclock.Sighting{Arena: sighting.Arena, Fight: sighting.Number, At: sighting.At.Time()})
		highest[sighting.Arena] = max(highest[sighting.Arena], sighting.Number)
	}
	for _, f := range board.Sorted(s.Fights, func(f board.Fight) string { return f.EndAt.String() }) {
		fought := f.Result == board.Won || f.Result == board.Lost || f.Result == board.Drawn
		if f.State == board.FightDone && fought && f.Number > highest[f.Arena] {
			seen = append(seen, fightclock.Sighting{Arena: f.Arena, Fight: f.Number, At: plusSec(f.EndAt, -matchSec).Time()})
			highest[f.Arena] = f.Number
		}
	}
	return seen
}

// sightingOrder is by time, and of one time by revision: what was said later
// corrects what was said before.
func sightingOrder(sighting board.Sighting) string {
	return fmt.Sprintf("%s %020d", sighting.At, sighting.V)
}

// arenas lists every arena that fights or sightings name. Until a fight is seen
// in one, its timetable counts: the earliest first start that a not-before gives
// at the captain's pace.
func arenas(s board.State, meanSec float64) []fightclock.Arena {
	first := map[string]board.Moment{}
	for _, sighting := range s.Sightings {
		first[sighting.Arena] = max(first[sighting.Arena], 0)
	}
	for _, f := range s.Fights {
		was := first[f.Arena]
		if f.NotBefore != 0 && f.State != board.FightDropped {
			start := plusSec(f.NotBefore, -int(meanSec)*(f.Number-1))
			if was == 0 || start < was {
				was = start
			}
		}
		first[f.Arena] = was
	}
	var list []fightclock.Arena
	for name, start := range first {
		a := fightclock.Arena{Name: name}
		if start != 0 {
			a.FirstStart = start.Time()
		}
		list = append(list, a)
	}
	slices.SortFunc(list, func(a, b fightclock.Arena) int { return strings.Compare(a.Name, b.Name) })
	return list
}

func spreadOf(p fightclock.Spread) Spread {
	if p.P50.IsZero() {
		return Spread{}
	}
	return Spread{board.MomentOf(p.P10), board.MomentOf(p.P50), board.MomentOf(p.P90)}
}

// outlook is what clock and strip say of one robot.
type outlook struct {
	robot    board.Robot
	power    board.Power
	fight    board.Fight // the next one, or the one it is in
	has      bool        // there is such a fight
	times    times       // of that fight
	branches []Branch
	// gone: it cannot be worked on before that fight is over.
	gone bool
	// work is what there is to do on it.
	work []work.Item
	// Overheads left before the first job and after the last; leftSec is what is
	// left before the call of fight.
	beforeSec, afterSec, leftSec int
	// workFrom is when hands can be in at the earliest, workBy when the last job
	// must be done, 0 if nothing waits for it.
	workFrom, workBy board.Moment
	// workCall is the fight that workBy comes from.
	workCall board.Fight
	// certain are the fights of the robot that depend on no open result, with
	// clock for their times.
	certain []board.Fight
	clock   map[board.FightID]times
}

// called tells whether there is a call whose time is known.
func (o outlook) called() bool { return o.has && o.times.known }

// outlooks looks at every robot on the board, the earliest call first.
func outlooks(s board.State, at board.Moment, on view.Learnt) []outlook {
	return outlooksBy(s, fightTimes(s, at), at, on)
}

// outlooksBy looks at every robot by a clock.
func outlooksBy(s board.State, clock map[board.FightID]times, at board.Moment, on view.Learnt) []outlook {
	var list []outlook
	for _, r := range board.Sorted(s.Robots, func(r board.Robot) string { return fmt.Sprintf("%02d", r.Number) }) {
		if !r.Retired {
			list = append(list, lookAt(s, on.Overheads(r), work.Of(s, r, at, on), clock, at))
		}
	}
	slices.SortStableFunc(list, func(a, b outlook) int {
		if a.called() != b.called() {
			if a.called() {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.times.call.Median, b.times.call.Median)
	})
	return list
}

func lookAt(s board.State, r board.Robot, todo []work.Item, clock map[board.FightID]times, at board.Moment) outlook {
	o := outlook{robot: r, power: s.Powers[r.ID], work: todo, clock: clock, gone: work.Gone(s, r)}
	o.beforeSec, o.afterSec, o.leftSec = sheetsLeft(todo, o.gone)
	open := work.OpenFights(s, r)
	o.certain = slices.DeleteFunc(slices.Clone(open), func(f board.Fight) bool { return pending(s, f) })
	now := slices.DeleteFunc(slices.Clone(open), func(f board.Fight) bool {
		return s.Fights[f.After].Robot == r.ID && s.Fights[f.After].State == board.FightPlanned
	})
	o.fight, o.has = firstOf(now, clock)
	o.times = clock[o.fight.ID]
	o.branches = branchesOf(s, open, o.fight, clock)
	o.workFrom = plusSec(at, o.beforeSec)
	switch {
	case o.gone:
		o = o.afterFight(open, clock, at)
	case o.power.State == board.Test:
		o.workFrom = plusSec(max(at, o.power.Test.Until), o.beforeSec)
	}
	if !o.gone && o.called() {
		o.workBy, o.workCall = plusSec(o.times.call.Median, -o.afterSec), o.fight
	}
	return o
}

// sheetsLeft is what is left of a robot's sheets before the first job, after the last,
// and before the call of its next fight, by their likely times.
func sheetsLeft(todo []work.Item, gone bool) (beforeSec, afterSec, leftSec int) {
	var before, after, left float64
	for _, i := range todo {
		switch {
		case !i.Step.OnSheets():
		case i.Step.Before():
			before += i.Times.LikelySec
		case i.Back == gone:
			after += i.Times.LikelySec
		default:
			left += i.Times.LikelySec
		}
	}
	round := func(sec float64) int { return int(math.Round(sec)) }
	if !gone {
		left = after
	}
	return round(before), round(after), round(left)
}

// afterFight puts the robot's work after the fight it is in or closed up for,
// against the earliest of the fights that may follow.
func (o outlook) afterFight(open []board.Fight, clock map[board.FightID]times, at board.Moment) outlook {
	o.workFrom = plusSec(max(at, plusSec(o.times.start.Median, matchSec)), o.beforeSec)
	later := slices.DeleteFunc(slices.Clone(open), func(f board.Fight) bool { return f.ID == o.fight.ID })
	if next, ok := firstOf(later, clock); ok && clock[next.ID].known {
		o.workBy, o.workCall = plusSec(clock[next.ID].call.Median, -o.afterSec), next
	}
	return o
}

// pending tells whether a fight depends on a result that is still out.
func pending(s board.State, f board.Fight) bool {
	return f.After != "" && s.Fights[f.After].State != board.FightDone
}

// firstOf is the fight that is on, or else called first; those whose call is not
// known come last, by number.
func firstOf(fights []board.Fight, clock map[board.FightID]times) (board.Fight, bool) {
	if len(fights) == 0 {
		return board.Fight{}, false
	}
	return slices.MinFunc(fights, func(a, b board.Fight) int {
		return cmp.Or(
			cmp.Compare(rank(a, clock), rank(b, clock)),
			cmp.Compare(clock[a.ID].call.Median, clock[b.ID].call.Median),
			cmp.Compare(a.Number, b.Number),
			strings.Compare(string(a.ID), string(b.ID)),
		)
	}), true
}

func rank(f board.Fight, clock map[board.FightID]times) int {
	switch {
	case f.State == board.FightOn:
		return 0
	case clock[f.ID].known:
		return 1
	}
	return 2
}

// branchesOf lists the fights that depend on the result that matters next: that
// of the fight before next where next is itself a branch, or else of next; and the
// fight that comes after next whatever its result.
func branchesOf(s board.State, open []board.Fight, next board.Fight, clock map[board.FightID]times) []Branch {
	list := []Branch{}
	hinge := next.ID
	if pending(s, next) {
		hinge = next.After
	}
	for _, f := range open {
		if hinge != "" && f.After == hinge {
			list = append(list, Branch{Fight: f.ID, If: f.If, Arena: f.Arena, Number: f.Number, Opponent: f.Opponent, CallAt: clock[f.ID].call})
		}
	}
	later := slices.DeleteFunc(slices.Clone(open), func(f board.Fight) bool { return f.ID == next.ID || pending(s, f) || !clock[f.ID].known })
	if f, ok := firstOf(later, clock); ok && clock[next.ID].known && clock[f.ID].call.Median > clock[next.ID].call.Median {
		list = append(list, Branch{Fight: f.ID, Arena: f.Arena, Number: f.Number, Opponent: f.Opponent, CallAt: clock[f.ID].call})
	}
	return list
}
