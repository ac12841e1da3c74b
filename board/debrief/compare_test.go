package debrief_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board/debrief"
	"mendline/board/estimate"
)

func min2(likely, bad float64) estimate.TwoPoint {
	return estimate.TwoPoint{LikelySec: 60 * likely, BadSec: 60 * bad}
}

var rails = []string{"L", "F", "R"}

// bolted and frame are the two constructions of the worked example: constructed by
// us, its figures computed independently.
func bolted() Construction {
	return Construction{Name: "bolted rails", Groups: []Group{{
		Name: "rails", Members: rails, Access: min2(8, 16), Joints: 24,
		Steps: []Step{{Name: "rail", From: 1, Each: true, Times: min2(12, 30), Cents: 2500}},
	}}}
}

func frame() Construction {
	return Construction{Name: "one frame", Guessed: true, Groups: []Group{{
		Name: "frame", Members: rails, Access: min2(8, 16),
		Steps: []Step{{Name: "straighten", From: 1, Times: min2(60, 150)}, {Name: "new frame", From: 2, Times: min2(90, 160), Cents: 40000}},
	}}}
}

func sixFights() []Fought {
	hit := [][]string{{"L"}, nil, {"L", "F"}, {"R"}, nil, {"F", "R", "L"}}
	var fights []Fought
	for i, minutes := range []float64{40, 25, 45, 30, 40, 60} {
		fights = append(fights, Fought{Hit: hit[i], AvailableSec: 60 * minutes})
	}
	return fights
}

func ask() Question {
	return Question{Built: bolted(), Other: frame(), Fights: sixFights(), Moves: 1, Replays: 40000, Seed: 7}
}

func compare(t *testing.T, q Question) Comparison {
	t.Helper()
	a, err := Compare(q)
	require.NoError(t, err)
	return a
}

// Fights, members and times constructed by us; the figures computed independently,
// within a minute and a hundredth.
func TestTheSixFightsGiveTheWorkedFigures(t *testing.T) {
	a := compare(t, ask())
	for name, c := range map[string]struct{ got, want, tolerance float64 }{
		"bolted P10":             {a.Built.Sec.P10 / 60, 97, 1},
		"bolted P50":             {a.Built.Sec.P50 / 60, 139, 1},
		"bolted P90":             {a.Built.Sec.P90 / 60, 206, 1},
		"frame P10":              {a.Other.Sec.P10 / 60, 225, 1},
		"frame P50":              {a.Other.Sec.P50 / 60, 375, 1},
		"frame P90":              {a.Other.Sec.P90 / 60, 649, 1},
		"bolted missed":          {a.Built.Missed, 1.02, .01},
		"frame missed":           {a.Other.Missed, 3.49, .01},
		"slower":                 {a.OtherSlower, .99, .01},
		"more missed":            {a.OtherMisses, .96, .01},
		"as many":                {a.SameMisses, .04, .01},
		"bolted money":           {a.Built.Money.P50, 17500, 0},
		"frame money":            {a.Other.Money.P50, 80000, 0},
		"break-even price":       {*a.Turn.Price, 8750, 1e-6},
		"minutes more P10":       {a.More.Sec.P10 / 60, 24.8, 1},
		"minutes more":           {a.More.Sec.Mean / 60, 44.5, 1},
		"minutes more P90":       {a.More.Sec.P90 / 60, 59.5, 1},
		"money more":             {a.More.Money.Mean, 10417, 1},
		"money more P10":         {a.More.Money.P10, 3800, 100},
		"money more P90":         {a.More.Money.P90, 20800, 100},
		"dearer in days redrawn": {a.More.Dearer, .91, .005},
	} {
		require.InDelta(t, c.want, c.got, c.tolerance, name)
	}
}

func TestTheSameQuestionGetsTheSameAnswer(t *testing.T) {
	q := ask()
	q.Replays, q.Moves = 500, .7
	require.Equal(t, compare(t, q), compare(t, q))
	other := q
	other.Seed++
	require.NotEqual(t, compare(t, q).Other.Sec, compare(t, other).Other.Sec)
}

