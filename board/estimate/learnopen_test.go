package estimate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The censored fits computed independently, reached by a prior that counts for
// nothing.
func TestWithoutAPriorOpenJobsGiveTheCensoredFit(t *testing.T) {
	for _, c := range []struct {
		done, open []float64
		mu, sigma  float64
	}{
		{[]float64{5, 8, 12}, []float64{20}, 2.38061, 0.65619},
		{[]float64{12, 15, 18, 22, 25, 30, 41}, []float64{20, 35, 60}, 3.34398, 0.58211},
	} {
		logs := func(xs []float64) (ys []float64) {
			for _, x := range xs {
				ys = append(ys, math.Log(x))
			}
			return ys
		}
		b := NormalGamma{Kappa: 1e-12, Alpha: 1e-12, Beta: 1e-12}.afterOpen(logs(c.done), logs(c.open))
		require.InDelta(t, c.mu, b.Mean, 1e-4)
		require.InDelta(t, c.sigma, math.Sqrt(b.Beta/b.Alpha), 1e-4)
	}
}

func TestAJobBrokenOffNeverCountsAsAShortOne(t *testing.T) {
	said := TwoPoint{LikelySec: 1200, BadSec: 3000}
	done := []Done{{1200, 1800}, {1200, 1560}, {1200, 2700}}
	without, err := LearnOpen(said, done, nil)
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		spent := rapid.Float64Range(1, 30_000).Draw(t, "spentSec")
		with, err := LearnOpen(said, done, []Done{{1200, spent}})
		require.NoError(t, err)
		require.GreaterOrEqual(t, with.Belief.Mean, without.Belief.Mean-1e-9)
		require.Equal(t, 3, with.N)
		as, err := Learn(said, append([]Done{{1200, spent}}, done...))
		require.NoError(t, err)
		require.Greater(t, with.Belief.Mean, as.Belief.Mean, "longer than if it had been done by then")
	})
}

func TestAJobJustBegunTeachesAlmostNothing(t *testing.T) {
	said := TwoPoint{LikelySec: 1200, BadSec: 3000}
	done := []Done{{1200, 1800}, {1200, 1560}}
	without, err := Learn(said, done)
	require.NoError(t, err)
	with, err := LearnOpen(said, done, []Done{{1200, 5}})
	require.NoError(t, err)
	require.InDelta(t, without.QuantileSec(0.5), with.QuantileSec(0.5), 1)
}

func TestOpenJobsRefuseTimesThatAreNone(t *testing.T) {
	_, err := LearnOpen(TwoPoint{LikelySec: 10, BadSec: 20}, nil, []Done{{10, 0}})
	require.ErrorContains(t, err, "give times above 0")
	_, err = LearnOpen(TwoPoint{LikelySec: 10, BadSec: 5}, nil, []Done{{10, 1}})
	require.Error(t, err)
}
