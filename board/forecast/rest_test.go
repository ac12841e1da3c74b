package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// resting is a beetle whose last fight ended at 14:00, called when its next fight
// begins, at an event that promises 20 minutes. The next fight is the next in its
// arena, so that only the gap holds it back.
func resting(t *testing.T) (p *pit, r board.RobotID, last, next board.FightID) {
	p = newPit(t)
	ada := p.person("Ada", board.SkillMechanical)
	r = p.light("Alder", 1, ada)
	e := p.s.Event().EventFields
	e.LeadFights, e.RestSec, e.RestFrom, e.RestTo, e.PostponeSec = 0, 20*60, board.RestMatchEnd, board.RestStart, 20*60
	p.captain(board.EventSet{EventFields: e})
	p.now = clock(t, "14:00")
	last = p.fight(board.FightFields{Robot: r, Number: 9})
	p.captain(board.FightEnd{Fight: last, Result: board.Won})
	next = p.fight(board.FightFields{Robot: r, Number: 10})
	return p, r, last, next
}

// The first row was computed independently, the others follow by hand.
func TestTheGapDoesNotRunWhileTheOfficialsHaveTheRobot(t *testing.T) {
	for name, c := range map[string]struct {
		pauses [][2]string
		start  string
	}{
		"a weigh-in from 14:01 to 14:05": {[][2]string{{"14:01", "14:05"}}, "14:24"},
		"none":                           {nil, "14:20"},
		"and a check":                    {[][2]string{{"14:01", "14:05"}, {"14:10", "14:12"}}, "14:26"},
		"they still have it at 14:06":    {[][2]string{{"14:01", ""}}, "14:25"},
	} {
		t.Run(name, func(t *testing.T) {
			p, r, last, _ := resting(t)
			p.now = clock(t, "14:06")
			for _, w := range c.pauses {
				pause := board.FightPause{Fight: last, Span: board.Span{From: clock(t, w[0])}}
				if w[1] != "" {
					pause.To = clock(t, w[1])
				}
				p.captain(pause)
			}
			require.Equal(t, clock(t, c.start), p.call(r).StartAt.Median)
			require.Equal(t, clock(t, c.start), p.call(r).StartAt.Early)
		})
	}
}

func TestTheGapIsCountedFromWhereTheEventSays(t *testing.T) {
	for name, c := range map[string]struct {
		from  board.RestEnd
		said  bool
		start string
	}{
		"the end of the match":        {board.RestMatchEnd, true, "14:20"},
		"out of the arena":            {board.RestLeftArena, true, "14:22"},
		"out of the arena, not said":  {board.RestLeftArena, false, "14:20"},
		"back at the bench":           {board.RestAtBench, true, "14:26"},
		"back at the bench, not said": {board.RestAtBench, false, "14:25"},
	} {
		t.Run(name, func(t *testing.T) {
			p, r, _, _ := resting(t)
			e := p.s.Event().EventFields
			e.RestFrom = c.from
			p.captain(board.EventSet{EventFields: e})
			staging, bench := p.place("staging", board.PlaceStaging), p.place("bench 1", board.PlaceBench)
			if c.said {
				p.now = clock(t, "14:02")
				p.captain(board.RobotPlace{Robot: r, Place: staging})
				p.now = clock(t, "14:06")
				p.captain(board.RobotPlace{Robot: r, Place: bench})
			}
			require.Equal(t, clock(t, c.start), p.call(r).StartAt.Early)
		})
	}
}

func TestThePromisedGapHoldsAfterAFightStillToCome(t *testing.T) {
	p, r, _, next := resting(t)
	won := p.fight(board.FightFields{Robot: r, Number: 11, After: next, If: board.Won})
	b := find(t, p.call(r).Branches, func(b forecast.Branch) bool { return b.Fight == won })
	require.Equal(t, clock(t, "14:43"), b.CallAt.Median, "14:20, a match of 3 minutes, and 20")
	require.Zero(t, b.ShortSec)
	require.Equal(t, 6*60, b.HandsOnSec, "20 less 9 and 5: about 6 minutes for a beetle")
	require.Equal(t, forecast.FlagNone, b.Flag)
}

