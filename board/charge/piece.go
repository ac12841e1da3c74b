package charge

import "math"

// piece is a straight part of the curve that is passed in one phase: state of
// charge from z0 to z1, rest voltage per cell from e0 to e1.
type piece struct{ z0, z1, e0, e1 float64 }

// Phase is what limits the current.
type Phase string

// The phases, in the order they come.
const (
	CC Phase = "cc" // the current is set
	CP Phase = "cp" // the power is the channel's, or the share of a supply
	CV Phase = "cv" // the limit voltage holds
)

// sec returns the time the piece takes and the current at its ends. The forms are
// those of doc.go, written so that a level piece (e1 = e0) needs no case of its
// own: with x = (i₀−i₁)/i₁, ln(i₀/i₁)/(e1−e0) is the logarithm of 1+x over x, times
// x/(e1−e0), which stays finite.
func (j Job) sec(ph Phase, p piece) (sec, amps0, amps1 float64) {
	charge := j.perUnit() * (p.z1 - p.z0)
	switch ph {
	case CC:
		return charge / j.Amps, j.Amps, j.Amps
	case CV:
		i0, i1 := (j.LimitVolts-p.e0)/j.ohm(), (j.LimitVolts-p.e1)/j.ohm()
		return charge / i1 * logOver((p.e1-p.e0)/(j.ohm()*i1)), i0, i1
	}
	watts := j.Watts / float64(j.Cells)
	i0, i1 := ampsAt(watts, p.e0, j.ohm()), ampsAt(watts, p.e1, j.ohm())
	perVolt := 1 / (watts/(i0*i1) + j.ohm()) // (i0−i1)/(e1−e0)
	drop := (p.e1 - p.e0) * perVolt
	squares := watts / 2 * (i0 + i1) / (i0 * i0 * i1 * i1) * perVolt
	logs := j.ohm() / i1 * perVolt * logOver(drop/i1)
	return charge * (squares + logs), i0, i1
}

// ampsAt returns the current that takes watts per cell at rest voltage e: the root
// of R i² + E i = watts.
func ampsAt(watts, e, ohm float64) float64 {
	return 2 * watts / (e + math.Sqrt(e*e+4*ohm*watts))
}

// logOver returns ln(1+x)/x, 1 at x = 0.
func logOver(x float64) float64 {
	if math.Abs(x) < 1e-9 {
		return 1 - x/2
	}
	return math.Log1p(x) / x
}

// wattHours returns the energy put into the pack over the piece.
func (j Job) wattHours(ph Phase, p piece, sec float64) float64 {
	ah := j.CapacityAh * (p.z1 - p.z0)
	n := float64(j.Cells)
	switch ph {
	case CC:
		return n * ah * ((p.e0+p.e1)/2 + j.Amps*j.ohm())
	case CV:
		return n * ah * j.LimitVolts
	}
	return j.Watts * sec / 3600
}
