package plan_test

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// prover looks for any schedule better than one that is known, and so proves the
// known one best where it finds none. It places tasks in the order of their starts
// (left-shifting a schedule, task by task in that order, never makes it worse),
// decides for each optional task once whether it is kept, and cuts what the longest
// paths of what is left rule out. Beside the oracle's placing it shares no code with
// the planner. It knows no work that is called by other work, and no must that is
// given up.
type prover struct {
	oracle
	kept  []bool // optional tasks that are to be placed
	last  int32  // start of the task placed last
	nodes int
	limit int
}

// better returns the best score there is, known if none is better. It is not ok if
// the search had to stop before it knew.
func better(p plan.Problem, known plan.Score, limit int) (best plan.Score, ok bool) {
	o := prover{oracle: oracle{p: p, placed: make([]placed, len(p.Tasks)), best: known, found: true}, kept: make([]bool, len(p.Tasks)), limit: limit}
	for _, s := range p.Stocks {
		o.stock = append(o.stock, s.Count)
	}
	for i, t := range p.Tasks {
		o.kept[i] = t.Grade == plan.Must
		if t.Running != nil {
			o.placed[i] = placed{done: true, kept: true, finish: t.Running.LeftSec, way: t.Ways[t.Running.Way], people: t.Running.People}
		}
	}
	o.search()
	return o.best, o.nodes < o.limit
}

func (o *prover) search() {
	if o.nodes++; o.nodes >= o.limit || o.bound().Compare(o.best) >= 0 {
		return
	}
	if slices.IndexFunc(o.placed, func(at placed) bool { return !at.done }) < 0 {
		o.best = o.score()
		return
	}
	if i := o.undecided(); i >= 0 {
		o.kept[i] = true
		o.search()
		o.kept[i] = false
		ready, never, _ := o.ready(i)
		o.put(i, placed{done: true, never: never, start: ready, finish: ready}, o.last)
		return
	}
	for i, t := range o.p.Tasks {
		ready, never, ok := o.ready(i)
		if o.placed[i].done || !ok || never || !o.kept[i] {
			continue
		}
		for _, w := range t.Ways {
			o.place(i, w, max(ready, t.EarliestSec))
		}
	}
}

// undecided is an optional task of which nobody has said whether it is kept.
func (o *prover) undecided() int {
	for i := range o.placed {
		if _, _, ok := o.ready(i); ok && !o.placed[i].done && !o.kept[i] {
			return i
		}
	}
	return -1
}

func (o *prover) place(i int, w plan.Way, from int32) {
	for _, u := range w.Uses {
		o.stock[u.Stock] -= u.Count
	}
	if !slices.ContainsFunc(o.stock, func(n int) bool { return n < 0 }) {
		for _, team := range o.teams(w, o.p.Tasks[i].Assigned) {
			at := placed{done: true, kept: true, way: w, people: team}
			if o.putFirst(&at, i, from) && at.start >= o.last {
				o.put(i, at, at.start)
			}
		}
	}
	for _, u := range w.Uses {
		o.stock[u.Stock] += u.Count
	}
}

func (o *prover) put(i int, at placed, last int32) {
	was := o.last
	o.placed[i], o.last = at, last
	o.search()
	o.placed[i], o.last = placed{}, was
}

// bound is a score that no completion beats: each task left starts when those
// before it can be done at the earliest, and not before the last one placed.
// Tasks come before those they precede.
func (o *prover) bound() plan.Score {
	saved := slices.Clone(o.placed)
	for i, t := range o.p.Tasks {
		if o.placed[i].done {
			continue
		}
		at := placed{done: true, kept: o.kept[i], idle: !o.kept[i]}
		for _, a := range t.After {
			at.start = max(at.start, o.placed[a].finish)
		}
		at.finish = at.start
		if at.kept {
			at.start = max(at.start, t.EarliestSec, o.last)
			at.finish = plan.HorizonSec
			for _, w := range t.Ways {
				at.finish = min(at.finish, slices.Max(ends(w, at.start)))
			}
		}
		o.placed[i] = at
	}
	s := o.score()
	copy(o.placed, saved)
	return s
}

// The prover must find what enumeration finds, from a score that is worse.
func TestTheProverMeetsEnumeration(t *testing.T) {
	t.Parallel()
	proved := 0
	for seed := range uint64(60) {
		p := withoutBlocked(day(seededDraw(30_000+seed), tinyDay))
		best := optimum(p)
		worst := plan.Score{Never: 9}
		if best.Never > 0 {
			continue
		}
		got, ok := better(p, worst, 2_000_000)
		require.True(t, ok, "day %d", seed)
		require.Equal(t, best, got, "day %d", seed)
		proved++
	}
	require.Greater(t, proved, 50)
}

// Days of 8 to 12 open jobs, 1 to 3 robots and 3 to 5 people. Where the proof ends
// within its limit, at least 95 % of the planner's answers are the best there are.
func TestSmallDaysAreProvedBest(t *testing.T) {
	t.Parallel()
	days := atLength(60, 600)
	reached, optimal := 0, 0
	for seed := range uint64(days) {
		p := withoutBlocked(day(seededDraw(40_000+seed), size{groups: 3, people: 5, minTasks: 8, maxTasks: 12}))
		got := plan.Solve(p, 3000, 1)
		require.NoError(t, plan.Check(p, got), "day %d", seed)
		known := got.Score
		if known.Never > 0 {
			continue
		}
		best, ok := better(p, known, 20_000)
		require.LessOrEqual(t, best.Compare(known), 0)
		switch {
		case best != known:
			reached++
			t.Logf("day %d: %+v, there is %+v", seed, known, best)
		case ok:
			reached++
			optimal++
		}
	}
	t.Logf("%d of %d days proved, of these %d optimal", reached, days, optimal)
	require.GreaterOrEqual(t, reached, days/2)
	require.GreaterOrEqual(t, optimal*100, reached*95)
}

// atLength gives how many days to try: more where MENDLINE_NIGHTLY asks for the long run.
func atLength(days, nightly int) int {
	if os.Getenv("MENDLINE_NIGHTLY") == "1" {
		return nightly
	}
	return days
}
