package charge

import (
	"fmt"
	"math"
)

// BalanceSec returns the least seconds to bleed away a spread of spreadVolts
// between the cells of a pack of capacityAh at state of charge z, with
// balanceAmps of bleeding current: ΔQ/I with ΔQ = Q·ΔV/E'(z). Balancing happens
// mostly near the top: add it to the charge, it does not hide in it. +Inf where
// balanceAmps is not above 0; 0 where spreadVolts is not.
func BalanceSec(c Curve, capacityAh, z, spreadVolts, balanceAmps float64) float64 {
	if !(spreadVolts > 0) {
		return 0
	}
	if !(balanceAmps > 0) {
		return math.Inf(1)
	}
	return 3600 * capacityAh * BalanceSoC(c, z, spreadVolts) / balanceAmps
}

// BalanceSoC returns the difference in state of charge behind a spread of
// spreadVolts at state of charge z: the flatter the curve, the larger.
func BalanceSoC(c Curve, z, spreadVolts float64) float64 { return spreadVolts / c.SlopeVolts(z) }

// SoCWhenTerminalsRead returns the state of charge at which the terminals of a cell
// under amps of charge first read volts: lower than that of a cell resting at
// volts. A charge to storage that stops there is left short.
func SoCWhenTerminalsRead(c Curve, volts, amps, milliOhm float64) float64 {
	return c.SoC(volts - amps*milliOhm/1000)
}

// Drain is a discharge at constant power, down to storage: by a charger's own load
// it is a job of hours for a large pack.
type Drain struct {
	Cells      int
	CapacityAh float64
	// MilliOhm is per cell, effective over minutes.
	MilliOhm float64
	Curve    Curve
	// Watts at the terminals, above 0; Amps limits the current, 0 for no limit.
	Watts, Amps float64
	// From and To are states of charge, To below From.
	From, To float64
}

// Result returns the seconds of the discharge and the watt hours at the terminals.
// It is an error if a figure is out of range (those of Job), or the pack cannot
// give that power.
func (d Drain) Result() (sec, wattHours float64, err error) {
	switch {
	case d.Cells < 1 || d.Cells > 200 || !between(d.CapacityAh, 0.01, 1000) || !between(d.MilliOhm, 0.01, 10_000) || !d.Curve.known():
		return 0, 0, fmt.Errorf("discharge of %d cells, %g Ah, %g mΩ: give a pack as for a charge", d.Cells, d.CapacityAh, d.MilliOhm)
	case !between(d.Watts, 0.01, 100_000) || !(d.Amps >= 0):
		return 0, 0, fmt.Errorf("discharge at %g W and at most %g A: give a load of 0.01 to 100000 W", d.Watts, d.Amps)
	case !(d.From >= d.To && d.To >= 0 && d.From <= 1):
		return 0, 0, fmt.Errorf("discharge from %g to %g: give states of charge from 1 down to 0", d.From, d.To)
	}
	const parts = 400
	step := (d.From - d.To) / parts
	for k := range parts {
		z := d.To + (float64(k)+0.5)*step
		amps, volts := d.at(z)
		if math.IsNaN(amps) {
			return 0, 0, fmt.Errorf("discharge at %g W: the pack cannot give that at %.0f %%", d.Watts, 100*z)
		}
		t := 3600 * d.CapacityAh * step / amps
		sec += t
		wattHours += float64(d.Cells) * volts * amps * t / 3600
	}
	return sec, wattHours, nil
}

// at returns current and terminal voltage of a cell at state of charge z: the root
// of E i − R i² = watts per cell; not a number where there is none.
func (d Drain) at(z float64) (amps, volts float64) {
	e, ohm, watts := d.Curve.Volts(z), d.MilliOhm/1000, d.Watts/float64(d.Cells)
	amps = 2 * watts / (e + math.Sqrt(e*e-4*ohm*watts))
	if d.Amps > 0 {
		amps = min(amps, d.Amps)
	}
	return amps, e - amps*ohm
}

// LearnMilliOhm returns the resistance of a cell effective over minutes, from a
// logged charge that began below the limit voltage: amps was set, ahInCV went in
// after the limit voltage was reached, and endAmps ended it. It is the R for which
// the model's taper takes just that charge; from 0.01 to 10,000 mΩ, else an error.
// Counting back from the end of charge: our decision.
func LearnMilliOhm(c Curve, capacityAh, limitVolts, amps, endAmps, ahInCV float64) (float64, error) {
	if !(capacityAh > 0) || !(amps > endAmps) || !(endAmps > 0) || !(ahInCV > 0) || !c.known() {
		return 0, fmt.Errorf("charge at %g A down to %g A with %g Ah at the limit: give a current that falls and a charge above 0", amps, endAmps, ahInCV)
	}
	taper := func(milliOhm float64) float64 {
		ohm := milliOhm / 1000
		return capacityAh * (c.SoC(limitVolts-endAmps*ohm) - c.SoC(limitVolts-amps*ohm))
	}
	low, high := 0.01, 10_000.0
	// The taper's charge grows with R until the charge begins at the curve's foot.
	high = min(high, 1000*(limitVolts-c.volts[0])/amps)
	if !(high > low) || taper(high) < ahInCV || taper(low) > ahInCV {
		return 0, fmt.Errorf("%g Ah at the limit voltage fit no resistance: check the capacity of %g Ah and the curve", ahInCV, capacityAh)
	}
	for range 60 {
		middle := math.Sqrt(low * high)
		if taper(middle) < ahInCV {
			low = middle
		} else {
			high = middle
		}
	}
	return math.Sqrt(low * high), nil
}

// LearnFromSec returns the resistance of a cell, effective over minutes, for which j
// takes sec seconds: what a logged charge teaches where only its whole time is known.
// j's own MilliOhm does not count. It is an error if j has a fault, if EndAmps is not
// below a third of Amps (time then says little of resistance), or if no resistance from
// 2 to 400 mΩ·Ah over the capacity fits. To 1 %.
func (j Job) LearnFromSec(sec float64) (float64, error) {
	low, high := 2/j.CapacityAh, 400/j.CapacityAh
	if !(j.EndAmps < j.Amps/3) {
		return 0, fmt.Errorf("charge ended at %g A of %g A: its time says little of resistance", j.EndAmps, j.Amps)
	}
	takes := func(milliOhm float64) (float64, error) {
		j.MilliOhm = milliOhm
		r, err := j.Charge()
		return r.TotalSec(), err
	}
	fastest, err := takes(low)
	if err != nil {
		return 0, err
	}
	slowest, err := takes(high)
	if err != nil {
		return 0, err
	}
	if !(sec > fastest && sec < slowest) {
		return 0, fmt.Errorf("%.0f s fit no resistance: the charge takes %.0f to %.0f s", sec, fastest, slowest)
	}
	for range 10 {
		middle := math.Sqrt(low * high)
		if took, err := takes(middle); err != nil {
			return 0, err
		} else if took < sec {
			low = middle
		} else {
			high = middle
		}
	}
	return math.Sqrt(low * high), nil
}
