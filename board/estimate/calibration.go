package estimate

import (
	"fmt"
	"math"
)

// Said is one chance that was shown, 0 to 1, and whether the thing came true.
// Take it once per call, at a fixed lead, not at every update.
type Said struct {
	Chance float64
	Met    bool
}

// Calibration says how good a series of chances was.
type Calibration struct {
	Brier         float64 // mean squared error, 0 best: Reliability − Resolution + Uncertainty
	Reliability   float64 // how far each chance is from what happened at that chance, 0 best
	Resolution    float64 // how much the chances tell cases apart
	Uncertainty   float64 // of the cases themselves
	Skill         float64 // 1 − Brier/Uncertainty; NaN if all cases went the same way
	LogScore      float64 // mean −ln of the chance given to what happened; +Inf after a certain miss
	Spiegelhalter float64 // z; beyond ±1.96 the chances are off. NaN if all were 0 or 1
}

// Calibrate scores a series of chances, at least one, each 0 to 1. Equal chances
// form one group of the decomposition. Sources: Brier 1950 in today's one-class
// form; Murphy 1973; Spiegelhalter 1986.
func Calibrate(series []Said) (Calibration, error) {
	if len(series) == 0 {
		return Calibration{}, fmt.Errorf("no chances: give at least one")
	}
	n := float64(len(series))
	var c Calibration
	var met, off, spread float64
	for i, s := range series {
		if !(s.Chance >= 0 && s.Chance <= 1) {
			return Calibration{}, fmt.Errorf("chance %d is %g: give 0 to 1", i+1, s.Chance)
		}
		o, p := outcome(s), s.Chance
		met += o / n
		c.Brier += (p - o) * (p - o) / n
		c.LogScore -= math.Log(1-math.Abs(p-o)) / n
		off += (o - p) * (1 - 2*p)
		spread += (1 - 2*p) * (1 - 2*p) * p * (1 - p)
	}
	c.Reliability, c.Resolution = murphy(series, met)
	c.Uncertainty = met * (1 - met)
	c.Skill = 1 - c.Brier/c.Uncertainty
	if c.Uncertainty == 0 {
		c.Skill = math.NaN()
	}
	c.Spiegelhalter = off / math.Sqrt(spread)
	return c, nil
}

func murphy(series []Said, met float64) (reliability, resolution float64) {
	type group struct{ n, met float64 }
	groups := map[float64]group{}
	var order []float64 // sums in a fixed order give the same bytes each time
	for _, s := range series {
		g, seen := groups[s.Chance]
		if !seen {
			order = append(order, s.Chance)
		}
		groups[s.Chance] = group{g.n + 1, g.met + outcome(s)}
	}
	for _, p := range order {
		g := groups[p]
		rate := g.met / g.n
		reliability += g.n * (p - rate) * (p - rate) / float64(len(series))
		resolution += g.n * (rate - met) * (rate - met) / float64(len(series))
	}
	return reliability, resolution
}

func outcome(s Said) float64 {
	if s.Met {
		return 1
	}
	return 0
}

// ChanceAtMost returns the chance that at most met of n cases come true if each
// does so with the given chance (binomial): is "4 of 6 at 80 %" evidence of
// anything? 1 for met ≥ n, 0 for met < 0.
func ChanceAtMost(met, n int, chance float64) float64 {
	switch {
	case met < 0:
		return 0
	case met >= n:
		return 1
	}
	return BetaCDF(1-chance, float64(n-met), float64(met+1))
}
