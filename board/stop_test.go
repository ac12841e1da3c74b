package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
)

func TestEventSafetyStopsARobotInAnyState(t *testing.T) {
	for name, bring := range map[string]func(p *pit){
		"unknown":    func(*pit) {},
		"verified":   func(p *pit) { p.makeSafe() },
		"work":       func(p *pit) { p.open() },
		"closing up": func(p *pit) { p.closedUp() },
		"test": func(p *pit) {
			p.closedUp()
			p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
		},
		"ready": func(p *pit) { p.open(); p.ready() },
		"live": func(p *pit) {
			p.open()
			p.ready()
			p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			bring(p)
			_, bad := p.try(p.as(p.ada), RobotStop{Robot: p.moth, Why: "cracked hub"})
			require.Equal(t, CodeForbidden, bad.Code, "it is event safety's")
			_, bad = p.try(p.as(p.dee), RobotStop{Robot: p.moth})
			require.Equal(t, "why", bad.Field)
			p.refused(Actor{Role: RoleSafety}, RobotStop{Robot: p.moth, Why: "cracked hub"}, 5)
			p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "cracked hub"})
			require.Equal(t, Unknown, p.state())
			require.Equal(t, "stopped by Dee: cracked hub", p.s.Powers[p.moth].Why)
			require.Equal(t, p.dee, p.s.Powers[p.moth].Stop.By)
		})
	}
}

func TestAStopHoldsEveryJobUntilItIsLifted(t *testing.T) {
	p := newPit(t)
	p.open()
	off := boardtest.DressBurrs()
	jobs := []JobID{p.job(), p.jobWith(p.as(p.ben), Should, off)}
	for _, id := range jobs {
		p.ok(p.as(p.ben), JobStart{Job: id})
	}
	p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "cracked hub"})
	for _, id := range jobs {
		require.Equal(t, JobHeld, p.jobState(id))
		require.Equal(t, HoldStopped, p.s.Jobs[id].HeldFor)
		_, bad := p.try(p.as(p.ben), JobResume{Job: id})
		require.NotNil(t, bad)
	}
	p.makeSafeAgain()
	require.Equal(t, Work, p.state(), "it may be made safe")
	bad := p.refused(p.as(p.ben), JobResume{Job: jobs[1]}, 0)
	sentenceHas(t, bad, "Dee")
	p.ok(Itself(), BoardStart{Why: "restart"})
	require.NotZero(t, p.s.Powers[p.moth].Stop, "a restart lifts nothing")
	_, bad = p.try(p.as(p.ada), RobotGoOn{Robot: p.moth})
	require.Equal(t, CodeForbidden, bad.Code)
	p.ok(p.as(p.dee), RobotGoOn{Robot: p.moth})
	require.Equal(t, Unknown, p.state(), "lifting it brings nothing back")
	p.ok(p.as(p.ben), JobResume{Job: jobs[1]})
	_, bad = p.try(p.as(p.dee), RobotGoOn{Robot: p.moth})
	require.Equal(t, CodeNothingToDo, bad.Code)
}

func TestAStoppedRobotIsNeitherTestedNorSigned(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "show us the lock"})
	p.closedUp()
	test := RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}
	p.refused(p.as(p.ada), test, 0)
	sign := func() SheetAnswer {
		for {
			sheet, _ := p.s.Sheet(p.moth, ListReady)
			if l, _ := sheet.OpenLine(); l.Kind == LineSign {
				return p.said(ListReady, l.ID, SaidDone)
			}
			p.answer(p.as(p.ben), ListReady)
		}
	}
	p.refused(p.as(p.dee), sign(), 0)
	p.ok(p.as(p.dee), RobotGoOn{Robot: p.moth})
	p.ok(p.as(p.dee), sign())
	require.Equal(t, Ready, p.state())
}

func TestWhoWasBriefedWhenAndByWhomIsOnTheRoster(t *testing.T) {
	p := newPit(t)
	_, bad := p.try(p.as(p.ben), PersonBrief{Person: p.gus})
	require.Equal(t, CodeForbidden, bad.Code)
	p.refused(Actor{Role: RoleSafety}, PersonBrief{Person: p.gus}, 5)
	_, bad = p.try(p.as(p.dee), PersonBrief{Person: "nobody"})
	require.Equal(t, CodeUnknown, bad.Code)
	p.ok(p.as(p.dee), PersonBrief{Person: p.gus})
	require.Equal(t, p.dee, p.s.People[p.gus].BriefedBy)
	require.Equal(t, p.now, p.s.People[p.gus].BriefedAt)
}

func TestTheLoadInInspectionOutlastsWhatTheRobotGoesThrough(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
	_, bad := p.try(p.as(p.dee), RobotLoadIn{Robot: p.moth})
	require.Equal(t, CodeNothingToDo, bad.Code)
	p.answer(p.as(p.ben), ListLoadIn)
	p.ok(p.as(p.kit), RobotDoubt{Robot: p.moth, Why: "not sure"})
	sheet, _ := p.s.Sheet(p.moth, ListLoadIn)
	require.Equal(t, SheetOpen, sheet.State)
	_, bad = p.try(p.as(p.kit), p.said(ListLoadIn, "light", SaidDone))
	require.Equal(t, 4, bad.Rule, "a minor answers no safety line")
	before := p.state()
	p.walk(p.as(p.ben), ListLoadIn)
	require.Equal(t, before, p.state(), "it says nothing of power")
	p.ok(p.as(p.dee), p.said(ListLoadIn, "lock", SaidNo))
	sheet, _ = p.s.Sheet(p.moth, ListLoadIn)
	require.Equal(t, SheetOpen, sheet.State, "a no owes it again")
}

func TestAnEventThatAsksForALoadInInspectionGetsItBeforePower(t *testing.T) {
	p := newPit(t)
	f := p.settings()
	f.LoadIn = true
	p.captain(EventSet{EventFields: f})
	p.closedUp()
	test := RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}
	bad := p.refused(p.as(p.ada), test, 3)
	sentenceHas(t, bad, "load-in")
	for range 3 {
		p.answer(p.as(p.ben), ListReady)
	}
	p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 3)
	p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
	p.walk(p.as(p.dee), ListLoadIn)
	p.ok(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
	require.Equal(t, Ready, p.state())
}

// The handover of 29 CFR 1910.147(f)(4): the incoming tag goes on before the
// outgoing comes off, and there is no moment without one.
func TestAHandoverLeavesNoMomentWithoutATag(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.now += 600_000
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	p.ok(p.as(p.dee), JobJoin{Job: job})
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	require.Equal(t, Work, p.state())
	require.Equal(t, JobRunning, p.jobState(job))
	p.now += 600_000
	p.ok(p.as(p.dee), JobFinish{Job: job})
	require.Equal(t, JobClosed, p.jobState(job), "it was covered all the time")
	require.Len(t, p.s.Powers[p.moth].Covered, 1)
}

// While a first-in line is open rule 3 lets one tag on and no more, and it stands
// above the handover: (f)(4) asks for continuity and names tag before tag as one
// way to it. Here the other way keeps it: the one who is first in answers the
// line, or comes out, and the robot stays verified with nobody's hands in it.
func TestAHandoverWaitsForTheFirstInLine(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	bad := p.refused(p.as(p.dee), TagOn{Robot: p.moth}, 3)
	sentenceHas(t, bad, "Ben")
	sentenceHas(t, bad, "comes off")
	_, bad = p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	require.Equal(t, Verified, p.state(), "still locked out")
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	p.walk(p.as(p.dee), ListFirstIn)
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
}
