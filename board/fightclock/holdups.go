package fightclock

import "math"

// holdUps: with chance share an interval carries an exponential hold-up of mean
// meanSec.
type holdUps struct{ share, meanSec float64 }

// counts returns the chances of 0, 1, … n hold-ups in n intervals (binomial), cut
// off where they no longer matter.
func (h holdUps) counts(n int) []float64 {
	w := []float64{math.Pow(1-h.share, float64(n))}
	for j := 0; j < n; j++ {
		next := w[j] * float64(n-j) / float64(j+1) * h.share / (1 - h.share)
		if float64(j) > float64(n)*h.share && next < 1e-12 {
			break
		}
		w = append(w, next)
	}
	return w
}

// within returns the chance that hold-ups last at most sec together, with
// counts[j] the chance of j of them: j are done by then if a Poisson process of
// rate 1/mean has had j events.
func (h holdUps) within(counts []float64, sec float64) float64 {
	if sec < 0 {
		return 0
	}
	if h.share == 0 {
		return 1
	}
	mean := sec / h.meanSec
	var chance, upTo, events float64
	term := math.Exp(-mean)
	for i, w := range counts {
		upTo += w
		chance += upTo * term
		events += term
		term *= mean / float64(i+1)
	}
	// More events than there can be hold-ups leave every one of them done.
	return chance + upTo*math.Max(1-events, 0)
}

// density is that of the hold-ups' total at sec, leaving out the case of none.
func (h holdUps) density(counts []float64, sec float64) float64 {
	mean := sec / h.meanSec
	var d float64
	term := math.Exp(-mean) / h.meanSec
	for j, w := range counts[1:] {
		d += w * term
		term *= mean / float64(j+1)
	}
	return d
}

// reachSec returns a time that the total exceeds with chance below tail.
func (h holdUps) reachSec(counts []float64, tail float64) float64 {
	if h.share == 0 {
		return 0
	}
	sec := 0.0
	for h.within(counts, sec) < 1-tail {
		sec += h.meanSec
	}
	return sec
}
