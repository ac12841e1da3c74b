package estimate

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Worked is time spent on a job, seconds. Open means that it was broken off or
// still runs: it would have taken longer than Sec, nobody knows how much.
type Worked struct {
	Sec  float64
	Open bool
}

// SurvivalStep is one step of a survival curve: of Running jobs, Finished ended
// at AtSec, and Survival is the share that takes longer.
type SurvivalStep struct {
	AtSec             float64
	Running, Finished int
	Survival          float64
}

// KaplanMeier returns the survival curve of jobs of which some were not
// finished, a step for each time at which one was. A job left open at the moment
// another finishes counts as running then. Source: Kaplan and Meier 1958.
func KaplanMeier(jobs []Worked) ([]SurvivalStep, error) {
	if err := checkWorked(jobs); err != nil {
		return nil, err
	}
	sorted := slices.Clone(jobs)
	slices.SortFunc(sorted, func(a, b Worked) int { return cmp.Compare(a.Sec, b.Sec) })
	var steps []SurvivalStep
	survival := 1.0
	for i := 0; i < len(sorted); {
		step := SurvivalStep{AtSec: sorted[i].Sec, Running: len(sorted) - i}
		for ; i < len(sorted) && sorted[i].Sec == step.AtSec; i++ {
			if !sorted[i].Open {
				step.Finished++
			}
		}
		if step.Finished > 0 {
			survival *= 1 - float64(step.Finished)/float64(step.Running)
			step.Survival = survival
			steps = append(steps, step)
		}
	}
	return steps, nil
}

// MeanSecExponential returns the mean duration if jobs end at a constant rate:
// all time spent over the number finished. At least one must be finished.
func MeanSecExponential(jobs []Worked) (float64, error) {
	if err := checkWorked(jobs); err != nil {
		return 0, err
	}
	var spent, finished float64
	for _, j := range jobs {
		spent += j.Sec
		if !j.Open {
			finished++
		}
	}
	if finished == 0 {
		return 0, errors.New("no job is finished: nothing to learn from yet")
	}
	return spent / finished, nil
}

// FitCensored returns the most likely lognormal for jobs of which some were not
// finished, by the EM algorithm; Sigma is at least 0.05, not clamped above. At
// least one job must be finished.
func FitCensored(jobs []Worked) (Lognormal, error) {
	if _, err := MeanSecExponential(jobs); err != nil {
		return Lognormal{}, err
	}
	l := fitAsIfDone(jobs)
	for range 20000 {
		next := emStep(jobs, l)
		still := math.Abs(next.Mu-l.Mu) + math.Abs(next.Sigma-l.Sigma)
		if l = next; still < 1e-11 {
			break
		}
	}
	return l, nil
}

func fitAsIfDone(jobs []Worked) Lognormal {
	logs := make([]float64, len(jobs))
	for i, j := range jobs {
		logs[i] = math.Log(j.Sec)
	}
	mean, sumSq := meanAndSumSq(logs)
	return Lognormal{Mu: mean, Sigma: math.Max(math.Sqrt(sumSq/float64(len(jobs))), minSigma)}
}

// emStep fills in each open job by what is to be expected of it under l, mean
// μ + σh and extra variance σ²(1 + ch − h²), and fits again.
func emStep(jobs []Worked, l Lognormal) Lognormal {
	filled := make([]float64, len(jobs))
	var extra float64
	for i, j := range jobs {
		filled[i] = math.Log(j.Sec)
		if j.Open {
			c := (filled[i] - l.Mu) / l.Sigma
			h := hazard(c)
			filled[i] = l.Mu + l.Sigma*h
			extra += l.Sigma * l.Sigma * math.Max(1+c*h-h*h, 0)
		}
	}
	mean, sumSq := meanAndSumSq(filled)
	sigma := math.Sqrt((sumSq + extra) / float64(len(jobs)))
	return Lognormal{Mu: mean, Sigma: math.Max(sigma, minSigma)}
}

// hazard is φ(c)/(1 − Φ(c)); far out, where both vanish, c + 1/c.
func hazard(c float64) float64 {
	if c > 30 {
		return c + 1/c
	}
	return normalDensity(c) / NormalCDF(-c)
}

func checkWorked(jobs []Worked) error {
	if len(jobs) == 0 {
		return errors.New("no jobs: give at least one")
	}
	for i, j := range jobs {
		if !(j.Sec > 0) || math.IsInf(j.Sec, 1) {
			return fmt.Errorf("job %d: %g s of work: give times above 0", i+1, j.Sec)
		}
	}
	return nil
}
