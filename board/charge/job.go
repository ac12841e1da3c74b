package charge

import "fmt"

// Job is one charge of one pack on one channel.
type Job struct {
	// Cells in series, 1 to 200.
	Cells int
	// CapacityAh is what the pack holds now, 0.01 to 1000 Ah.
	CapacityAh float64
	// MilliOhm is the resistance of one cell (of one group in parallel) effective
	// over minutes, 0.01 to 10,000 mΩ; about twice what a 10 s pulse shows, for the
	// one cell measured. See LearnFromSec.
	MilliOhm float64
	Curve    Curve
	// LimitVolts is the limit voltage per cell: above the curve's foot and at most
	// 0.1 V above its top.
	LimitVolts float64
	// Amps is the least of what is set, what the channel gives and what the pack's
	// label allows, up to 1000 A.
	Amps float64
	// Watts is the most that the channel gives the pack; 0 where only current limits.
	Watts float64
	// EndAmps ends the charge at the limit voltage; above 0, at most Amps.
	EndAmps float64
	// From and To are states of charge, 0 to 1, To above From or 1. To = 1 is full:
	// only EndAmps ends the charge. Below 1 the charge ends at To, or by EndAmps
	// where To cannot be reached.
	From, To float64
}

// Fault is a figure that no charge can be computed from.
type Fault struct {
	// Field is the field of Job.
	Field string
	// Why says what is wrong, and what would be right.
	Why string
}

func (f *Fault) Error() string { return f.Field + ": " + f.Why }

// Fault returns what is wrong with j, nil if nothing is.
func (j Job) Fault() *Fault {
	switch {
	case j.Cells < 1 || j.Cells > 200:
		return &Fault{"Cells", fmt.Sprintf("%d cells in series: give 1 to 200", j.Cells)}
	case !between(j.CapacityAh, 0.01, 1000):
		return &Fault{"CapacityAh", fmt.Sprintf("%g Ah: give 0.01 to 1000", j.CapacityAh)}
	case !between(j.MilliOhm, 0.01, 10_000):
		return &Fault{"MilliOhm", fmt.Sprintf("%g mΩ per cell: give 0.01 to 10000", j.MilliOhm)}
	case !j.Curve.known():
		return &Fault{"Curve", "there is none: name a chemistry or give a table"}
	case !between(j.Amps, 0.001, 1000):
		return &Fault{"Amps", fmt.Sprintf("%g A: give 0.001 to 1000", j.Amps)}
	case j.Watts != 0 && !between(j.Watts, 0.1, 100_000):
		return &Fault{"Watts", fmt.Sprintf("%g W: give 0.1 to 100000, or 0 for no limit", j.Watts)}
	case !between(j.EndAmps, 1e-6, j.Amps):
		return &Fault{"EndAmps", fmt.Sprintf("%g A: give 0.000001 or more, and at most the %g A of the charge", j.EndAmps, j.Amps)}
	}
	return j.levelFault()
}

func (j Job) levelFault() *Fault {
	foot, top := j.Curve.volts[0], j.Curve.Volts(1)
	switch {
	case !(j.LimitVolts > foot && j.LimitVolts <= top+0.1):
		return &Fault{"LimitVolts", fmt.Sprintf("%g V per cell: this curve runs from %.2f to %.2f V", j.LimitVolts, foot, top)}
	case j.Curve.SoC(j.LimitVolts) > 1.25:
		return &Fault{"LimitVolts", fmt.Sprintf("%g V per cell: the curve is full at %.3f V and hardly rises there", j.LimitVolts, top)}
	case !between(j.From, 0, 1):
		return &Fault{"From", fmt.Sprintf("%g: a state of charge lies between 0 and 1", j.From)}
	case !between(j.To, 0, 1):
		return &Fault{"To", fmt.Sprintf("%g: a state of charge lies between 0 and 1", j.To)}
	case j.To <= j.From && j.To < 1:
		return &Fault{"To", fmt.Sprintf("%g is not above the %g it starts from", j.To, j.From)}
	}
	return nil
}

// between is false for NaN.
func between(x, low, high float64) bool { return x >= low && x <= high }

// perUnit is charge in ampere seconds per unit of state of charge.
func (j Job) perUnit() float64 { return 3600 * j.CapacityAh }

func (j Job) ohm() float64 { return j.MilliOhm / 1000 }
