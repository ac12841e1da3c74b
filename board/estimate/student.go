package estimate

import "math"

// StudentQuantile returns t such that a Student-t variable with df > 0 degrees of
// freedom is at most t with chance p. −Inf at p ≤ 0, +Inf at p ≥ 1, NaN for other df.
// Source: NIST Digital Library of Mathematical Functions, 8.17, with x = df/(df + t²).
func StudentQuantile(p, df float64) float64 {
	switch {
	case math.IsNaN(p) || !(df > 0):
		return math.NaN()
	case p > 0.5:
		return -StudentQuantile(1-p, df)
	case p <= 0:
		return math.Inf(-1)
	case p > 0.25:
		y := BetaQuantile(1-2*p, 0.5, df/2)
		return -math.Sqrt(df * y / (1 - y))
	}
	x := BetaQuantile(2*p, df/2, 0.5)
	return -math.Sqrt(df * (1 - x) / x)
}
