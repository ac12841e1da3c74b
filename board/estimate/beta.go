package estimate

import "math"

// BetaCDF returns the regularised incomplete beta function I_x(a, b): the chance
// that a Beta(a, b) variable, a and b > 0, is at most x. 0 below x = 0, 1 above
// x = 1, NaN for other a, b.
// Source: NIST Digital Library of Mathematical Functions, 8.17.22, a
// continued fraction, by the modified Lentz method.
func BetaCDF(x, a, b float64) float64 {
	switch {
	case !(a > 0 && b > 0) || math.IsNaN(x):
		return math.NaN()
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	return betaCDF(x, 1-x, a, b)
}

// BetaQuantile returns x with I_x(a, b) = p, a and b > 0. 0 at p ≤ 0 and 1 at
// p ≥ 1; NaN for other a, b. A small x keeps its relative accuracy.
func BetaQuantile(p, a, b float64) float64 {
	switch {
	case !(a > 0 && b > 0) || math.IsNaN(p):
		return math.NaN()
	case p <= 0:
		return 0
	case p >= 1:
		return 1
	case p > 0.5:
		_, above := betaRoot(1-p, b, a)
		return above
	}
	x, _ := betaRoot(p, a, b)
	return x
}

// betaRoot solves I_x(a, b) = p for p ≤ 0.5 and returns x and 1 − x. It runs
// Newton's method on ln I over u = ln(x/(1−x)), where ln I is nearly straight in
// the tail, and halves the bracket when a step leaves it.
func betaRoot(p, a, b float64) (x, above float64) {
	lo, hi, u := -745.0, 745.0, math.Log(a/b)
	logP, logBeta := math.Log(p), lnBeta(a, b)
	for range 200 {
		x, above = 1/(1+math.Exp(-u)), 1/(1+math.Exp(u))
		i := betaCDF(x, above, a, b)
		if i < p {
			lo = u
		} else {
			hi = u
		}
		slope := math.Exp(a*math.Log(x)+b*math.Log(above)-logBeta) / i
		next := u - (math.Log(i)-logP)/slope
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-u) <= 1e-15*math.Max(1, math.Abs(u)) {
			break
		}
		u = next
	}
	return x, above
}

// betaCDF is I_x(a, b) with above = 1 − x given apart, so that neither end loses
// digits.
func betaCDF(x, above, a, b float64) float64 {
	front := math.Exp(a*math.Log(x) + b*math.Log(above) - lnBeta(a, b))
	if x < (a+1)/(a+b+2) {
		return front * betaFraction(x, a, b) / a
	}
	return 1 - front*betaFraction(above, b, a)/b
}

func lnBeta(a, b float64) float64 {
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	return la + lb - lab
}

func betaFraction(x, a, b float64) float64 {
	const tiny, enough = 1e-300, 1e-16
	keep := func(v float64) float64 {
		if math.Abs(v) < tiny {
			return tiny
		}
		return v
	}
	c, d := 1.0, 1/keep(1-(a+b)*x/(a+1))
	f := d
	for m := 1.0; m < 10000; m++ {
		even := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		d, c = 1/keep(1+even*d), keep(1+even/c)
		f *= d * c
		odd := -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		d, c = 1/keep(1+odd*d), keep(1+odd/c)
		f *= d * c
		if math.Abs(d*c-1) <= enough {
			break
		}
	}
	return f
}
