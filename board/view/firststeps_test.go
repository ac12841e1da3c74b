package view_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/view"
)

// A new board says what it lacks and what comes next. What is there is ticked, in any
// order, and once all of it is there the steps are gone.
func TestFirstStepsAreTickedAsTheBoardFillsAndThenGone(t *testing.T) {
	p := &pit{t: t}
	check := func(next view.Lack, done ...view.Lack) {
		t.Helper()
		first := p.views().First
		require.NotNil(t, first)
		require.Equal(t, next, first.Next)
		var ticked []view.Lack
		for _, is := range first.Steps {
			if is.Done {
				ticked = append(ticked, is.Lack)
			}
		}
		require.Equal(t, done, ticked)
	}
	check(view.LackPeople)
	require.Len(t, p.views().First.Lacks, 4)
	require.True(t, p.views().First.NoShelf)

	beetle := board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound}
	moth := p.robot("Moth", 0, board.Light, beetle)
	require.Equal(t, 1, p.s.Robots[moth].Number, "the lowest that is free")
	check(view.LackPeople, view.LackRobots)
	require.Equal(t, []board.RobotID{moth}, p.views().First.Unsaid)

	p.captain(board.PersonAdd{PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCaptain}})
	check(view.LackPeople, view.LackRobots)
	p.captain(board.PersonAdd{PersonFields: board.PersonFields{Name: "Bo", Role: board.RoleCrew}})
	check(view.LackFights, view.LackPeople, view.LackRobots)

	p.fight(board.FightFields{Robot: moth, Arena: "East", Number: 31})
	p.fight(board.FightFields{Robot: moth, Arena: "East", Number: 30})
	check(view.LackOn, view.LackPeople, view.LackRobots, view.LackFights)
	require.Equal(t, "East", p.views().First.Arena)
	numbers := p.views().First.Numbers
	require.Equal(t, []int{7, 30}, []int{numbers[0], numbers[len(numbers)-1]}, "those up to our next fight")

	is := p.s.Robots[moth].RobotFields
	is.Energies = []board.Energy{{Kind: board.EnergyDrive, Isolator: "link", Reach: board.Outside}}
	p.captain(board.RobotChange{Robot: moth, RobotFields: is})
	shelf := board.PlaceID(p.made(board.KindPlace, board.PlaceAdd{PlaceFields: board.PlaceFields{Name: "shelf", Kind: board.PlaceCharging}}, captain))
	require.False(t, p.views().First.NoShelf)
	event := board.EventFields{
		Name: "Shed Meet", ActivationOrder: []string{"link in"}, DeactivationOrder: []string{"link out"}, SpinDownSec: 60, ChargingPlaces: []board.PlaceID{shelf},
	}
	p.captain(board.EventSet{EventFields: event})
	check(view.LackOn, view.LackPeople, view.LackRobots, view.LackFights)
	require.Equal(t, []string{"who to reach in an emergency"}, p.views().First.Lacks)
	event.EmergencyContact = "desk by the door"
	p.captain(board.EventSet{EventFields: event})
	check(view.LackOn, view.LackPeople, view.LackRobots, view.LackFights, view.LackSafety)

	p.captain(board.FightNow{Arena: "East", Number: 28})
	require.Nil(t, p.views().First)
}
