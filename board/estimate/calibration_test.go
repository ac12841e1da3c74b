package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/estimate"
)

// Ten rain forecasts of G. W. Brier, Monthly Weather Review 78, 1950, 1–3 (from memory);
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
	require.InDelta(t, 0.2400, c.Always, 5.1e-5)
}

func TestCalibrationRefusesWhatIsNoChance(t *testing.T) {
	_, err := estimate.Calibrate(nil)
	require.ErrorContains(t, err, "at least one")
	_, err = estimate.Calibrate([]estimate.Said{{Chance: 0.5}, {Chance: 1.1}})
	require.ErrorContains(t, err, "chance 2")
	c, err := estimate.Calibrate(said(0.9, 3, 3))
	require.NoError(t, err)
	require.Zero(t, c.Always, "all went one way")
}
