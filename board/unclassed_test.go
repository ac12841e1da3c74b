package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestARobotWhoseClassNobodyHasSaidIsNotWeighed(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	class := f.Class
	f.Class = Class{}
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})

	_, bad := p.try(p.as(p.ben), RobotWeigh{Robot: p.moth, Grams: 1300})
	require.NotNil(t, bad)
	require.Contains(t, bad.Sentence, "Nobody has said the class and limit")
	require.Equal(t, MassUnknown, p.s.MassIn(p.moth, nil).Word())
	require.Zero(t, p.s.DifferPct(p.moth))

	f.Class = class
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	_, bad = p.try(p.as(p.ben), RobotWeigh{Robot: p.moth, Grams: 1300})
	require.Nil(t, bad)
}

func TestARobotWhoseClassNobodyHasSaidIsNotSignedReady(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Class = Class{}
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	p.closedUp()
	p.walkUntil(ListReady, "mass")
	grams := 1300.0
	c := p.said(ListReady, "mass", SaidDone)
	c.Number = &grams
	_, bad := p.try(p.as(p.ben), c)
	require.NotNil(t, bad)
	require.Contains(t, bad.Sentence, "Nobody has said its class and limit")
}
