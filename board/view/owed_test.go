package view_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/view"
)

// A board of an earlier program has damage without an acceptor, packs for no robot in
// particular, minors and guests as leads and charges that nobody has said they stay with:
// it opens as it is, and all are listed.
func TestWhatAnOldBoardHoldsIsListedForTheCaptain(t *testing.T) {
	const robot = board.RobotID("r")
	damage := func(n int, g board.Grade) board.Damage {
		return board.Damage{ID: board.DamageID("d" + string(rune('0'+n))), Number: n, DamageFields: board.DamageFields{Robot: robot, Part: "rail", Grade: g}}
	}
	pack := func(name string, state board.PackState, use board.PackUse, fits ...board.RobotID) board.Pack {
		return board.Pack{ID: board.PackID(name), State: state, PackFields: board.PackFields{Name: name, Use: use, Fits: fits}}
	}
	charging := func(name string, said board.Moment) board.Pack {
		p := pack(name, board.PackCharging, board.UseMain, robot)
		p.Channel, p.Attendant, p.AttendAt = "A1", "kit", said
		return p
	}
	accepted := damage(2, board.G2)
	accepted.Acceptor = "ada"
	s := board.FromNouns(1, []board.Noun{
		board.Robot{ID: robot, RobotFields: board.RobotFields{Name: "Tin Moth", Number: 1}}, board.Person{ID: "ada", PersonFields: board.PersonFields{Name: "Ada"}},
		board.Person{ID: "kit", PersonFields: board.PersonFields{Name: "Kit", Minor: true}},
		board.Robot{ID: "s", RobotFields: board.RobotFields{Name: "Clay Wasp", Number: 2, Lead: "kit"}}, board.Robot{ID: "t", RobotFields: board.RobotFields{Name: "Owl", Number: 3, Lead: "ada"}},
		board.Channel{ID: "A1", ChannelFields: board.ChannelFields{Name: "A1"}}, charging("P7", 0), charging("P8", 1),
		damage(1, board.G1), accepted, damage(3, board.G3), damage(4, board.G0),
		pack("P1", board.PackWaiting, board.UseMain), pack("P2", board.PackWaiting, board.UseMain, robot), pack("P3", board.PackWaiting, board.UseTool),
		pack("P4", board.PackSuspect, board.UseMain), pack("P5", board.PackGone, board.UseWeapon), pack("P6", board.PackWaiting, board.UseTransmitter),
	}, nil)
	owed := view.Of(s, view.RecordsOf(s), noon).Owed.List
	var what []string
	for _, x := range owed {
		what = append(what, x.What)
		require.NotEmpty(t, x.Act)
	}
	require.Equal(t, []string{
		"Tin Moth, damage 1 rail: left as it is, and nobody has accepted that.",
		"Tin Moth, damage 3 rail: it has no job.",
		"Kit leads Clay Wasp and is a minor, a guest or off the roster.",
		"Pack P1 is listed for no robot.",
		"Pack P7 is on charger A1, and nobody has said that they stay with it.",
	}, what)
	require.Equal(t, board.DamageID("d1"), owed[0].Damage)
	require.Equal(t, board.PackID("P1"), owed[3].Pack)
}
