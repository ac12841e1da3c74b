package charge

import (
	"math"
	"testing"
)

// FuzzReadings holds that no reading of any figures makes the package panic, or say
// something that is no state of charge, no time or no order.
func FuzzReadings(f *testing.F) {
	f.Add("lipo", 3.85, 55.0, 48.0, 43.0, 300.0, 22.0, 35.0)
	f.Add("life", 3.30, 50.0, 46.0, 42.0, 0.0, 36.0, 35.0)
	f.Add("agm", math.NaN(), -40.0, 150.0, math.NaN(), -1.0, 22.0, 1e9)
	f.Fuzz(func(t *testing.T, chem string, volts, t1, t2, t3, gap, air, target float64) {
		if r, err := SoCAtRest(Chemistry(chem), volts); err == nil {
			if !(0 <= r.Low && r.Low <= r.Likely && r.Likely <= r.High && r.High <= 1) {
				t.Errorf("%g V of %s: %+v", volts, chem, r)
			}
		}
		readings := []TempReading{{Sec: 0, TempC: t1}, {Sec: gap, TempC: t2}, {Sec: 2 * gap, TempC: t3}}
		for n := range len(readings) + 1 {
			w, err := CoolAsk{Readings: readings[:n], AmbientC: air, TargetC: target, NowSec: 2 * gap, Prior: Wait{t1, t2, t3}}.When()
			if err == nil && !(0 <= w.LowSec && w.LowSec <= w.LikelySec && w.LikelySec <= w.HighSec && !math.IsInf(w.HighSec, 1)) {
				t.Errorf("%v in air of %g to %g °C: %+v", readings[:n], air, target, w)
			}
		}
		if c, err := FitCoolingAndAir(readings); err == nil && !(c.TauSec > FastestTauSec && c.TauSec < SlowestTauSec) {
			t.Errorf("%v: %+v", readings, c)
		}
		if m, err := ResistanceAt25(t1, t2, volts); err == nil && !(m.Value > 0 && m.PlusMinus >= 0) {
			t.Errorf("%g mΩ at %g °C: %+v", t1, t2, m)
		}
	})
}

// FuzzJobs holds that a job either has a fault or a charge that passes the check.
func FuzzJobs(f *testing.F) {
	f.Add(4, 1.3, 20.0, 1.3, 0.0, 0.065, 4.2, 0.3, 1.0)
	f.Add(12, 8.0, 4.0, 16.0, 500.0, 0.4, 4.2, 0.3, 0.9)
	f.Add(1, math.NaN(), -1.0, math.Inf(1), 0.1, 0.0, 4.3, 1.0, 0.0)
	f.Fuzz(func(t *testing.T, cells int, ah, mohm, amps, watts, end, limit, from, to float64) {
		j := Job{
			Cells: cells, CapacityAh: ah, MilliOhm: mohm, Curve: tableCurve(lcoPouch), LimitVolts: limit,
			Amps: amps, Watts: watts, EndAmps: end, From: from, To: to,
		}
		points, r, err := j.Trace()
		if err != nil {
			return
		}
		if err := check(j, points, r); err != nil {
			t.Errorf("%+v: %v", j, err)
		}
	})
}

// FuzzCurve holds that a table is refused or rises.
func FuzzCurve(f *testing.F) {
	f.Add("soc,volts\n0,3.0\n0.5,3.7\n1,4.2\n", "")
	f.Add("soc, other, mine\n0,1,3.0\n50,1,3.7\n100,1,4.2\n", "mine")
	f.Add("\"", "soc")
	f.Add("\ufeffSoC (%);U;OCV [V]\r100;x;4,20\r0;x;3,60\r", "")
	f.Add("# mine\nz\tvoltage\ttest\n0%\t3.0\t1\n100%\t4.2\t1\n", "")
	f.Fuzz(func(t *testing.T, text, column string) {
		c, err := ParseCurve(text, column)
		if err != nil {
			return
		}
		for z := 0.0; z <= 1; z += 0.05 {
			if low, high := c.Volts(z), c.Volts(z+0.05); !(low > 0 && high >= low-1e-9) {
				t.Errorf("%q falls from %g to %g V", text, low, high)
			}
		}
	})
}