func TestNoVerdictFromFewerThanThreeDamagingFights(t *testing.T) {
	q := ask()
	q.Fights = q.Fights[:3]
	a := compare(t, q)
	require.Equal(t, 2, a.Damaging)
	require.False(t, a.Decided)
	require.Contains(t, a.Verdict, "No verdict")
	q.Fights = nil
	a = compare(t, q)
	require.False(t, a.Decided)
	require.Zero(t, a.Built.Sec)
}

func TestTheVerdictSaysInHowManyReplaysOfThisDay(t *testing.T) {
	a := compare(t, ask())
	require.True(t, a.Decided)
	require.Contains(t, a.Verdict, "In 96 of 100 replays it misses more calls")
	require.Contains(t, a.Verdict, "of this day")
	require.Contains(t, a.Assumes, "100 % of the recorded damage reaches one frame")
	require.Contains(t, a.Gap, "6 fights, 4 of them damaging, 7 members")
	require.Contains(t, a.Condition, "new frame costs 87.50 and not 400.00")
}

func TestLessDamageMovedMakesTheOtherConstructionBetterAndTheTurnIsBetween(t *testing.T) {
	q := ask()
	all := compare(t, q)
	q.Moves = .25
	some := compare(t, q)
	require.Less(t, some.Other.Sec.Mean, all.Other.Sec.Mean)
	require.Equal(t, all.Built, some.Built, "what was built stands the same hits")
	require.NotNil(t, all.Turn.Loss)
	require.Greater(t, all.Turn.Lost, *all.Turn.Loss)

	q.Moves = *all.Turn.Loss / all.Turn.Lost
	q.Replays = 40000
	turned := compare(t, q)
	known := math.Exp(tauGuess*tauGuess/2) - 1 // the guess lengthens the mean, the turn is on the medians as said
	require.InEpsilon(t, turned.Built.Sec.Mean, turned.Other.Sec.Mean, known+.03)
	q.Moves = 1.5
	require.Greater(t, compare(t, q).Other.Money.Mean, all.Other.Money.Mean)
}

// tauGuess is the spread of a guessed construction's medians.
const tauGuess = .35

func TestMembersThatOneOfTheTwoDoesNotHaveAreNamedAndLeftOut(t *testing.T) {
	q := ask()
	q.Fights[1].Hit = []string{"wheel", "L", "L"}
	a := compare(t, q)
	require.Equal(t, []string{"wheel"}, a.Outside)
	require.Equal(t, 8, a.Members, "a member hit twice in a fight is put right once")
}

func TestAConstructionThatCannotBeIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Construction)
		want   string
	}{
		"no member":       {func(c *Construction) { c.Groups[0].Members = nil }, "a member"},
		"a member twice":  {func(c *Construction) { c.Groups[0].Members = []string{"L", "L"} }, "twice"},
		"times turned":    {func(c *Construction) { c.Groups[0].Steps[0].Times = min2(30, 12) }, "step from 1"},
		"no first step":   {func(c *Construction) { c.Groups[0].Steps[0].From = 2 }, "starts at 1"},
		"steps turned":    {func(c *Construction) { c.Groups[0].Steps = append(c.Groups[0].Steps, c.Groups[0].Steps[0]) }, "comes after"},
		"a price below 0": {func(c *Construction) { c.Groups[0].Steps[0].Cents = -1 }, "below 0"},
		"access turned":   {func(c *Construction) { c.Groups[0].Access = min2(9, 8) }, "access"},
	} {
		q := ask()
		c.change(&q.Built)
		_, err := Compare(q)
		require.ErrorContains(t, err, c.want, name)
	}
	q := ask()
	q.Moves = 2.1
	_, err := Compare(q)
	require.ErrorContains(t, err, "0 to 2")
}

// twoDays is a two-day event of 16 fights, constructed by us.
func twoDays() Question {
	q := ask()
	for range 10 {
		q.Fights = append(q.Fights, q.Fights[len(q.Fights)-6])
	}
	q.Replays = ReplaysUsual
	return q
}

func BenchmarkTenThousandReplaysOfATwoDayEvent(b *testing.B) {
	q := twoDays()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Compare(q); err != nil {
			b.Fatal(err)
		}
	}
}
