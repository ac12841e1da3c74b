package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// The chances here were computed independently: people as agents who answer the sheets of
// a beetle step by step (make safe 3.5 min, verify 1.5, first in 2, inspect 2, close up 1,
// test 2, weigh 1, sign 1; twice as long in the bad case, correlation 0.2), robot after
// robot, and who leave for the fight of a robot that is ready. 200,000 days each. The
// inputs are constructed by us.

// beetles are robots with nothing to be done on them but their sheets, each led and
// driven by the next of some captains, and called in so many minutes.
func beetles(t *testing.T, captains int, calledInMin ...int) (*pit, []board.RobotID) {
	p := newPit(t)
	var crew []board.PersonID
	for i := range captains {
		crew = append(crew, board.PersonID(p.made(board.KindPerson, board.PersonAdd{PersonFields: board.PersonFields{
			Name: []string{"Pia", "Max"}[i], Role: board.RoleCaptain, Authorised: everyEnergy,
		}}, captain)))
	}
	var list []board.RobotID
	for i, minutes := range calledInMin {
		r := p.light([]string{"Sprat", "Tern", "Minnow"}[i], i+1, crew[i%captains])
		p.calledAt(r, noon.Add(time.Duration(minutes)*time.Minute))
		list = append(list, r)
	}
	return p, list
}

func TestSheetsTakeSomeonesMinutes(t *testing.T) {
	for _, c := range []struct {
		what    string
		called  []int
		chances []float64
	}{
		{"a captain alone with two", []int{20, 21}, []float64{.80, .056}},
		{"one that nothing broke on, in 12 minutes", []int{12}, []float64{.21}},
		{"in 17", []int{17}, []float64{.625}},
		{"in 25", []int{25}, []float64{.94}},
	} {
		t.Run(c.what, func(t *testing.T) {
			p, robots := beetles(t, 1, c.called...)
			shares := forecast.ReadyShares(p.s, p.now, 1, budget)
			for i, r := range robots {
				require.InDelta(t, c.chances[i], shares[r], 0.05, p.s.Robots[r].Name)
			}
		})
	}
}

// Computed for what the plan tells them: Max is on the sheets of Sprat and then closes up
// Tern, Pia is on those of Tern before and on Minnow's, and both drive.
func TestTwoPeopleDoNotGetThreeRobotsReady(t *testing.T) {
	p, robots := beetles(t, 2, 20, 21, 22)
	shares := forecast.ReadyShares(p.s, p.now, 1, budget)
	for i, chance := range []float64{.80, .48, .20} {
		require.InDelta(t, chance, shares[robots[i]], 0.05, p.s.Robots[robots[i]].Name)
	}
}

func TestWhoIsOnOtherSheetsIsNamedForTheDelay(t *testing.T) {
	p, robots := beetles(t, 1, 20, 21)
	require.Zero(t, p.call(robots[0]).ShortSec)
	second := p.call(robots[1])
	require.Equal(t, forecast.FlagWontFinish, second.Flag)
	require.Equal(t, forecast.Cause{Kind: forecast.CausePerson, Text: "Pia is on the sheets of Sprat until 12:14."}, second.Cause)
}

func TestARobotThatWantsASecondVerifierIsNeverReadyWithOneWhoMay(t *testing.T) {
	p, robots := beetles(t, 1, 60)
	f := p.s.Robots[robots[0]].RobotFields
	f.SecondVerifier = true
	p.captain(board.RobotChange{Robot: robots[0], RobotFields: f})
	c := p.call(robots[0])
	require.Equal(t, forecast.FlagWontFinish, c.Flag)
	require.Equal(t, "Sprat wants a second person to verify, and only Pia may.", c.Cause.Text)

	p.person("Max")
	require.Equal(t, forecast.FlagNone, p.call(robots[0]).Flag, p.call(robots[0]).Cause.Text)
}

// Two robots at one test area: the second waits for it, though there are people enough.
func TestATestAreaIsAStationOfThePlan(t *testing.T) {
	p, robots := beetles(t, 2, 15, 15)
	for _, r := range robots {
		p.open(r, p.s.Robots[r].Lead)
		f := p.s.Robots[r].RobotFields
		f.AfterSec = 15 * 60
		p.captain(board.RobotChange{Robot: r, RobotFields: f})
	}
	ready := func() int { return p.call(robots[0]).ShortSec + p.call(robots[1]).ShortSec }
	require.Zero(t, ready())
	p.station("box", board.StationTest, 2)
	require.Zero(t, ready())
	p.captain(board.StationChange{Station: onlyID(p.s.Stations), StationFields: board.StationFields{Name: "box", Kind: board.StationTest, Count: 1}})
	require.Equal(t, 6*60, ready(), "a test takes two fifths of the fifteen minutes")
}

func onlyID[ID ~string, N any](table map[ID]N) ID {
	for id := range table {
		return id
	}
	return ""
}
