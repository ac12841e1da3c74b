package board_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// setTime gives the captain's command, and has the pit's time go with it.
func (p *pit) setTime(by time.Duration) Change {
	p.t.Helper()
	ch := p.ok(p.as(p.ada), TimeSet{BySec: int(by / time.Second), Sure: true})
	p.now = ch.Done.At
	return ch
}

// refusedAs expects a refusal with a code.
func (p *pit) refusedAs(by Actor, c Command, code Code) {
	p.t.Helper()
	_, bad := p.try(by, c)
	require.NotNil(p.t, bad)
	require.Equal(p.t, code, bad.Code, bad.Sentence)
}

func TestAfterTheTimeIsSetNothingThatWasDeclaredCounts(t *testing.T) {
	for _, by := range []time.Duration{-20 * time.Minute, 20 * time.Minute, -26 * time.Hour, 26 * time.Hour, 20 * 366 * 24 * time.Hour} {
		t.Run(by.String(), func(t *testing.T) {
			p := newPit(t)
			p.open()
			job := p.job()
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.now += 300_000
			p.read(p.p2)
			was, old := p.s, p.now+1000 // when the pit gives its next command

			ch := p.setTime(by)
			require.Equal(t, old.Add(by), ch.Done.At)
			require.Equal(t, Unknown, p.state())
			require.Equal(t, "the board's time was set", p.s.Powers[p.moth].Why)
			for _, pack := range p.s.Packs {
				require.True(t, pack.Unread || pack.State == PackUnread, pack.Name)
			}
			require.NotEmpty(t, p.tagOf(p.ben), "tags stay")
			require.Equal(t, JobHeld, p.jobState(job))
			require.Equal(t, was.Jobs[job].WorkedSec(old), p.s.Jobs[job].WorkedSec(p.now), "what was worked stays as long as it was")
			require.Equal(t, Clock{V: p.s.Rev, ShiftSec: int(by.Seconds()), BySec: int(by.Seconds()), By: p.ada, At: p.now}, p.s.TimeOf())

			p.makeSafeAgain()
			p.ok(p.as(p.ben), JobResume{Job: job})
			p.now += 60_000
			p.ok(p.as(p.ben), JobFinish{Job: job})
			require.Equal(t, JobClosed, p.jobState(job))
			require.Equal(t, was.Jobs[job].WorkedSec(old)+61, p.s.Jobs[job].WorkedSec(p.now))
			p.ready()
			require.Equal(t, Ready, p.state(), "and the day goes on")
		})
	}
}

func TestAnHonestRestartWithoutASetTimeLeavesEveryDateAsItWas(t *testing.T) {
	p := newPit(t)
	p.open()
	was := p.s
	p.ok(Itself(), BoardStart{Why: "the program has started"})
	require.Equal(t, was.Tags, p.s.Tags)
	require.Zero(t, p.s.TimeOf())
}

func TestASetTimeMakesNoOldTagANewOne(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ok(Itself(), PersonForget{Person: p.ben, By: p.ada})
	p.setTime(-20 * time.Minute)
	tag := p.tagOf(p.ben)
	p.refused(p.as(p.ben), TagOff{Tag: tag}, 5)
	by := p.as(p.ben)
	by.Before = []BeforePIN{{Person: p.ben, Until: p.s.People[p.ben].Forgotten.Rev}}
	p.ok(by, TagOff{Tag: tag})
}

func TestWhatTheEventsClockSaysStaysWhenTheTimeIsSet(t *testing.T) {
	p := newPit(t)
	at := p.now + 3_600_000
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7, NotBefore: at}})))
	e := p.s.Event().EventFields
	e.Breaks = []Break{{From: at, To: at + 60_000}}
	e.HotWork.Until = at
	p.captain(EventSet{EventFields: e})
	entered := p.s.Event().Entered.SpinDown
	p.setTime(-20 * time.Minute)
	require.Equal(t, at, p.s.Fights[f].NotBefore)
	require.Equal(t, e.Breaks, p.s.Event().Breaks)
	require.Equal(t, at, p.s.Event().HotWork.Until)
	require.Equal(t, entered-20*60_000, p.s.Event().Entered.SpinDown, "and what the board dated goes along")
}

