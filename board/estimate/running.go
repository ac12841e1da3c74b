package estimate

import "math"

// leastSurvival bounds how unlikely a running job may look: from the moment at
// which only this share of jobs would still run, the time left stays what it was.
const leastSurvival = 1e-12

// Running is a job on which time has already been spent without finishing it.
type Running struct {
	job      Lognormal
	spentSec float64
	fromSec  float64 // spentSec, or the moment of leastSurvival if that is earlier
	survival float64
}

// After conditions the job on spentSec seconds of work; a negative time counts
// as 0.
func (l Lognormal) After(spentSec float64) Running {
	r := Running{job: l, spentSec: math.Max(spentSec, 0)}
	latest := math.Exp(l.Mu - l.Sigma*NormalQuantile(leastSurvival))
	r.fromSec = math.Min(r.spentSec, latest)
	r.survival = math.Max(l.Survival(r.fromSec), leastSurvival)
	return r
}

// Survival returns the share of such jobs that would still run, 1e-12 to 1.
func (r Running) Survival() float64 { return r.survival }

// TotalSec returns the quantile p (0 to 1) of the whole duration in seconds,
// time spent included. Drawn with p uniform it samples the conditioned job.
func (r Running) TotalSec(p float64) float64 { return r.spentSec + r.LeftSec(p) }

// LeftSec returns the quantile p (0 to 1) of the time left, in seconds, ≥ 0.
func (r Running) LeftSec(p float64) float64 {
	total := math.Exp(r.job.Mu - r.job.Sigma*NormalQuantile((1-p)*r.survival))
	return math.Max(total-r.fromSec, 0)
}

// MeanLeftSec returns the mean time left in seconds.
func (r Running) MeanLeftSec() float64 {
	if r.fromSec == 0 {
		return r.job.MeanSec()
	}
	past := (r.job.Mu - math.Log(r.fromSec)) / r.job.Sigma
	total := r.job.MeanSec() * NormalCDF(past+r.job.Sigma) / r.survival
	return math.Max(total-r.fromSec, 0)
}

// ChanceWithin returns the chance that the job is done within the next sec
// seconds.
func (r Running) ChanceWithin(sec float64) float64 {
	if sec <= 0 {
		return 0
	}
	return math.Max(1-r.job.Survival(r.fromSec+sec)/r.survival, 0)
}
