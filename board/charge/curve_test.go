package charge

import (
	"math"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestBuiltInCurvesAreThePublishedOnes(t *testing.T) {
	for _, b := range []struct {
		chem         Chemistry
		file, column string
	}{
		{LiPo, "ocv_models.csv", "lco_pouch"},
		{LiFe, "ocv_models.csv", "lfp_26650"},
		{LiIon, "ocv_cell21700_measured.csv", "volts"},
	} {
		s := readSheet(t, b.file)
		built := curveOf(t, b.chem)
		require.Len(t, s.rows, 101)
		for k := range s.rows {
			require.Equal(t, s.number(t, k, b.column), built.Volts(s.number(t, k, "soc")), "%s at row %d", b.chem, k)
		}
	}
}

// Rest voltages at 0, 10, … 100 %. Computed independently from the electrode
// functions of the parameter sets that testdata/battery/README.md names; the last one
// measured.
func TestCurvesHaveTheTabledRestVoltages(t *testing.T) {
	for _, c := range []struct {
		file, column string
		volts        [11]float64
	}{
		{"ocv_models.csv", "lco_pouch", [11]float64{3.000, 3.640, 3.695, 3.733, 3.762, 3.792, 3.837, 3.909, 3.995, 4.088, 4.200}},
		{"ocv_models.csv", "nco_pouch", [11]float64{2.500, 3.459, 3.587, 3.709, 3.770, 3.787, 3.816, 3.882, 3.987, 4.079, 4.200}},
		{"ocv_models.csv", "nca_pouch", [11]float64{2.700, 3.247, 3.372, 3.492, 3.598, 3.685, 3.768, 3.874, 3.980, 4.080, 4.200}},
		{"ccbysa_ocv_bpx.csv", "nmc111_pouch", [11]float64{2.700, 3.463, 3.531, 3.598, 3.631, 3.673, 3.736, 3.824, 3.935, 4.063, 4.202}},
		{"ccbysa_ocv_bpx.csv", "lfp_18650", [11]float64{2.000, 3.188, 3.230, 3.267, 3.275, 3.278, 3.286, 3.306, 3.318, 3.322, 3.649}},
		{"ocv_cell21700_measured.csv", "volts", [11]float64{2.872, 3.324, 3.465, 3.569, 3.631, 3.693, 3.806, 3.907, 4.001, 4.085, 4.175}},
	} {
		curve := curveFile(t, c.file, c.column)
		for k, want := range c.volts {
			require.InDelta(t, want, curve.Volts(float64(k)/10), 0.0006, "%s at %d %%", c.column, 10*k)
		}
	}
}

// A measured discharge at C/20 of an iron phosphate cell: volts at 0,
// 10, … 100 % of what it gave, computed independently, to 2 mV. At the first and the last
// row, 3.477 and 2.000 V, the cell turns at once.
func TestAMeasuredIronPhosphateCellFollowsItsModel(t *testing.T) {
	s := readSheet(t, "ccbysa_lfp18650_c20_discharge.csv")
	ah, volts := s.column(t, "ah"), s.column(t, "volts")
	gave := ah[len(ah)-1]
	require.InDelta(t, 3.477, volts[0], 0.0006)
	require.InDelta(t, 2.000, volts[len(volts)-1], 0.0006)
	for k, want := range []float64{3.176, 3.228, 3.258, 3.268, 3.271, 3.283, 3.307, 3.311, 3.314} {
		z := float64(k+1) / 10
		i := sort.Search(len(ah), func(i int) bool { return ah[i] <= gave*(1-z) })
		share := (gave*(1-z) - ah[i-1]) / (ah[i] - ah[i-1])
		require.InDelta(t, want, volts[i-1]+share*(volts[i]-volts[i-1]), 0.002, "at %g", z)
	}
}

// The curve of a full cell that rests at 4.175 V goes on with its slope over 95 to
// 100 %, so that a charge to 4.20 V has an end.
func TestAboveItsTableACurveGoesOn(t *testing.T) {
	c := curveOf(t, LiIon)
	slope := (4.1753 - 4.1080) / 0.05
	require.InDelta(t, 4.1753+0.02*slope, c.Volts(1.02), 1e-9)
	require.InDelta(t, 1+(4.20-4.1753)/slope, c.SoC(4.20), 1e-9)
	require.Equal(t, c.Volts(0), c.Volts(-0.3))
	require.Zero(t, c.SoC(2))
}

func TestAHighVoltageCellIsFullAtItsOwnLimit(t *testing.T) {
	c := curveOf(t, LiPoHV)
	require.InDelta(t, 4.35, c.Volts(1), 1e-9)
	require.InDelta(t, 1/c.SoC(4.20), curveOf(t, LiPo).SoC(4.35), 0.01)
}

func TestChargersThatDoNotStopByVoltageHaveNoCurve(t *testing.T) {
	for c, says := range map[Chemistry]string{NiMH: "falling volts", AGM: "hours", "tin": "name one of"} {
		_, err := CurveOf(c)
		require.ErrorContains(t, err, says)
	}
}

func TestCurvesThatCannotBeAreRefused(t *testing.T) {
	for says, c := range map[string][2][]float64{
		"one for each":         {{0, 1}, {3}},
		"give 2 to 10000":      {{0}, {3}},
		"must run from 0":      {{0.1, 1}, {3, 4}},
		"does not rise":        {{0, 0.5, 0.5, 1}, {3, 3.1, 3.2, 4}},
		"falls":                {{0, 0.5, 1}, {3, 3.6, 3.5}},
		"no voltage of one":    {{0, 1}, {3, math.NaN()}},
		"flat over its last 5": {{0, 0.9, 1}, {3, 4, 4}},
	} {
		_, err := NewCurve(c[0], c[1])
		require.ErrorContains(t, err, says)
	}
}

func TestVoltsAndStateOfChargeAreInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCurve(t)
		z := rapid.Float64Range(0, 1.1).Draw(t, "z")
		v := c.Volts(z)
		require.InDelta(t, v, c.Volts(c.SoC(v)), 1e-9)
		require.GreaterOrEqual(t, c.Volts(z+0.01), v)
	})
}

