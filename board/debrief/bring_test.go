package debrief_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board/debrief"
)

// Constructed by us, computed independently.
func TestHitsThatTakeSeveralAreMoreOftenShortThanPoissonSays(t *testing.T) {
	d := CompoundDemand(1.8, []float64{.7, .3})
	for n, want := range []float64{.1653, .3736, .5941, .7616, .8739, .9384, .9722} {
		require.InDelta(t, want, d.AtMost(n), 5e-5, n)
	}
	require.InDelta(t, .9115, PoissonDemand(2.34).AtMost(4), 5e-5)
	mean := 0.0
	for n, p := range d {
		mean += float64(n) * p
	}
	require.InDelta(t, 2.34, mean, 1e-9)
}

// Sherbrooke's two items, pipelines 1 and 4, costs 5 and 1 (Sherbrooke, Optimal
// Inventory Modeling of Systems; from memory; computed independently with Python's math).
func TestExpectedShortagesAreThoseOfTheTwoItems(t *testing.T) {
	one, four := PoissonDemand(1), PoissonDemand(4)
	for n, want := range []float64{1, .368, .104, .023} {
		require.InDelta(t, want, one.Short(n), 6e-4, n)
	}
	for n, want := range []float64{4, 3.018, 2.110, 1.348, .781, .410, .195} {
		require.InDelta(t, want, four.Short(n), 6e-4, n)
	}
}

// sixFightBox is six kinds of spare over six fights, constructed by us.
func sixFightBox() []Spare {
	var all []Spare
	for _, s := range []struct {
		name string
		rate float64
		g    int
	}{{"wheel", .3, 150}, {"belt", .4, 50}, {"blade", .25, 1200}, {"controller", .1, 80}, {"motor", .08, 350}, {"rail", .05, 900}} {
		all = append(all, Spare{Name: s.name, Demand: PoissonDemand(6 * s.rate), Miss: 1, Grams: s.g})
	}
	return all
}

// Computed independently.
func TestTheBestListBeatsTheGreedyOneWhereTheBudgetCutsBetweenItsSteps(t *testing.T) {
	spares := sixFightBox()
	for _, c := range []struct {
		grams         int
		greedy, exact float64
		counts        []int
	}{
		{2000, .1591, .1930, []int{3, 5, 1, 1, 0, 0}},
		{3000, .3732, .3795, []int{4, 6, 1, 2, 2, 0}},
		{4000, .5265, .5265, []int{4, 8, 2, 3, 1, 0}},
	} {
		greedy, order := Greedy(spares, Budget{Grams: c.grams})
		require.InDelta(t, c.greedy, greedy.Chance, 5e-5, c.grams)
		exact, err := Exact(spares, Budget{Grams: c.grams})
		require.NoError(t, err)
		require.InDelta(t, c.exact, exact.Chance, 5e-5, c.grams)
		require.Equal(t, c.counts, exact.Counts)
		require.LessOrEqual(t, exact.Grams, c.grams)
		var first []string
		for _, b := range order[:7] {
			first = append(first, spares[b.Spare].Name)
		}
		require.Equal(t, []string{"belt", "belt", "wheel", "belt", "controller", "wheel", "belt"}, first)
	}
	nothing, err := Exact(spares, Budget{Grams: 1})
	require.NoError(t, err)
	require.InDelta(t, .00084, nothing.Chance, 5e-6)
	bought, err := LastKilogram(spares, Budget{Grams: 4000})
	require.NoError(t, err)
	require.InDelta(t, .5265-.3795, bought, 1e-4)
}

func TestMoneyAndMassLimitTheListTogether(t *testing.T) {
	spares := sixFightBox()
	for i := range spares {
		spares[i].Cents = 1000
	}
	spares[0].Have = 2
	b := Budget{Grams: 4000, Cents: 5000}
	list, err := Exact(spares, b)
	require.NoError(t, err)
	require.LessOrEqual(t, list.Cents, b.Cents)
	greedy, _ := Greedy(spares, b)
	require.LessOrEqual(t, greedy.Cents, b.Cents)
	require.GreaterOrEqual(t, list.Chance, greedy.Chance)
	_, err = Exact(spares, Budget{})
	require.ErrorContains(t, err, "limit")
}

func TestASpareWhoseLackCostsNoCallIsNotBrought(t *testing.T) {
	spares := []Spare{{Name: "sticker", Demand: PoissonDemand(5), Grams: 1}}
	list, err := Exact(spares, Budget{Grams: 1000})
	require.NoError(t, err)
	require.Equal(t, []int{0}, list.Counts)
	require.InDelta(t, 1, list.Chance, 1e-9)
}

func TestTheLastBladeWaitsForTheFinalOnlyWhereTheOldOneIsStillWorthSomething(t *testing.T) {
	l := LastPiece{PerFight: .25, Between: 1, Now: 1, Final: 3, Old: 0}
	now, keep := l.Worth()
	require.Greater(t, now, keep)
	l.Old = .8
	now, keep = l.Worth()
	require.Greater(t, keep, now)
	// Poisson, mean 0.5: P(0) .60653, P(≤ 1) .90980; computed by hand.
	require.InDelta(t, 1+3*.60653, now, 1e-4)
	require.InDelta(t, .8+3*.90980, keep, 1e-4)
}
