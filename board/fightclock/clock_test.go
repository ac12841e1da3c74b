package fightclock_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/fightclock"
)

func at(hhmm string) time.Time {
	t, err := time.Parse("2006-01-02 15:04", "2031-05-10 "+hhmm)
	if err != nil {
		panic(err)
	}
	return t
}

func on(fight int, hhmm string) fightclock.Sighting {
	return fightclock.Sighting{Arena: "main", Fight: fight, At: at(hhmm)}
}

// day is an arena with six-minute intervals up to fight 9, which starts now; ours
// is fight 14, called two fights ahead.
func day() fightclock.Input {
	return fightclock.Input{
		Now:       at("14:00"),
		Prior:     fightclock.DefaultPrior(6 * 60),
		Arenas:    []fightclock.Arena{{Name: "main"}},
		Sightings: []fightclock.Sighting{on(4, "13:30"), on(5, "13:36"), on(7, "13:48"), on(9, "14:00")},
		Wanted:    []fightclock.Wanted{{Arena: "main", Fight: 14, Lead: fightclock.Lead{Fights: 2}}},
	}
}

func predict(t require.TestingT, in fightclock.Input) fightclock.Answer {
	answers, err := fightclock.Predict(in)
	require.NoError(t, err)
	require.Len(t, answers, len(in.Wanted))
	return answers[0]
}

func minutesFrom(t, now time.Time) float64 { return t.Sub(now).Minutes() }

// An invented figure of what a user would check by hand.
func TestCallComesThreeIntervalsAheadThenAtOnce(t *testing.T) {
	in := day()
	a := predict(t, in)
	require.Equal(t, fightclock.Ahead, a.State)
	require.InDelta(t, 18, minutesFrom(a.Call.P50, in.Now), 1.5)
	require.Equal(t, 5, a.Ahead)

	in.Prior.HoldUpShare = 0
	require.InDelta(t, 18, minutesFrom(predict(t, in).Call.P50, in.Now), 0.5, "without hold-ups")

	in = day()
	in.Now = at("14:01")
	in.Sightings = append(in.Sightings, on(12, "14:01"))
	a = predict(t, in)
	require.Equal(t, fightclock.CallNow, a.State)
	require.Equal(t, at("14:01"), a.Call.P50)
	require.Equal(t, a.Call.P10, a.Call.P90, "a call that has come is certain")
	require.Equal(t, 2, a.Ahead)
	require.InDelta(t, 6*60, a.Pace.MeanSec, 20, "three fights in a minute are a correction, no pace")
	require.Equal(t, 1, a.Pace.SetAside)
}

func TestAFightThatIsOnOrPastIsSaidSo(t *testing.T) {
	in := day()
	in.Wanted = []fightclock.Wanted{{Fight: 9}, {Fight: 6}, {Fight: 10}}
	answers, err := fightclock.Predict(in)
	require.NoError(t, err)
	require.Equal(t, fightclock.OnNow, answers[0].State)
	require.Equal(t, at("14:00"), answers[0].Start.P50)
	require.Equal(t, fightclock.Past, answers[1].State)
	require.Equal(t, at("13:48"), answers[1].Start.P50, "fight 6 was over when 7 was seen")
	require.Equal(t, fightclock.Ahead, answers[2].State)
	require.Equal(t, "main", answers[2].Arena, "the only arena there is")
}

func TestALowerNumberTakesBackAHigherOne(t *testing.T) {
	in := day()
	in.Now = at("14:03")
	in.Sightings = append(in.Sightings, on(12, "14:02"), on(9, "14:03"))
	a := predict(t, in)
	require.Equal(t, fightclock.Ahead, a.State)
	require.Equal(t, 5, a.Ahead)
	require.Equal(t, 0, a.Pace.SetAside, "what was taken back is no span")
	require.Equal(t, 5, a.Pace.Intervals)
}

func TestSightingsCountInOrderOfTimeWhateverTheOrderTold(t *testing.T) {
	in, told := day(), day()
	told.Sightings = []fightclock.Sighting{on(9, "14:00"), on(5, "13:36"), on(7, "13:48"), on(4, "13:30")}
	require.Equal(t, predict(t, in), predict(t, told))
	told.Sightings = append(told.Sightings, on(11, "14:30"))
	require.Equal(t, predict(t, in), predict(t, told), "what is said for later does not count yet")
}

