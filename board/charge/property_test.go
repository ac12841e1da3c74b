package charge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyJob draws a charge of any pack that has no fault.
func anyJob(t *rapid.T) Job {
	c := anyCurve(t)
	q := rapid.Float64Range(0.1, 20).Draw(t, "ah")
	i := q * rapid.Float64Range(0.1, 5).Draw(t, "rate")
	n := rapid.IntRange(1, 14).Draw(t, "cells")
	j := Job{
		Cells: n, CapacityAh: q, Curve: c, Amps: i, To: 1,
		MilliOhm:   rapid.Float64Range(1, 80).Draw(t, "mΩ·Ah") / q,
		LimitVolts: c.Volts(1) + rapid.Float64Range(-0.05, 0.03).Draw(t, "over"),
		EndAmps:    i * rapid.Float64Range(0.02, 1).Draw(t, "end"),
		From:       rapid.Float64Range(0, 1).Draw(t, "from"),
	}
	if rapid.Bool().Draw(t, "limited power") {
		j.Watts = float64(n) * 4 * i * rapid.Float64Range(0.05, 1.5).Draw(t, "power")
	}
	if rapid.Bool().Draw(t, "aims") {
		j.To = j.From + (1-j.From)*rapid.Float64Range(0.01, 1).Draw(t, "to")
	}
	if j.Fault() != nil {
		t.Skip("no such charge")
	}
	return j
}

func TestEveryComputedChargePassesTheCheck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		points, r, err := j.Trace()
		require.NoError(t, err)
		require.NoError(t, check(j, points, r))
		whole, err := j.Charge()
		require.NoError(t, err)
		require.InEpsilon(t, 1+whole.TotalSec(), 1+r.TotalSec(), 1e-9)
		require.InEpsilon(t, 1+whole.WattHoursIn, 1+r.WattHoursIn, 1e-9)
	})
}

// Two ways to the same charge: the closed forms, and plain steps.
func TestStepsAndClosedFormsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		exact, err := j.Charge()
		require.NoError(t, err)
		steepest := j.Curve.topSlope
		for k := range j.Curve.volts {
			steepest = max(steepest, j.Curve.slopeOf(k))
		}
		stepSec := min(exact.TotalSec()/2000, j.ohm()*j.perUnit()/steepest/4) // longer ones swing about the limit
		if exact.TotalSec() < 1 || exact.TotalSec() > mostSteps*stepSec/2 {
			t.Skip("nothing for plain steps")
		}
		require.InDelta(t, exact.TotalSec(), stepped(j, stepSec), 0.01*exact.TotalSec())
	})
}

func TestTimeToAChargeNeverFallsAsResistanceRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		j.EndAmps = j.Amps / 1000
		worn := j
		worn.MilliOhm *= rapid.Float64Range(1, 3).Draw(t, "worn")
		reach := worn.Curve.SoC(worn.LimitVolts - worn.EndAmps*worn.ohm())
		j.To = min(j.From+0.9*(reach-j.From), 0.999)
		worn.To = j.To
		if j.To <= j.From || worn.Fault() != nil {
			t.Skip("the worn pack does not get there")
		}
		a, err := j.Charge()
		require.NoError(t, err)
		b, err := worn.Charge()
		require.NoError(t, err)
		require.GreaterOrEqual(t, b.TotalSec(), a.TotalSec()*(1-1e-9))
	})
}

// To the same end current a worn pack stops with less charge in it. With a straight
// E, time is constant + (3600 R Q/E₁)(ln(I/I_end) − 1): derived by us.
func TestTimeToAnEndCurrentRisesWithResistanceOnlyAboveE(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio := rapid.Float64Range(1, 20).Draw(t, "I over end")
		j := Job{Cells: 1, CapacityAh: 2, MilliOhm: 20, Curve: line(3.6, 0.6), LimitVolts: 4.2, Amps: 2, EndAmps: 2 / ratio, From: 0.2, To: 1}
		worn := j
		worn.MilliOhm = 40
		a, err := j.Charge()
		require.NoError(t, err)
		b, err := worn.Charge()
		require.NoError(t, err)
		require.InDelta(t, 3600*0.020*2/0.6*(math.Log(ratio)-1), b.TotalSec()-a.TotalSec(), 1e-6)
	})
}

