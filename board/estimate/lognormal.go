package estimate

import (
	"fmt"
	"math"
)

const (
	sigmaLeast = 0.05
	sigmaMost  = 1.5
)

// TwoPoint is the estimate people can give: LikelySec is the median, BadSec the
// 90th percentile ("one in ten takes longer"), both in seconds.
type TwoPoint struct{ LikelySec, BadSec float64 }

// Lognormal is a duration whose logarithm (of seconds) is normal with mean Mu
// and standard deviation Sigma.
type Lognormal struct{ Mu, Sigma float64 }

// Lognormal returns the distribution through both points, Sigma kept in
// [0.05, 1.5]: beyond that the bad case is not met exactly. It is an error if a
// figure is not a finite number above 0 or the bad case is below the likely one.
func (e TwoPoint) Lognormal() (Lognormal, error) {
	if !(e.LikelySec > 0) || math.IsInf(e.LikelySec, 1) {
		return Lognormal{}, fmt.Errorf("likely time %g s: give a time above 0", e.LikelySec)
	}
	if !(e.BadSec >= e.LikelySec) || math.IsInf(e.BadSec, 1) {
		return Lognormal{}, fmt.Errorf("bad case %g s below likely time %g s: the bad case is the longer one", e.BadSec, e.LikelySec)
	}
	sigma := (math.Log(e.BadSec) - math.Log(e.LikelySec)) / NormalQuantile(0.9)
	return Lognormal{
		Mu:    math.Log(e.LikelySec),
		Sigma: math.Min(math.Max(sigma, sigmaLeast), sigmaMost),
	}, nil
}

// TwoPoint returns median and 90th percentile.
func (l Lognormal) TwoPoint() TwoPoint {
	return TwoPoint{LikelySec: l.QuantileSec(0.5), BadSec: l.QuantileSec(0.9)}
}

// MeanSec returns the mean, e^(μ+σ²/2), in seconds: always above the median.
func (l Lognormal) MeanSec() float64 { return math.Exp(l.Mu + l.Sigma*l.Sigma/2) }

// VarianceSec2 returns the variance in square seconds.
func (l Lognormal) VarianceSec2() float64 {
	mean := l.MeanSec()
	return mean * mean * math.Expm1(l.Sigma*l.Sigma)
}

// QuantileSec returns the time in seconds that the share p (0 to 1) of such jobs
// does not exceed; 0 at p = 0, +Inf at p = 1.
func (l Lognormal) QuantileSec(p float64) float64 {
	return math.Exp(l.Mu + l.Sigma*NormalQuantile(p))
}

// Survival returns the chance that the job takes longer than sec seconds, with
// full relative accuracy in the tail.
func (l Lognormal) Survival(sec float64) float64 {
	if sec <= 0 {
		return 1
	}
	return NormalCDF((l.Mu - math.Log(sec)) / l.Sigma)
}

// meanAndSumSq returns mean and sum of squared deviations; 0, 0 for no values.
func meanAndSumSq(ys []float64) (mean, sumSq float64) {
	for _, y := range ys {
		mean += y / float64(len(ys))
	}
	for _, y := range ys {
		sumSq += (y - mean) * (y - mean)
	}
	return mean, sumSq
}
