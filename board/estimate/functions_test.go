package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/estimate"
)

// Computed independently with Python's statistics.NormalDist. The first three are the
// check values of M. J. Wichura, "Algorithm AS 241: the percentage points of the normal
// distribution", Applied Statistics 37, 1988, 477–484 (from memory).
func TestNormalQuantileMeetsComputedValues(t *testing.T) {
	for _, c := range []struct{ p, z float64 }{
		{0.25, -0.6744897501960817},
		{0.001, -3.090232306167814},
		{1e-20, -9.262340089798408},
		{0.5, 0},
		{0.9, 1.2815515655446004},
		{0.95, 1.6448536269514722},
		{0.975, 1.959963984540054},
		{0.8, 0.8416212335729144},
		{0.85, 1.0364333894937894},
		{0.99, 2.3263478740408408},
	} {
		require.InDelta(t, c.z, estimate.NormalQuantile(c.p), 1e-12, "p = %g", c.p)
	}
	require.True(t, math.IsInf(estimate.NormalQuantile(0), -1))
	require.True(t, math.IsInf(estimate.NormalQuantile(1), 1))
}

func TestNormalQuantileUndoesTheDistribution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := rapid.Float64Range(-30, 5).Draw(t, "z")
		back := estimate.NormalQuantile(estimate.NormalCDF(z))
		require.InDelta(t, z, back, 1e-9*math.Max(1, math.Abs(z)))
	})
}

// Computed independently with Python: the density summed by Simpson's rule, and halved
// to the quantile.
func TestStudentQuantileMeetsComputedValues(t *testing.T) {
	for _, c := range []struct{ p, df, t float64 }{
		{0.9, 6, 1.4397557472651},
		{0.975, 1, 12.706204736175},
		{0.975, 4, 2.7764451051978},
		{0.95, 10, 1.8124611228107},
		{0.995, 30, 2.7499956535672},
	} {
		require.InDelta(t, c.t, estimate.StudentQuantile(c.p, c.df), 1e-9, "p = %g, df = %g", c.p, c.df)
	}
}

func TestStudentQuantileMeetsItsClosedFormsForOneAndTwoDegrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(1e-6, 1-1e-6).Draw(t, "p")
		one := math.Tan(math.Pi * (p - 0.5))
		two := (2*p - 1) / math.Sqrt(2*p*(1-p))
		require.InEpsilon(t, 1+math.Abs(one), 1+math.Abs(estimate.StudentQuantile(p, 1)), 1e-8)
		require.InEpsilon(t, 1+math.Abs(two), 1+math.Abs(estimate.StudentQuantile(p, 2)), 1e-8)
	})
}

func TestStudentQuantileIsExactAboutItsMiddle(t *testing.T) {
	for _, off := range []float64{0, 1e-12, 1e-9, 1e-4} {
		p := 0.5 - off
		two := (2*p - 1) / math.Sqrt(2*p*(1-p))
		require.InDelta(t, two, estimate.StudentQuantile(p, 2), 1e-15+1e-6*off)
	}
}

func TestStudentQuantileNearsTheNormalWithManyDegrees(t *testing.T) {
	require.InDelta(t, estimate.NormalQuantile(0.9), estimate.StudentQuantile(0.9, 1e7), 1e-6)
}

func TestBetaCDFIsTheBinomialTail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "n")
		k := rapid.IntRange(1, n).Draw(t, "k")
		p := rapid.Float64Range(0.01, 0.99).Draw(t, "p")
		var tail, term float64 = 0, math.Pow(1-p, float64(n))
		for i := 0; i <= n; i++ {
			if i >= k {
				tail += term
			}
			term *= p / (1 - p) * float64(n-i) / float64(i+1)
		}
		require.InDelta(t, tail, estimate.BetaCDF(p, float64(k), float64(n-k+1)), 1e-10)
	})
}

func TestBetaQuantileUndoesBetaCDF(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.3, 2000).Draw(t, "a")
		b := rapid.Float64Range(0.3, 2000).Draw(t, "b")
		p := rapid.Float64Range(1e-9, 1-1e-9).Draw(t, "p")
		x := estimate.BetaQuantile(p, a, b)
		require.InDelta(t, p, estimate.BetaCDF(x, a, b), 1e-9)
	})
}

func TestBetaFunctionsKeepToTheirRange(t *testing.T) {
	require.Equal(t, 0.0, estimate.BetaCDF(-1, 2, 3))
	require.Equal(t, 1.0, estimate.BetaCDF(2, 2, 3))
	require.Equal(t, 0.0, estimate.BetaQuantile(0, 2, 3))
	require.Equal(t, 1.0, estimate.BetaQuantile(1, 2, 3))
	require.True(t, math.IsNaN(estimate.BetaCDF(0.5, 0, 3)))
	require.True(t, math.IsNaN(estimate.BetaQuantile(0.5, 2, -3)))
}
