package fightclock

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// The grid against plain draws from the model's own words: draw a rate, draw
// intervals and hold-ups, keep the runs whose first interval outlasts what has
// gone by. Tolerances are about four standard errors.
func TestTheGridAgreesWithSimulation(t *testing.T) {
	rare := fiveSeen(withHoldUps(sixMinutes()))
	often := Prior{MeanSec: 360, Worth: 1, Shape: 8, HoldUpShare: 0.9, HoldUpSec: 60}.pace()
	for _, c := range []struct {
		pace                pace
		k                   int
		gone                float64
		tol10, tol50, tol90 float64
	}{
		{rare, 1, 12, 0.5, 1, 3},
		{rare, 3, 8, 0.3, 0.4, 1.2},
		{rare, 5, 15, 1.2, 1.5, 4},
		{often, 5, 8, 0.4, 0.5, 1},
	} {
		left := simulate(c.pace, c.k, c.gone*60, 70000)
		require.Greater(t, len(left), 700)
		w := c.pace.wait(c.k, c.gone*60)
		at := func(p float64) float64 { return left[int(p*float64(len(left)))] / 60 }
		require.InDelta(t, at(0.1), w.minutes(0.1), c.tol10, "k %d after %g", c.k, c.gone)
		require.InDelta(t, at(0.5), w.minutes(0.5), c.tol50, "k %d after %g", c.k, c.gone)
		require.InDelta(t, at(0.9), w.minutes(0.9), c.tol90, "k %d after %g", c.k, c.gone)
	}
}

func simulate(p pace, k int, goneSec float64, n int) []float64 {
	rng := rand.New(rand.NewPCG(1, 2))
	interval := func(rate float64) float64 {
		sec := gamma(rng, p.shape) / rate
		if rng.Float64() < p.hold.share {
			sec += rng.ExpFloat64() * p.hold.meanSec
		}
		return sec
	}
	var left []float64
	for range n {
		rate := gamma(rng, p.a) / p.b
		sum := interval(rate)
		if sum <= goneSec {
			continue
		}
		for range k - 1 {
			sum += interval(rate)
		}
		left = append(left, sum-goneSec)
	}
	slices.Sort(left)
	return left
}

// gamma draws by Marsaglia and Tsang, ACM TOMS 26 (2000) 363–372, for shape ≥ 1.
func gamma(rng *rand.Rand, shape float64) float64 {
	d := shape - 1.0/3
	for {
		x := rng.NormFloat64()
		v := math.Pow(1+x/math.Sqrt(9*d), 3)
		if v > 0 && math.Log(rng.Float64()) < x*x/2+d*(1-v+math.Log(v)) {
			return d * v
		}
	}
}

// Two arenas of 6-minute intervals told apart badly, as one of 3 minutes: the next
// interval spreads far more than a shape of 8 says, and the sum of ten hardly
// more. So each arena is a process of its own. Computed independently.
func TestTwoArenasPooledAreRightForSumsAndWrongForTheNextStart(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	const shape, mean, n = 8, 6.0, 400_000
	var starts []float64
	for range 2 {
		at := mean * rng.Float64()
		for range n / 2 {
			at += gamma(rng, shape) * mean / shape
			starts = append(starts, at)
		}
	}
	slices.Sort(starts)
	starts = starts[1000 : len(starts)-5000] // past the beginning, before one of the two ends
	spread := func(k int) (mean, sd float64) {
		var sum, sumSq float64
		m := 0
		for i := 0; i+k < len(starts); i += k {
			x := starts[i+k] - starts[i]
			sum, sumSq, m = sum+x, sumSq+x*x, m+1
		}
		mean = sum / float64(m)
		return mean, math.Sqrt(sumSq/float64(m) - mean*mean)
	}
	one, sd := spread(1)
	require.InDelta(t, 3, one, 0.02)
	require.InDelta(t, 0.613, sd/one, 0.02)
	_, ten := spread(10)
	require.InDelta(t, 3.57, ten, 0.1)
	require.InDelta(t, 3.35, 3*math.Sqrt(10./shape), 0.005, "ten intervals of one arena of that mean")
}
