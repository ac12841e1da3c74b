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
			_, r := p.try(p.as(p.ben), begin)
			require.Equal(t, CodeNothingToDo, r.Code)
			before := p.state()
			p.open()
			h, _ := p.s.Sheet(p.moth, list)
			require.Equal(t, SheetOpen, h.State, "made safe or worked on, it lasts")
			p.ready()
			require.Equal(t, Ready, p.state(), "an open list holds no signature back")
			p.walk(p.as(p.nia), list)
			h, _ = p.s.Sheet(p.moth, list)
			require.Equal(t, SheetComplete, h.State)
			p.ok(p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "packs", Said: SaidNo})
			h, _ = p.s.Sheet(p.moth, list)
			require.Equal(t, SheetOpen, h.State, "it is owed again")
			require.Equal(t, Ready, p.state(), "and says nothing of power")
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
		_, r := p.try(p.as(p.ben), RobotList{Robot: p.moth, List: list})
		require.NotNil(t, r, list)
		require.Equal(t, "list", r.Field)
	}
}

func TestTheLinksOfTheNightHaveAKeeper(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), RobotList{Robot: p.moth, List: ListOvernight})
	h, _ := p.s.Sheet(p.moth, ListOvernight)
	_, r := p.try(p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "keeper", Said: SaidDone})
	require.Equal(t, "told", r.Field)
	p.ok(p.as(p.ben), SheetAnswer{Sheet: h.ID, Line: "keeper", Said: SaidDone, Told: p.dee})
}
