package estimate

import (
	"fmt"
	"math"
)

// Weights of a fresh two-point estimate against the record, our own choice: the
// place counts as 4 jobs, the spread as 3 half-degrees of freedom.
const (
	priorKappa = 4
	priorAlpha = 3
)

// Done is a finished job: what was said to be likely and what it took, seconds.
type Done struct{ LikelySec, ActualSec float64 }

// LogRatios returns y = ln(actual/likely) of each job. It is an error if a time
// is not a finite number above 0.
func LogRatios(jobs []Done) ([]float64, error) {
	ys := make([]float64, len(jobs))
	for i, j := range jobs {
		y := math.Log(j.ActualSec / j.LikelySec)
		if !(j.LikelySec > 0 && j.ActualSec > 0) || math.IsInf(y, 0) || math.IsNaN(y) {
			return nil, fmt.Errorf("job %d: actual %g s of likely %g s: give times above 0", i+1, j.ActualSec, j.LikelySec)
		}
		ys[i] = y
	}
	return ys, nil
}

// NormalGamma is what is believed of a normal variable whose mean and precision
// are both unknown: the mean is about Mean and counts as Kappa observations, the
// precision is Gamma(Alpha, rate Beta). All but Mean > 0.
type NormalGamma struct{ Mean, Kappa, Alpha, Beta float64 }

// After returns the belief once ys have been seen. Source: Gelman et al.,
// Bayesian Data Analysis, section 3.3, in the normal-gamma form.
func (g NormalGamma) After(ys []float64) NormalGamma {
	n := float64(len(ys))
	mean, sumSq := meanAndSumSq(ys)
	kappa, off := g.Kappa+n, mean-g.Mean
	return NormalGamma{
		Mean:  (g.Kappa*g.Mean + n*mean) / kappa,
		Kappa: kappa,
		Alpha: g.Alpha + n/2,
		Beta:  g.Beta + sumSq/2 + g.Kappa*n*off*off/(2*kappa),
	}
}

// NextQuantile returns quantile p of the next observation: Student-t with
// 2·Alpha degrees of freedom about Mean.
func (g NormalGamma) NextQuantile(p float64) float64 {
	scale := math.Sqrt(g.Beta * (g.Kappa + 1) / (g.Alpha * g.Kappa))
	return g.Mean + scale*StudentQuantile(p, 2*g.Alpha)
}

// Learned is an estimate corrected by its record. Said is the estimate as given;
// show both, and N beside them.
type Learned struct {
	Said   TwoPoint
	N      int
	Belief NormalGamma // of ln(actual/likely)
}

// Learn corrects an estimate by the finished jobs of its kind. With no jobs the
// median and the 90th percentile are those given. Errors as for TwoPoint and
// LogRatios.
func Learn(said TwoPoint, record []Done) (Learned, error) {
	l, err := said.Lognormal()
	if err != nil {
		return Learned{}, err
	}
	ys, err := LogRatios(record)
	if err != nil {
		return Learned{}, err
	}
	scale := l.Sigma * NormalQuantile(0.9) / StudentQuantile(0.9, 2*priorAlpha)
	prior := NormalGamma{
		Kappa: priorKappa, Alpha: priorAlpha,
		Beta: scale * scale * priorAlpha * priorKappa / (priorKappa + 1),
	}
	return Learned{Said: said, N: len(ys), Belief: prior.After(ys)}, nil
}

// QuantileSec returns quantile p (0 to 1) of the next job's duration, seconds.
func (l Learned) QuantileSec(p float64) float64 {
	return l.Said.LikelySec * math.Exp(l.Belief.NextQuantile(p))
}

// TwoPoint returns the corrected likely time and bad case.
func (l Learned) TwoPoint() TwoPoint {
	return TwoPoint{LikelySec: l.QuantileSec(0.5), BadSec: l.QuantileSec(0.9)}
}
