package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestAWholeTurnaroundEndsReady(t *testing.T) {
	p := newPit(t)
	require.Equal(t, Unknown, p.state())
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.now += 300_000
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
	require.Equal(t, 1, p.s.Stocks[p.blade].Count)
	p.ready()
	require.Equal(t, Ready, p.state())
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	require.Equal(t, Live, p.state())
}

func TestTheMakeSafeSheetOfABeetleHasAtMostEightLines(t *testing.T) {
	p := newPit(t)
	sheet, ok := p.s.Sheet(p.moth, ListMakeSafe)
	require.True(t, ok)
	require.LessOrEqual(t, len(sheet.Lines), 8)
}

func TestUnderTheCoversOnlyTheFirstInHasATag(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	bad := p.refused(p.as(p.dee), TagOn{Robot: p.moth}, 3)
	sentenceHas(t, bad, "P1")
	p.walk(p.as(p.ben), ListFirstIn)
	require.Equal(t, p.watch, p.s.Packs[p.p1].Place)
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
}

func TestLeavingWorkHoldsRunningJobs(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	require.Equal(t, Verified, p.state())
	require.Equal(t, JobHeld, p.jobState(job))
	require.Equal(t, HoldLockout, p.s.Jobs[job].HeldFor)
}

func TestAFightOverridesThePaper(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7})
	require.Equal(t, FightOn, p.s.Fights[f].State)
	require.Equal(t, Unknown, p.state())
	require.True(t, p.s.Powers[p.moth].Conflict)
	require.NotEmpty(t, p.tagOf(p.ben), "tags stay")
}

func TestBackWithOldSheetsOpenThoseEndUnanswered(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	inspect, _ := p.s.Sheet(p.moth, ListInspect)
	p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Won})
	require.Equal(t, SheetUnanswered, p.s.Sheets[inspect.ID].State)
	fresh, _ := p.s.Sheet(p.moth, ListMakeSafe)
	require.Equal(t, SheetOpen, fresh.State)
}

func TestAForfeitFromTheBenchChangesNothing(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.open()
	p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Forfeited})
	require.Equal(t, Work, p.state())
}

func TestARestartMakesEveryRobotUnknownAndLeavesTagsOn(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(Itself(), BoardStart{Why: "the board was restarted"})
	require.Equal(t, Unknown, p.state())
	require.NotEmpty(t, p.tagOf(p.ben))
	require.Equal(t, JobHeld, p.jobState(job))
	p.makeSafeAgain()
	require.Equal(t, Work, p.state(), "his tag came off for the try and went on again")
}

// makeSafeAgain walks a robot to verified again: whoever has a tag on it takes it off
// before someone tries whether it starts, and puts it on again after.
func (p *pit) makeSafeAgain() {
	p.t.Helper()
	off := p.allOff()
	p.walk(p.as(p.ben), ListMakeSafe)
	for _, who := range off {
		p.ok(p.as(who), TagOn{Robot: p.moth})
	}
}

// allOff takes every tag off by its owner, and tells whose they were.
func (p *pit) allOff() []PersonID {
	p.t.Helper()
	var off []PersonID
	for _, tag := range Sorted(p.s.Tags, func(tag Tag) string { return string(tag.ID) }) {
		p.ok(p.as(tag.Person), TagOff{Tag: tag.ID})
		off = append(off, tag.Person)
	}
	return off
}

func TestNotFittedStandsForTheDay(t *testing.T) {
	p := newPit(t)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	for _, l := range sheet.Lines {
		said := SaidDone
		if l.NotFitted {
			said = SaidNotFitted
		}
		p.rests(l)
		p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: said})
	}
	require.Equal(t, Verified, p.state())
	p.ok(Itself(), BoardStart{Why: "restart"})
	again, _ := p.s.Sheet(p.moth, ListMakeSafe)
	a, ok := again.Answered("light")
	require.True(t, ok)
	require.True(t, a.Standing)
	p.now += 24 * 3600_000
	p.ok(Itself(), BoardTick{})
	p.ok(Itself(), BoardStart{Why: "restart"})
	next, _ := p.s.Sheet(p.moth, ListMakeSafe)
	_, ok = next.Answered("light")
	require.False(t, ok, "a new day asks again")
}
