package charge

import "fmt"

// SoCRange is what a rest voltage says of the state of charge, 0 to 1. Show the
// range, never one figure.
type SoCRange struct {
	Low, Likely, High float64
	// CountAh holds where voltage does not tell and charge must be counted from a
	// full charge. Likely is then only the middle of the range.
	CountAh bool
}

// String says it in words.
func (r SoCRange) String() string {
	if r.CountAh {
		return fmt.Sprintf("between about %.0f and %.0f %%, count Ah instead", 100*r.Low, 100*r.High)
	}
	return fmt.Sprintf("about %.0f %%, from %.0f to %.0f", 100*r.Likely, 100*r.Low, 100*r.High)
}

// What a reading of a rest voltage may be off by (our decision): the meter, the
// rest, and the curve, which is nobody's until the team has logged its own. A rest
// shorter than 10 minutes, or of unknown length, counts 50 mV (a guess).
const (
	meterVolts      = 0.005
	rest1hVolts     = 0.005
	rest10minVolts  = 0.015
	restShortVolts  = 0.050
	strangeCurve    = 0.10
	strangeHVCurve  = 0.15
	agmRestEnoughHr = 8
)

// SoCAtRest returns the state of charge of a cell of chemistry c that shows volts
// (per cell) after restSec seconds without load or charge; 0 where nobody knows.
// ownCurve is the pack's own curve if it has been logged, else nil.
//
// Low and High allow for meter, rest and curve, added up. Iron phosphate between
// 3.15 and 3.34 V and NiMH cannot be told by voltage: CountAh is set. A pack just
// off load reads low, just off charge reads high. It is an error if volts is not
// between the chemistry's 0 and 10 V, restSec is below 0 or c is unknown.
//
// Sources: curves.go; the plateau, Accure's page on hysteresis and Batteries 2025
// 11(5) 186 (abstract); AGM, a vehicle maker's table for 12 V blocks (12.0, 12.3,
// 12.6, 12.8 V are 25, 50, 75, 100 %) after 8 h or more of rest; widths as above.
func SoCAtRest(c Chemistry, ownCurve *Curve, volts, restSec float64) (SoCRange, error) {
	if !(volts > 0 && volts <= 10) {
		return SoCRange{}, fmt.Errorf("%g V per cell: give the voltage of one cell", volts)
	}
	if !(restSec >= 0) {
		return SoCRange{}, fmt.Errorf("rest of %g s: give 0 if it is not known", restSec)
	}
	switch c {
	case NiMH:
		return SoCRange{0, 0.5, 1, true}, nil
	case LiFe:
		return lifeAtRest(ownCurve, volts, restSec)
	case AGM:
		return agmAtRest(volts, restSec), nil
	}
	curve, off, err := curveFor(c, ownCurve)
	if err != nil {
		return SoCRange{}, err
	}
	return rangeOn(curve, volts, restVolts(restSec), off), nil
}

func curveFor(c Chemistry, own *Curve) (Curve, float64, error) {
	if own != nil {
		return *own, 0, nil
	}
	curve, err := CurveOf(c)
	if c == LiPoHV {
		return curve, strangeHVCurve, err
	}
	return curve, strangeCurve, err
}

func restVolts(restSec float64) float64 {
	switch {
	case restSec >= 3600:
		return rest1hVolts
	case restSec >= 600:
		return rest10minVolts
	}
	return restShortVolts
}

func rangeOn(c Curve, volts, restVolts, curveOff float64) SoCRange {
	off := meterVolts + restVolts
	return SoCRange{
		Low:    clamp(c.SoC(volts-off) - curveOff),
		Likely: clamp(c.SoC(volts)),
		High:   clamp(c.SoC(volts+off) + curveOff),
	}
}

func clamp(z float64) float64 { return min(max(z, 0), 1) }

// lifeAtRest knows the curve's foot only. The edges 3.20 and 3.34 V and their 15
// and 95 % are our decision, the ranges beside them our guess.
func lifeAtRest(own *Curve, volts, restSec float64) (SoCRange, error) {
	switch {
	case volts > 3.34:
		return SoCRange{0.85, 0.95, 1, true}, nil
	case volts >= 3.20:
		return SoCRange{0.15, 0.55, 0.95, true}, nil
	case volts >= 3.15:
		return SoCRange{0, 0.15, 0.35, true}, nil
	}
	curve, off, err := curveFor(LiFe, own)
	if err != nil {
		return SoCRange{}, err
	}
	return rangeOn(curve, volts, restVolts(restSec), off), nil
}

func agmAtRest(cellVolts, restSec float64) SoCRange {
	block, off := 6*cellVolts, 0.10
	if restSec < agmRestEnoughHr*3600 {
		off = 0.30
	}
	z := clamp(agmSoC(block))
	return SoCRange{clamp(z - off), z, clamp(z + off), restSec < agmRestEnoughHr*3600}
}

// agmSoC joins the maker's four points; below 12.0 V with the same slope.
func agmSoC(blockVolts float64) float64 {
	if blockVolts <= 12.6 {
		return 0.25 + (blockVolts-12.0)/0.3*0.25
	}
	return 0.75 + (blockVolts-12.6)/0.2*0.25
}
