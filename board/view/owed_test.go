package view_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/view"
)

// A board of an earlier program has damage without an acceptor and packs for no robot
// in particular: it opens as it is, and both are listed.
func TestWhatAnOldBoardHoldsIsListedForTheCaptain(t *testing.T) {
	const robot = board.RobotID("r")
	damage := func(n int, g board.Grade) board.Damage {
		return board.Damage{ID: board.DamageID("d" + string(rune('0'+n))), Number: n, DamageFields: board.DamageFields{Robot: robot, Part: "rail", Grade: g}}
	}
	pack := func(name string, state board.PackState, use board.PackUse, fits ...board.RobotID) board.Pack {
		return board.Pack{ID: board.PackID(name), State: state, PackFields: board.PackFields{Name: name, Use: use, Fits: fits}}
	}
	accepted := damage(2, board.G2)
	accepted.Acceptor = "ada"
	s := board.FromNouns(1, []board.Noun{
		board.Robot{ID: robot, RobotFields: board.RobotFields{Name: "Tin Moth", Number: 1}}, board.Person{ID: "ada", PersonFields: board.PersonFields{Name: "Ada"}},
		damage(1, board.G1), accepted, damage(3, board.G3), damage(4, board.G0),
		pack("P1", board.PackWaiting, board.UseMain), pack("P2", board.PackWaiting, board.UseMain, robot), pack("P3", board.PackWaiting, board.UseTool),
		pack("P4", board.PackSuspect, board.UseMain), pack("P5", board.PackGone, board.UseWeapon), pack("P6", board.PackWaiting, board.UseTransmitter),
	}, nil)
	owed := view.Of(s, view.RecordsOf(s)).Owed.List
	var what []string
	for _, x := range owed {
		what = append(what, x.What)
		require.NotEmpty(t, x.Act)
	}
	require.Equal(t, []string{
		"Tin Moth, damage 1 rail: left as it is, and nobody has accepted that.",
		"Tin Moth, damage 3 rail: it has no job.",
		"Pack P1 is listed for no robot.",
	}, what)
	require.Equal(t, board.DamageID("d1"), owed[0].Damage)
	require.Equal(t, board.PackID("P1"), owed[2].Pack)
}
