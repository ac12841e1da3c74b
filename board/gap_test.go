package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// twoRobots has a fight for each of two robots, at an event that grants one
// postponement of 20 minutes: some rule sets say one a day for a competitor
// whatever the number of robots (common practice, no source).
func twoRobots(t *testing.T, share PostponeFor) (p *pit, one, other FightID) {
	p = newPit(t)
	e := p.settings()
	e.PostponeSec, e.PostponeFor = 20*60, share
	p.captain(EventSet{EventFields: e})
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number = "Long Drop", 2
	drop := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: f})))
	fight := func(r RobotID, n int) FightID {
		return FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: r, Arena: "north", Number: n}})))
	}
	return p, fight(p.moth, 7), fight(drop, 9)
}

func TestOnePostponementADayServesAllRobotsOfTheTeam(t *testing.T) {
	p, one, other := twoRobots(t, "")
	p.captain(FightPostpone{Fight: one})
	require.Equal(t, Postponed{At: p.now, By: p.ada, Sec: 20 * 60}, p.s.Fights[one].Postponed)

	may, why := p.s.MayPostpone(p.s.Fights[other], p.now)
	require.False(t, may)
	require.Equal(t, "Long Drop can't be postponed: the one postponement of the day, for all robots of the team together, went to Tin Moth at 09:00.", why)
	sentenceHas(t, p.refused(p.as(p.ada), FightPostpone{Fight: other}, 0), "went to Tin Moth")
	sentenceHas(t, p.refused(p.as(p.ada), FightPostpone{Fight: one}, 0), "had the one postponement")

	p.now += 24 * 3600_000
	p.captain(FightPostpone{Fight: other})
}

func TestWhereTheEventSaysSoEachRobotHasItsOwn(t *testing.T) {
	p, one, other := twoRobots(t, PostponeRobot)
	p.captain(FightPostpone{Fight: one})
	p.captain(FightPostpone{Fight: other})
	again := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 12}})))
	sentenceHas(t, p.refused(p.as(p.ada), FightPostpone{Fight: again}, 0), "Tin Moth had the one postponement of the day at 09:00")
}

func TestAPostponementTakenBackMayBeUsedAgain(t *testing.T) {
	p, one, other := twoRobots(t, PostponeTeam)
	granted := p.captain(FightPostpone{Fight: one})
	p.captain(Undo{Command: granted.Done.ID})
	p.captain(FightPostpone{Fight: other})
}

func TestOnlyAFightToComeIsPostponedAndOnlyWhereTheEventGrantsIt(t *testing.T) {
	p, one, _ := twoRobots(t, PostponeTeam)
	p.refused(p.as(p.ben), FightPostpone{Fight: one}, 0)
	p.captain(FightEnd{Fight: one, Result: Won})
	sentenceHas(t, p.refused(p.as(p.ada), FightPostpone{Fight: one}, 0), "only a fight to come")
	e := p.settings()
	e.PostponeFor = "nobody"
	sentenceHas(t, p.refused(p.as(p.ada), EventSet{EventFields: e}, 0), "Choose one of team, robot")
	e.PostponeFor = ""
	p.captain(EventSet{EventFields: e})
	next := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 12}})))
	sentenceHas(t, p.refused(p.as(p.ada), FightPostpone{Fight: next}, 0), "grants no postponement")
}

func TestAPauseOfTheGapIsEnteredAndEnded(t *testing.T) {
	p, one, _ := twoRobots(t, PostponeTeam)
	from, to := minutesIn(61), minutesIn(65)
	sentenceHas(t, p.refused(p.as(p.ben), FightPause{Fight: one, Span: Span{From: from}}, 0), "from its end")
	p.captain(FightEnd{Fight: one, Result: Won})
	p.ok(p.as(p.ben), FightPause{Fight: one, Span: Span{From: from}})
	require.Equal(t, []Span{{From: from}}, p.s.Fights[one].Pauses)
	sentenceHas(t, p.refused(p.as(p.ben), FightPause{Fight: one, Span: Span{From: from, To: from}}, 0), "ends before it begins")
	p.ok(p.as(p.ben), FightPause{Fight: one, Span: Span{From: from, To: to}})
	p.ok(p.as(p.ben), FightPause{Fight: one, Span: Span{From: to + 1, To: to + 2}})
	require.Equal(t, []Span{{from, to}, {to + 1, to + 2}}, p.s.Fights[one].Pauses)
}

func TestTheWayBackIsDatedByWhereTheRobotIsSaidToBe(t *testing.T) {
	p, one, _ := twoRobots(t, PostponeTeam)
	place := func(at PlaceID) Moment { p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: at}); return p.now }
	place(p.bench)
	require.Zero(t, p.s.Fights[one].BenchAt, "it has not fought yet")
	p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7})
	place(p.arena)
	p.captain(FightEnd{Fight: one, Result: Won})
	require.Zero(t, p.s.Fights[one].LeftAt)
	left := place(p.box)
	bench := place(p.bench)
	place(p.box)
	place(p.bench)
	require.Equal(t, left, p.s.Fights[one].LeftAt)
	require.Equal(t, bench, p.s.Fights[one].BenchAt, "the first time counts")
}
