package charge

import (
	"fmt"
	"math"
)

// LearnFromSec returns the resistance of a cell, effective over minutes, for which j
// takes sec seconds: what a logged charge teaches where only its whole time is known.
// j's own MilliOhm does not count. It is an error if j has a fault, if EndAmps is not
// below a third of Amps (time then says little of resistance), or if no resistance from
// 2 to 400 mΩ·Ah over the capacity fits. To 1 %.
func (j Job) LearnFromSec(sec float64) (float64, error) {
	low, high := 2/j.CapacityAh, 400/j.CapacityAh
	if !(j.EndAmps < j.Amps/3) {
		return 0, fmt.Errorf("charge ended at %g A of %g A: its time says little of resistance", j.EndAmps, j.Amps)
	}
	takes := func(milliOhm float64) (float64, error) {
		j.MilliOhm = milliOhm
		r, err := j.Charge()
		return r.TotalSec(), err
	}
	fastest, err := takes(low)
	if err != nil {
		return 0, err
	}
	slowest, err := takes(high)
	if err != nil {
		return 0, err
	}
	if !(sec > fastest && sec < slowest) {
		return 0, fmt.Errorf("%.0f s fit no resistance: the charge takes %.0f to %.0f s", sec, fastest, slowest)
	}
	for range 10 {
		middle := math.Sqrt(low * high)
		if took, err := takes(middle); err != nil {
			return 0, err
		} else if took < sec {
			low = middle
		} else {
			high = middle
		}
	}
	return math.Sqrt(low * high), nil
}