func TestTimeNeverRisesWithCurrentPowerOrStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		base, err := j.Charge()
		require.NoError(t, err)
		more := rapid.Float64Range(1, 2).Draw(t, "more")
		faster, stronger, fuller := j, j, j
		faster.Amps *= more
		stronger.Watts *= more
		fuller.From = min(j.From*more, 1)
		for _, other := range []Job{faster, stronger, fuller} {
			if other.Fault() != nil {
				continue
			}
			r, err := other.Charge()
			require.NoError(t, err)
			require.LessOrEqual(t, r.TotalSec(), base.TotalSec()*(1+1e-9)+1e-9)
		}
	})
}

// Times depend only on I/Q, R·Q, P/(nQ) and E.
func TestTimesScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		k := rapid.Float64Range(0.1, 10).Draw(t, "larger")
		cells := rapid.IntRange(1, 14).Draw(t, "other cells")
		big := j
		big.CapacityAh, big.Amps, big.EndAmps, big.MilliOhm = j.CapacityAh*k, j.Amps*k, j.EndAmps*k, j.MilliOhm/k
		big.Watts = j.Watts * k * float64(cells) / float64(j.Cells)
		big.Cells = cells
		if big.Fault() != nil {
			t.Skip("out of range")
		}
		a, err := j.Charge()
		require.NoError(t, err)
		b, err := big.Charge()
		require.NoError(t, err)
		require.InEpsilon(t, 1+a.TotalSec(), 1+b.TotalSec(), 1e-6)
		require.InDelta(t, a.SoCAtCV, b.SoCAtCV, 1e-6)
	})
}

func TestTheCheckSeesWhatIsWrong(t *testing.T) {
	j := workedJob(t, "W7")
	for says, spoil := range map[string]func([]Point, *Result){
		"are set":             func(p []Point, _ *Result) { p[3].Amps = 17 },
		"above the limit":     func(p []Point, _ *Result) { p[3].PackVolts = 50.5 },
		"there are":           func(p []Point, _ *Result) { p[3].Watts = 501 },
		"times":               func(p []Point, _ *Result) { p[3].Watts = 400 },
		"do not follow":       func(p []Point, _ *Result) { p[3].PackVolts, p[3].Watts = 44, 44*p[3].Amps },
		"runs back":           func(p []Point, _ *Result) { p[3].Sec = p[2].Sec - 1 },
		"As in":               func(p []Point, _ *Result) { stretch(p) },
		"it ends at":          func(p []Point, r *Result) { r.ByCurrent = false },
		"starts at":           func(p []Point, _ *Result) { p[0] = p[1] },
		"its phases add up":   func(_ []Point, r *Result) { r.CVSec += 5 },
		"and says":            func(_ []Point, r *Result) { r.EndSoC += 0.01 },
		"Wh, and says":        func(_ []Point, r *Result) { r.WattHoursIn++ },
		"Ah do not lift":      func(_ []Point, r *Result) { r.AhIn++ },
		"neither at":          func(p []Point, r *Result) { cut(p, r) },
		"of charge without a": nil,
	} {
		points, r, err := j.Trace()
		require.NoError(t, err)
		require.NoError(t, check(j, points, r))
		if spoil == nil {
			require.ErrorContains(t, check(j, nil, r), says)
			continue
		}
		spoil(points, &r)
		require.ErrorContains(t, check(j, points, r), says)
	}
}

// stretch makes the same charge take a tenth longer.
func stretch(points []Point) {
	for k := range points {
		points[k].Sec *= 1.1
	}
}

// cut lets the charge end in its middle.
func cut(points []Point, r *Result) {
	half := points[len(points)/2]
	for k := len(points) / 2; k < len(points); k++ {
		points[k] = half
	}
	r.EndSoC = half.SoC
}
