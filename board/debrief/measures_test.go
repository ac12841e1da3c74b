package debrief_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board/debrief"
	"mendline/board/estimate"
)

// Five items a fight, constructed by us; worked by hand.
func TestByMinutesTheRailIsSecondThoughByCountItIsLast(t *testing.T) {
	var minutes, count []Share
	for _, i := range []struct {
		name       string
		rate, mins float64
	}{{"armour", .5, 8}, {"rail", .05, 60}, {"controller", .1, 20}, {"belt", .4, 4}, {"wheel", .3, 5}} {
		minutes = append(minutes, Share{Name: i.name, Amount: i.rate * i.mins})
		count = append(count, Share{Name: i.name, Amount: i.rate})
	}
	ranked := Pareto(minutes)
	for i, want := range []struct {
		name               string
		amount, cumulative float64
	}{{"armour", 4, .331}, {"rail", 3, .579}, {"controller", 2, .744}, {"belt", 1.6, .876}, {"wheel", 1.5, 1}} {
		require.Equal(t, want.name, ranked[i].Name)
		require.InDelta(t, want.amount, ranked[i].Amount, 1e-9)
		require.InDelta(t, want.cumulative, ranked[i].Cumulative, 5e-4)
	}
	require.Equal(t, "rail", Pareto(count)[4].Name)
	require.Empty(t, Pareto([]Share{{Name: "nothing"}}))
}

// Constructed by us; 15.0 is the exponential estimate with censoring.
func TestAnUnfinishedJobIsNotDroppedFromTheMean(t *testing.T) {
	m := MeanRepair([]estimate.Worked{{Sec: 300}, {Sec: 480}, {Sec: 720}, {Sec: 1200, Open: true}})
	require.InDelta(t, 8.33, *m.Dropped/60, 5e-3)
	require.InDelta(t, 15.0, *m.Censored/60, 1e-9)
	require.Equal(t, 3, m.Finished)
	require.Equal(t, 1, m.Open)
	none := MeanRepair([]estimate.Worked{{Sec: 60, Open: true}})
	require.Nil(t, none.Dropped)
	require.Nil(t, none.Censored)
}

// Constructed by us.
func TestAFightWithoutAHitHasNoCostPerHit(t *testing.T) {
	fights := []FightCost{{18000, 6}, {6000, 2}, {0, 0}}
	require.InDelta(t, 3000, *PerHit(fights), 1e-9)
	mean, median := PerFight(fights)
	require.InDelta(t, 8000, *mean, 1e-9)
	require.InDelta(t, 6000, *median, 1e-9)
	require.Nil(t, PerHit(fights[2:]))
	mean, median = PerFight(nil)
	require.Nil(t, mean)
	require.Nil(t, median)
}
