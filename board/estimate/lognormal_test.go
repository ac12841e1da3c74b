package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/estimate"
)

const minSec = 60

// minutes is a job of likely and bad-case minutes.
func minutes(t require.TestingT, likely, bad float64) estimate.Lognormal {
	l, err := estimate.TwoPoint{LikelySec: likely * minSec, BadSec: bad * minSec}.Lognormal()
	require.NoError(t, err)
	return l
}

// Computed independently; tolerance half the last digit printed.
func TestTwoPointsMakeALognormal(t *testing.T) {
	type row struct {
		likely, bad      float64
		sigma, mean, p95 float64
		sigmaTol         float64
		timeTol          float64
	}
	for _, c := range []row{
		{20, 50, 0.71499, 25.825, 64.831, 5e-6, 5e-4},
		{15, 60, 1.08173, 26.927, 88.885, 5e-6, 5e-4},
		{10, 25, 0.7150, 12.91, 32.42, 5e-5, 5e-3},
		{5, 12, 0.6831, 6.31, 15.38, 5e-5, 5e-3},
		{20, 60, 0.8573, 28.88, 81.92, 5e-5, 5e-3},
		{30, 75, 0.7150, 38.74, 97.25, 5e-5, 5e-3},
	} {
		l := minutes(t, c.likely, c.bad)
		require.InDelta(t, c.sigma, l.Sigma, c.sigmaTol, "%v", c)
		require.InDelta(t, c.mean, l.MeanSec()/minSec, c.timeTol, "%v", c)
		require.InDelta(t, c.p95, l.QuantileSec(0.95)/minSec, c.timeTol, "%v", c)
		require.InDelta(t, c.likely, l.QuantileSec(0.5)/minSec, 1e-9)
		require.InDelta(t, c.bad, l.QuantileSec(0.9)/minSec, 1e-9)
	}
	l := minutes(t, 20, 50)
	require.InDelta(t, 21.096, math.Sqrt(l.VarianceSec2())/minSec, 5e-4)
	require.InDelta(t, 8.000, l.QuantileSec(0.10)/minSec, 5e-4)
	require.InDelta(t, 32.394, l.QuantileSec(0.75)/minSec, 5e-4)
	require.InDelta(t, 111.26, minutes(t, 10, 25).VarianceSec2()/minSec/minSec, 5e-3)
}

// "Likely" is the median. Read as the mode, 10/25 would give another curve
// (σ 0.5111, median 12.99, computed independently): the test keeps the two apart.
func TestLikelyIsTheMedianAndNotTheMode(t *testing.T) {
	l := minutes(t, 10, 25)
	require.InDelta(t, 0.5, 1-l.Survival(10*minSec), 1e-12)
	mode := math.Exp(l.Mu-l.Sigma*l.Sigma) / minSec
	require.Less(t, mode, 6.1)
}

func TestTwoPointRefusesWhatIsNoEstimate(t *testing.T) {
	for _, c := range []struct {
		name        string
		likely, bad float64
		says        string
	}{
		{"zero", 0, 10, "above 0"},
		{"negative", -5, 10, "above 0"},
		{"not a number", math.NaN(), 10, "above 0"},
		{"no number for bad", 10, math.NaN(), "bad case"},
		{"endless", 10, math.Inf(1), "bad case"},
		{"bad below likely", 10, 9, "bad case 9 s below likely time 10 s"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := estimate.TwoPoint{LikelySec: c.likely, BadSec: c.bad}.Lognormal()
			require.ErrorContains(t, err, c.says)
		})
	}
	_, err := estimate.TwoPoint{LikelySec: 10, BadSec: 10}.Lognormal()
	require.NoError(t, err, "equal points are an estimate")
}

func TestSigmaIsKeptWithinItsLimits(t *testing.T) {
	require.Equal(t, 0.05, minutes(t, 10, 10).Sigma)
	require.Equal(t, 1.5, minutes(t, 1, 1000).Sigma)
}

// Computed independently, n parallel jobs 10/25.
func TestMoreJobsSideBySideEndLater(t *testing.T) {
	job := minutes(t, 10, 25)
	for _, c := range []struct{ n, all, p50, p90 float64 }{
		{2, 0.81, 14.764, 32.124},
		{3, 0.729, 17.964, 36.695},
		{4, 0.656, 20.415, 40.123},
		{6, 0.531, 24.118, 45.222},
	} {
		require.InDelta(t, c.all, math.Pow(1-job.Survival(25*minSec), c.n), 5e-4)
		require.InDelta(t, c.p50, job.QuantileSec(math.Pow(0.5, 1/c.n))/minSec, 5e-4)
		require.InDelta(t, c.p90, job.QuantileSec(math.Pow(0.9, 1/c.n))/minSec, 5e-4)
	}
}

func anyJob(t *rapid.T) estimate.Lognormal {
	likely := rapid.Float64Range(1, 36000).Draw(t, "likelySec")
	stretch := rapid.Float64Range(1, 10).Draw(t, "bad/likely")
	l, err := estimate.TwoPoint{LikelySec: likely, BadSec: likely * stretch}.Lognormal()
	require.NoError(t, err)
	return l
}

func TestQuantileAndDistributionUndoEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyJob(t)
		p := rapid.Float64Range(1e-6, 1-1e-6).Draw(t, "p")
		require.InDelta(t, p, 1-l.Survival(l.QuantileSec(p)), 1e-9)
	})
}

func TestQuantilesRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyJob(t)
		p := rapid.Float64Range(0.001, 0.998).Draw(t, "p")
		q := rapid.Float64Range(p+0.001, 0.999).Draw(t, "q")
		require.Less(t, l.QuantileSec(p), l.QuantileSec(q))
	})
}
