package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about whose device a word is given on.

func TestWhatIsSignedOnAnothersDeviceSaysWhose(t *testing.T) {
	p := newPit(t)
	p.toSign()
	sign := p.said(ListReady, "sign", SaidDone)
	sign.Person = p.nia
	ada := p.as(p.ada)
	bad := p.refused(ada, sign, 5)
	require.Equal(t, CodeNeedProof, bad.Code, "nobody signs in another's name")
	ada.Proved = []PersonID{p.nia}
	p.ok(ada, sign)
	a, _ := p.s.Sheets[sign.Sheet].Answered("sign")
	require.Equal(t, p.nia, a.By)
	require.Equal(t, p.ada, a.On)
	require.Equal(t, p.nia, p.power().ReadyBy)
	require.Equal(t, p.ada, p.power().ReadyOn)

	own := newPit(t)
	own.toSign()
	own.ok(own.as(own.dee), own.said(ListReady, "sign", SaidDone))
	require.Empty(t, own.power().ReadyOn)
	own.ok(own.as(own.ada), RobotLive{Robot: own.moth, Place: own.arena})
}

func TestOnlyASignerSetsAFirstPINOnTheCaptainsDevice(t *testing.T) {
	p := newPit(t)
	orla := p.person(PersonFields{Name: "Orla", Role: RoleCrew, Signer: true, From: "the officials"})
	zed := p.person(PersonFields{Name: "Zed", Role: RoleCrew})
	for _, c := range []PersonClaim{
		{Person: zed, Role: RoleCrew, On: p.ada}, {Person: orla, Role: RoleCrew, On: p.ben},
		{Person: PersonID(p.made(p.captain(NoteAdd{Text: "a new id"}))), Name: "Yve", Role: RoleCrew, On: p.ada},
	} {
		_, bad := p.try(Itself(), c)
		require.NotNil(t, bad)
		require.Equal(t, CodeForbidden, bad.Code)
	}
	p.ok(Itself(), PersonClaim{Person: orla, Role: RoleCrew, On: p.ada})
	require.Equal(t, p.ada, p.s.People[orla].ClaimedOn)
	p.ok(Itself(), PersonClaim{Person: zed, Role: RoleCrew})
	require.Empty(t, p.s.People[zed].ClaimedOn)
}
