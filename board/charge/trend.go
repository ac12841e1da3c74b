package charge

import (
	"fmt"
	"math"
)

// Trend is a straight line through figures of one method.
type Trend struct {
	// Slope per unit of x and its standard error, which is far too small where
	// neighbouring figures err together, as those of a battery do.
	Slope, SlopeSE float64
	Intercept      float64
	N              int
}

const leastTrend = 5

// TrendOf returns the ordinary least squares line through at least 5 points.
// It gives no date: of one measured cell the first 10, 20, 40 and 80 discharges
// foretell its end at 154, 217, 414 and 145 where it came at 125. It is an error
// if points are fewer, not finite, or all at one x.
func TrendOf(x, y []float64) (Trend, error) {
	if len(x) != len(y) || len(x) < leastTrend {
		return Trend{}, fmt.Errorf("%d readings: a trend takes at least %d", min(len(x), len(y)), leastTrend)
	}
	n := float64(len(x))
	mx, my := mean(x), mean(y)
	var sxx, sxy, syy float64
	for k := range x {
		dx, dy := x[k]-mx, y[k]-my
		sxx, sxy, syy = sxx+dx*dx, sxy+dx*dy, syy+dy*dy
	}
	if !(sxx > 0) || math.IsInf(sxx, 1) || math.IsNaN(sxy) || math.IsInf(sxy, 0) || math.IsInf(syy, 1) {
		return Trend{}, fmt.Errorf("readings all at one place, or no numbers: no trend")
	}
	slope := sxy / sxx
	rest := max(syy-slope*sxy, 0)
	return Trend{Slope: slope, SlopeSE: math.Sqrt(rest / (n - 2) / sxx), Intercept: my - slope*mx, N: len(x)}, nil
}

// At returns the line's value at x. Inside the readings it smooths; outside it is
// no forecast.
func (t Trend) At(x float64) float64 { return t.Intercept + t.Slope*x }

func mean(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}
