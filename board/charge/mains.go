package charge

import (
	"fmt"
	"math"
)

// Mains is a circuit as someone entered it. The package has no default circuit:
// what a circuit, a lead or a generator may carry is the venue's or an
// electrician's to say.
type Mains struct {
	// Volts (50 to 500) and Amps (0.5 to 200) are those of the supply and of what
	// protects it.
	Volts, Amps float64
	// Share of Amps to be used, above 0 to 1. 0.8 is the inverse of the rule that a
	// continuous load counts 125 % (National Electrical Code 210.20(A), from memory);
	// outside the United States a habit, not a law.
	Share float64
	// OthersVA is what else runs on the circuit: iron, heat gun, the next team.
	OthersVA float64
}

// unknownPowerFactor counts where nobody knows: our decision. 0.55 to 0.65 without
// correction is from memory.
const unknownPowerFactor = 0.6

// BudgetVA returns what is left for the chargers: V·A·share less the others. A
// breaker counts amps, so the budget is VA, not watts. It is an error if a figure
// is out of range or nothing is left.
func (m Mains) BudgetVA() (float64, error) {
	switch {
	case !between(m.Volts, 50, 500):
		return 0, fmt.Errorf("supply of %g V: give 50 to 500", m.Volts)
	case !between(m.Amps, 0.5, 200):
		return 0, fmt.Errorf("circuit of %g A: give its rating, 0.5 to 200", m.Amps)
	case !(m.Share > 0 && m.Share <= 1):
		return 0, fmt.Errorf("share of %g: give more than 0 and at most 1", m.Share)
	case !(m.OthersVA >= 0):
		return 0, fmt.Errorf("%g VA of others: give 0 or more", m.OthersVA)
	}
	left := m.Volts*m.Amps*m.Share - m.OthersVA
	if !(left > 0) {
		return 0, fmt.Errorf("the others take %g VA of %g VA: nothing is left to charge with", m.OthersVA, m.Volts*m.Amps*m.Share)
	}
	return left, nil
}

// InputVA returns what a charger draws while it gives outputWatts: P/(η·PF).
// efficiency and powerFactor are above 0 to 1; powerFactor 0 counts as unknown. Out of
// range the result is not a number.
func InputVA(outputWatts, efficiency, powerFactor float64) float64 {
	if powerFactor == 0 {
		powerFactor = unknownPowerFactor
	}
	if !(efficiency > 0 && efficiency <= 1) || !(powerFactor > 0 && powerFactor <= 1) {
		return math.NaN()
	}
	return outputWatts / (efficiency * powerFactor)
}
