package plan_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// Constructed by us: a swap of armour calls for the scale, a weld does not.
func armour(t *testing.T, swapMinutes, weighMinutes int32) plan.Problem {
	w := read(t, `group A 60/2
person P1 M
pool scale 1
a1 A must: swap 10 M | weld 25 M
a2 A must after a1: weigh 10 M scale
a3 A must after a2: close 5 M`)
	w.Tasks[0].Ways[0].DurationSec = swapMinutes * 60
	w.Tasks[1].Ways[0].DurationSec = weighMinutes * 60
	w.Tasks[0].Ways[0].Calls = []int{1}
	return w.Problem
}

func TestTheWayTakenDecidesWhatFollows(t *testing.T) {
	for name, c := range map[string]struct {
		swap, weigh int32
		way         int
		state       plan.State
		ready       int32
	}{
		"swap and weigh beat the weld": {10, 10, 0, plan.Kept, 25},
		"the weld needs no scale":      {10, 20, 1, plan.Idle, 30},
	} {
		t.Run(name, func(t *testing.T) {
			p := armour(t, c.swap, c.weigh)
			got := plan.Solve(p, 300, 1)
			require.NoError(t, plan.Check(p, got))
			require.Equal(t, c.way, got.Tasks[0].Way)
			require.Equal(t, c.state, got.Tasks[1].State)
			require.Equal(t, c.ready*60, got.Groups[0].ReadySec)
			require.Equal(t, int32(15*60), got.Groups[0].BoundSec, "swap and close: the weighing is not sure")
		})
	}
}

func TestWorkThatNothingCallsHoldsUpNothing(t *testing.T) {
	p := armour(t, 10, 10)
	p.Tasks[1].Ways[0].Team = []plan.SkillSet{1 << 40} // nobody can weigh
	got := plan.Solve(p, 300, 1)
	require.NoError(t, plan.Check(p, got))
	require.Equal(t, plan.Idle, got.Tasks[1].State)
	require.Equal(t, int32(30*60), got.Groups[0].ReadySec)
}

func TestCheckRefusesWorkThatNothingCalls(t *testing.T) {
	p := armour(t, 10, 20)
	got := plan.Solve(p, 300, 1)
	require.Equal(t, plan.Idle, got.Tasks[1].State)
	got.Tasks = slices.Clone(got.Tasks)
	got.Tasks[1] = plan.TaskPlan{State: plan.Skipped, Way: -1, StartSec: got.Tasks[1].StartSec, FinishSec: got.Tasks[1].FinishSec}
	require.ErrorContains(t, plan.Check(p, got), "task 1: is idle though called, or not idle though not called")
	p = armour(t, 10, 10)
	got = plan.Solve(p, 300, 1)
	got.Tasks = slices.Clone(got.Tasks)
	got.Tasks[1] = plan.TaskPlan{State: plan.Idle, Way: -1, StartSec: 600, FinishSec: 600}
	require.ErrorContains(t, plan.Check(p, got), "task 1: is idle though called")
}

// Constructed by us: 100 units; a charge takes 80 for 20 min and 30 for 20 more.
func TestATaperLeavesPowerToOthers(t *testing.T) {
	w := read(t, `group A 90/2
group B 90/2
person P1 M
pool power 100
a1 A must: charge 20 - off
b1 B must: charge 20 - off`)
	for i := range w.Tasks {
		way := &w.Tasks[i].Ways[0]
		way.Needs = []plan.Need{{Pool: 0, Count: 80}}
		way.Taper = []plan.Piece{{DurationSec: 1200, Needs: []plan.Need{{Pool: 0, Count: 30}}}}
	}
	got := plan.Solve(w.Problem, 300, 1)
	require.NoError(t, plan.Check(w.Problem, got))
	require.Equal(t, minuteScore(0, 0, 0, 0, 40+80), got.Score, "80 + 30 is too much")
	w.Pools[0].Capacity = 110
	got = plan.Solve(w.Problem, 300, 1)
	require.NoError(t, plan.Check(w.Problem, got))
	require.Equal(t, minuteScore(0, 0, 0, 0, 40+60), got.Score)
	require.Equal(t, got.Tasks[0].StartSec+2400, got.Tasks[0].FinishSec, "no gap")

	w.Tasks[0].Running = &plan.Running{LeftSec: 1500} // 5 min of the first piece are left
	got = plan.Solve(w.Problem, 300, 1)
	require.NoError(t, plan.Check(w.Problem, got))
	require.Equal(t, int32(300), got.Tasks[1].StartSec)

	early := got
	early.Tasks = slices.Clone(got.Tasks)
	early.Tasks[1].StartSec--
	early.Tasks[1].FinishSec--
	require.ErrorContains(t, plan.Check(w.Problem, early), "pool 0: task")
}

