package team_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/charge"
	"mendline/board/team"
)

func TestADumpBringsNoPackBackThatWasSetAside(t *testing.T) {
	for state, dumped := range map[board.PackState]bool{
		board.PackUnread: true, board.PackCharged: true, board.PackSuspect: false, board.PackQuarantined: false, board.PackGone: false,
	} {
		id := board.PackID(board.NewID(board.CommandID{}, board.KindPack, "P1"))
		files, err := team.Write(board.FromNouns(1, []board.Noun{
			board.Event{EventFields: board.EventFields{Name: "Shed Meet"}},
			board.Pack{ID: id, State: state, PackFields: board.PackFields{Name: "P1", Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 1, ChargeAmpsMost: 1, Use: board.UseMain}},
		}, nil))
		require.NoError(t, err)
		if dumped {
			require.Contains(t, string(files["packs.csv"]), "P1", state)
		} else {
			require.NotContains(t, string(files["packs.csv"]), "P1", state)
		}
	}
}
