package charge

import (
	"fmt"
	"math"
)

// check accepts a computed charge of j or names what it breaks: the limit voltage,
// the power, the set current, the order of time, the charge and energy between two
// points, the end, the sums. It uses the equations of doc.go only, none of the code
// that computed the charge.
func check(j Job, points []Point, r Result) error {
	if f := j.Fault(); f != nil {
		return f
	}
	if len(points) == 0 {
		if r.TotalSec() != 0 {
			return fmt.Errorf("%g s of charge without a point", r.TotalSec())
		}
		return nil
	}
	for k, p := range points {
		if err := checkPoint(j, p); err != nil {
			return fmt.Errorf("point %d at %.1f s: %w", k, p.Sec, err)
		}
		if k > 0 {
			if err := checkStep(j, points[k-1], p); err != nil {
				return fmt.Errorf("from point %d at %.1f s to the next: %w", k-1, points[k-1].Sec, err)
			}
		}
	}
	if err := checkEnd(j, points[len(points)-1], r); err != nil {
		return err
	}
	return checkSums(j, points, r)
}

// What arithmetic may be off by, as a share.
const slack = 1e-6

func checkPoint(j Job, p Point) error {
	n := float64(j.Cells)
	switch {
	case !(p.Amps >= 0 && p.Amps <= j.Amps*(1+slack)):
		return fmt.Errorf("%g A where %g A are set", p.Amps, j.Amps)
	case !(p.PackVolts <= n*j.LimitVolts*(1+slack)):
		return fmt.Errorf("%g V above the limit of %g V", p.PackVolts, n*j.LimitVolts)
	case j.Watts > 0 && !(p.Watts <= j.Watts*(1+slack)):
		return fmt.Errorf("%g W above the %g W there are", p.Watts, j.Watts)
	case !near(p.Watts, p.Amps*p.PackVolts, slack*n*j.Amps*j.LimitVolts):
		return fmt.Errorf("%g W are not %g A times %g V", p.Watts, p.Amps, p.PackVolts)
	case !near(p.PackVolts, n*(j.Curve.Volts(p.SoC)+p.Amps*j.MilliOhm/1000), slack*n*j.LimitVolts):
		return fmt.Errorf("%g V do not follow from %.4f of charge at %g A", p.PackVolts, p.SoC, p.Amps)
	}
	return nil
}

// checkStep bounds charge and energy of a step by what its ends allow, and a
// twentieth of the change more.
func checkStep(j Job, a, b Point) error {
	sec := b.Sec - a.Sec
	if !(sec >= 0) || !(b.SoC >= a.SoC-slack) {
		return fmt.Errorf("time or charge runs back")
	}
	coulombs := (b.SoC - a.SoC) * 3600 * j.CapacityAh
	if !inside(coulombs, a.Amps, b.Amps, sec, slack*3600*j.CapacityAh) {
		return fmt.Errorf("%g As in %g s at %g to %g A", coulombs, sec, a.Amps, b.Amps)
	}
	joules := (b.WattHoursIn - a.WattHoursIn) * 3600
	if !inside(joules, a.Watts, b.Watts, sec, slack*3600*j.CapacityAh*float64(j.Cells)*j.LimitVolts) {
		return fmt.Errorf("%g J in %g s at %g to %g W", joules, sec, a.Watts, b.Watts)
	}
	return nil
}

// inside tells whether amount could flow in sec seconds at rates from a to b.
func inside(amount, a, b, sec, slack float64) bool {
	room := math.Abs(a-b)/20 + max(a, b)*slack
	return amount >= (min(a, b)-room)*sec-slack && amount <= (max(a, b)+room)*sec+slack
}

func checkEnd(j Job, last Point, r Result) error {
	atLimit := last.PackVolts >= float64(j.Cells)*j.LimitVolts*(1-1e-3)
	switch {
	case r.ByCurrent && !(last.Amps <= j.EndAmps*(1+1e-3) && atLimit):
		return fmt.Errorf("it ends at %g A and %g V, neither at %g A nor at the limit voltage", last.Amps, last.PackVolts, j.EndAmps)
	case !r.ByCurrent && !near(last.SoC, j.To, 1e-6):
		return fmt.Errorf("it ends at %g of charge instead of %g", last.SoC, j.To)
	}
	return nil
}

func checkSums(j Job, points []Point, r Result) error {
	first, last := points[0], points[len(points)-1]
	switch {
	case !near(first.SoC, j.From, slack):
		return fmt.Errorf("it starts at %g of charge instead of %g", first.SoC, j.From)
	case !near(last.Sec-first.Sec, r.TotalSec(), 1e-3+slack*r.TotalSec()):
		return fmt.Errorf("its phases add up to %g s, its points to %g s", r.TotalSec(), last.Sec-first.Sec)
	case !near(last.SoC, r.EndSoC, slack):
		return fmt.Errorf("it ends at %g of charge, and says %g", last.SoC, r.EndSoC)
	case !near(last.WattHoursIn, r.WattHoursIn, slack*(1+r.WattHoursIn)):
		return fmt.Errorf("it takes %g Wh, and says %g Wh", last.WattHoursIn, r.WattHoursIn)
	case !near(r.AhIn, (r.EndSoC-j.From)*j.CapacityAh, slack*j.CapacityAh):
		return fmt.Errorf("%g Ah do not lift %g Ah from %g to %g", r.AhIn, j.CapacityAh, j.From, r.EndSoC)
	}
	return nil
}

func near(a, b, off float64) bool { return math.Abs(a-b) <= off }
