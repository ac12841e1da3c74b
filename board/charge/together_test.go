package charge

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func togetherOf(t testing.TB, seats []Seat, s Supply) []Run {
	t.Helper()
	runs, err := TogetherTraced(seats, s)
	require.NoError(t, err)
	require.NoError(t, CheckTogether(seats, s, runs))
	return runs
}

func minutesOf(runs []Run) []float64 {
	var all []float64
	for _, r := range runs {
		all = append(all, r.EndSec/60)
	}
	return all
}

// Four packs W6 at 30 % on two chargers of 1000 W with channels of 500 W, to C/20, in
// minutes to 0.2. Computed independently.
func TestFourPacksShareACircuit(t *testing.T) {
	for _, c := range []struct {
		name        string
		volts, amps float64
		sharing     Sharing
		minutes     [4]float64
	}{
		{"15 A at 120 V, fair share", 120, 15, FairShare, [4]float64{53.1, 53.1, 53.1, 53.1}},
		{"15 A at 120 V, in order", 120, 15, InOrder, [4]float64{44.4, 44.4, 44.4, 72.9}},
		{"10 A at 230 V, fair share", 230, 10, FairShare, [4]float64{44.4, 44.4, 44.4, 44.4}},
		{"10 A at 230 V, in order", 230, 10, InOrder, [4]float64{44.4, 44.4, 44.4, 44.4}},
	} {
		t.Run(c.name, func(t *testing.T) {
			watts, err := Mains{Volts: c.volts, Amps: c.amps, Share: 0.8, PowerFactor: 0.98, Efficiency: 0.88}.OutputWatts()
			require.NoError(t, err)
			j := workedJob(t, "W6")
			j.Watts = 500
			seats := []Seat{{Job: j, Charger: 0}, {Job: j, Charger: 0}, {Job: j, Charger: 1}, {Job: j, Charger: 1}}
			runs := togetherOf(t, seats, Supply{Watts: watts, ChargerWatts: []float64{1000, 1000}, Sharing: c.sharing})
			require.InDeltaSlice(t, c.minutes[:], minutesOf(runs), 0.2)
		})
	}
}

// Two packs W6 at 30 and 60 %, 16 A asked, channels of 700 W, a charger of 1000 W: in
// minutes to 0.2. Computed independently.
func TestTwoPacksShareACharger(t *testing.T) {
	a := workedJob(t, "W6")
	a.Amps, a.Watts = 16, 700
	b := a
	b.From = 0.60
	half := func(j Job) Job { j.Watts = 500; return j }
	for _, c := range []struct {
		name    string
		jobs    [2]Job // in the order in which they are given power
		sharing Sharing
		minutes [2]float64
	}{
		{"fair share", [2]Job{a, b}, FairShare, [2]float64{31.0, 21.3}},
		{"the emptier first", [2]Job{a, b}, InOrder, [2]float64{26.0, 29.0}},
		{"the fuller first", [2]Job{b, a}, InOrder, [2]float64{16.5, 33.1}},
		{"halves that are fixed", [2]Job{half(a), half(b)}, FairShare, [2]float64{34.5, 21.3}},
	} {
		t.Run(c.name, func(t *testing.T) {
			seats := []Seat{{Job: c.jobs[0]}, {Job: c.jobs[1]}}
			runs := togetherOf(t, seats, Supply{ChargerWatts: []float64{1000}, Sharing: c.sharing})
			require.InDeltaSlice(t, c.minutes[:], minutesOf(runs), 0.2)
		})
	}
}

// W3 to C/20 with steps of 0.25, 1, 5, 10, 30 s took 23.7, 23.7, 23.8, 23.8, 24.0 min,
// computed independently by a plain midpoint rule that ends at a step. These steps
// end at the curve's points and at the end itself, and stay at 23.7.
func TestTheLengthOfTheStepHardlyMatters(t *testing.T) {
	seats := []Seat{{Job: workedJob(t, "W3"), Charger: -1}}
	for _, c := range []struct{ stepSec, says float64 }{{0.25, 23.7}, {1, 23.7}, {5, 23.8}, {10, 23.8}, {30, 24.0}} {
		runs, err := together(seats, Supply{Sharing: FairShare}, c.stepSec, false)
		require.NoError(t, err)
		require.InDelta(t, 23.7, runs[0].TotalSec()/60, 0.06, "%g s", c.stepSec)
		require.InDelta(t, c.says, runs[0].TotalSec()/60, 0.35, "%g s", c.stepSec)
	}
}

