package charge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// On the plateau of iron phosphate voltage tells nothing: common practice, no source. The
// edges are our decision.
func TestIronPhosphateOnItsPlateauMustBeCounted(t *testing.T) {
	for _, v := range []float64{3.20, 3.25, 3.30, 3.34} {
		r, err := SoCAtRest(LiFe, v)
		require.NoError(t, err)
		require.Equal(t, SoCRange{0.15, 0.55, 0.95, true}, r)
	}
	r, err := SoCAtRest(LiFe, 3.10)
	require.NoError(t, err)
	require.False(t, r.CountAh)
	require.Less(t, r.Likely, 0.2)
	for _, v := range []float64{3.17, 3.40} {
		r, err := SoCAtRest(LiFe, v)
		require.NoError(t, err)
		require.True(t, r.CountAh)
	}
}

// Computed independently: from 30 to 90 % the whole curve moves by 55 mV or so.
func TestIronPhosphateHardlyMoves(t *testing.T) {
	c := curveOf(t, LiFe)
	require.Less(t, c.Volts(0.9)-c.Volts(0.3), 0.11)
	require.Less(t, c.Volts(0.9)-c.Volts(0.4), 0.065)
	round := curveFile(t, "ccbysa_ocv_bpx.csv", "lfp_18650")
	require.InDelta(t, 0.055, round.Volts(0.9)-round.Volts(0.3), 0.001)
}

// A meter's 5 mV and 50 mV for a rest of unknown length, and 10 points by a curve that is
// not the pack's own, 15 where even the chemistry has none: our decision.
func TestWhatAReadingMayBeOffBy(t *testing.T) {
	for chem, points := range map[Chemistry]float64{LiPo: 0.10, LiIon: 0.10, LiPoHV: 0.15} {
		c := curveOf(t, chem)
		r, err := SoCAtRest(chem, 3.8)
		require.NoError(t, err)
		want := []float64{c.SoC(3.745) - points, c.SoC(3.8), c.SoC(3.855) + points}
		require.InDeltaSlice(t, want, []float64{r.Low, r.Likely, r.High}, 1e-9, chem)
		require.False(t, r.CountAh)
	}
}

// Charged to 4.20 V, at rest 3.00 V at least, and warned at 0.05 V of spread: common
// practice, no source, as the nominal volts; iron phosphate to 3.60 to 3.65 V: the tops
// of the cells in testdata/battery; the rest our decision.
func TestLimitsAreTheStatedOnes(t *testing.T) {
	for c, want := range map[Chemistry]Limits{
		LiPo: {4.20, 3.7, 3.00, 4.30, 0.05, 0.10, 0}, LiIon: {4.20, 3.6, 3.00, 4.30, 0.05, 0.10, 0}, LiPoHV: {4.35, 3.8, 3.00, 4.40, 0.05, 0.10, 0},
		LiFe: {3.65, 3.2, 2.50, 3.80, 0.05, 0.10, 3.40}, NiMH: {0, 1.2, 0.80, 1.70, 0, 0.10, 0}, AGM: {0, 2.0, 1.75, 2.60, 0, 0.10, 0}, "": {},
	} {
		require.Equal(t, want, LimitsOf(c), c)
	}
	require.InDelta(t, 3.60, curveOf(t, LiFe).Volts(1), 1e-9)
	require.InDelta(t, 3.65, curveFile(t, "ccbysa_ocv_bpx.csv", "lfp_18650").Volts(1), 0.002)
}

func TestNickelIsNotToldByVoltage(t *testing.T) {
	r, err := SoCAtRest(NiMH, 1.30)
	require.NoError(t, err)
	require.Equal(t, SoCRange{0, 0.5, 1, true}, r)
}

// 12.0, 12.3, 12.6, 12.8 V a block: common practice, no source.
func TestLeadAcidFollowsItsFourPoints(t *testing.T) {
	for block, z := range map[float64]float64{12.0: 0.25, 12.3: 0.50, 12.6: 0.75, 12.8: 1, 13.1: 1, 11.5: 0} {
		r, err := SoCAtRest(AGM, block/6)
		require.NoError(t, err)
		require.InDelta(t, z, r.Likely, 1e-9, "%g V", block)
		require.InDelta(t, max(z-0.3, 0), r.Low, 1e-9)
		require.True(t, r.CountAh, "it rests for 8 to 24 hours before it tells")
	}
}

func TestImpossibleReadingsAreRefused(t *testing.T) {
	for _, v := range []float64{0, -1, 11, math.NaN(), math.Inf(1)} {
		_, err := SoCAtRest(LiPo, v)
		require.ErrorContains(t, err, "voltage of one cell")
	}
	_, err := SoCAtRest("tin", 3.8)
	require.ErrorContains(t, err, "name one of")
}
