package estimate

import "math"

// NormalCDF returns Φ(z), the chance that a standard normal variable is at most
// z. The lower tail keeps its relative accuracy down to the smallest floats.
func NormalCDF(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// NormalQuantile returns z with Φ(z) = p, good to 1e-12 relative to max(1, |z|).
// It is −Inf at p ≤ 0, +Inf at p ≥ 1 and NaN for NaN. A small upper tail t is
// best asked for as −NormalQuantile(t).
// Source: Abramowitz, Stegun, Handbook of Mathematical Functions, 1964, 26.2.23 (error
// below 4.5e-4), sharpened by two steps of Halley's method.
func NormalQuantile(p float64) float64 {
	switch {
	case math.IsNaN(p):
		return p
	case p <= 0:
		return math.Inf(-1)
	case p >= 1:
		return math.Inf(1)
	case p > 0.5:
		return -NormalQuantile(1 - p)
	}
	t := math.Sqrt(-2 * math.Log(p))
	z := (2.515517+t*(0.802853+t*0.010328))/(1+t*(1.432788+t*(0.189269+t*0.001308))) - t
	for range 2 {
		u := (NormalCDF(z) - p) / normalDensity(z)
		z -= u / (1 + z*u/2)
	}
	return z
}

func normalDensity(z float64) float64 {
	return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
}
