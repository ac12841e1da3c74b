package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// What an undo takes back, and what it leaves.

func TestRule21AStartIsTakenBackForAMinuteWhileNothingFollowed(t *testing.T) {
	for name, c := range map[string]struct {
		wait Moment
		then func(p *pit, job JobID)
		back bool
	}{
		"at once":             {0, nil, true},
		"after two minutes":   {2 * minute, nil, false},
		"when another joined": {0, func(p *pit, job JobID) { p.ok(p.as(p.dee), TagOn{Robot: p.moth}); p.ok(p.as(p.dee), JobJoin{Job: job}) }, false},
		"when it was held":    {0, func(p *pit, job JobID) { p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart}) }, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			job := p.job()
			start := p.ok(p.as(p.ben), JobStart{Job: job}).Done.ID
			if c.then != nil {
				c.then(p, job)
			}
			p.now += c.wait
			_, bad := p.try(p.as(p.ben), Undo{Command: start})
			require.Equal(t, c.back, bad == nil)
			require.Equal(t, c.back, len(p.s.Jobs[job].Stints) == 0, "work stands in the record")
		})
	}
}

func TestRule21NothingIsTakenBackThatWasSignedOver(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	finish := p.ok(p.as(p.ben), JobFinish{Job: job}).Done.ID
	damage := p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "rail", Grade: G0}}).Done.ID
	p.ready()
	for _, c := range []CommandID{finish, damage} {
		sentenceHas(t, p.refused(p.as(p.ben), Undo{Command: c}, 21), "was signed ready over this")
	}
	require.Equal(t, Ready, p.state())

	q := newPit(t)
	q.open()
	job = q.job()
	q.ok(q.as(q.ben), JobStart{Job: job})
	finish = q.ok(q.as(q.ben), JobFinish{Job: job}).Done.ID
	q.ok(q.as(q.ben), Undo{Command: finish})
	require.Equal(t, JobRunning, q.jobState(job), "before the signature it is")
}

func TestAWrongResultTakenBackBringsTheInspectionBackAndNoPower(t *testing.T) {
	for name, wrong := range map[string]func(f FightID) Command{
		"a result": func(f FightID) Command { return FightEnd{Fight: f, Result: Lost} },
		"on now":   func(FightID) Command { return FightNow{Arena: "north", Number: 7, Sure: true} },
	} {
		for _, between := range []bool{false, true} {
			t.Run(name, func(t *testing.T) {
				p := newPit(t)
				f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
				p.open()
				p.ready()
				before := p.power().FoughtAt
				wrong := p.ok(p.as(p.ben), wrong(f)).Done.ID
				require.Equal(t, Unknown, p.state())
				if between {
					p.makeSafe() // a new inspection is open
				}
				at := p.state()
				p.ok(p.as(p.ben), Undo{Command: wrong})
				require.Equal(t, at, p.state(), "an undo moves no power")
				require.Equal(t, before, p.power().FoughtAt)
				require.Equal(t, FightPlanned, p.s.Fights[f].State)
				if !between {
					p.makeSafe()
				}
				sheet, _ := p.s.Sheet(p.moth, ListInspect)
				require.Equal(t, SheetComplete, sheet.State, "what was inspected counts again")
			})
		}
	}
}

func TestARightResultIsNotTakenBackByALaterOne(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	p.ready()
	wrong := p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7, Sure: true}).Done.ID
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.arena})
	fought := p.power().FoughtAt
	_, bad := p.try(p.as(p.ben), Undo{Command: wrong})
	require.Nil(t, bad)
	require.Equal(t, fought, p.power().FoughtAt, "it was in the arena all the same")
	require.NotEmpty(t, f)
}

func TestAReopeningTakenBackClosesTheJobWhereItOwesNothing(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	closed := p.s.Jobs[job]
	require.Equal(t, JobClosed, closed.State)
	reopened := p.ok(p.as(p.ben), JobReopen{Job: job}).Done.ID
	p.ok(p.as(p.ben), Undo{Command: reopened})
	is := p.s.Jobs[job]
	is.V, is.ClosedAt = closed.V, closed.ClosedAt
	require.Equal(t, closed, is)

	reopened = p.ok(p.as(p.ben), JobReopen{Job: job}).Done.ID
	p.ok(p.as(p.gus), RobotDoubt{Robot: p.moth, Why: "a click"})
	p.ok(p.as(p.ben), Undo{Command: reopened})
	require.Equal(t, JobFinished, p.jobState(job), "it waits until the robot is verified")
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.walk(p.as(p.ben), ListFirstIn)
	require.Equal(t, JobClosed, p.jobState(job))

	reopened = p.ok(p.as(p.ben), JobReopen{Job: job}).Done.ID
	p.ok(p.as(p.ben), JobStart{Job: job})
	_, bad = p.try(p.as(p.ben), Undo{Command: reopened})
	require.NotNil(t, bad, "work went on since")
}
