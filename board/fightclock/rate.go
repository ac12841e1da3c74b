package fightclock

import (
	"fmt"
	"math"

	"mendline/board/estimate"
)

// Prior is what is believed of the pace before anything is seen.
type Prior struct {
	MeanSec     float64 // mean interval between starts without hold-ups, seconds, > 0
	Worth       float64 // how many seen intervals that belief counts as, 1 to 1e6
	Shape       float64 // gamma shape, 2 to 1000; spread of an interval is 1/√Shape
	HoldUpShare float64 // chance that an interval carries a hold-up, 0 (none) to below 1
	HoldUpSec   float64 // mean length of a hold-up, seconds, > 0 unless the share is 0
}

// DefaultPrior returns a mean interval worth 3 intervals, with shape 8 and a
// hold-up of mean 15 minutes in 8 of 100 intervals. All but the mean are guesses.
func DefaultPrior(meanSec float64) Prior {
	return Prior{MeanSec: meanSec, Worth: 3, Shape: 8, HoldUpShare: 0.08, HoldUpSec: 15 * 60}
}

func (p Prior) check() error {
	switch {
	case !(p.MeanSec > 0) || math.IsInf(p.MeanSec, 1):
		return fmt.Errorf("prior: mean interval %g s: give a time above 0", p.MeanSec)
	case !(p.Worth >= 1 && p.Worth <= 1e6):
		return fmt.Errorf("prior: worth %g intervals: give 1 to 1e6, 3 if unsure", p.Worth)
	case !(p.Shape >= 2 && p.Shape <= 1000):
		return fmt.Errorf("prior: shape %g: give 2 to 1000, 8 if unsure", p.Shape)
	case !(p.HoldUpShare >= 0 && p.HoldUpShare < 1):
		return fmt.Errorf("prior: hold-up share %g: give 0 to below 1", p.HoldUpShare)
	case p.HoldUpShare > 0 && (!(p.HoldUpSec > 0) || math.IsInf(p.HoldUpSec, 1)):
		return fmt.Errorf("prior: hold-up of %g s: give a time above 0", p.HoldUpSec)
	}
	return nil
}

// pace is the belief about an arena's intervals: λ ~ Gamma(a, rate b).
type pace struct {
	shape, a, b float64
	hold        holdUps
}

func (p Prior) pace() pace {
	return pace{
		shape: p.Shape,
		a:     1 + p.Shape*p.Worth,
		b:     p.MeanSec * p.Worth,
		hold:  holdUps{share: p.HoldUpShare, meanSec: p.HoldUpSec},
	}
}

// seen returns the pace after n more intervals of sumSec together; a negative n
// takes them back.
func (p pace) seen(n int, sumSec float64) pace {
	p.a += float64(n) * p.shape
	p.b += sumSec
	return p
}

// meanSec is the mean of k intervals without hold-ups.
func (p pace) meanSec(k int) float64 { return float64(k) * p.shape * p.b / (p.a - 1) }

// beyond returns the chance that k intervals without hold-ups last longer than
// sec.
func (p pace) beyond(k int, sec float64) float64 {
	return estimate.BetaCDF(p.b/(p.b+math.Max(sec, 0)), p.a, float64(k)*p.shape)
}

// within returns the chance that they last at most sec.
func (p pace) within(k int, sec float64) float64 {
	return estimate.BetaCDF(sec/(p.b+sec), float64(k)*p.shape, p.a)
}

// upperSec returns the time that k intervals without hold-ups exceed with chance
// tail.
func (p pace) upperSec(k int, tail float64) float64 {
	rest := estimate.BetaQuantile(tail, p.a, float64(k)*p.shape) // 1 − B
	return p.b * (1 - rest) / rest
}

// logDensity is the logarithm of the density of k intervals without hold-ups at
// sec > 0.
func (p pace) logDensity(k int, sec float64) float64 {
	ka := float64(k) * p.shape
	la, _ := math.Lgamma(p.a)
	lk, _ := math.Lgamma(ka)
	lak, _ := math.Lgamma(p.a + ka)
	return lak - la - lk + p.a*math.Log(p.b) + (ka-1)*math.Log(sec) - (p.a+ka)*math.Log(p.b+sec)
}
