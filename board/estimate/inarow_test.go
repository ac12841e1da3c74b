package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/estimate"
)

// Three independent jobs 10/25: the approximation's P90 62.22 and the mean were
// computed independently; simulation there gave P50 34.9, P90 61.7 (± 0.3 min)
// and P(≤ 45) 0.717 (± 0.003). Our tolerances against the simulation add what
// Fenton and Wilkinson's approximation is off: 1 minute and 0.015.
func TestThreeJobsInARow(t *testing.T) {
	job := minutes(t, 10, 25)
	sum, err := estimate.InARow(0, job, job, job)
	require.NoError(t, err)
	require.InDelta(t, 38.74, sum.MeanSec()/minSec, 5e-3)
	require.InDelta(t, 62.22, sum.QuantileSec(0.9)/minSec, 5e-3)
	require.InDelta(t, 34.9, sum.QuantileSec(0.5)/minSec, 1)
	require.InDelta(t, 61.7, sum.QuantileSec(0.9)/minSec, 1)
	require.InDelta(t, 0.717, 1-sum.Survival(45*minSec), 0.015)

	require.Greater(t, sum.QuantileSec(0.5)/minSec, 30.0, "the sum of medians is too short")
	require.Less(t, sum.QuantileSec(0.9)/minSec, 75.0, "the sum of bad cases is too long")
}

// Series 10/25 + 5/12 + 20/50 with the same tired hands, computed independently
// by convolution and 4 million draws (± 0.0005, ± 0.1 min). Mean and standard
// deviation are exact here (the convolution's printed mean, 45.03, is 0.02 short of
// the sum of the three means); chances and P90 carry the approximation: 0.015, 2.5 %.
func TestTiredHandsWidenJobsInARow(t *testing.T) {
	a, b, c := minutes(t, 10, 25), minutes(t, 5, 12), minutes(t, 20, 50)
	for _, row := range []struct{ rho, sd, by45, by60, by75, p90 float64 }{
		{0, 24.0, 0.6075, 0.8066, 0.9044, 74.0},
		{0.2, 26.5, 0.611, 0.794, 0.891, 77.2},
		{0.5, 30.1, 0.620, 0.783, 0.875, 81.2},
		{1, 36.5, 0.6385, 0.776, 0.858, 86.9},
	} {
		sum, err := estimate.InARow(row.rho, a, b, c)
		require.NoError(t, err)
		require.InDelta(t, 45.03, sum.MeanSec()/minSec, 0.03, "rho %g", row.rho)
		require.InDelta(t, row.sd, math.Sqrt(sum.VarianceSec2())/minSec, 0.1, "rho %g", row.rho)
		require.InDelta(t, row.by45, 1-sum.Survival(45*minSec), 0.015, "rho %g", row.rho)
		require.InDelta(t, row.by60, 1-sum.Survival(60*minSec), 0.015, "rho %g", row.rho)
		require.InDelta(t, row.by75, 1-sum.Survival(75*minSec), 0.015, "rho %g", row.rho)
		require.InEpsilon(t, row.p90, sum.QuantileSec(0.9)/minSec, 0.025, "rho %g", row.rho)
	}
}

func TestJobsTogetherRefuseNonsense(t *testing.T) {
	_, err := estimate.InARow(0)
	require.ErrorContains(t, err, "at least one")
	_, err = estimate.InARow(1.2, minutes(t, 1, 2))
	require.ErrorContains(t, err, "give 0 to 1")
	_, err = estimate.InARow(math.NaN(), minutes(t, 1, 2))
	require.ErrorContains(t, err, "give 0 to 1")
}

func TestOneJobInARowIsThatJob(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := anyJob(t)
		sum, err := estimate.InARow(rapid.Float64Range(0, 1).Draw(t, "rho"), job)
		require.NoError(t, err)
		require.InDelta(t, job.Mu, sum.Mu, 1e-9)
		require.InDelta(t, job.Sigma, sum.Sigma, 1e-9)
	})
}
