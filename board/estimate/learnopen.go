package estimate

import "math"

// LearnOpen is Learn with jobs that were broken off: each would have taken longer
// than its ActualSec, nobody knows how much. An open job never counts as a short
// one. N counts the finished jobs only.
func LearnOpen(said TwoPoint, record, open []Done) (Learned, error) {
	l, err := Learn(said, record)
	if err != nil || len(open) == 0 {
		return l, err
	}
	prior, err := Learn(said, nil)
	if err != nil {
		return Learned{}, err
	}
	ys, err := LogRatios(record)
	if err != nil {
		return Learned{}, err
	}
	spent, err := LogRatios(open)
	if err != nil {
		return Learned{}, err
	}
	l.Belief = prior.Belief.afterOpen(ys, spent)
	return l, nil
}

// afterOpen is After where of each of open only a lower limit was seen: the EM
// algorithm, as in FitCensored, on the belief. With a prior that counts for
// nothing it is FitCensored.
func (g NormalGamma) afterOpen(ys, open []float64) NormalGamma {
	filled := append(append([]float64(nil), ys...), open...)
	b := g.After(filled)
	for range 20_000 {
		was, sigma := b, math.Sqrt(b.Beta/b.Alpha)
		var extra float64
		for i, y := range open {
			c := (y - was.Mean) / sigma
			h := hazard(c)
			filled[len(ys)+i] = was.Mean + sigma*h
			extra += sigma * sigma * math.Max(1+c*h-h*h, 0)
		}
		b = g.After(filled)
		b.Beta += extra / 2
		if math.Abs(b.Mean-was.Mean)+math.Abs(b.Beta-was.Beta)/b.Beta < 1e-11 {
			break
		}
	}
	return b
}