func TestLeadInSecondsComesOffTheStart(t *testing.T) {
	in := day()
	in.Wanted[0].Lead = fightclock.Lead{Sec: 300}
	a := predict(t, in)
	require.Equal(t, 5*time.Minute, a.Start.P50.Sub(a.Call.P50))
	require.Equal(t, 5*time.Minute, a.Start.P90.Sub(a.Call.P90))
}

func TestLeadInFightsAndSecondsAddUp(t *testing.T) {
	in := day()
	plain := predict(t, in)
	in.Wanted[0].Lead.Sec = 120
	a := predict(t, in)
	require.Equal(t, 2*time.Minute, plain.Call.P50.Sub(a.Call.P50))
	require.Equal(t, plain.Start, a.Start)

	in.Sightings = append(in.Sightings, on(12, "14:18"))
	in.Now = at("14:18")
	require.Equal(t, at("14:16"), predict(t, in).Call.P50, "the fight that gives the call is on")
}

func TestNotBeforeHoldsStartAndCallBack(t *testing.T) {
	in := day()
	in.Wanted[0].NotBefore = at("15:30")
	a := predict(t, in)
	require.Equal(t, at("15:30"), a.Start.P10)
	require.Equal(t, at("15:30"), a.Start.P90)
	require.InDelta(t, 90-2*a.Pace.MeanSec/60, minutesFrom(a.Call.P50, in.Now), 0.01)

	in.Sightings = append(in.Sightings, on(12, "14:18"))
	in.Now = at("14:18")
	require.Equal(t, fightclock.Ahead, predict(t, in).State, "fight 12 is on, but ours may not start before 15:30")
}

func TestNoStartFallsInABreak(t *testing.T) {
	in := day()
	lunch := fightclock.Window{From: at("14:20"), To: at("15:00")}
	in.Breaks = []fightclock.Window{lunch}
	a := predict(t, in)
	without := predict(t, day())
	require.InDelta(t, 40, a.Start.P50.Sub(without.Start.P50).Minutes(), 0.001)
	for _, start := range []time.Time{a.Start.P10, a.Start.P50, a.Start.P90} {
		require.False(t, !start.Before(lunch.From) && start.Before(lunch.To))
	}
}

func TestABreakAndAHoldUpTeachNoPace(t *testing.T) {
	plain := predict(t, day()).Pace

	in := day()
	in.Sightings = []fightclock.Sighting{on(3, "12:20"), on(4, "13:30"), on(5, "13:36"), on(7, "13:48"), on(9, "14:00")}
	held := predict(t, in).Pace
	require.Equal(t, 1, held.SetAside, "70 minutes between two fights is a hold-up")
	require.InDelta(t, plain.MeanSec, held.MeanSec, 1e-6)

	in.Sightings[0] = on(3, "13:20")
	require.Equal(t, 0, predict(t, in).Pace.SetAside, "10 minutes are not")
	in.Breaks = []fightclock.Window{{From: at("13:22"), To: at("13:25")}}
	require.Equal(t, 1, predict(t, in).Pace.SetAside, "unless a break lies in them")
	require.InDelta(t, plain.MeanSec, predict(t, in).Pace.MeanSec, 1e-6)
}

func TestALongSpanOfManyFightsIsNoHoldUp(t *testing.T) {
	in := day()
	in.Sightings = []fightclock.Sighting{on(1, "12:20"), on(18, "14:00")}
	in.Wanted[0].Fight = 20
	p := predict(t, in).Pace
	require.Equal(t, 17, p.Intervals)
	require.Equal(t, 0, p.SetAside)
}

func TestAWrongGuessOfTheCaptainIsOutvoted(t *testing.T) {
	in := day()
	in.Prior = fightclock.DefaultPrior(3 * 60)
	in.Sightings = nil
	for i, when := range []string{"12:00", "12:10", "12:21", "12:30", "12:41", "12:50", "13:01"} {
		in.Sightings = append(in.Sightings, on(i+3, when))
	}
	p := predict(t, in).Pace
	require.Equal(t, 6, p.Intervals)
	require.InDelta(t, 10*60, p.MeanSec, 150)
}