func TestRobotTwoIsToldWhoHadThePostponement(t *testing.T) {
	p, one, _, first := resting(t)
	two := p.light("Birch", 2, p.person("Bo", board.SkillMechanical))
	second := p.fight(board.FightFields{Robot: two, Number: 15})
	require.Equal(t, &forecast.Postpone{Sec: 20 * 60, May: true}, p.call(two).Postpone)

	before := p.call(one).CallAt
	p.captain(board.FightPostpone{Fight: first})
	granted := p.call(one)
	require.Equal(t, before.Median.Add(20*time.Minute), granted.CallAt.Median)
	require.Equal(t, clock(t, "14:00"), granted.Postpone.Granted)
	require.False(t, granted.Postpone.May)
	require.Equal(t, &forecast.Postpone{Sec: 20 * 60,
		Why: "Birch can't be postponed: the one postponement of the day, for all robots of the team together, went to Alder at 14:00."}, p.call(two).Postpone)

	p.captain(board.FightNow{Arena: "A", Number: 12})
	p.wait(time.Minute)
	require.Empty(t, alarmsOf(p.make(), "past-"), "it is passed over and still to come")
	p.captain(board.FightEnd{Fight: second, Result: board.Lost})
	require.Nil(t, p.call(two).Postpone, "nothing left to postpone")
}

func alarmsOf(f forecast.Forecast, prefix string) (list []forecast.Alarm) {
	for _, a := range f.Alarms {
		if len(a.Slug) > len(prefix)+2 && a.Slug[2:2+len(prefix)] == prefix {
			list = append(list, a)
		}
	}
	return list
}

// A heavy robot is in fight 9; if it wins, its next is 21, if it loses 15. Work of
// 25 minutes makes the one and not the other. Invented.
func TestWinAndLoseAreTwoCountdownsBothPlannedFor(t *testing.T) {
	p := newPit(t)
	p.station("bench", board.StationBench, 2)
	ada := p.person("Ada", board.SkillMechanical)
	r := p.heavy("Big Lump", 1, ada)
	on := p.fight(board.FightFields{Robot: r, Number: 9, Opponent: "Rake"})
	won := p.fight(board.FightFields{Robot: r, Number: 31, Opponent: "Sickle", After: on, If: board.Won})
	lost := p.fight(board.FightFields{Robot: r, Number: 18, Opponent: "Scythe", After: on, If: board.Lost})
	job := p.job(board.JobFields{Robot: r, Name: "straighten", Fixes: []board.Fix{fix(25, 40, board.SkillMechanical)}})
	p.captain(board.FightNow{Arena: "A", Number: 9})

	c := p.call(r)
	require.Equal(t, on, c.Fight)
	require.True(t, c.OnNow)
	require.Len(t, c.Branches, 2)
	w := find(t, c.Branches, func(b forecast.Branch) bool { return b.Fight == won })
	l := find(t, c.Branches, func(b forecast.Branch) bool { return b.Fight == lost })
	require.Equal(t, "Sickle", w.Opponent)
	require.Greater(t, w.CallAt.Median, l.CallAt.Late, "no time in between is a call of ours")
	require.Equal(t, forecast.FlagNone, w.Flag)
	require.Equal(t, forecast.FlagWontFinish, l.Flag)
	require.Positive(t, l.ShortSec)
	require.Equal(t, w.ReadyAt, l.ReadyAt, "one plan for both")
	require.Greater(t, w.HandsOnSec, l.HandsOnSec)
	require.Equal(t, forecast.FlagWontFinish, p.plan(job).Flag, "the plan is made against the loser's clock")

	p.captain(board.FightEnd{Fight: on, Result: board.Won})
	c = p.call(r)
	require.Equal(t, won, c.Fight)
	require.Empty(t, c.Branches)
	require.Equal(t, forecast.FlagNone, p.plan(job).Flag, "the result is in")
}

// Three minutes of a match, nine of sheets before the first job and five after the last:
// 17 minutes from one call to the next are the least.
func TestTheFightAfterTheNextIsLookedAtToo(t *testing.T) {
	for name, c := range map[string]struct {
		apart time.Duration
		short bool
	}{"ten minutes apart": {10 * time.Minute, true}, "an hour apart": {time.Hour, false}} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			ada := p.person("Ada")
			r := p.light("Sprat", 1, ada)
			p.open(r, ada)
			p.calledAt(r, p.now.Add(60*time.Minute))
			e := p.s.Event().EventFields
			e.RestSec = 0
			p.captain(board.EventSet{EventFields: e})
			p.made("", board.FightNow{Arena: "C", Number: 1}, captain)
			second := p.fight(board.FightFields{Robot: r, Arena: "C", Number: 2, NotBefore: p.now.Add(60*time.Minute + c.apart)})

			b := find(t, p.call(r).Branches, func(b forecast.Branch) bool { return b.Fight == second })
			require.Empty(t, b.If, "it comes whatever the result")
			require.Equal(t, c.short, b.ShortSec > 0)
			var said []string
			for _, a := range p.make().Alarms {
				said = append(said, a.What)
			}
			if c.short {
				require.Equal(t, []string{"Sprat cannot be back and signed for fight C 2 after fight BSprat 2: its sheets alone are 7 min short"}, said)
			} else {
				require.Empty(t, said)
			}
		})
	}
}
