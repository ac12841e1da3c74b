package charge

import "math"

// cellState is what changes in a cell under charge.
type cellState struct {
	soc       float64
	pairVolts []float64
}

// behind is the voltage behind the resistance: at rest, and of the pairs.
func (j Job) behind(s cellState) float64 {
	e := j.Curve.Volts(s.soc)
	for _, v := range s.pairVolts {
		e += v
	}
	return e
}

// mostAmps is what set current and limit voltage allow.
func (j Job) mostAmps(s cellState) float64 {
	return min(j.Amps, max((j.LimitVolts-j.behind(s))/j.ohm(), 0))
}

func (j Job) wantsWatts(s cellState) float64 {
	i := j.mostAmps(s)
	watts := float64(j.Cells) * i * (j.behind(s) + i*j.ohm())
	return min(watts, unlimited(j.Watts))
}

// advance writes to out the state sec seconds after from at constant current.
func (j Job) advance(out *cellState, from cellState, amps, sec float64) {
	out.soc = from.soc + amps*sec/j.perUnit()
	for k, p := range j.Pairs {
		out.pairVolts[k] = p.after(from.pairVolts[k], amps, sec)
	}
}

// after returns the voltage across the pair sec seconds on, exact for constant
// current.
func (p Pair) after(volts, amps, sec float64) float64 {
	fade := math.Exp(-sec / p.TauSec)
	return volts*fade + p.MilliOhm/1000*amps*(1-fade)
}

// StepVolts returns by how much the terminals of a cell move sec seconds after the
// current changed by amps, with milliOhm in series and the pairs: what a pulse
// test reads, times its current.
func StepVolts(amps, milliOhm float64, pairs []Pair, sec float64) float64 {
	v := amps * milliOhm / 1000
	for _, p := range pairs {
		v += p.after(0, amps, sec)
	}
	return v
}

// phase tells what limits the current to amps: the setting, the limit voltage or,
// if neither, power.
func (j Job) phase(s cellState, amps float64) Phase {
	const slack, tinyAmps = 1e-9, 1e-8
	most := j.mostAmps(s)
	switch {
	case amps < most*(1-slack)-tinyAmps:
		return CP
	case most < j.Amps:
		return CV
	}
	return CC
}

func (j Job) watts(s cellState, amps float64) float64 {
	return float64(j.Cells) * amps * (j.behind(s) + amps*j.ohm())
}

// longestStep is a twentieth of the shortest time constant at work: that of the
// taper once the current is no longer the set one, and those of the pairs.
func (j Job) longestStep(s cellState, amps float64) float64 {
	tau := math.Inf(1)
	if slope := j.Curve.slopeOf(j.Curve.pieceOf(s.soc)); amps < j.Amps && slope > 0 {
		tau = j.ohm() * j.perUnit() / slope
	}
	for _, p := range j.Pairs {
		tau = min(tau, p.TauSec)
	}
	return tau / stepsPerTau
}

// secToNextPoint is how long the charge runs to the curve's next point at amps.
func (j Job) secToNextPoint(soc, amps float64) float64 {
	k := j.Curve.pieceOf(soc)
	if k == len(j.Curve.volts)-1 {
		return math.Inf(1)
	}
	return (j.Curve.at(k+1) - soc) * j.perUnit() / amps
}