func TestSilenceCountsOnlyWhereEveryStartIsReported(t *testing.T) {
	in := day()
	in.Now = at("14:15")
	unwatched := predict(t, in)
	require.Less(t, unwatched.Pace.HoldUpChance, 0.1)

	in.Watched = true
	watched := predict(t, in)
	require.Greater(t, watched.Pace.HoldUpChance, 0.8)
	require.True(t, watched.Call.P50.After(unwatched.Call.P50))

	in.Watched = false
	in.Sightings = append(in.Sightings, on(9, "14:15"))
	require.Equal(t, watched.Call, predict(t, in).Call, "a repeated sighting says the same as silence when watched")
}

func TestLunchIsNoHoldUp(t *testing.T) {
	in := day()
	in.Watched = true
	in.Now = at("14:42")
	in.Breaks = []fightclock.Window{{From: at("14:03"), To: at("14:45")}}
	a := predict(t, in)
	require.Less(t, a.Pace.HoldUpChance, 0.1)
	require.True(t, a.Call.P10.After(at("14:45")))
}

func TestExtremesStillGiveMomentsInOrder(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*fightclock.Input)
	}{
		{"a week of silence", func(in *fightclock.Input) { in.Now = in.Now.Add(7 * 24 * time.Hour) }},
		{"a week of silence, no hold-ups", func(in *fightclock.Input) {
			in.Prior.HoldUpShare = 0
			in.Now = in.Now.Add(7 * 24 * time.Hour)
		}},
		{"a week of silence after a long day", func(in *fightclock.Input) {
			in.Prior.HoldUpShare = 0
			in.Sightings = nil
			for i := range 100 {
				in.Sightings = append(in.Sightings, fightclock.Sighting{
					Arena: "main", Fight: i + 1, At: at("04:00").Add(time.Duration(i) * 6 * time.Minute),
				})
			}
			in.Wanted[0].Fight = 101
			in.Now = in.Now.Add(7 * 24 * time.Hour)
		}},
		{"clockwork", func(in *fightclock.Input) { in.Prior.Shape = 1000 }},
		{"no rhythm", func(in *fightclock.Input) { in.Prior.Shape = 2 }},
		{"a sure captain", func(in *fightclock.Input) { in.Prior.Worth = 1e4 }},
		{"a guessing captain", func(in *fightclock.Input) { in.Prior.Worth = 1 }},
		{"mostly hold-ups", func(in *fightclock.Input) { in.Prior.HoldUpShare = 0.95 }},
		{"far ahead", func(in *fightclock.Input) { in.Wanted[0].Fight = 600 }},
		{"next", func(in *fightclock.Input) { in.Wanted[0].Fight = 10 }},
		{"two at one moment", func(in *fightclock.Input) { in.Sightings = append(in.Sightings, on(10, "14:00")) }},
	} {
		for _, watched := range []bool{false, true} {
			t.Run(c.name, func(t *testing.T) {
				in := day()
				in.Watched = watched
				c.change(&in)
				a := predict(t, in)
				ordered(t, a.Start)
				ordered(t, a.Call)
				require.False(t, a.Start.P10.Before(in.Now))
				require.True(t, a.Start.P90.After(in.Now))
				require.True(t, a.Start.P90.Before(in.Now.Add(2000*time.Hour)))
				require.Greater(t, a.Pace.MeanSec, 0.0)
				require.True(t, a.Pace.HoldUpChance >= 0 && a.Pace.HoldUpChance <= 1, "%g", a.Pace.HoldUpChance)
			})
		}
	}
}

func TestUnseenFightsMakeTheCallDue(t *testing.T) {
	in := day()
	in.Now = at("14:40")
	a := predict(t, in)
	require.Equal(t, fightclock.CallNow, a.State)
	require.True(t, a.Start.P10.After(in.Now), "our own fight would have been noticed")
}

