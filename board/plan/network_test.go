package plan_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/estimate"
	"mendline/board/plan"
)

// activity is one of a network with three-point estimates, in days or weeks.
type activity struct {
	name    string
	a, m, b float64
	after   string // names of one letter
}

// mean and variance by the beta rule of thumb.
func (x activity) mean() float64     { return (x.a + 4*x.m + x.b) / 6 }
func (x activity) variance() float64 { return (x.b - x.a) * (x.b - x.a) / 36 }

// network plans activities with nothing scarce, a unit as a minute.
func network(acts []activity) (plan.Problem, plan.Plan) {
	p := plan.Problem{Groups: []plan.Group{{DeadlineSec: plan.NoDeadline}}}
	index := map[byte]int{}
	for i, x := range acts {
		t := plan.Task{Ways: []plan.Way{{DurationSec: int32(math.Round(x.mean() * 60)), Place: plan.Off}}}
		for k := range x.after {
			t.After = append(t.After, index[x.after[k]])
		}
		index[x.name[0]] = i
		p.Tasks = append(p.Tasks, t)
	}
	return p, plan.Solve(p, 10, 1)
}

// Fourteen activities of an exercise, author and year unknown: means, slacks, length and
// chance computed independently with Python's fractions.
func TestANetworkOfFourteenActivitiesHasItsLength(t *testing.T) {
	acts := []activity{
		{"A", 5, 5, 7, ""}, {"B", 1, 2, 5, ""}, {"C", 5, 5, 5, "A"}, {"D", 4, 8, 13, "A"}, {"E", 1, 10, 17, "BC"}, {"F", 1, 5, 7, "D"},
		{"G", 2, 6, 9, "D"}, {"H", 4, 4, 6, "EF"}, {"I", 2, 7, 10, "GH"}, {"J", 2, 4, 7, "I"}, {"K", 6, 10, 13, "I"},
		{"L", 2, 6, 6, "J"}, {"M", 2, 2, 3, "K"}, {"N", 7, 7, 12, "LM"},
	}
	p, got := network(acts)
	require.InDelta(t, 50.8333, float64(got.Groups[0].ReadySec)/60, 0.001)
	require.Equal(t, got.Groups[0].ReadySec, got.Groups[0].BoundSec)
	require.InDelta(t, 18.17, float64(got.Tasks[5].FinishSec)/60, 0.005)
	for i, mean := range []float64{5.33, 2.33, 5, 8.17, 9.67, 4.67, 5.83, 4.33, 6.67, 4.17, 9.83, 5.33, 2.17, 7.83} {
		require.InDelta(t, mean, float64(p.Tasks[i].Ways[0].DurationSec)/60, 0.005, acts[i].name)
	}
	slack := []float64{0, 8, 0, 1.83, 0, 1.83, 5, 0, 0, 2.5, 0, 2.5, 0, 0}
	var variance float64
	for i, want := range slack {
		require.InDelta(t, want, slackOf(p, i), 0.01, acts[i].name)
		if want == 0 {
			variance += acts[i].variance()
		}
	}
	require.InDelta(t, 11.1944, variance, 1e-4)
	require.InDelta(t, 0.8935, estimate.NormalCDF((55-50.8333)/math.Sqrt(variance)), 1e-4)
}

// slackOf is by how much task i may be longer before all of it is longer, in
// minutes.
func slackOf(p plan.Problem, i int) float64 {
	length := plan.Solve(p, 10, 1).Groups[0].ReadySec
	q := p
	q.Tasks = append([]plan.Task(nil), p.Tasks...)
	const more = 1000 * 60
	q.Tasks[i].Ways = []plan.Way{{DurationSec: p.Tasks[i].Ways[0].DurationSec + more, Place: plan.Off}}
	return float64(length+more-plan.Solve(q, 10, 1).Groups[0].ReadySec) / 60
}

// Arrows between events, with a dummy from 2 to 3; an exercise, author and year unknown.
// Event times worked by hand.
func TestANetworkWithADummyHasItsEventTimes(t *testing.T) {
	// A (1,2), B (1,3), C (2,4), D (2,6), E (3,4), F (3,5), G (4,5), H (4,6), I (5,6)
	p, got := network([]activity{
		{"A", 2, 5, 8, ""}, {"B", 1, 4, 7, ""}, {"C", 2, 4, 6, "A"}, {"D", 5, 7, 12, "A"}, {"E", 3, 5, 10, "BA"},
		{"F", 3, 6, 9, "BA"}, {"G", 4, 6, 10, "CE"}, {"H", 2, 5, 8, "CE"}, {"I", 2, 4, 6, "FG"},
	})
	for task, event := range map[int]float64{2: 5, 4: 5, 6: 10.5, 8: 16.83} {
		require.InDelta(t, event, float64(got.Tasks[task].StartSec)/60, 0.005)
	}
	require.InDelta(t, 20.83, float64(got.Groups[0].ReadySec)/60, 0.005)
	for _, critical := range []int{0, 4, 6, 8} {
		require.Zero(t, slackOf(p, critical))
	}
}

// The critical path of an exercise, author and year unknown: mean and variance worked by
// hand, the chance of 28 computed independently with Python's statistics.NormalDist.
func TestTheChanceAlongAPath(t *testing.T) {
	var mean, variance float64
	for _, x := range []activity{{"1", 5, 8, 17, ""}, {"3", 3, 5, 7, ""}, {"5", 4, 6, 8, ""}, {"7", 3, 4, 5, ""}} {
		mean, variance = mean+x.mean(), variance+x.variance()
	}
	require.InDelta(t, 24, mean, 1e-9)
	require.InDelta(t, 5, variance, 1e-9)
	require.InDelta(t, 0.96318, estimate.NormalCDF(4/math.Sqrt(variance)), 1e-5)
}
