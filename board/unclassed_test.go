package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestARobotWhoseClassNobodyHasSaidIsNotWeighed(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	p.old(func(r *Robot) { r.Class = Class{} })

	_, bad := p.try(p.as(p.ben), RobotWeigh{Robot: p.moth, Grams: 1300})
	require.NotNil(t, bad)
	require.Contains(t, bad.Sentence, "Nobody has said the class and limit")
	require.Equal(t, MassUnknown, p.s.MassIn(p.moth, nil).Word())
	require.Zero(t, p.s.DifferPct(p.moth))

	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	_, bad = p.try(p.as(p.ben), RobotWeigh{Robot: p.moth, Grams: 1300})
	require.Nil(t, bad)
}

func TestARobotWhoseClassNobodyHasSaidIsNotSignedReady(t *testing.T) {
	p := newPit(t)
	p.old(func(r *Robot) { r.Class = Class{} })
	p.closedUp()
	p.walkUntil(ListReady, "mass")
	grams := 1300.0
	c := p.said(ListReady, "mass", SaidDone)
	c.Number = &grams
	_, bad := p.try(p.as(p.ben), c)
	require.NotNil(t, bad)
	require.Contains(t, bad.Sentence, "Nobody has said its class and limit")
}

// Else a limit could be raised unseen, by way of none.
func TestAClassThatWasSaidIsNotLeftOut(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Class = Class{}
	_, bad := p.try(Actor{Person: p.ada, Role: RoleCaptain}, RobotChange{Robot: p.moth, RobotFields: f, Reason: "another event"})
	require.NotNil(t, bad)
	require.Equal(t, "class", bad.Field)

	p.captain(RobotRetire{Robot: p.moth})
	_, bad = p.try(Actor{Person: p.ada, Role: RoleCaptain}, RobotAdd{RobotFields: f, Reason: "another event"})
	require.NotNil(t, bad)
	require.Equal(t, "class", bad.Field)
}
