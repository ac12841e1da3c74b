package estimate_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/estimate"
)

func worked(done []float64, open ...float64) []estimate.Worked {
	var jobs []estimate.Worked
	for _, d := range done {
		jobs = append(jobs, estimate.Worked{Sec: d * minSec})
	}
	for _, o := range open {
		jobs = append(jobs, estimate.Worked{Sec: o * minSec, Open: true})
	}
	return jobs
}

// Constructed example: done 5, 8, 12, one still open at 20.
func TestAnOpenJobIsNotAShortOne(t *testing.T) {
	mean, err := estimate.MeanSecExponential(worked([]float64{5, 8, 12}, 20))
	require.NoError(t, err)
	require.InDelta(t, 15.0, mean/minSec, 1e-9)
	dropped, err := estimate.MeanSecExponential(worked([]float64{5, 8, 12}))
	require.NoError(t, err)
	require.InDelta(t, 8.33, dropped/minSec, 5e-3)
}

// Computed independently; the second column drops the open jobs.
func TestCensoredFitUsesOpenJobs(t *testing.T) {
	for _, c := range []struct {
		name                   string
		done, open             []float64
		mu, sigma, median, p90 float64
		droppedMedian          float64
	}{
		{"four jobs", []float64{5, 8, 12}, []float64{20}, 2.38061, 0.65619, 10.811, 25.067, 7.830},
		{"ten jobs", []float64{12, 15, 18, 22, 25, 30, 41}, []float64{20, 35, 60}, 3.34398, 0.58211, 28.332, 59.739, 21.597},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := estimate.FitCensored(worked(c.done, c.open...))
			require.NoError(t, err)
			require.InDelta(t, c.mu, l.Mu-math.Log(minSec), 1e-5)
			require.InDelta(t, c.sigma, l.Sigma, 1e-5)
			require.InDelta(t, c.median, l.QuantileSec(0.5)/minSec, 1e-3)
			require.InDelta(t, c.p90, l.QuantileSec(0.9)/minSec, 1e-3)
			dropped, err := estimate.FitCensored(worked(c.done))
			require.NoError(t, err)
			require.InDelta(t, c.droppedMedian, dropped.QuantileSec(0.5)/minSec, 1e-3)
		})
	}
	dropped, err := estimate.FitCensored(worked([]float64{5, 8, 12}))
	require.NoError(t, err)
	require.InDelta(t, 12.384, dropped.QuantileSec(0.9)/minSec, 1e-3)
}

func TestAnOpenJobNeverShortensTheFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		done := rapid.SliceOfN(rapid.Float64Range(5, 60), 3, 8).Draw(t, "done")
		longest := 0.0
		for _, d := range done {
			longest = math.Max(longest, d)
		}
		without, err := estimate.FitCensored(worked(done))
		require.NoError(t, err)
		with, err := estimate.FitCensored(worked(done, longest+rapid.Float64Range(0, 30).Draw(t, "over")))
		require.NoError(t, err)
		require.GreaterOrEqual(t, with.Mu, without.Mu-1e-9)
	})
}

func TestNothingFinishedIsNothingLearnt(t *testing.T) {
	for _, c := range []struct {
		name string
		jobs []estimate.Worked
		says string
	}{
		{"no jobs", nil, "at least one"},
		{"all open", worked(nil, 5, 9), "no job is finished"},
		{"no time", worked([]float64{0}), "job 1: 0 s"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := estimate.FitCensored(c.jobs)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestEqualTimesDoNotBreakTheFit(t *testing.T) {
	same, err := estimate.FitCensored(worked([]float64{10, 10, 10}))
	require.NoError(t, err)
	require.Equal(t, 0.05, same.Sigma)
	many, err := estimate.FitCensored(worked(slices.Repeat([]float64{10}, 3000), 2000))
	require.NoError(t, err)
	require.InDelta(t, 10, many.QuantileSec(0.5)/minSec, 0.1, "one open job among thousands, far out")
	l, err := estimate.FitCensored(worked([]float64{10, 10, 10}, 2000))
	require.NoError(t, err)
	require.False(t, math.IsNaN(l.Mu) || math.IsNaN(l.Sigma))
	require.Greater(t, l.QuantileSec(0.5)/minSec, 10.0)
}
