package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/estimate"
)

// Ten rain forecasts of Brier, Monthly Weather Review 78 (1950) 1–3, from memory;
// his score over both classes was 0.19, twice today's.
func TestBrierMeetsHisOwnExample(t *testing.T) {
	var series []estimate.Said
	for i, p := range []float64{0.7, 0.9, 0.8, 0.4, 0.2, 0, 0, 0, 0, 0.1} {
		series = append(series, estimate.Said{Chance: p, Met: i >= 1 && i <= 3})
	}
	c, err := estimate.Calibrate(series)
	require.NoError(t, err)
	require.InDelta(t, 0.19, 2*c.Brier, 1e-12)
}

func said(chance float64, n, met int) []estimate.Said {
	var out []estimate.Said
	for i := range n {
		out = append(out, estimate.Said{Chance: chance, Met: i < met})
	}
	return out
}

// Constructed series, computed independently.
func TestCalibrationOfAConstructedDay(t *testing.T) {
	series := append(said(0.95, 4, 4), said(0.8, 6, 4)...)
	series = append(series, said(0.6, 5, 3)...)
	series = append(series, said(0.3, 3, 1)...)
	series = append(series, said(0.1, 2, 0)...)
	c, err := estimate.Calibrate(series)
	require.NoError(t, err)
	require.InDelta(t, 0.1670, c.Brier, 5.1e-5)
	require.InDelta(t, 0.0070, c.Reliability, 5.1e-5)
	require.InDelta(t, 0.0800, c.Resolution, 5.1e-5)
	require.InDelta(t, 0.2400, c.Uncertainty, 5.1e-5)
	require.InDelta(t, 0.3042, c.Skill, 5.1e-5)
	require.InDelta(t, 0.4905, c.LogScore, 5.1e-5)
	require.InDelta(t, 0.206, c.Spiegelhalter, 5.1e-4)
}

func TestFourOfSixAtEightyPerCentIsNoEvidence(t *testing.T) {
	require.InDelta(t, 0.345, estimate.ChanceAtMost(4, 6, 0.8), 5.1e-4)
	require.Equal(t, 1.0, estimate.ChanceAtMost(6, 6, 0.8))
	require.Equal(t, 0.0, estimate.ChanceAtMost(-1, 6, 0.8))
}

func TestTheScoreIsTheSumOfItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 40).Draw(t, "n")
		var series []estimate.Said
		for range n {
			series = append(series, estimate.Said{
				Chance: float64(rapid.IntRange(0, 10).Draw(t, "tenths")) / 10,
				Met:    rapid.Bool().Draw(t, "met"),
			})
		}
		c, err := estimate.Calibrate(series)
		require.NoError(t, err)
		require.InDelta(t, c.Brier, c.Reliability-c.Resolution+c.Uncertainty, 1e-9)
	})
}

func TestCalibrationRefusesWhatIsNoChance(t *testing.T) {
	_, err := estimate.Calibrate(nil)
	require.ErrorContains(t, err, "at least one")
	_, err = estimate.Calibrate([]estimate.Said{{Chance: 0.5}, {Chance: 1.1}})
	require.ErrorContains(t, err, "chance 2")
	c, err := estimate.Calibrate(said(0.9, 3, 3))
	require.NoError(t, err)
	require.True(t, math.IsNaN(c.Skill), "no skill can be told from cases that all went one way")
}
