package charge

import (
	"fmt"
	"math"
)

// Bounds of a plausible time constant, in seconds (our decision).
const (
	FastestTauSec = 5 * 60.0
	SlowestTauSec = 90 * 60.0
)

// TempReading is a temperature read off a pack.
type TempReading struct {
	Sec   float64
	TempC float64
}

// Cooling is a fitted law of cooling: the temperature at Sec = 0 would be AmbientC
// plus AboveC.
type Cooling struct {
	TauSec, AmbientC, AboveC float64
	// RmsC is the root mean square of what the readings differ from it, °C.
	RmsC float64
}

// At returns the temperature in °C at sec.
func (c Cooling) At(sec float64) float64 {
	return CoolC(c.AmbientC+c.AboveC, c.AmbientC, c.TauSec, sec)
}

// FitCooling returns the law through two or more readings in air of known
// temperature, by regression of ln(T−T_a) on time, weighted by (T−T_a)². It returns
// ReadAgain if they are fewer, not later than one another, not above the air, or do
// not fall. τ is not kept within bounds here.
func FitCooling(readings []TempReading, ambientC float64) (Cooling, error) {
	if err := usable(readings, 2); err != nil {
		return Cooling{}, err
	}
	var w, wx, wy, wxx, wxy float64
	t0 := readings[0].Sec
	for _, r := range readings {
		above := r.TempC - ambientC
		if !(above > 0) {
			return Cooling{}, ReadAgain(fmt.Sprintf("%g °C is not above the air's %g °C: read both again", r.TempC, ambientC))
		}
		weight, x, y := above*above, r.Sec-t0, math.Log(above)
		w, wx, wy = w+weight, wx+weight*x, wy+weight*y
		wxx, wxy = wxx+weight*x*x, wxy+weight*x*y
	}
	slope := (w*wxy - wx*wy) / (w*wxx - wx*wx)
	if !(slope < 0) {
		return Cooling{}, ReadAgain("the readings do not fall: take another")
	}
	tau := -1 / slope
	c := Cooling{TauSec: tau, AmbientC: ambientC, AboveC: math.Exp((wy-slope*wx)/w + t0/tau)}
	c.RmsC = c.rms(readings)
	return c, nil
}

// FitCoolingAndAir returns the law through three or more readings where nobody
// measured the air: τ is scanned over its plausible bounds, and for each the linear
// least squares of A + B e^(−t/τ) are solved. It returns ReadAgain as FitCooling
// does, where the best τ lies at a bound, and where the readings span less than a
// whole τ (spacing below τ/2): the air is then anyone's guess.
func FitCoolingAndAir(readings []TempReading) (Cooling, error) {
	if err := usable(readings, 3); err != nil {
		return Cooling{}, err
	}
	const parts = 600
	ratio := math.Pow(SlowestTauSec/FastestTauSec, 1.0/parts)
	best, at := Cooling{RmsC: math.Inf(1)}, 0
	for k := 0; k <= parts; k++ {
		c, ok := fitAt(readings, FastestTauSec*math.Pow(ratio, float64(k)))
		if ok && c.RmsC < best.RmsC {
			best, at = c, k
		}
	}
	span := readings[len(readings)-1].Sec - readings[0].Sec
	switch {
	case math.IsInf(best.RmsC, 1) || !(best.AboveC > 0):
		return Cooling{}, ReadAgain("the readings do not fall: take another")
	case at == 0 || at == parts:
		return Cooling{}, ReadAgain("the readings fit no plausible cooling: take another, and measure the air")
	case span < best.TauSec:
		return Cooling{}, ReadAgain(fmt.Sprintf("readings over %.0f min tell no air temperature: measure the air", span/60))
	}
	return best, nil
}

// fitAt solves the least squares of A + B e^(−t/τ) for one τ.
func fitAt(readings []TempReading, tau float64) (Cooling, bool) {
	n, t0 := float64(len(readings)), readings[0].Sec
	var x, y, xx, xy float64
	for _, r := range readings {
		f := math.Exp(-(r.Sec - t0) / tau)
		x, y, xx, xy = x+f, y+r.TempC, xx+f*f, xy+f*r.TempC
	}
	det := n*xx - x*x
	if !(math.Abs(det) > 1e-12) {
		return Cooling{}, false
	}
	b := (n*xy - x*y) / det
	c := Cooling{TauSec: tau, AmbientC: (y - b*x) / n, AboveC: b * math.Exp(t0/tau)}
	c.RmsC = c.rms(readings)
	return c, true
}

func (c Cooling) rms(readings []TempReading) float64 {
	sum := 0.0
	for _, r := range readings {
		d := r.TempC - c.At(r.Sec)
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(readings)))
}

// usable asks for at least n readings, each a plausible temperature and later than the
// one before.
func usable(readings []TempReading, n int) error {
	if len(readings) < n {
		return ReadAgain(fmt.Sprintf("%d readings, %d are needed: take another", len(readings), n))
	}
	for k, r := range readings {
		if !between(r.TempC, -40, 150) || !between(r.Sec, -1e9, 1e9) {
			return ReadAgain(fmt.Sprintf("%g °C at %g s is no reading: take another", r.TempC, r.Sec))
		}
		if k > 0 && !(r.Sec > readings[k-1].Sec) {
			return ReadAgain(fmt.Sprintf("the reading at %g s is not later than the one at %g s", r.Sec, readings[k-1].Sec))
		}
	}
	return nil
}