// anyCurve draws a rising table of 2 to 30 points at uneven steps.
func anyCurve(t *rapid.T) Curve {
	n := rapid.IntRange(1, 29).Draw(t, "pieces")
	soc, volts := []float64{0}, []float64{rapid.Float64Range(2, 3.2).Draw(t, "foot")}
	for range n {
		soc = append(soc, soc[len(soc)-1]+rapid.Float64Range(0.1, 1).Draw(t, "dz"))
		volts = append(volts, volts[len(volts)-1]+rapid.Float64Range(0, 1.2/float64(n)).Draw(t, "dv"))
	}
	for k := range soc {
		soc[k] /= soc[n]
	}
	soc[n] = 1
	volts[n] += 0.05
	c, err := NewCurve(soc, volts)
	require.NoError(t, err)
	return c
}

func TestACurveIsReadFromATable(t *testing.T) {
	for _, c := range []struct{ text, column string }{
		{"soc,volts\n0,3.0\n0.5,3.7\n1,4.2\n", ""},
		{"volts,soc\n3.0,0\n3.7,50\n4.2,100\n", ""},
		{"soc, other, mine\n0,1,3.0\n0.5,1,3.7\n1,1,4.2\n", "mine"},
		{"\ufeffSoC;Volts\r\n0;3,0\r\n50;3,7\r\n100;4,2\r\n", ""},
		{"soc,volts\n1,4.2\n0.5,3.7\n0,3.0\n", ""},
		{"SoC (%);hysteresis;Voltage [V]\r100,0;0,1;4,2\r50,0;0,1;3,7\r0,0;0,1;3,0\r", ""},
		{"\n# my pack\nState of charge\tOCV\tTest\n0%\t3.0\tx\n50%\t3.7\tx\n100%\t4.2\tx\n# end\n", ""},
		{"z,pack,cell\n1e-17,12.0,3.0\n0.5,14.8,3.7\n0.9999999,16.8,4.2\n", " Cell"},
		{"# my pack\nsoc,volts,hysteresis\n0,3.0,x\n0.5,3.7,x\n1,4.2,x\n", ""},
	} {
		curve, err := ParseCurve(c.text, c.column)
		require.NoError(t, err)
		require.InDelta(t, 3.95, curve.Volts(0.75), 1e-12)
	}
	for text, says := range map[string]string{
		"":                               "give a row with the names of the columns",
		"s\x00o\x00c\x00,\x00":           "no plain text",
		"soc,\"a\nb\",c\n":               `choose one of "a\nb", "c"`,
		"soc,volts\n0.003,3\n1,4\n":      "must run from 0",
		"0,3.0\n1,4.2\n":                 "no column soc",
		"a,b\n0,3\n":                     "no column soc",
		"soc,b,c\n0,3,3\n":               `choose one of "b", "c"`,
		"soc,volts\n0,3\n1,x\n":          "line 3",
		"soc,volts\n0,3\n1\n":            "read the curve",
		"soc,volts\n0,3\n1,2.9\n":        "falls",
		"soc,volts\n0,3\n0.5,3.5\n1,NaN": "no voltage",
	} {
		_, err := ParseCurve(text, "")
		require.ErrorContains(t, err, says, "%q", text)
	}
}
