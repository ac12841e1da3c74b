package team_test

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/charge"
	"mendline/board/team"
)

func TestAPackThatWasSetAsideComesOutOfADumpSetAside(t *testing.T) {
	for state, loaded := range map[board.PackState]board.PackState{
		board.PackUnread: board.PackUnread, board.PackCharged: board.PackUnread,
		board.PackSuspect: board.PackSuspect, board.PackQuarantined: board.PackQuarantined, board.PackGone: board.PackGone,
	} {
		id := board.PackID(board.NewID(board.CommandID{}, board.KindPack, "P1"))
		files, err := team.Write(board.FromNouns(1, []board.Noun{
			board.Event{EventFields: board.EventFields{Name: "Shed Meet"}},
			board.Pack{ID: id, State: state, PackFields: board.PackFields{Name: "P1", Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 1, ChargeAmpsMost: 1, Use: board.UseMain}},
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
		for _, p := range board.FromNouns(1, change.Put, nil).Packs {
			require.Equal(t, loaded, p.State)
		}
	}
}