// Constructed by us: 80 units are taken from minute 20 on.
func TestATaperFitsBesideWhatFollows(t *testing.T) {
	w := read(t, "group A 90/2\nperson P1 M\npool power 110\na1 A must: charge 20 - off")
	way := &w.Tasks[0].Ways[0]
	way.Needs = []plan.Need{{Pool: 0, Count: 80}}
	way.Taper = []plan.Piece{{DurationSec: 1200, Needs: []plan.Need{{Pool: 0, Count: 30}}}}
	w.Pools[0].Taken = []plan.Taken{{Window: plan.Window{FromSec: 1200, ToSec: 3600}, Count: 80}}
	got := plan.Solve(w.Problem, 10, 1)
	require.NoError(t, plan.Check(w.Problem, got))
	require.Zero(t, got.Tasks[0].StartSec)
	w.Pools[0].Taken[0].FromSec--
	got = plan.Solve(w.Problem, 10, 1)
	require.NoError(t, plan.Check(w.Problem, got))
	require.Equal(t, int32(3600), got.Tasks[0].StartSec)
}

// withCallsAndTapers lets first ways call the first task that waits for them,
// and ways end with a piece that needs nothing or the same.
func withCallsAndTapers(p plan.Problem) plan.Problem {
	for i := range p.Tasks {
		t := &p.Tasks[i]
		if a := t.After; len(a) > 0 && i%2 == 0 && t.Running == nil {
			ways := p.Tasks[a[0]].Ways
			ways[0].Calls = append(ways[0].Calls, i)
		}
		for w := range t.Ways {
			if way := &t.Ways[w]; len(way.Needs) > 0 && w == i%2 {
				way.Taper = []plan.Piece{{DurationSec: 300, Needs: way.Needs[:1]}, {DurationSec: 420}}
			}
		}
	}
	return p
}

func TestDaysWithCallsAndTapersAreSolvedToTheOptimum(t *testing.T) {
	t.Parallel()
	const days = 60
	optimal, idle := 0, 0
	for seed := range uint64(days) {
		p := withCallsAndTapers(day(seededDraw(8000+seed), tinyDay))
		got := plan.Solve(p, 1000, 1)
		require.NoError(t, plan.Check(p, got), "day %d", seed)
		best := optimum(p)
		require.GreaterOrEqual(t, got.Score.Compare(best), 0, "day %d: better than the optimum %+v: %+v", seed, best, got.Score)
		for g, group := range got.Groups {
			if seed%4 == 0 {
				require.LessOrEqual(t, int64(group.BoundSec), leastReadySec(p, g), "day %d, group %d", seed, g)
			}
		}
		for _, a := range got.Tasks {
			if a.State == plan.Idle {
				idle++
			}
		}
		if got.Score == best {
			optimal++
		} else {
			t.Logf("day %d: %+v, optimum %+v", seed, got.Score, best)
		}
	}
	t.Logf("%d of %d optimal, %d tasks idle", optimal, days, idle)
	require.Greater(t, idle, 10)
	require.GreaterOrEqual(t, optimal, days*95/100)
}

func TestFullDaysWithCallsAndTapersPassTheCheck(t *testing.T) {
	t.Parallel()
	for seed := range uint64(25) {
		p := withCallsAndTapers(day(seededDraw(9000+seed), fullDay))
		got := plan.Solve(p, 60, seed)
		require.NoError(t, plan.Check(p, got), "day %d", seed)
		q := following(p, got)
		require.NoError(t, plan.Check(q, plan.Solve(q, 60, seed)), "day %d", seed)
	}
}
