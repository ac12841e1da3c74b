package charge

import (
	"fmt"
	"math"
)

// Wait is how long it will be, in seconds from now: one time in ten it is shorter
// than LowSec, one in ten longer than HighSec. It is a forecast: only a reading
// makes a pack cool.
type Wait struct{ LowSec, LikelySec, HighSec float64 }

// CoolAsk is the question when a pack will be cool.
type CoolAsk struct {
	// Readings, in order of time, all of one spot.
	Readings []TempReading
	// AmbientC is the air where the pack lies, measured.
	AmbientC float64
	// TargetC is what it must come down to.
	TargetC float64
	// Prior is the time constant in seconds known of the pack, as P10, P50, P90; it
	// counts where there is one reading only. Zero: nothing is known.
	Prior Wait
	// NowSec is the present, by the readings' clock.
	NowSec float64
}

// What the forecast allows for: the standard deviation of a reading, of pack or
// air, in °C; that a measured cell cooled up to 9 % later than two early readings
// foretold, so likely and high times are a fifth longer; how far the air must lie
// below the target. All our decision. LowSec is not lengthened: a pack that does
// follow the law would else be cool before the earliest time shown.
const (
	readingSdC   = 0.5
	laterThanFit = 1.2
	airBelowC    = 1.0
	z90          = 1.2815515655446004
)

// When returns how long it will be until the pack is at TargetC, 0 where the last
// reading is. It returns ReadAgain where there is no usable reading, where the last
// is older than two time constants, or where the pack was still warming; AirTooWarm
// where the air is at the target or within 1 K below it. No time is earlier than
// the fastest plausible time constant allows.
func (a CoolAsk) When() (Wait, error) {
	if err := usable(a.Readings, 1); err != nil {
		return Wait{}, err
	}
	last := a.Readings[len(a.Readings)-1]
	if !between(a.AmbientC, -40, 60) || !between(a.TargetC, -40, 100) || !(a.NowSec >= last.Sec) {
		return Wait{}, ReadAgain(fmt.Sprintf("air of %g °C, target %g °C, now %g s: measure the air again", a.AmbientC, a.TargetC, a.NowSec))
	}
	if n := len(a.Readings); n > 1 && last.TempC > a.Readings[n-2].TempC {
		return Wait{}, ReadAgain("it is still warming: wait, then take another reading")
	}
	if last.TempC <= a.TargetC {
		return Wait{}, nil
	}
	if a.AmbientC > a.TargetC-airBelowC {
		return Wait{}, AirTooWarm{a.AmbientC, a.TargetC}
	}
	tau, left, err := a.leftFromLast()
	if err != nil {
		return Wait{}, err
	}
	if a.NowSec-last.Sec > 2*tau {
		return Wait{}, ReadAgain(fmt.Sprintf("the last reading is %.0f min old: read again", (a.NowSec-last.Sec)/60))
	}
	return left.since(a.NowSec-last.Sec, CoolSec(last.TempC, a.TargetC, a.AmbientC, FastestTauSec)), nil
}

// since counts from now instead of from the last reading, no earlier than fastest.
func (w Wait) since(ageSec, fastestSec float64) Wait {
	w.LowSec = max(w.LowSec, fastestSec)
	w.LikelySec = max(w.LikelySec, w.LowSec)
	w.HighSec = max(w.HighSec, w.LikelySec)
	return Wait{max(w.LowSec-ageSec, 0), max(w.LikelySec-ageSec, 0), max(w.HighSec-ageSec, 0)}
}

// leftFromLast returns the time constant and the wait counted from the last reading.
func (a CoolAsk) leftFromLast() (tau float64, left Wait, err error) {
	if len(a.Readings) == 1 {
		return a.leftByPrior()
	}
	tau, sec, err := a.leftByFit(a.Readings, a.AmbientC)
	if err != nil {
		return 0, Wait{}, err
	}
	spread, err := a.logSpread()
	if err != nil {
		return 0, Wait{}, err
	}
	likely := laterThanFit * sec
	return tau, Wait{sec * math.Exp(-z90*spread), likely, likely * math.Exp(z90*spread)}, nil
}

func (a CoolAsk) leftByPrior() (tau float64, left Wait, err error) {
	p := a.Prior
	if !(p.LowSec > 0 && p.LikelySec >= p.LowSec && p.HighSec >= p.LikelySec) || math.IsInf(p.HighSec, 1) {
		return 0, Wait{}, ReadAgain("one reading tells no pace of cooling: take another in some minutes")
	}
	only := a.Readings[0].TempC
	sec := func(tau float64) float64 {
		return CoolSec(only, a.TargetC, a.AmbientC, plausible(tau))
	}
	return plausible(p.LikelySec), Wait{sec(p.LowSec), laterThanFit * sec(p.LikelySec), laterThanFit * sec(p.HighSec)}, nil
}

func plausible(tau float64) float64 { return min(max(tau, FastestTauSec), SlowestTauSec) }

// leftByFit returns τ, kept plausible, and the seconds from the last reading to the
// target; at least half a minute, as the last reading was above it.
func (a CoolAsk) leftByFit(readings []TempReading, ambientC float64) (tau, sec float64, err error) {
	c, err := FitCooling(readings, ambientC)
	if err != nil {
		return 0, 0, err
	}
	tau = plausible(c.TauSec)
	now := c.At(readings[len(readings)-1].Sec)
	return tau, max(CoolSec(now, a.TargetC, ambientC, tau), 30), nil
}

// logSpread returns the standard deviation of the logarithm of the time left, to
// first order, from that of each reading and of the air.
func (a CoolAsk) logSpread() (float64, error) {
	sum := 0.0
	for k := range a.Readings {
		d, err := a.logChange(k, 0)
		if err != nil {
			return 0, err
		}
		sum += d * d
	}
	d, err := a.logChange(-1, readingSdC)
	return math.Sqrt(sum + d*d), err
}

// logChange returns half the change in the logarithm of the time left when reading
// k (none if below 0) goes one standard deviation down and up, or the air by airC.
func (a CoolAsk) logChange(k int, airC float64) (float64, error) {
	logs := [2]float64{}
	for side, sign := range []float64{-1, 1} {
		readings := append([]TempReading(nil), a.Readings...)
		if k >= 0 {
			readings[k].TempC += sign * readingSdC
		}
		_, sec, err := a.leftByFit(readings, a.AmbientC+sign*airC)
		if err != nil {
			return 0, ReadAgain("the readings are too close to one another to tell a pace: take another in some minutes")
		}
		logs[side] = math.Log(sec)
	}
	return (logs[1] - logs[0]) / 2, nil
}
