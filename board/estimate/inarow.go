package estimate

import (
	"fmt"
	"math"
)

// InARow approximates the sum of jobs done one after the other by the lognormal
// with the same mean and variance (Fenton and Wilkinson). rho, 0 to 1, is the
// correlation of the logarithms: the same tired hands do all of them. Sigma is
// not clamped. The mean is exact; high quantiles are good to 2.5 % for three
// jobs of like spread. At least one job is needed.
func InARow(rho float64, jobs ...Lognormal) (Lognormal, error) {
	if len(jobs) == 0 {
		return Lognormal{}, fmt.Errorf("no jobs: give at least one")
	}
	if !(rho >= 0 && rho <= 1) {
		return Lognormal{}, fmt.Errorf("correlation %g: give 0 to 1", rho)
	}
	var mean, variance float64
	for i, a := range jobs {
		mean += a.MeanSec()
		variance += a.VarianceSec2()
		for _, b := range jobs[:i] {
			variance += 2 * a.MeanSec() * b.MeanSec() * math.Expm1(rho*a.Sigma*b.Sigma)
		}
	}
	s2 := math.Log1p(variance / (mean * mean))
	return Lognormal{Mu: math.Log(mean) - s2/2, Sigma: math.Sqrt(s2)}, nil
}
