package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestARestoreMakesEveryPackUnreadAndListsWhatTheOtherBoardHeldBack(t *testing.T) {
	old := newPit(t)
	old.ok(old.as(old.ben), PackSet{Pack: old.p2, State: PackSuspect})
	old.ok(old.as(old.dee), RobotStop{Robot: old.moth, Why: "a crack"})
	old.damage(GX)
	held := old.s.HeldBack()
	require.Len(t, held, 3)

	p := newPit(t)
	charging, lies := p.pack("P3"), p.pack("P4")
	p.ok(p.as(p.ben), PackRead{Pack: lies, CellVolts: even(4.18), Charged: true})
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.18), Charged: true})
	p.ok(p.as(p.ben), PackRead{Pack: charging, CellVolts: even(3.7), TempC: degrees(21)})
	p.ok(p.as(p.ben), PackCharge{Pack: charging, Channel: p.cast.A1, Attendant: p.dee, Cells: 4, Amps: 0.6, Contained: true})
	p.open()
	p.ready()
	_, bad := p.try(p.as(p.ada), BoardRestore{Why: "restored"})
	require.Equal(t, CodeForbidden, bad.Code, "no device gives it")
	p.ok(Itself(), BoardRestore{Why: "restored", Held: held})
	require.Equal(t, Unknown, p.state())
	require.Equal(t, PackUnread, p.s.Packs[lies].State)
	require.True(t, p.s.Packs[p.p2].Unread, "it is in the robot")
	require.True(t, p.s.Packs[charging].Unsure)
	for _, id := range []PackID{lies, p.p2} {
		p.ok(p.as(p.ben), PackMove{Pack: id, Place: p.shelf})
		_, bad := p.try(p.as(p.ben), PackCharge{Pack: id, Channel: p.channel(""), Attendant: p.dee, Cells: 4, Amps: 0.6, Contained: true})
		require.Equal(t, CodeNotYet, bad.Code)
	}

	notes := map[string]NoteID{}
	for id, n := range p.s.Notes {
		require.True(t, n.Held)
		notes[n.Text] = id
	}
	require.Contains(t, notes, "Before the restore: Pack P2 was set aside.")
	require.Contains(t, notes, "Before the restore: Tin Moth was stopped by Dee: a crack.")
	require.Len(t, notes, 3)
	id := notes["Before the restore: Pack P2 was set aside."]
	_, bad = p.try(p.as(p.ben), NoteSettle{Note: id})
	require.Equal(t, CodeForbidden, bad.Code)
	p.ok(p.as(p.ada), NoteSettle{Note: id})
	require.Equal(t, p.ada, p.s.Notes[id].SettledBy)
	_, bad = p.try(p.as(p.dee), NoteSettle{Note: id})
	require.Equal(t, CodeNothingToDo, bad.Code)
}

func TestWhatTheRestoredBoardKnowsItselfIsNotListedAgain(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect})
	p.ok(Itself(), BoardRestore{Why: "restored", Held: p.s.HeldBack()})
	require.Empty(t, p.s.Notes)
	require.Equal(t, PackSuspect, p.s.Packs[p.p2].State)
}

func TestAPackThatWasLostIsInNoRobotAndOnNoCharger(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.dee), PackMove{Pack: p.p2, Place: p.shelf})
	p.onCharge(p.p2, p.dee)
	backup := p.s
	p.ok(p.as(p.dee), PackOff{Pack: p.p2})
	p.ok(p.as(p.dee), PackMove{Pack: p.p1, Place: p.bench})
	for _, id := range []PackID{p.p1, p.p2} {
		p.ok(p.as(p.dee), PackSet{Pack: id, State: PackGone})
	}
	restore := p.s.Replaced(BoardRestore{Why: "restored"})
	p.s = backup
	p.ok(Itself(), restore)
	for _, id := range []PackID{p.p1, p.p2} {
		is := p.s.Packs[id]
		require.Equal(t, PackGone, is.State)
		require.Empty(t, is.Robot)
		require.Empty(t, is.Channel)
		require.False(t, is.Unread || is.Powered || is.CameBack)
	}
	p = newPit(t)
	backup = p.s
	p.ok(p.as(p.dee), PackSet{Pack: p.p1, State: PackGone})
	restore = p.s.Replaced(BoardRestore{Why: "restored"})
	p.s = backup
	p.ok(Itself(), restore)
	require.Equal(t, PackGone, p.s.Packs[p.p1].State)
	require.Equal(t, p.moth, p.s.Packs[p.p1].Robot, "both boards have it in there")
}

func TestWhoeverWasOnARobotByTheReplacedBoardIsOnItAgain(t *testing.T) {
	p := newPit(t)
	p.open()
	backup := p.s
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	p.ok(p.as(p.kit), EmergencyRaise{Place: p.box})
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	two := p.as(p.ada)
	two.Proved = []PersonID{p.nia}
	checked := p.answers()
	checked.CheckedBy = p.nia
	p.ok(two, TagOverride{Tag: p.tagOf(p.dee), Second: p.nia, Override: checked})
	p.ok(p.as(p.ada), TagOn{Robot: p.moth, Person: p.ada})
	stranger := p.person(PersonFields{Name: "Zed", Role: RoleCrew})
	p.ok(p.as(stranger), HandsOn{Robot: p.moth})
	restore := p.s.Replaced(BoardRestore{Why: "restored"})

	p.s = backup
	p.ok(Itself(), restore)
	var names []string
	for _, h := range p.s.HandsOn(p.moth) {
		names = append(names, p.s.People[h.Person].Name)
	}
	require.Equal(t, []string{"Ada", "Ben", "Gus", "Zed"}, names, "of both boards")
	openNotice(p, p.dee)
	p.refused(p.as(p.dee), TagOn{Robot: p.moth}, 6)
	require.Len(t, p.s.Emergencies, 1)
	require.Empty(t, p.s.Notes)
	near, _ := p.s.HandsOf(p.moth, p.ada)
	p.refused(p.as(p.ben), HandsOff{Hands: near.ID}, 5)
	p.ok(p.as(p.ada), HandsOff{Hands: near.ID})
}
