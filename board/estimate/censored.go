package estimate

import (
	"errors"
	"fmt"
	"math"
)

// Worked is time spent on a job, seconds. Open means that it was broken off or
// still runs: it would have taken longer than Sec, nobody knows how much.
type Worked struct {
	Sec  float64
	Open bool
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
	return Lognormal{Mu: mean, Sigma: math.Max(math.Sqrt(sumSq/float64(len(jobs))), sigmaLeast)}
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
	return Lognormal{Mu: mean, Sigma: math.Max(sigma, sigmaLeast)}
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
