package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A job 20/50 minutes, computed independently; half the last digit printed.
func TestTimeSpentConditionsWhatIsLeft(t *testing.T) {
	job := minutes(t, 20, 50)
	for _, c := range []struct{ spent, survival, p50, p90, mean, nextTen float64 }{
		{0, 1, 20.000, 50.000, 25.825, 0.1662},
		{10, 0.83384, 13.236, 43.749, 19.545, 0.4004},
		{20, 0.50000, 12.394, 44.831, 19.393, 0.4294},
		{30, 0.28532, 12.933, 47.962, 20.576, 0.4177},
		{50, 0.10000, 14.831, 55.534, 23.731, 0.3780},
		{80, 0.02626, 17.976, 67.143, 28.675, 0.3257},
	} {
		r := job.After(c.spent * minSec)
		require.InDelta(t, c.survival, r.Survival(), 5.1e-6, "after %g", c.spent)
		require.InDelta(t, c.p50, r.LeftSec(0.5)/minSec, 5.1e-4, "after %g", c.spent)
		require.InDelta(t, c.p90, r.LeftSec(0.9)/minSec, 5.1e-4, "after %g", c.spent)
		require.InDelta(t, c.mean, r.MeanLeftSec()/minSec, 5.1e-4, "after %g", c.spent)
		require.InDelta(t, c.nextTen, r.ChanceWithin(10*minSec), 5.1e-5, "after %g", c.spent)
	}
}

func TestAJobPastItsBadCaseHasMoreLeftThanOneAtItsMedian(t *testing.T) {
	job := minutes(t, 20, 50)
	require.Greater(t, job.After(60*minSec).LeftSec(0.5), job.After(20*minSec).LeftSec(0.5))
}

func TestConditioningNeverShortensTheTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := anyJob(t)
		spent := rapid.Float64Range(0, 200000).Draw(t, "spentSec")
		more := spent + rapid.Float64Range(0, 50000).Draw(t, "moreSec")
		p := rapid.Float64Range(0.01, 0.99).Draw(t, "p")
		early, late := job.After(spent), job.After(more)
		slack := 1e-6 * (1 + more)
		require.GreaterOrEqual(t, early.TotalSec(p), job.QuantileSec(p)-slack)
		require.GreaterOrEqual(t, late.TotalSec(p), early.TotalSec(p)-slack)
		require.GreaterOrEqual(t, late.LeftSec(p), 0.0)
	})
}

func TestChanceWithinUndoesTheTimeLeft(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := anyJob(t)
		spent := job.QuantileSec(rapid.Float64Range(0.001, 0.999).Draw(t, "spent quantile"))
		p := rapid.Float64Range(0.01, 0.99).Draw(t, "p")
		r := job.After(spent)
		require.InDelta(t, p, r.ChanceWithin(r.LeftSec(p)), 1e-6)
	})
}

func TestAJobThatRunsAbsurdlyLongStillHasTimeLeft(t *testing.T) {
	r := minutes(t, 10, 10).After(1000 * minSec)
	require.Greater(t, r.LeftSec(0.5), 0.0)
	require.Greater(t, r.MeanLeftSec(), 0.0)
	require.False(t, math.IsInf(r.TotalSec(0.99), 0))
	require.Equal(t, 0.0, r.ChanceWithin(0))
	require.Equal(t, 1.0, minutes(t, 10, 20).After(-5).Survival(), "negative time counts as none")
}
