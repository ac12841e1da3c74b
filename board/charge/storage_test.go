package charge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// On the cobalt oxide pouch: computed independently.
func TestStorageVoltsAreAStateOfCharge(t *testing.T) {
	c := curveOf(t, LiPo)
	require.InDelta(t, 0.624, c.SoC(3.85), 0.0005)
	require.InDelta(t, 0.520, c.SoC(3.80), 0.0005)
	for volts, minutes := range map[float64]float64{3.85: 25.4, 3.80: 19.2} {
		j := workedJob(t, "W2")
		j.From, j.To = 0.20, c.SoC(volts)
		require.InDelta(t, minutes, chargeOf(t, j).TotalSec()/60, 0.1, "from 20 %% to %g V at 1C", volts)
	}
}

// A charge to storage that stops by the terminals is left short: computed
// independently, to 0.001.
func TestTerminalsReadStorageTooEarly(t *testing.T) {
	c := curveOf(t, LiPo)
	for _, p := range []struct{ amps, milliOhm, z float64 }{{8, 4, 0.563}, {1.3, 20, 0.576}, {1.3, 60, 0.435}} {
		require.InDelta(t, p.z, SoCWhenTerminalsRead(c, 3.85, p.amps, p.milliOhm), 0.001)
	}
}

// From full to 3.85 V by the 25 W load of a charger (a maker's manual of a
// two-channel 160 W charger): computed independently, minutes to 1 %.
func TestDownToStorageIsAJobOfHoursForBigPacks(t *testing.T) {
	c := curveOf(t, LiPo)
	for _, p := range []struct {
		name         string
		n            int
		q, mohm, min float64
	}{
		{"4S 0.65 Ah", 4, 0.65, 40, 9}, {"4S 1.3 Ah", 4, 1.3, 20, 19}, {"6S 5 Ah", 6, 5, 5, 109}, {"12S 8 Ah", 12, 8, 4, 348},
	} {
		sec, wh, err := Drain{Cells: p.n, CapacityAh: p.q, MilliOhm: p.mohm, Curve: c, Watts: 25, From: 1, To: c.SoC(3.85)}.Result()
		require.NoError(t, err)
		require.InDelta(t, p.min, sec/60, 0.5+0.01*p.min, p.name)
		require.InDelta(t, 25*sec/3600, wh, 1e-6)
		if p.n == 12 {
			require.InDelta(t, 144.9, wh, 0.5)
		}
	}
}

func TestAnEasierLoadTakesLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Drain{Cells: 4, CapacityAh: 1.3, MilliOhm: 20, Curve: Line(3.3, 0.9), Watts: rapid.Float64Range(1, 60).Draw(t, "watts"), From: 1, To: 0.5}
		sec, _, err := d.Result()
		require.NoError(t, err)
		d.Watts *= 0.9
		easier, _, err := d.Result()
		require.NoError(t, err)
		require.Greater(t, easier, sec)
		d.Amps = 0.01
		limited, _, err := d.Result()
		require.NoError(t, err)
		require.InEpsilon(t, 0.5*1.3/0.01*3600, limited, 1e-9, "then only the current counts")
	})
}

func TestDischargesThatCannotBeAreRefused(t *testing.T) {
	for says, spoil := range map[string]func(*Drain){
		"give a pack":           func(d *Drain) { d.Cells = 0 },
		"give a load":           func(d *Drain) { d.Watts = 0 },
		"from 1 down to 0":      func(d *Drain) { d.To = 1.1 },
		"the pack cannot give ": func(d *Drain) { d.Watts = 5000 },
	} {
		d := Drain{Cells: 4, CapacityAh: 1.3, MilliOhm: 20, Curve: Line(3.3, 0.9), Watts: 25, From: 1, To: 0.5}
		spoil(&d)
		_, _, err := d.Result()
		require.ErrorContains(t, err, says)
	}
}