func TestBeforeTheFirstFightThePlannedStartCounts(t *testing.T) {
	in := day()
	in.Sightings = nil
	a := predict(t, in)
	require.Equal(t, fightclock.Unknown, a.State)
	require.Contains(t, a.Why, "no first start is set")

	in.Arenas[0].FirstStart = at("15:00")
	in.Wanted = []fightclock.Wanted{{Fight: 1, Lead: fightclock.Lead{Fights: 2}}, {Fight: 3}}
	answers, err := fightclock.Predict(in)
	require.NoError(t, err)
	require.Equal(t, at("15:00"), answers[0].Start.P50)
	require.Equal(t, at("14:48"), answers[0].Call.P50, "two mean intervals ahead")
	require.Equal(t, 1, answers[0].Ahead)
	require.InDelta(t, 12, minutesFrom(answers[1].Start.P50, at("15:00")), 1.5)

	in.Now = at("15:10")
	require.Equal(t, at("15:10"), predict(t, in).Start.P50, "late doors move it to now")
}

func TestArenasRunAtTheirOwnPace(t *testing.T) {
	in := day()
	in.Arenas = append(in.Arenas, fightclock.Arena{Name: "small"})
	for i, when := range []string{"13:30", "13:33", "13:36", "13:39"} {
		in.Sightings = append(in.Sightings, fightclock.Sighting{Arena: "small", Fight: i + 1, At: at(when)})
	}
	in.Wanted = append(in.Wanted, fightclock.Wanted{Arena: "small", Fight: 9}, fightclock.Wanted{Fight: 9})
	answers, err := fightclock.Predict(in)
	require.NoError(t, err)
	require.Equal(t, predict(t, day()), answers[0], "another arena changes nothing here")
	require.Less(t, answers[1].Pace.MeanSec, answers[0].Pace.MeanSec)
	require.Equal(t, fightclock.Unknown, answers[2].State)
	require.Contains(t, answers[2].Why, "arena")
}

func TestInputThatContradictsItselfIsRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*fightclock.Input)
		says   string
	}{
		{"no mean", func(in *fightclock.Input) { in.Prior.MeanSec = 0 }, "mean interval 0 s"},
		{"no worth", func(in *fightclock.Input) { in.Prior.Worth = 0.5 }, "worth 0.5"},
		{"shape", func(in *fightclock.Input) { in.Prior.Shape = 0 }, "8 if unsure"},
		{"hold-up share", func(in *fightclock.Input) { in.Prior.HoldUpShare = 1 }, "below 1"},
		{"hold-up length", func(in *fightclock.Input) { in.Prior.HoldUpSec = 0 }, "hold-up of 0 s"},
		{"backward break", func(in *fightclock.Input) {
			in.Breaks = []fightclock.Window{{From: at("15:00"), To: at("14:00")}}
		}, "break 1: ends 14:00:00"},
		{"arena twice", func(in *fightclock.Input) { in.Arenas = append(in.Arenas, in.Arenas[0]) }, "arena 2"},
		{"sighting elsewhere", func(in *fightclock.Input) { in.Sightings[2].Arena = "yard" }, `sighting 3: fight 7 in arena "yard"`},
		{"fight 0", func(in *fightclock.Input) { in.Sightings[0].Fight = 0 }, "number from 1"},
		{"wanted elsewhere", func(in *fightclock.Input) { in.Wanted[0].Arena = "yard" }, "wanted 1"},
		{"negative lead", func(in *fightclock.Input) { in.Wanted[0].Lead.Fights = -1 }, "give 0 or more"},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := day()
			c.change(&in)
			_, err := fightclock.Predict(in)
			require.ErrorContains(t, err, c.says)
		})
	}
}

// anyDay is a random event day: sightings a few fights and minutes apart.
func anyDay(t *rapid.T) fightclock.Input {
	in := day()
	in.Prior.MeanSec = rapid.Float64Range(60, 1200).Draw(t, "meanSec")
	if rapid.Bool().Draw(t, "no hold-ups") {
		in.Prior.HoldUpShare = 0
	}
	in.Watched = rapid.Bool().Draw(t, "watched")
	in.Sightings = nil
	fight, when := 1, at("10:00")
	for range rapid.IntRange(1, 8).Draw(t, "sightings") {
		in.Sightings = append(in.Sightings, fightclock.Sighting{Arena: "main", Fight: fight, At: when})
		n := rapid.IntRange(1, 4).Draw(t, "fights")
		fight += n
		when = when.Add(time.Duration(float64(n) * rapid.Float64Range(30, 2400).Draw(t, "sec each") * float64(time.Second)))
	}
	last := in.Sightings[len(in.Sightings)-1]
	in.Now = last.At.Add(time.Duration(rapid.IntRange(0, 3*3600).Draw(t, "silence")) * time.Second)
	if rapid.Bool().Draw(t, "lunch") {
		in.Breaks = []fightclock.Window{{From: at("12:00"), To: at("12:45")}}
	}
	in.Wanted[0].Fight = last.Fight + rapid.IntRange(1, 40).Draw(t, "ahead")
	in.Wanted[0].Lead = fightclock.Lead{
		Fights: rapid.IntRange(0, 3).Draw(t, "lead fights"),
		Sec:    float64(rapid.IntRange(0, 900).Draw(t, "lead sec")),
	}
	return in
}

