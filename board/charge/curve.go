package charge

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// Curve is the rest voltage of one cell against its state of charge: a table
// joined by straight lines. Above the table it goes on with its mean slope over
// 95 to 100 %, else a cell that rests below its limit voltage when full would never
// end its charge; below 0 it stays at its first value. Make one with NewCurve,
// Line, ParseCurve or CurveOf.
type Curve struct {
	// soc is nil for a table of equal steps.
	soc, volts []float64
	topSlope   float64
}

const topFrom = 0.95

// NewCurve returns the curve through the given points. soc must rise from 0 to 1,
// volts lie between 0 and 10, never fall, and rise over the last 5 %. It needs at
// least two points and takes at most 10,000.
func NewCurve(soc, volts []float64) (Curve, error) {
	if len(soc) != len(volts) {
		return Curve{}, fmt.Errorf("curve of %d states of charge and %d voltages: give one for each", len(soc), len(volts))
	}
	if len(soc) < 2 || len(soc) > 10_000 {
		return Curve{}, fmt.Errorf("curve of %d points: give 2 to 10000", len(soc))
	}
	if soc[0] != 0 || soc[len(soc)-1] != 1 {
		return Curve{}, fmt.Errorf("curve from %g to %g: it must run from 0 (empty) to 1 (full)", soc[0], soc[len(soc)-1])
	}
	for k := range soc {
		if !(volts[k] > 0 && volts[k] <= 10) {
			return Curve{}, fmt.Errorf("point %d: %g V is no voltage of one cell", k+1, volts[k])
		}
		if k > 0 && !(soc[k] > soc[k-1]) {
			return Curve{}, fmt.Errorf("point %d: state of charge %g does not rise from %g", k+1, soc[k], soc[k-1])
		}
		if k > 0 && volts[k] < volts[k-1] {
			return Curve{}, fmt.Errorf("point %d: %g V falls from %g V; rest voltage never falls as charge rises", k+1, volts[k], volts[k-1])
		}
	}
	c := Curve{soc: slices.Clone(soc), volts: slices.Clone(volts)}
	if equalSteps(soc) {
		c.soc = nil
	}
	c.topSlope = c.meanTopSlope()
	if !(c.topSlope > 0) {
		return Curve{}, fmt.Errorf("the curve is flat over its last 5 %%: such a charge has no end by current")
	}
	return c, nil
}

// tableCurve trusts a table of equal steps.
func tableCurve(volts []float64) Curve {
	c := Curve{volts: volts}
	c.topSlope = c.meanTopSlope()
	return c
}

func equalSteps(soc []float64) bool {
	step := 1 / float64(len(soc)-1)
	for k, z := range soc {
		if math.Abs(z-float64(k)*step) > 1e-12 {
			return false
		}
	}
	return true
}

func (c Curve) meanTopSlope() float64 {
	return (c.volts[len(c.volts)-1] - c.Volts(topFrom)) / (1 - topFrom)
}

func (c Curve) known() bool { return len(c.volts) > 1 }

// at returns the state of charge of point k.
func (c Curve) at(k int) float64 {
	if c.soc == nil {
		return float64(k) / float64(len(c.volts)-1)
	}
	return c.soc[k]
}

// pieceOf returns the piece that holds z: from point k to k+1, or the last point
// when z lies beyond it.
func (c Curve) pieceOf(z float64) int {
	last := len(c.volts) - 1
	if z >= 1 {
		return last
	}
	if z <= 0 {
		return 0
	}
	if c.soc != nil {
		return sort.Search(last, func(k int) bool { return c.soc[k+1] > z })
	}
	k := min(int(z*float64(last)), last-1)
	if c.at(k+1) <= z { // rounding put z on the wrong side of a point
		k++
	}
	return k
}

// slopeOf returns the slope of piece k in volts per unit of charge.
func (c Curve) slopeOf(k int) float64 {
	if k == len(c.volts)-1 {
		return c.topSlope
	}
	return (c.volts[k+1] - c.volts[k]) / (c.at(k+1) - c.at(k))
}

// Volts returns the rest voltage of one cell at state of charge z.
func (c Curve) Volts(z float64) float64 {
	if !(z > 0) {
		return c.volts[0]
	}
	k := c.pieceOf(z)
	return c.volts[k] + (z-c.at(k))*c.slopeOf(k)
}

// SoC returns the state of charge at which a cell rests at volts: 0 below the
// table, above 1 beyond its top. Where the curve is level, the lowest.
func (c Curve) SoC(volts float64) float64 {
	last := len(c.volts) - 1
	if !(volts > c.volts[0]) {
		return 0
	}
	if volts > c.volts[last] {
		return 1 + (volts-c.volts[last])/c.topSlope
	}
	k := sort.SearchFloat64s(c.volts, volts)
	share := (volts - c.volts[k-1]) / (c.volts[k] - c.volts[k-1])
	return c.at(k-1) + share*(c.at(k)-c.at(k-1))
}