// The plain midpoint rule itself, in equal steps to the first one at the end current,
// gives these minutes, to the tenth.
func TestThePlainMidpointRuleDriftsWithItsStep(t *testing.T) {
	j := workedJob(t, "W3")
	for _, c := range []struct{ stepSec, says float64 }{{0.25, 23.7}, {1, 23.7}, {5, 23.8}, {10, 23.8}, {30, 24.0}} {
		amps := func(z float64) float64 { return min(j.Amps, (j.LimitVolts-j.Curve.Volts(z))/0.020) }
		z, sec := j.From, 0.0
		for amps(z) > j.EndAmps {
			half := z + amps(z)*c.stepSec/2/(3600*j.CapacityAh)
			z += amps(half) * c.stepSec / (3600 * j.CapacityAh)
			sec += c.stepSec
		}
		require.InDelta(t, c.says, sec/60, 0.0501, "%g s", c.stepSec)
		require.InDelta(t, chargeOf(t, j).TotalSec(), sec, 1+c.stepSec, "the closed forms lie within a step of it")
	}
}

// 10 A into 30 mΩ and a pair of 10 mΩ and 20 s: 0.33935 V after 10 s, computed
// independently.
func TestAPulseMovesTheTerminalsByResistorAndPair(t *testing.T) {
	pairs := []Pair{{MilliOhm: 10, TauSec: 20}}
	require.InDelta(t, 0.33935, StepVolts(10, 30, pairs, 10), 5e-6)
	require.InDelta(t, 0.30, StepVolts(10, 30, nil, 10), 1e-12)
	require.InDelta(t, 0.40, StepVolts(10, 30, pairs, 1e6), 1e-12)
}

// The Modelica Standard Library's Batteries.Examples.CCCVcharging: 5 Ah, 4.2 V,
// R = 4.2/1200 Ω, from 10 % at 5C; its text gives about 0.9·3600/5 = 648 s. With its
// table and R alone, and with its pairs (0.2 R with 60 s, 0.1 R with 10 s, the rest
// ohmic): computed independently, to 1 s.
func TestTheLibraryExample(t *testing.T) {
	ohm := 4.2 / 1200 * 1000
	j := Job{
		Cells: 1, CapacityAh: 5, MilliOhm: ohm, Curve: curveFile(t, "ocv_modelica_example.csv", "volts"),
		LimitVolts: 4.2, Amps: 25, From: 0.10, To: 1,
	}
	pairs := j
	pairs.MilliOhm = 0.7 * ohm
	pairs.Pairs = []Pair{{0.2 * ohm, 60}, {0.1 * ohm, 10}}
	for _, c := range []struct{ endAmps, resistor, withPairs float64 }{{0.5, 757.2, 802.0}, {0.25, 783.2, 851.3}} {
		j.EndAmps, pairs.EndAmps = c.endAmps, c.endAmps
		r := chargeOf(t, j)
		require.InDelta(t, 610.1, r.CCSec, 0.1)
		require.InDelta(t, 0.9474, r.SoCAtCV, 0.0001)
		require.InDelta(t, c.resistor, r.TotalSec(), 0.1)
		require.InDelta(t, 648, r.CCSec, 0.07*648, "the library's own estimate leaves the taper out")
		runs := togetherOf(t, []Seat{{Job: pairs, Charger: -1}}, Supply{Sharing: FairShare})
		require.InDelta(t, c.withPairs, runs[0].TotalSec(), 1)
	}
}

func TestNothingIsGivenBeforeItsStartOrAboveTheBudget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seats, s := anySupply(t)
		runs, err := TogetherTraced(seats, s)
		if err != nil {
			require.ErrorContains(t, err, "after 100 hours")
			return
		}
		require.NoError(t, CheckTogether(seats, s, runs))
	})
}

// Alone on the same channel it would have been quicker, or as quick.
func TestNoneIsQuickerForHavingToShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seats, s := anySupply(t)
		runs, err := Together(seats, s)
		if err != nil {
			t.Skip("it never ends")
		}
		for k, seat := range seats {
			alone, err := seat.Charge()
			require.NoError(t, err)
			require.GreaterOrEqual(t, runs[k].EndSec-seat.StartSec, alone.TotalSec()*0.997-6)
		}
	})
}

func anySupply(t *rapid.T) ([]Seat, Supply) {
	s := Supply{Watts: rapid.Float64Range(200, 2000).Draw(t, "supply"), ChargerWatts: []float64{300, 0}}
	s.Sharing = rapid.SampledFrom([]Sharing{FairShare, InOrder}).Draw(t, "sharing")
	var seats []Seat
	for k := range rapid.IntRange(1, 4).Draw(t, "charges") {
		j := Job{
			Cells: rapid.IntRange(2, 12).Draw(t, "cells"), CapacityAh: rapid.Float64Range(0.5, 6).Draw(t, "ah"),
			Curve: Line(3.2, 1.0), LimitVolts: 4.2, From: rapid.Float64Range(0, 0.9).Draw(t, "from"), To: 1,
		}
		j.Amps = j.CapacityAh * rapid.Float64Range(0.5, 2).Draw(t, "rate")
		j.EndAmps, j.MilliOhm = j.CapacityAh/20, 30/j.CapacityAh
		seats = append(seats, Seat{Job: j, Charger: k%3 - 1, StartSec: rapid.Float64Range(0, 3000).Draw(t, "start")})
	}
	return seats, s
}

