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
	// continuous load counts 125 % (NEC 210.20(A), as quoted in a Schneider Electric
	// data bulletin); elsewhere a habit, not a law.
	Share float64
	// OthersVA is what else hangs on the circuit: iron, heat gun, the next team.
	OthersVA float64
	// PowerFactor of the chargers, above 0 to 1; 0 where nobody knows, and then 0.6
	// counts (our decision; 0.55 to 0.65 without correction, from memory).
	PowerFactor float64
	// Efficiency of the chargers, output over input, above 0 to 1; 0.85 to 0.90 is
	// common practice, no source.
	Efficiency float64
	// StandbyWatts is what they take without giving any.
	StandbyWatts float64
}

// UnknownPowerFactor counts where nobody knows.
const UnknownPowerFactor = 0.6

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

// OutputWatts returns what the chargers together can put into packs within the
// budget: (VA·PF − standby)·η, in watts. Errors as BudgetVA.
func (m Mains) OutputWatts() (float64, error) {
	va, err := m.BudgetVA()
	if err != nil {
		return 0, err
	}
	factor := m.PowerFactor
	if factor == 0 {
		factor = UnknownPowerFactor
	}
	if !(factor > 0 && factor <= 1) || !(m.Efficiency > 0 && m.Efficiency <= 1) || !(m.StandbyWatts >= 0) {
		return 0, fmt.Errorf("power factor %g, efficiency %g, standby %g W: give shares up to 1 and watts from 0", m.PowerFactor, m.Efficiency, m.StandbyWatts)
	}
	watts := (va*factor - m.StandbyWatts) * m.Efficiency
	if !(watts > 0) {
		return 0, fmt.Errorf("standby of %g W takes all of %.0f VA", m.StandbyWatts, va)
	}
	return watts, nil
}

// InputVA returns what a charger draws while it gives outputWatts: (P/η +
// standby)/PF. efficiency and powerFactor are above 0 to 1; powerFactor 0 counts as
// unknown. Out of range the result is not a number.
func InputVA(outputWatts, efficiency, powerFactor, standbyWatts float64) float64 {
	if powerFactor == 0 {
		powerFactor = UnknownPowerFactor
	}
	if !(efficiency > 0 && efficiency <= 1) || !(powerFactor > 0 && powerFactor <= 1) {
		return math.NaN()
	}
	return (outputWatts/efficiency + standbyWatts) / powerFactor
}

// ChannelAmps returns what a channel of mostAmps and mostWatts gives a pack at
// packVolts: min(I, P/V).
func ChannelAmps(mostAmps, mostWatts, packVolts float64) float64 {
	return min(mostAmps, mostWatts/packVolts)
}
