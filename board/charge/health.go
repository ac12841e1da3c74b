package charge

import (
	"fmt"
	"math"
	"slices"
)

// Measured is a figure and what it may be off by, either way.
type Measured struct{ Value, PlusMinus float64 }

// What a state of charge from rest voltage may be off by, and the least part of
// the capacity that must be charged to tell it (our decision).
const (
	socOff          = 0.03
	leastCapacityDz = 0.6
)

// CapacityFromCharge returns the capacity in Ah of a pack that took ahIn between
// two rested states of charge, ΔAh/ΔSoC, with ±3 % of SoC at both ends: ± 4.7 % for
// ΔSoC 0.9, 7.1 % for 0.6. It is an error for less than 0.6 of the capacity, and
// for iron phosphate unless from empty (at most 2 %) to full (at least 98 %).
func CapacityFromCharge(c Chemistry, ahIn, from, to float64) (Measured, error) {
	part := to - from
	switch {
	case !(ahIn > 0) || math.IsInf(ahIn, 1) || !between(from, 0, 1) || !between(to, 0, 1):
		return Measured{}, fmt.Errorf("%g Ah from %g to %g: give Ah above 0 and states of charge from 0 to 1", ahIn, from, to)
	case c == LiFe && !(from <= 0.02 && to >= 0.98):
		return Measured{}, fmt.Errorf("iron phosphate tells its capacity from empty to full only")
	case c == NiMH:
		return Measured{}, fmt.Errorf("nimh tells no state of charge by voltage: discharge it and count")
	case !(part >= leastCapacityDz):
		return Measured{}, fmt.Errorf("a charge of %.0f %% tells no capacity: it takes 60 %% or more", 100*part)
	}
	ah := ahIn / part
	return Measured{ah, ah * socOff * math.Sqrt2 / part}, nil
}

// coldFactors are resistance over resistance at 25 °C of one measured 21700 cell
// (10 s pulses, 30 to 90 % of charge; computed from PyBOP's published records). They
// are not one Arrhenius line.
var coldFactors = [...]struct{ tempC, times float64 }{{0, 1.52}, {10, 1.16}, {25, 1}, {45, 0.95}}

// ResistanceAt25 returns what a resistance in mΩ, read at tempC °C and state of
// charge z, would be at 25 °C: straight lines between the factors of a measured
// cell, ± half the correction. It is an error outside 0 to 45 °C, and at z ≤ 0.1,
// where it is 1.2 to 4.4 times higher and says nothing of health. Put only
// readings of one method together.
func ResistanceAt25(milliOhm, tempC, z float64) (Measured, error) {
	if !(milliOhm > 0) || math.IsInf(milliOhm, 1) {
		return Measured{}, fmt.Errorf("%g mΩ: give a resistance above 0", milliOhm)
	}
	if !between(tempC, 0, 45) {
		return Measured{}, fmt.Errorf("%g °C: no correction is known outside 0 to 45 °C", tempC)
	}
	if !(z > 0.1 && z <= 1.1) {
		return Measured{}, fmt.Errorf("at %.0f %% of charge resistance says nothing of health: read it above 10 %%", 100*z)
	}
	at25 := milliOhm / coldFactor(tempC)
	return Measured{at25, math.Abs(milliOhm-at25) / 2}, nil
}

func coldFactor(tempC float64) float64 {
	k := 1
	for k < len(coldFactors)-1 && tempC > coldFactors[k].tempC {
		k++
	}
	a, b := coldFactors[k-1], coldFactors[k]
	return a.times + (b.times-a.times)*(tempC-a.tempC)/(b.tempC-a.tempC)
}

// Spread is how far the cells of a pack lie apart at rest, in volts, and what that
// means by the chemistry's limits: a warning, or that the pack is suspect.
type Spread struct {
	Volts       float64
	Warn, Block bool
}

// SpreadOf returns the spread of the cells of a pack at rest. Where its chemistry
// has no limit, or all cells lie where spread says nothing, neither flag is set. No
// cells have no spread.
func SpreadOf(c Chemistry, cellVolts []float64) Spread {
	if len(cellVolts) == 0 {
		return Spread{}
	}
	const tiny = 1e-9 // 4.15 − 4.10 is a little less than 0.05
	top, l := slices.Max(cellVolts), LimitsOf(c)
	s := Spread{Volts: top - slices.Min(cellVolts)}
	reaches := func(volts float64) bool { return volts > 0 && top > l.SpreadAboveVolts && s.Volts >= volts-tiny }
	s.Warn, s.Block = reaches(l.WarnSpreadVolts), reaches(l.BlockSpreadVolts)
	return s
}

// Wear grades a pack by capacity now over rated and resistance now over when new,
// both at 25 °C.
type Wear string

// The grades: end of life below 80 % or from 2 times (common practice, no source);
// worn, to retire from weapons, from 85 % or 1.5 times (our decision).
const (
	Sound     Wear = "sound"
	Worn      Wear = "worn"
	EndOfLife Wear = "end-of-life"
)

// WearOf returns the worse grade of the two; a figure that is 0 is not known and
// not counted. Watch both: a measured cell reached the end of its capacity while
// its resistance had not doubled.
func WearOf(capacityShare, resistanceTimes float64) Wear {
	known := capacityShare > 0
	switch {
	case known && capacityShare < 0.80, resistanceTimes >= 2:
		return EndOfLife
	case known && capacityShare <= 0.85, resistanceTimes >= 1.5:
		return Worn
	}
	return Sound
}
