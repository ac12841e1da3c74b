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
	if err := checkTogether(rho, jobs); err != nil {
		return Lognormal{}, err
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

// ChanceAllWithin returns the chance that jobs that run side by side are all
// done within sec seconds, rho as for InARow: with rho 0 the product of the
// single chances (merge bias), with rho 1 the least of them. Good to 1e-6 up to rho 0.99.
func ChanceAllWithin(sec, rho float64, jobs ...Lognormal) (float64, error) {
	if err := checkTogether(rho, jobs); err != nil {
		return 0, err
	}
	if sec <= 0 {
		return 0, nil
	}
	shared, own := math.Sqrt(rho), math.Sqrt(1-rho)
	if rho == 1 {
		least := 1.0
		for _, j := range jobs {
			least = math.Min(least, j.CDF(sec))
		}
		return least, nil
	}
	return overNormal(func(z float64) float64 {
		all := 1.0
		for _, j := range jobs {
			all *= NormalCDF(((math.Log(sec)-j.Mu)/j.Sigma - shared*z) / own)
		}
		return all
	}), nil
}

// overNormal integrates f against the standard normal density by the trapezium
// rule on [−8, 8], whose error here falls faster than any power of the step.
func overNormal(f func(z float64) float64) float64 {
	const step, reach = 1.0 / 64, 8 * 64
	var sum float64
	for i := -reach; i <= reach; i++ {
		z := float64(i) * step
		sum += step * normalDensity(z) * f(z)
	}
	return sum
}

func checkTogether(rho float64, jobs []Lognormal) error {
	if len(jobs) == 0 {
		return fmt.Errorf("no jobs: give at least one")
	}
	if !(rho >= 0 && rho <= 1) {
		return fmt.Errorf("correlation %g: give 0 to 1", rho)
	}
	return nil
}
