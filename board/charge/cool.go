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

// CoolTauSec returns the time constant from two readings gapSec apart, °C, in air
// at ambientC: Δ/ln[(T₁−T_a)/(T₂−T_a)]. It is an error unless T₁ > T₂ > ambientC and
// gapSec is above 0.
func CoolTauSec(firstC, secondC, ambientC, gapSec float64) (float64, error) {
	if !(firstC > secondC && secondC > ambientC && gapSec > 0) {
		return 0, ReadAgain(fmt.Sprintf("%g and then %g °C in air of %g °C: it must fall towards the air", firstC, secondC, ambientC))
	}
	return gapSec / math.Log((firstC-ambientC)/(secondC-ambientC)), nil
}

// CoolThree returns time constant and air temperature from three readings gapSec
// apart: r = (T₂−T₃)/(T₁−T₂), τ = Δ/ln(1/r), T_a = (T₁T₃ − T₂²)/(T₁ + T₃ − 2T₂). It
// is an error unless 0 < r < 1. Small errors of reading move T_a far: measure the
// air instead, or trust this only for gaps of half a time constant and more.
func CoolThree(firstC, secondC, thirdC, gapSec float64) (tauSec, ambientC float64, err error) {
	r := (secondC - thirdC) / (firstC - secondC)
	if !(r > 0 && r < 1) || !(firstC > secondC) || !(gapSec > 0) {
		return 0, 0, ReadAgain(fmt.Sprintf("%g, %g, %g °C do not fall ever more slowly: take another reading", firstC, secondC, thirdC))
	}
	return gapSec / math.Log(1/r), (firstC*thirdC - secondC*secondC) / (firstC + thirdC - 2*secondC), nil
}

// ReadAgain is the error of readings that allow no answer. Its text says why.
type ReadAgain string

func (e ReadAgain) Error() string { return string(e) }

// AirTooWarm is the error of a pack that will not get cool where it is.
type AirTooWarm struct{ AmbientC, TargetC float64 }

func (e AirTooWarm) Error() string {
	return fmt.Sprintf("the air is %.0f °C: a pack will not get to %.0f °C here", e.AmbientC, e.TargetC)
}

// Warmth is what a temperature allows.
type Warmth string

// The grades of warmth. Limits: no charge above 45 or below 5 °C, ready at 35 °C,
// are our decision within a generic guide's 0 to 45 °C; above 60 °C is suspect, a
// university club's handling page.
const (
	TooCold     Warmth = "too-cold"
	ReadyWarm   Warmth = "ready"
	StillWarm   Warmth = "still-warm" // to be waited for: 35 to 45 °C
	TooHot      Warmth = "too-hot"
	SuspectWarm Warmth = "suspect"
)

// The limits in °C.
const (
	ColdestChargeC = 5.0
	ReadyC         = 35.0
	HottestChargeC = 45.0
	SuspectAboveC  = 60.0
)

// WarmthOf returns what a reading of tempC °C allows. No limit is ever moved
// because the clock is short. What is no number is TooHot.
func WarmthOf(tempC float64) Warmth {
	switch {
	case tempC > SuspectAboveC:
		return SuspectWarm
	case tempC < ColdestChargeC:
		return TooCold
	case tempC <= ReadyC:
		return ReadyWarm
	case tempC <= HottestChargeC:
		return StillWarm
	}
	return TooHot
}

// LumpedTauSec returns the time constant of a body of massKg kilograms with
// areaM2 square metres in the air, in seconds: τ = m c/(h A). heatJPerKgK of 1000 is
// near two published cells (913 and 999, About:Energy's parameter sets); filmWPerM2K
// is about 10 in still air and 20 under a light fan (from memory). A prior only:
// readings replace it.
func LumpedTauSec(massKg, areaM2, heatJPerKgK, filmWPerM2K float64) float64 {
	return massKg * heatJPerKgK / (filmWPerM2K * areaM2)
}

// FightHeat returns the joules set free in a pack of the given resistance by amps
// (root mean square) in sec seconds, and the rise of temperature in K of massKg of it
// if none escapes, at 1000 J/(kg K).
func FightHeat(amps, packMilliOhm, sec, massKg float64) (joules, riseK float64) {
	joules = amps * amps * packMilliOhm / 1000 * sec
	return joules, joules / (massKg * 1000)
}