func TestSharesAreMaxMin(t *testing.T) {
	for _, c := range []struct {
		name   string
		supply Supply
		wants  []want
		got    []float64
	}{
		{"enough for all", Supply{Watts: 100}, []want{{30, -1}, {40, -1}}, []float64{30, 40}},
		{"equal parts", Supply{Watts: 90}, []want{{80, -1}, {80, -1}, {80, -1}}, []float64{30, 30, 30}},
		{"what one leaves goes to the others", Supply{Watts: 90}, []want{{10, -1}, {80, -1}, {80, -1}}, []float64{10, 40, 40}},
		{"a charger that is used up", Supply{Watts: 100, ChargerWatts: []float64{20}}, []want{{50, 0}, {50, 0}, {90, -1}}, []float64{10, 10, 80}},
		{"in order", Supply{Watts: 90, Sharing: InOrder}, []want{{60, -1}, {60, -1}}, []float64{60, 30}},
		{"in order within a charger", Supply{ChargerWatts: []float64{50}, Sharing: InOrder}, []want{{40, 0}, {40, 0}, {40, -1}}, []float64{40, 10, 40}},
	} {
		got := make([]float64, len(c.wants))
		c.supply.divide(c.wants, got)
		require.InDeltaSlice(t, c.got, got, 1e-6, c.name)
	}
}

func TestSuppliesThatCannotBeAreRefused(t *testing.T) {
	good := []Seat{{Job: workedJob(t, "W2"), Charger: -1}}
	with := func(spoil func(*Seat)) []Seat {
		s := good[0]
		spoil(&s)
		return []Seat{s}
	}
	for says, c := range map[string]struct {
		seats []Seat
		s     Supply
	}{
		"name fair-share or":    {good, Supply{}},
		"supply of -1 W":        {good, Supply{Watts: -1, Sharing: FairShare}},
		"charger 0 of NaN W":    {good, Supply{ChargerWatts: []float64{math.NaN()}, Sharing: FairShare}},
		"there is no charger 2": {with(func(s *Seat) { s.Charger = 2 }), Supply{Sharing: FairShare}},
		"starts after -1 s":     {with(func(s *Seat) { s.StartSec = -1 }), Supply{Sharing: FairShare}},
		"charge 0: Amps":        {with(func(s *Seat) { s.Amps = 0 }), Supply{Sharing: FairShare}},
		"at most 200":           {make([]Seat, 201), Supply{Sharing: FairShare}},
		"more power":            {[]Seat{good[0], good[0]}, Supply{Watts: 0.1, Sharing: InOrder}},
	} {
		_, err := Together(c.seats, c.s)
		require.ErrorContains(t, err, says)
	}
}

func TestACheckOfManySeesABrokenBudget(t *testing.T) {
	seats := []Seat{{Job: workedJob(t, "W2")}, {Job: workedJob(t, "W2")}}
	s := Supply{Watts: 40, ChargerWatts: []float64{35}, Sharing: FairShare}
	runs := togetherOf(t, seats, s)
	for says, tighter := range map[string]Supply{
		"the supply gives": {Watts: 30, ChargerWatts: []float64{35}},
		"charger 0 gives":  {Watts: 40, ChargerWatts: []float64{30}},
	} {
		require.ErrorContains(t, CheckTogether(seats, tighter, runs), says)
	}
	require.ErrorContains(t, CheckTogether(seats, s, runs[:1]), "1 runs for 2 charges")
	late := append([]Seat(nil), seats...)
	late[1].StartSec = 60
	require.ErrorContains(t, CheckTogether(late, s, runs), "before its start")
}

func ExampleTogether() {
	curve, _ := CurveOf(LiPo)
	j := Job{Cells: 4, CapacityAh: 1.3, MilliOhm: 20, Curve: curve, LimitVolts: 4.20, Amps: 2.6, EndAmps: 0.065, From: 0.30, To: 1}
	runs, _ := Together([]Seat{{Job: j, Charger: -1}, {Job: j, Charger: -1}}, Supply{Watts: 50, Sharing: FairShare})
	fmt.Printf("%.0f and %.0f min\n", runs[0].EndSec/60, runs[1].EndSec/60)
	// Output: 36 and 36 min
}
