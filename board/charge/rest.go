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

// What a reading of a rest voltage may be off by (our decision): the volts of a meter
// and of a rest of unknown length, and the state of charge of a curve that is nobody's.
const (
	readVolts      = 0.005 + 0.050
	strangeCurve   = 0.10
	strangeHVCurve = 0.15
	strangeAGM     = 0.30
)

// SoCAtRest returns the state of charge of a cell of chemistry c that shows volts
// (per cell) at rest.
//
// Low and High allow for meter, rest and curve, added up. Iron phosphate from 3.15 V
// and NiMH cannot be told by voltage, nor can AGM before it has rested for hours:
// CountAh is set. A pack just off load reads low, just off charge reads high. It is an
// error if volts is not between 0 and 10 V or c is unknown.
//
// Sources: curves.go; that voltage tells nothing on the plateau of iron phosphate, and
// AGM's 12.0, 12.3, 12.6, 12.8 V a block at 25, 50, 75, 100 %: common practice, no
// source; widths as above.
func SoCAtRest(c Chemistry, volts float64) (SoCRange, error) {
	if !(volts > 0 && volts <= 10) {
		return SoCRange{}, fmt.Errorf("%g V per cell: give the voltage of one cell", volts)
	}
	switch c {
	case NiMH:
		return SoCRange{0, 0.5, 1, true}, nil
	case AGM:
		z := agmSoC(6 * volts)
		return SoCRange{clamp(z - strangeAGM), z, clamp(z + strangeAGM), true}, nil
	case LiFe:
		return lifeAtRest(volts), nil
	}
	curve, err := CurveOf(c)
	if err != nil {
		return SoCRange{}, err
	}
	off := strangeCurve
	if c == LiPoHV {
		off = strangeHVCurve
	}
	return rangeOn(curve, volts, off), nil
}

func rangeOn(c Curve, volts, curveOff float64) SoCRange {
	return SoCRange{
		Low:    clamp(c.SoC(volts-readVolts) - curveOff),
		Likely: clamp(c.SoC(volts)),
		High:   clamp(c.SoC(volts+readVolts) + curveOff),
	}
}

func clamp(z float64) float64 { return min(max(z, 0), 1) }

// lifeAtRest knows the curve's foot only. The edges 3.20 and 3.34 V and their 15
// and 95 % are our decision, the ranges beside them our guess.
func lifeAtRest(volts float64) SoCRange {
	switch {
	case volts > 3.34:
		return SoCRange{0.85, 0.95, 1, true}
	case volts >= 3.20:
		return SoCRange{0.15, 0.55, 0.95, true}
	case volts >= 3.15:
		return SoCRange{0, 0.15, 0.35, true}
	}
	return rangeOn(tableCurve(lfp26650), volts, strangeCurve)
}

// agmSoC joins four points; below 12.0 V with the same slope.
func agmSoC(blockVolts float64) float64 {
	if blockVolts <= 12.6 {
		return clamp(0.25 + (blockVolts-12.0)/0.3*0.25)
	}
	return clamp(0.75 + (blockVolts-12.6)/0.2*0.25)
}
