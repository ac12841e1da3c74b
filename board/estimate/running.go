package estimate

import "math"

// leastSurvival bounds how unlikely a running job may look: from the moment at
// which only this share of jobs would still run, the time left stays what it was.
const leastSurvival = 1e-12

// Running is a job on which time has already been spent without finishing it.
type Running struct {
	job      Lognormal
	fromSec  float64 // the time spent, or the moment of leastSurvival if that is earlier
	survival float64
}

// After conditions the job on spentSec seconds of work; a negative time counts
// as 0.
func (l Lognormal) After(spentSec float64) Running {
	r := Running{job: l}
	latest := math.Exp(l.Mu - l.Sigma*NormalQuantile(leastSurvival))
	r.fromSec = math.Min(math.Max(spentSec, 0), latest)
	r.survival = math.Max(l.Survival(r.fromSec), leastSurvival)
	return r
}

// LeftSec returns the quantile p (0 to 1) of the time left, in seconds, ≥ 0.
func (r Running) LeftSec(p float64) float64 {
	total := math.Exp(r.job.Mu - r.job.Sigma*NormalQuantile((1-p)*r.survival))
	return math.Max(total-r.fromSec, 0)
}
