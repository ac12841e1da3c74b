package estimate

import "fmt"

// Said is one chance that was shown, 0 to 1, and whether the thing came true.
// Take it once per call, at a fixed lead, not at every update.
type Said struct {
	Chance float64
	Met    bool
}

// Calibration says how good a series of chances was.
type Calibration struct {
	Brier  float64 // mean squared error, 0 best
	Always float64 // what the same chance for all would have got: met · (1 − met)
}

// Calibrate scores a series of chances, at least one, each 0 to 1. Source: Brier,
// Monthly Weather Review 78, 1950, 1–3, in today's form of one class.
func Calibrate(series []Said) (Calibration, error) {
	if len(series) == 0 {
		return Calibration{}, fmt.Errorf("no chances: give at least one")
	}
	var brier, met float64
	for i, s := range series {
		if !(s.Chance >= 0 && s.Chance <= 1) {
			return Calibration{}, fmt.Errorf("chance %d is %g: give 0 to 1", i+1, s.Chance)
		}
		off := s.Chance
		if s.Met {
			met++
			off = 1 - s.Chance
		}
		brier += off * off
	}
	n := float64(len(series))
	return Calibration{Brier: brier / n, Always: met / n * (1 - met/n)}, nil
}
