package estimate

import (
	"fmt"
	"math"
)

// Kind is the record of one kind of job: N jobs with mean and standard deviation
// of ln(actual/likely).
type Kind struct {
	N        int
	Mean, SD float64
}

// Kinds is what several kinds of job say together.
type Kinds struct {
	Q      float64   // heterogeneity; near its degrees of freedom if all kinds are alike
	Tau2   float64   // variance between kinds, ≥ 0
	Centre float64   // mean over kinds
	Shrunk []float64 // each kind's mean drawn towards Centre, in the order given
}

// AcrossKinds shrinks the means of several kinds towards each other, more so the
// fewer jobs a kind has (DerSimonian and Laird's moment estimate of the variance
// between kinds, then empirical Bayes). It needs two kinds, each with at least
// one job and a spread above 0.
func AcrossKinds(kinds []Kind) (Kinds, error) {
	if len(kinds) < 2 {
		return Kinds{}, fmt.Errorf("%d kinds: at least 2 are needed to compare", len(kinds))
	}
	weights := make([]float64, len(kinds))
	var sum, sumSq float64
	for i, k := range kinds {
		if k.N < 1 || !(k.SD > 0) || math.IsInf(k.SD, 1) {
			return Kinds{}, fmt.Errorf("kind %d: %d jobs with spread %g: give at least 1 job and a spread above 0", i+1, k.N, k.SD)
		}
		weights[i] = float64(k.N) / (k.SD * k.SD)
		sum += weights[i]
		sumSq += weights[i] * weights[i]
	}
	var out Kinds
	common := weightedMean(kinds, weights)
	for i, k := range kinds {
		out.Q += weights[i] * (k.Mean - common) * (k.Mean - common)
	}
	out.Tau2 = math.Max(0, (out.Q-float64(len(kinds)-1))/(sum-sumSq/sum))
	out.Centre, out.Shrunk = shrinkTo(out.Tau2, kinds, weights)
	return out, nil
}

func shrinkTo(tau2 float64, kinds []Kind, weights []float64) (centre float64, shrunk []float64) {
	wide := make([]float64, len(kinds))
	for i, w := range weights {
		wide[i] = 1 / (1/w + tau2)
	}
	centre = weightedMean(kinds, wide)
	for i, k := range kinds {
		shrunk = append(shrunk, centre+(k.Mean-centre)*tau2*wide[i])
	}
	return centre, shrunk
}

func weightedMean(kinds []Kind, weights []float64) float64 {
	var sum, of float64
	for i, k := range kinds {
		sum += weights[i] * k.Mean
		of += weights[i]
	}
	return sum / of
}
