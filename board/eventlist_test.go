package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestTheEndsOfADayAreWalkedAsSheetsAndAreNoGate(t *testing.T) {
	for _, list := range []SheetList{ListOvernight, ListPackUp} {
		t.Run(string(list), func(t *testing.T) {
			p := newPit(t)
			begin := RobotList{Robot: p.moth, List: list}
			p.ok(p.as(p.kit), begin)
			_, bad := p.try(p.as(p.ben), begin)
			require.Equal(t, CodeNothingToDo, bad.Code)
			before := p.state()
			p.open()
			sheet, _ := p.s.Sheet(p.moth, list)
			require.Equal(t, SheetOpen, sheet.State, "made safe or worked on, it lasts")
			p.ready()
			require.Equal(t, Ready, p.state(), "an open list holds no signature back")
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			state := p.state()
			p.walk(p.as(p.nia), list)
			sheet, _ = p.s.Sheet(p.moth, list)
			require.Equal(t, SheetComplete, sheet.State)
			p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "packs", Said: SaidNo})
			sheet, _ = p.s.Sheet(p.moth, list)
			require.Equal(t, SheetOpen, sheet.State, "it is owed again")
			require.Equal(t, state, p.state(), "and says nothing of power")
			require.Equal(t, Unknown, before)
		})
	}
}

func TestAListOfYesterdayIsBegunAnew(t *testing.T) {
	p := newPit(t)
	begin := RobotList{Robot: p.moth, List: ListOvernight}
	p.ok(p.as(p.ben), begin)
	was, _ := p.s.Sheet(p.moth, ListOvernight)
	p.now += 24 * 3600_000
	p.ok(p.as(p.ben), begin)
	is, _ := p.s.Sheet(p.moth, ListOvernight)
	require.NotEqual(t, was.ID, is.ID)
	require.Equal(t, SheetUnanswered, p.s.Sheets[was.ID].State)
}

func TestOnlyTheEndsOfADayAreBegunByHand(t *testing.T) {
	p := newPit(t)
	for _, list := range []SheetList{ListMakeSafe, ListReady, ListLoadIn, "lunch"} {
		_, bad := p.try(p.as(p.ben), RobotList{Robot: p.moth, List: list})
		require.NotNil(t, bad, list)
		require.Equal(t, "list", bad.Field)
	}
}

func TestTheLinksOfTheNightHaveAKeeper(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), RobotList{Robot: p.moth, List: ListOvernight})
	sheet, _ := p.s.Sheet(p.moth, ListOvernight)
	_, bad := p.try(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "keeper", Said: SaidDone})
	require.Equal(t, "told", bad.Field)
	p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "keeper", Said: SaidDone, Told: p.dee})
}