func ordered(t require.TestingT, s fightclock.Spread) {
	require.False(t, s.P50.Before(s.P10), "P10 %s, P50 %s", s.P10, s.P50)
	require.False(t, s.P90.Before(s.P50), "P50 %s, P90 %s", s.P50, s.P90)
}

func TestQuantilesAreInOrderAndTheCallIsNotAfterTheStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyDay(t)
		a := predict(t, in)
		ordered(t, a.Start)
		ordered(t, a.Call)
		require.False(t, a.Call.P50.After(a.Start.P50))
		require.False(t, a.Call.P90.After(a.Start.P90))
		require.False(t, a.Start.P10.Before(in.Now), "a fight not seen yet starts from now on")
		for _, b := range in.Breaks {
			require.False(t, !a.Start.P50.Before(b.From) && a.Start.P50.Before(b.To))
		}
	})
}

func TestMoreFightsAheadNeverStartEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyDay(t)
		in.Watched = true // else each fight is judged by its own silence alone
		next := in.Wanted[0]
		next.Fight++
		in.Wanted = append(in.Wanted, next)
		answers, err := fightclock.Predict(in)
		require.NoError(t, err)
		const grid = 2 * time.Second
		require.False(t, answers[1].Start.P50.Add(grid).Before(answers[0].Start.P50))
		require.False(t, answers[1].Start.P90.Add(grid).Before(answers[0].Start.P90))
		require.False(t, answers[1].Call.P50.Add(grid).Before(answers[0].Call.P50))
	})
}

func TestSeeingTheFightThatGivesTheCallMakesItDue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyDay(t)
		w := in.Wanted[0]
		if w.Lead.Fights == 0 {
			t.Skip("no fight gives the call")
		}
		last := in.Sightings[len(in.Sightings)-1].Fight
		seen := rapid.IntRange(max(last, w.Fight-w.Lead.Fights), w.Fight-1).Draw(t, "seen")
		before := predict(t, in)
		in.Sightings = append(in.Sightings, fightclock.Sighting{Arena: "main", Fight: seen, At: in.Now})
		after := predict(t, in)
		require.Equal(t, fightclock.CallNow, after.State)
		require.False(t, before.State == fightclock.Ahead && after.Call.P50.After(before.Call.P50),
			"the call never moves back")
	})
}

func TestWaitingLongerNeverMovesTheStartForwardWithoutHoldUps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyDay(t)
		in.Prior.HoldUpShare = 0
		in.Breaks = nil
		early := predict(t, in)
		in.Now = in.Now.Add(time.Duration(rapid.IntRange(0, 3600).Draw(t, "more")) * time.Second)
		late := predict(t, in)
		const grid = 5 * time.Second
		require.False(t, late.Start.P50.Add(grid).Before(early.Start.P50))
		require.False(t, late.Start.P90.Add(grid).Before(early.Start.P90))
	})
}

func TestALaterNotBeforeNeverStartsEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyDay(t)
		free := predict(t, in)
		in.Wanted[0].NotBefore = in.Now.Add(time.Duration(rapid.IntRange(-60, 300).Draw(t, "minutes")) * time.Minute)
		bound := predict(t, in)
		require.False(t, bound.Start.P10.Before(in.Wanted[0].NotBefore))
		require.False(t, bound.Start.P50.Before(free.Start.P50))
		require.False(t, bound.Call.P50.Before(free.Call.P50))
		ordered(t, bound.Start)
	})
}
