package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A job 20/50 minutes, computed independently with Python's statistics; half the last digit
// printed.
func TestTimeSpentConditionsWhatIsLeft(t *testing.T) {
	job := minutes(t, 20, 50)
	for _, c := range []struct{ spent, p50, p90 float64 }{
		{0, 20.000, 50.000},
		{10, 13.236, 43.749},
		{20, 12.394, 44.831},
		{30, 12.933, 47.962},
		{50, 14.831, 55.534},
		{80, 17.976, 67.143},
	} {
		r := job.After(c.spent * minSec)
		require.InDelta(t, c.p50, r.LeftSec(0.5)/minSec, 5.1e-4, "after %g", c.spent)
		require.InDelta(t, c.p90, r.LeftSec(0.9)/minSec, 5.1e-4, "after %g", c.spent)
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
		require.GreaterOrEqual(t, spent+early.LeftSec(p), job.QuantileSec(p)-slack)
		require.GreaterOrEqual(t, more+late.LeftSec(p), spent+early.LeftSec(p)-slack)
		require.GreaterOrEqual(t, late.LeftSec(p), 0.0)
	})
}

func TestAJobThatRunsAbsurdlyLongStillHasTimeLeft(t *testing.T) {
	r := minutes(t, 10, 10).After(1000 * minSec)
	require.Greater(t, r.LeftSec(0.5), 0.0)
	require.False(t, math.IsInf(r.LeftSec(0.99), 0))
	require.Equal(t, minutes(t, 10, 20).After(0), minutes(t, 10, 20).After(-5), "negative time counts as none")
}
