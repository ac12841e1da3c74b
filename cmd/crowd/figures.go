package main

import (
	"math"
	"slices"
	"time"
)

// spread is where the values of a sample lie, in milliseconds. By nearest rank:
// a quantile is a value that occurred (R. J. Hyndman and Y. Fan, "Sample quantiles
// in statistical packages", The American Statistician 50, 1996, definition 1;
// from memory).
type spread struct {
	Count int     `json:"count"`
	P50   float64 `json:"p50Ms"`
	P95   float64 `json:"p95Ms"`
	P99   float64 `json:"p99Ms"`
	Max   float64 `json:"maxMs"`
}

func spreadOf(sample []time.Duration) spread {
	if len(sample) == 0 {
		return spread{}
	}
	sorted := slices.Sorted(slices.Values(sample))
	return spread{
		Count: len(sorted), P50: ms(quantile(sorted, 0.50)), P95: ms(quantile(sorted, 0.95)),
		P99: ms(quantile(sorted, 0.99)), Max: ms(sorted[len(sorted)-1]),
	}
}

// quantile is the least of the values, which ascend, that a share p of them, in
// (0, 1], does not exceed.
func quantile(sorted []time.Duration, p float64) time.Duration {
	const rounding = 1e-9 // 0.95·20 is a little more than 19 in binary
	rank := int(math.Ceil(p*float64(len(sorted)) - rounding))
	return sorted[max(rank, 1)-1]
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

// ratio is a sample's spread as a multiple of the floor's.
type ratio struct {
	P50 float64 `json:"p50"`
	P95 float64 `json:"p95"`
	P99 float64 `json:"p99"`
	Max float64 `json:"max"`
}

func (s spread) over(floor spread) ratio {
	return ratio{over(s.P50, floor.P50), over(s.P95, floor.P95), over(s.P99, floor.P99), over(s.Max, floor.Max)}
}

func over(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}