func TestTheTimeIsSetByTheCaptainWithinReason(t *testing.T) {
	p := newPit(t)
	p.refusedAs(p.as(p.ben), TimeSet{BySec: 60}, CodeForbidden)
	p.refusedAs(p.as(p.dee), TimeSet{BySec: 60}, CodeForbidden)
	p.refusedAs(p.as(p.ada), TimeSet{}, CodeNothingToDo)
	p.refusedAs(p.as(p.ada), TimeSet{BySec: 61 * 366 * 24 * 3600}, CodeBadField)
	p.refusedAs(p.as(p.ada), TimeSet{BySec: -9_000_000_000_000_000_000}, CodeBadField)
	p.ok(p.as(p.ada), TimeSet{BySec: 1})
}

func TestATimeMoreThanADayAwayIsAskedAboutOnce(t *testing.T) {
	const day = 24 * 3600
	for _, by := range []int{day, -day} {
		p := newPit(t)
		p.ok(p.as(p.ada), TimeSet{BySec: by})
	}
	for _, by := range []int{day + 1, -day - 1, 30 * day} {
		p := newPit(t)
		_, bad := p.try(p.as(p.ada), TimeSet{BySec: by})
		require.NotNil(t, bad)
		require.Equal(t, []string{string(CodeUnlikely), "sure"}, []string{string(bad.Code), bad.Field})
		p.ok(p.as(p.ada), TimeSet{BySec: by, Sure: true})
	}
	p := newPit(t)
	_, bad := p.try(p.as(p.ada), TimeSet{BySec: 30 * day})
	require.Equal(t, "This moves the board's time by 30 days, to 8 June 2026, 09:00. Look at the date again: is that today?", bad.Sentence)
}

func TestWhatWasDoneBeforeTheTimeWasSetBackIsNotTakenBack(t *testing.T) {
	p := newPit(t)
	count := p.ok(p.as(p.ben), StockCount{Stock: p.blade, Count: 3})
	p.setTime(-time.Hour)
	p.refusedAs(p.as(p.ben), Undo{Command: count.Done.ID}, CodeTooLate)
	again := p.ok(p.as(p.ben), StockCount{Stock: p.blade, Count: 4})
	p.ok(p.as(p.ben), Undo{Command: again.Done.ID})
}

func TestWhatAPhoneDatedBeforeItHeardThatTheTimeWasSetMovesWithIt(t *testing.T) {
	for _, by := range []time.Duration{-20 * time.Minute, 20 * time.Minute} {
		p := newPit(t)
		p.now += 600_000
		done := p.now + 1000 - 300_000
		p.setTime(by)
		p.n++
		ch, bad := Apply(p.s, TagOn{Robot: p.moth}, Ask{ID: newID(p.now, p.n), At: done}, p.as(p.ben), p.now)
		require.Nil(t, bad)
		tag, _ := p.s.With(ch).TagOf(p.moth, p.ben)
		require.Equal(t, p.now-300_000, tag.At, "five minutes ago, whatever the clock says")

		p.n++
		ask := Ask{ID: newID(p.now, p.n), At: p.now - 200_000, ShiftSec: int(by.Seconds())}
		ch, bad = Apply(p.s, TagOn{Robot: p.moth}, ask, p.as(p.dee), p.now)
		require.Nil(t, bad)
		tag, _ = p.s.With(ch).TagOf(p.moth, p.dee)
		require.Equal(t, p.now-200_000, tag.At, "and one that had heard is believed")
	}
}

func TestACaptainIsToldBeforeWhatASetTimeMoves(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.read(p.p2)
	p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7, NotBefore: p.now + 3_600_000}})
	says, bad := TimeSet{BySec: -1200}.Moves(p.s, p.as(p.ada), p.now)
	require.Nil(t, bad)
	require.Equal(t, []string{
		"The board's time goes back 20 min: 09:01 becomes 08:41.",
		"All that the board has dated moves with it: how long ago a thing was stays as it is. Nothing done before can be taken back.",
		"Tin Moth becomes unknown, and is made safe again.",
		"Pack P2 becomes unread.",
		"Work is on hold on job 1 of Tin Moth.",
		"What the event's clock says stays: fight 7 not before 10:01.",
	}, says)
	far, bad := TimeSet{BySec: 48 * 3600}.Moves(p.s, p.as(p.ada), p.now)
	require.Nil(t, bad)
	require.Equal(t, "The board's time goes forward 2 days: 9 May 09:01 becomes 11 May 09:01.", far[0])
	_, bad = TimeSet{BySec: 60}.Moves(p.s, p.as(p.ben), p.now)
	require.NotNil(t, bad)
}
