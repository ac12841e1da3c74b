package team_test

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/charge"
	"mendline/board/team"
)

// A pack that was in a robot is in it when its team is loaded: there it is looked at as the
// robot is made safe, and nobody has read it.
func TestAPackThatWasInARobotComesOutOfADumpInIt(t *testing.T) {
	robot := board.RobotID(board.NewID(board.CommandID{}, board.KindRobot, "Tin Moth"))
	fields := board.RobotFields{
		Name: "Tin Moth", Number: 1, Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules 2"}, Size: board.Light, Hands: 2, Weight: 1,
		Energies: []board.Energy{{Kind: board.EnergyDrive, Isolator: "link", Reach: board.Outside}},
	}
	for name, c := range map[string]struct {
		is      board.Pack
		retired bool
		in      board.RobotID
		state   board.PackState
	}{
		"fitted":               {board.Pack{Robot: robot, State: board.PackInRobot}, false, robot, board.PackInRobot},
		"set aside in it":      {board.Pack{Robot: robot, State: board.PackSuspect}, false, robot, board.PackSuspect},
		"nowhere":              {board.Pack{State: board.PackCharged}, false, "", board.PackUnread},
		"its robot is retired": {board.Pack{Robot: robot, State: board.PackInRobot}, true, "", board.PackUnread},
	} {
		t.Run(name, func(t *testing.T) {
			p := c.is
			p.ID = board.PackID(board.NewID(board.CommandID{}, board.KindPack, "P1"))
			p.PackFields = board.PackFields{Name: "P1", Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 1, ChargeAmpsMost: 1, Use: board.UseMain}
			files, err := team.Write(board.FromNouns(1, []board.Noun{
				board.Event{EventFields: board.EventFields{Name: "Shed Meet"}}, board.Robot{ID: robot, RobotFields: fields, Retired: c.retired}, p,
			}, nil))
			require.NoError(t, err)
			folder := fstest.MapFS{}
			for name, data := range files {
				folder[name] = &fstest.MapFile{Data: data}
			}
			load, errs := team.Read(folder, board.CommandID{})
			require.Empty(t, errs)
			change, bad := board.Apply(board.State{}, load, board.Ask{}, board.Actor{Role: board.RoleCaptain}, 1)
			require.Nil(t, bad)
			s := board.FromNouns(1, change.Put, nil)
			require.Len(t, s.Packs, 1)
			for id, is := range s.Packs {
				require.Equal(t, c.in, is.Robot)
				require.Equal(t, c.state, is.State)
				require.Empty(t, is.Place)
				if c.in == "" {
					continue
				}
				require.True(t, is.Unread)
				require.Equal(t, c.state == board.PackInRobot, is.CameBack)
				safe, _ := s.Sheet(robot, board.ListMakeSafe)
				asked := false
				for _, l := range safe.Lines {
					asked = asked || l.Pack == id
				}
				require.True(t, asked)
			}
		})
	}
}
