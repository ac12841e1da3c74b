package charge

import (
	"fmt"
	"math"
)

// CoolC returns the temperature in °C, sec seconds after startC, of a pack in air
// at ambientC, all °C, with time constant tauSec above 0 (Newton's law of cooling,
// a textbook result).
func CoolC(startC, ambientC, tauSec, sec float64) float64 {
	return ambientC + (startC-ambientC)*math.Exp(-sec/tauSec)
}

// CoolSec returns the time in seconds for a pack to fall from fromC to toC in air
// at ambientC, all °C, with time constant tauSec above 0. 0 where fromC ≤ toC; else
// +Inf where toC ≤ ambientC: it will not get there here.
func CoolSec(fromC, toC, ambientC, tauSec float64) float64 {
	if fromC <= toC {
		return 0
	}
	if toC <= ambientC {
		return math.Inf(1)
	}
	return tauSec * math.Log((fromC-ambientC)/(toC-ambientC))
}

// ReadAgain is the error of readings that allow no answer. Its text says why.
type ReadAgain string

func (e ReadAgain) Error() string { return string(e) }

// AirTooWarm is the error of a pack that will not get cool where it is.
type AirTooWarm struct{ AmbientC, TargetC float64 }

func (e AirTooWarm) Error() string {
	return fmt.Sprintf("the air is %.0f °C: a pack will not get to %.0f °C here", e.AmbientC, e.TargetC)
}

// ReadyC is at what temperature in °C a pack is cool: our decision, within the 45 °C
// above which none is charged.
const ReadyC = 35.0