// 50 mV on the cobalt oxide pouch: 14 % at half charge, 5 % at 90 %; minutes at 0.3,
// 0.5 and 1 A, to 1. Computed independently.
func TestBalancingTakesItsMinutes(t *testing.T) {
	c := curveOf(t, LiPo)
	require.InDelta(t, 0.14, BalanceSoC(c, 0.5, 0.05), 0.005)
	require.InDelta(t, 0.05, BalanceSoC(c, 0.9, 0.05), 0.005)
	for _, p := range []struct {
		q, z float64
		min  [3]float64
	}{
		{1.3, 0.9, [3]float64{13, 8, 4}}, {5, 0.9, [3]float64{51, 31, 15}}, {5, 0.5, [3]float64{140, 84, 42}}, {8, 0.9, [3]float64{81, 49, 24}},
	} {
		for k, amps := range []float64{0.3, 0.5, 1} {
			require.InDelta(t, p.min[k], BalanceSec(c, p.q, p.z, 0.05, amps)/60, 1, "%g Ah at %g, %g A", p.q, p.z, amps)
		}
	}
	require.Zero(t, BalanceSec(c, 5, 0.9, 0, 1))
	require.True(t, math.IsInf(BalanceSec(c, 5, 0.9, 0.05, 0), 1))
}

// What a charge was computed with is what it teaches: constructed by us.
func TestALoggedChargeTeachesItsResistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := Job{
			Cells: 4, CapacityAh: 1.3, MilliOhm: rapid.Float64Range(5, 90).Draw(t, "mΩ"), Curve: tableCurve(lcoPouch),
			LimitVolts: 4.20, Amps: rapid.Float64Range(0.5, 2.6).Draw(t, "amps"), EndAmps: 0.065, From: 0.2, To: 1,
		}
		r, err := j.Charge()
		require.NoError(t, err)
		ahInCV := (r.EndSoC - r.SoCAtCV) * j.CapacityAh
		learned, err := LearnMilliOhm(j.Curve, j.CapacityAh, 4.20, j.Amps, j.EndAmps, ahInCV)
		require.NoError(t, err)
		require.InEpsilon(t, j.MilliOhm, learned, 1e-6)
	})
}

func TestChargesThatTeachNothingAreRefused(t *testing.T) {
	c := curveOf(t, LiPo)
	for _, p := range []struct{ q, amps, end, ah float64 }{{0, 1, 0.1, 0.1}, {1.3, 0.1, 0.1, 0.1}, {1.3, 1, 0, 0.1}, {1.3, 1, 0.1, 0}, {1.3, 1, 0.1, 5}, {1.3, 1, 0.1, math.NaN()}} {
		_, err := LearnMilliOhm(c, p.q, 4.2, p.amps, p.end, p.ah)
		require.Error(t, err, "%v", p)
	}
}

func TestTheTimeOfAChargeTeachesItsResistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := Job{
			Cells: 4, CapacityAh: 1.3, MilliOhm: rapid.Float64Range(8, 90).Draw(t, "mΩ"), Curve: tableCurve(lcoPouch),
			LimitVolts: 4.20, Amps: rapid.Float64Range(0.7, 2.6).Draw(t, "amps"), EndAmps: 0.065, From: rapid.Float64Range(0, 0.6).Draw(t, "from"), To: 1,
		}
		r, err := j.Charge()
		require.NoError(t, err)
		learned, err := j.LearnFromSec(r.TotalSec())
		require.NoError(t, err)
		require.InEpsilon(t, j.MilliOhm, learned, 0.01)
	})
	j := workedJob(t, "W2")
	_, err := j.LearnFromSec(60)
	require.ErrorContains(t, err, "fit no resistance")
	j.EndAmps = j.Amps / 2
	_, err = j.LearnFromSec(3000)
	require.ErrorContains(t, err, "says little")
	j = workedJob(t, "W2")
	j.Amps = 0
	_, err = j.LearnFromSec(3000)
	require.Error(t, err)
}
