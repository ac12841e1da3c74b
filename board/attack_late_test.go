package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Phones that had no network, or a wrong clock: what they date rests on what stood on
// the board then.

const (
	second = Moment(1000)
	minute = 60 * second
	hour   = 60 * minute
)

// at gives a command that a phone dates to a moment.
func (p *pit) at(by Actor, c Command, when Moment) *Refusal {
	p.now += 1000
	return p.lateAt(by, c, p.now+1000-when)
}

func TestRule8LateWorkIsCoveredByOnesOwnTagAlone(t *testing.T) {
	for name, c := range map[string]struct {
		who    func(p *pit) PersonID
		closes bool
	}{
		"whose tag was on":          {func(p *pit) PersonID { return p.dee }, true},
		"whose tag was off by then": {func(p *pit) PersonID { return p.ben }, false},
		"a guest with no hands":     {func(p *pit) PersonID { return p.gus }, false},
	} {
		for _, ago := range []Moment{20_000, 10 * minute} {
			t.Run(name, func(t *testing.T) {
				p := newPit(t)
				p.open()
				job := p.job()
				p.ok(p.as(p.dee), TagOn{Robot: p.moth})
				_, bad := p.tagOff(p.as(p.ben), p.ben)
				require.Nil(t, bad)
				start := p.now + 1000
				p.now += ago
				require.Nil(t, p.at(p.as(c.who(p)), JobStart{Job: job}, start))
				require.Nil(t, p.at(p.as(c.who(p)), JobFinish{Job: job}, start+5000))
				require.Equal(t, c.closes, p.jobState(job) == JobClosed)
				if !c.closes {
					require.Contains(t, p.owes(job)[0], "nor their hands near was on")
					p.ok(p.as(p.ada), JobReinspect{Job: job})
					require.Equal(t, JobClosed, p.jobState(job))
				}
			})
		}
	}
}

func TestRule8WhatWasTakenOffMeanwhileStillCoversWhatCameLate(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	start := p.now + 1000
	p.now += 10 * minute
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.now += minute
	require.Nil(t, p.at(p.as(p.ben), JobStart{Job: job}, start))
	require.Nil(t, p.at(p.as(p.ben), JobFinish{Job: job}, start+5*minute))
	require.Equal(t, JobClosed, p.jobState(job))
	require.NotZero(t, p.s.Jobs[job].Stints[0].Late)
}

func TestAStintRestsOnItsJobAndOnWhatWasBeforeIt(t *testing.T) {
	p := newPit(t)
	p.now += 60 * minute
	p.open()
	job := p.job()
	entered := p.s.Jobs[job].At
	require.Nil(t, p.at(p.as(p.ben), JobStart{Job: job}, entered-30*minute))
	require.Equal(t, entered, p.s.Jobs[job].Stints[0].From)
	p.now += 10 * minute
	require.Nil(t, p.at(p.as(p.ben), JobFinish{Job: job}, entered-20*minute))
	j := p.s.Jobs[job]
	require.GreaterOrEqual(t, j.FinishedAt, j.Stints[0].From, "a finish is not before its own start")
	require.Equal(t, j.FinishedAt, j.Stints[0].To)
}

func TestRule11AnAnswerGivenBeforeTheBoardHeardThatWorkHadEndedIsAskedAgain(t *testing.T) {
	p := newPit(t)
	p.open()
	fix := swapBlade(p.blade)
	fix.Touches = []System{SysStructure}
	job := p.jobWith(p.as(p.ben), Could, fix)
	p.ok(p.as(p.ben), JobStart{Job: job})
	from := p.now
	p.now += 10 * minute
	require.Nil(t, p.at(p.as(p.ben), JobFinish{Job: job}, from-5*minute))
	heard := p.now
	p.walk(p.as(p.ben), ListInspect)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	for _, a := range mustSheet(p, ListCloseUp).Answers {
		require.Greater(t, a.At, heard)
	}
	require.Equal(t, heard, p.s.Jobs[job].Stints[0].Late)
}

func mustSheet(p *pit, list SheetList) Sheet {
	sheet, ok := p.s.Sheet(p.moth, list)
	require.True(p.t, ok)
	return sheet
}

func TestRule2AnAnswerDatedBeforeItsSheetMovesNothing(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.now += 30 * minute
	p.ok(p.as(p.ada), FightEnd{Fight: f, Result: Won})
	p.now += 5 * minute
	lock := p.said(ListMakeSafe, "lock", SaidDone)
	bad := p.at(p.as(p.ben), lock, p.now-20*minute)
	require.NotNil(t, bad)
	require.Equal(t, 2, bad.Rule)
	require.Nil(t, p.at(p.as(p.ben), p.said(ListMakeSafe, "lock", SaidNo), p.now-20*minute), "a no is always taken")
	sheet := mustSheet(p, ListMakeSafe)
	require.Equal(t, sheet.OpenedAt, sheet.Answers[0].At)
	require.Nil(t, p.at(p.as(p.ben), lock, p.now-4*minute), "dated after it began it counts")
}

func TestRule7LateHandsWithdrawWhatWasVerifiedMeanwhile(t *testing.T) {
	for name, c := range map[string]func(p *pit) (Actor, Command){
		"tag":        func(p *pit) (Actor, Command) { return p.as(p.dee), TagOn{Robot: p.moth} },
		"hands near": func(p *pit) (Actor, Command) { return p.as(p.gus), HandsOn{Robot: p.moth} },
		"work":       func(p *pit) (Actor, Command) { return p.as(p.gus), JobStart{Job: p.loose(AtRobot)} },
	} {
		t.Run(name, func(t *testing.T) {
			for _, before := range []bool{true, false} {
				p := newPit(t)
				by, do := c(p)
				p.now += 10 * minute
				then := p.now
				p.open()
				if !before {
					then = p.now
				}
				p.now += 10 * minute
				require.Nil(t, p.at(by, do, then), "late hands are always taken")
				require.Equal(t, before, p.state() == Unknown)
				require.Equal(t, before, p.power().Conflict)
			}
		})
	}
	p := newPit(t)
	off := p.loose(OffRobot)
	p.now += 10 * minute
	then := p.now
	p.open()
	p.now += 10 * minute
	require.Nil(t, p.at(p.as(p.gus), JobStart{Job: off}, then))
	require.Equal(t, Work, p.state(), "off the robot nobody's hands were in it")
}

func TestHandsThatCameLateAreNeverOlderThanTheFight(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.now += 30 * minute
	p.ok(p.as(p.ada), FightEnd{Fight: f, Result: Won})
	p.now += 5 * minute
	require.Nil(t, p.at(p.as(p.gus), HandsOn{Robot: p.moth}, p.now-20*minute))
	for _, h := range p.s.Hands {
		require.Equal(t, p.power().FoughtAt, h.At)
	}
}
