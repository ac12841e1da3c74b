package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/estimate"
)

func record(actualMin ...float64) []estimate.Done {
	var jobs []estimate.Done
	for _, a := range actualMin {
		jobs = append(jobs, estimate.Done{LikelySec: 20 * minSec, ActualSec: a * minSec})
	}
	return jobs
}

// The same record, computed independently.
func TestTheRecordCorrectsTheEstimate(t *testing.T) {
	said := estimate.TwoPoint{LikelySec: 20 * minSec, BadSec: 50 * minSec}
	l, err := estimate.Learn(said, record(30, 26, 45, 22, 38))
	require.NoError(t, err)
	require.Equal(t, said, l.Said)
	require.Equal(t, 5, l.N)
	require.InDelta(t, 0.24621, l.Belief.Mean, 5.1e-6)
	require.InDelta(t, 1.35523, l.Belief.Beta, 5.1e-6)
	require.InDelta(t, 25.583, l.TwoPoint().LikelySec/minSec, 5.1e-4)
	require.InDelta(t, 12.535, l.QuantileSec(0.1)/minSec, 5.1e-4)
	require.InDelta(t, 52.214, l.TwoPoint().BadSec/minSec, 5.1e-4)
	require.InDelta(t, 65.473, l.QuantileSec(0.95)/minSec, 5.1e-4)

	fresh, err := estimate.Learn(said, nil)
	require.NoError(t, err)
	require.InDelta(t, 0.97208, fresh.Belief.Beta, 5.1e-6)
}

// Intervals between fights on the log scale, computed independently.
func TestNormalGammaPredictsTheNextInterval(t *testing.T) {
	var ys []float64
	for _, x := range []float64{5.2, 7.8, 6.1, 9.4, 6.5} {
		ys = append(ys, math.Log(x))
	}
	g := estimate.NormalGamma{Mean: 1.73051, Kappa: 3, Alpha: 4, Beta: 0.3675}.After(ys)
	for p, want := range map[float64]float64{0.1: 4.271, 0.5: 6.372, 0.9: 9.507} {
		require.InDelta(t, want, math.Exp(g.NextQuantile(p)), 1e-3, "p %g", p)
	}
}

func TestWithoutARecordTheEstimateStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		likely := rapid.Float64Range(10, 10000).Draw(t, "likelySec")
		said := estimate.TwoPoint{LikelySec: likely, BadSec: likely * rapid.Float64Range(1.1, 6).Draw(t, "stretch")}
		l, err := estimate.Learn(said, nil)
		require.NoError(t, err)
		require.InEpsilon(t, said.LikelySec, l.TwoPoint().LikelySec, 1e-9)
		require.InEpsilon(t, said.BadSec, l.TwoPoint().BadSec, 1e-9)
	})
}

func TestALongerActualNeverShortensTheCorrectedLikely(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		said := estimate.TwoPoint{LikelySec: 1200, BadSec: 3000}
		a := rapid.Float64Range(60, 9000).Draw(t, "actualSec")
		more := rapid.Float64Range(0, 9000).Draw(t, "moreSec")
		short, err := estimate.Learn(said, []estimate.Done{{LikelySec: 1200, ActualSec: a}})
		require.NoError(t, err)
		long, err := estimate.Learn(said, []estimate.Done{{LikelySec: 1200, ActualSec: a + more}})
		require.NoError(t, err)
		require.GreaterOrEqual(t, long.TwoPoint().LikelySec, short.TwoPoint().LikelySec)
	})
}

func TestLearningRefusesTimesThatAreNone(t *testing.T) {
	good := estimate.TwoPoint{LikelySec: 60, BadSec: 120}
	_, err := estimate.Learn(good, []estimate.Done{{LikelySec: 60, ActualSec: 60}, {LikelySec: 60}})
	require.ErrorContains(t, err, "job 2")
	_, err = estimate.Learn(estimate.TwoPoint{LikelySec: 60, BadSec: 30}, nil)
	require.ErrorContains(t, err, "bad case")
}
