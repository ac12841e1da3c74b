package board_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// onPaper enters that a line was answered on paper so many minutes ago.
func (p *pit) onPaper(list SheetList, line string, said Said, minutesAgo int) SheetAnswer {
	c := p.said(list, line, said)
	c.Paper, c.At = true, p.now-Moment(minutesAgo)*60_000
	return c
}

func (p *pit) answersOf(list SheetList) []Answer {
	sheet, _ := p.s.Sheet(p.moth, list)
	return sheet.Answers
}

func TestAnAnswerOnPaperIsKeptWithBothTimes(t *testing.T) {
	p := newPit(t)
	c := p.onPaper(ListMakeSafe, "lock", SaidDone, 10)
	p.ok(p.as(p.ben), c)
	require.Equal(t, []Answer{{
		Line: "lock", Said: SaidDone, By: p.ben, At: c.At, Paper: true, EnteredAt: p.now, Record: true,
	}}, p.answersOf(ListMakeSafe))
}

func TestWhatWasAnsweredOnPaperBringsNoRobotNearerToPower(t *testing.T) {
	p := newPit(t)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	for _, l := range sheet.Lines {
		c := p.onPaper(ListMakeSafe, l.ID, SaidDone, 5)
		c.Number = &l.Most
		p.ok(p.as(p.ben), c)
	}
	require.Equal(t, Unknown, p.state())
	sheet, _ = p.s.Sheet(p.moth, ListMakeSafe)
	open, ok := sheet.OpenLine()
	require.True(t, ok)
	require.Equal(t, sheet.Lines[0], open, "every line is asked again")
	p.makeSafe()
	require.Equal(t, Verified, p.state())
}

func TestThatLinkAndLockAreInIsOnPaperToTheWordOfThoseWithAuthority(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.now += minute
	p.refused(p.as(p.nia), p.onPaper(ListCloseUp, "lock", SaidDone, 0), 4)
	p.ok(p.as(p.nia), p.onPaper(ListCloseUp, "covers", SaidDone, 0))
	for _, sheet := range p.s.Printed(p.moth) {
		for _, l := range sheet.Lines {
			if sheet.List == ListCloseUp {
				require.Equal(t, l.ID != "lock" && l.ID != "link-1", slices.Contains(l.Who, p.nia), l.Ask)
			}
		}
	}
}

func TestASignatureOnPaperIsRecordAndIsGivenAnew(t *testing.T) {
	p := newPit(t)
	p.toSign()
	c := p.onPaper(ListReady, "sign", SaidDone, 1)
	p.ok(p.as(p.dee), c)
	require.Equal(t, ClosingUp, p.state())
	sheet, _ := p.s.Sheet(p.moth, ListReady)
	require.Equal(t, SheetOpen, sheet.State)
	p.answer(p.as(p.dee), ListReady)
	require.Equal(t, Ready, p.state())
}

func TestAnInspectionOnPaperStandsUntilTheRobotFights(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.walk(p.as(p.ben), ListFirstIn)
	sheet, _ := p.s.Sheet(p.moth, ListInspect)
	for _, l := range sheet.Lines {
		p.ok(p.as(p.ben), p.onPaper(ListInspect, l.ID, SaidDone, 20))
	}
	sheet, _ = p.s.Sheet(p.moth, ListInspect)
	require.Equal(t, SheetComplete, sheet.State)
	require.Equal(t, Work, p.state())
}

func TestAnInspectionFromBeforeTheFightIsRefused(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ada), RobotPlace{Robot: p.moth, Place: p.arena})
	p.ok(p.as(p.ada), RobotPlace{Robot: p.moth, Place: p.bench})
	p.makeSafe()
	_, bad := p.try(p.as(p.ben), p.onPaper(ListInspect, "frame", SaidDone, 30))
	require.NotNil(t, bad)
	require.Equal(t, "at", bad.Field)
	sentenceHas(t, bad, "has fought since")
}

func TestTheTimeOnThePaperIsPastAndOfToday(t *testing.T) {
	for name, c := range map[string]struct {
		minutesAgo int
		says       string
	}{
		"still to come": {-1, "still to come"},
		"another day":   {24 * 60, "another day"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			_, bad := p.try(p.as(p.ben), p.onPaper(ListMakeSafe, "lock", SaidDone, c.minutesAgo))
			require.NotNil(t, bad)
			sentenceHas(t, bad, c.says)
		})
	}
	p := newPit(t)
	c := p.said(ListMakeSafe, "lock", SaidDone)
	c.Paper = true
	_, bad := p.try(p.as(p.ben), c)
	require.NotNil(t, bad)
	sentenceHas(t, bad, "time that is written")
	c.Paper, c.At = false, p.now
	_, bad = p.try(p.as(p.ben), c)
	require.NotNil(t, bad)
	require.Equal(t, "at", bad.Field)
}

func TestPaperIsEnteredByWhoeverAnsweredAndMayAnswer(t *testing.T) {
	p := newPit(t)
	p.refused(p.as(p.kit), p.onPaper(ListMakeSafe, "lock", SaidDone, 5), 4) // a minor
	p.refused(p.as(p.nia), p.onPaper(ListMakeSafe, "lock", SaidDone, 5), 4)
	c := p.onPaper(ListMakeSafe, "lock", SaidDone, 5)
	c.Person = p.ben
	_, bad := p.try(p.as(p.dee), c) // another's name, without the PIN
	require.NotNil(t, bad)
	by := p.as(p.dee)
	by.Proved = []PersonID{p.ben}
	p.ok(by, c)
	require.Equal(t, p.ben, p.answersOf(ListMakeSafe)[0].By)
}

func TestANoOnPaperIsBelievedUnlessSomeoneLookedSince(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), p.onPaper(ListMakeSafe, "lock", SaidNo, 10)) // before the lock was looked at
	require.Equal(t, Verified, p.state())
	p.now += 60_000
	p.ok(p.as(p.ben), p.onPaper(ListMakeSafe, "lock", SaidNo, 0))
	require.Equal(t, Unknown, p.state())
}

func TestAPackSetAsideOnPaperIsSetAside(t *testing.T) {
	p := newPit(t)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	for _, l := range sheet.Lines {
		if l.Kind == LineLook {
			p.ok(p.as(p.ben), p.onPaper(ListMakeSafe, l.ID, SaidSuspect, 5))
			require.Equal(t, PackSuspect, p.s.Packs[l.Pack].State)
			return
		}
	}
	t.Fatal("no pack to look at")
}

func TestASheetThatEndedTakesPaperAsRecord(t *testing.T) {
	p := newPit(t)
	sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
	p.answer(p.as(p.ben), ListMakeSafe)
	_, bad := Apply(p.s, BoardStart{}, Ask{ID: newID(p.now, 99)}, Itself(), p.now)
	require.Nil(t, bad)
	p.ok(Itself(), BoardStart{})
	require.Equal(t, SheetUnanswered, p.s.Sheets[sheet.ID].State)
	c := SheetAnswer{Sheet: sheet.ID, Line: "radio", Said: SaidDone, Paper: true, At: p.now}
	p.ok(p.as(p.ben), c)
	is := p.s.Sheets[sheet.ID]
	require.Equal(t, SheetUnanswered, is.State)
	require.True(t, is.Answers[len(is.Answers)-1].Record)
	require.Equal(t, Unknown, p.state())
}
