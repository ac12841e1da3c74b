package desk

import (
	"bytes"
	"flag"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/team"
	"mendline/server/store"
)

var writeFormat = flag.Bool("write-format", false, "write a team's board of today's format to ../store/testdata")

// format is the newest that the store knows.
const format = 3

func teamFile(format int) string { return fmt.Sprintf("../store/testdata/format%d-team.db", format) }

// The files were written by the program of their format: a team folder loaded, then
// its pack and its channel changed by the captain.
func TestATeamOfEveryFormatComesOutTheSameAndCanBeUndone(t *testing.T) {
	now := func() time.Time { return noon }
	if *writeFormat {
		writeTeam(t, teamFile(format), now)
	}
	for n := 1; n <= format; n++ {
		t.Run(fmt.Sprintf("format %d", n), func(t *testing.T) {
			data, err := os.ReadFile(teamFile(n))
			require.NoError(t, err)
			path := filepath.Join(t.TempDir(), "board.db")
			require.NoError(t, os.WriteFile(path, data, 0o600))
			var log bytes.Buffer
			p := emptyPit(t, Options{Path: path, Now: now, Log: slog.New(slog.NewTextHandler(&log, nil))})
			require.NotContains(t, log.String(), "can no longer be undone")

			odo, pack, channel := charging(t, p.state())
			require.Equal(t, "P1", pack.Name)
			require.Equal(t, []float64{0.65, 1.2, 61.5}, []float64{pack.CapacityAh, pack.ChargeAmpsMost, pack.MassGrams})
			require.Equal(t, "K1", channel.Name)
			require.Equal(t, []float64{8, 200.5, 400, 0.95}, []float64{channel.AmpsMost, channel.WattsMost, channel.ChargerWatts, channel.PowerFactor})

			lines := journal(t, p.d.Store(), 0)
			for _, do := range []string{"channel.change", "pack.change"} {
				at := slices.IndexFunc(lines, func(l board.JournalLine) bool { return l.Do == do })
				id, ok := board.ParseCommandID(lines[at].ID)
				require.True(t, ok)
				p.ok(odo, board.Undo{Command: id})
			}
			_, pack, channel = charging(t, p.state())
			require.Equal(t, 1.3, pack.ChargeAmpsMost)
			require.Equal(t, 10.0, channel.AmpsMost)
		})
	}
}

// charging gives the team's captain, its one pack and its one channel.
func charging(t *testing.T, s board.State) (board.Actor, board.Pack, board.Channel) {
	t.Helper()
	require.Len(t, s.Packs, 1)
	require.Len(t, s.Channels, 1)
	var by board.Actor
	for id, n := range s.People {
		if n.Role == board.RoleCaptain {
			by = board.Actor{Person: id, Role: n.Role}
		}
	}
	for _, pack := range s.Packs {
		for _, channel := range s.Channels {
			return by, pack, channel
		}
	}
	panic("unreachable")
}

func writeTeam(t *testing.T, file string, now func() time.Time) {
	t.Helper()
	p := emptyPit(t, Options{Now: now, Store: store.Options{Program: "test", Created: noon}})
	load, bad := team.Read(os.DirFS("../../board/team/testdata/full"), newCommandID(board.MomentOf(noon)))
	require.Empty(t, bad)
	p.ok(board.Actor{Role: board.RoleCaptain}, load)
	odo, pack, channel := charging(t, p.state())
	pack.ChargeAmpsMost, channel.AmpsMost = 1.2, 8
	p.ok(odo, board.PackChange{Pack: pack.ID, PackFields: pack.PackFields})
	p.ok(odo, board.ChannelChange{Channel: channel.ID, ChannelFields: channel.ChannelFields})
	require.NoError(t, os.RemoveAll(file))
	_, err := p.d.Store().Backup(file)
	require.NoError(t, err)
	kept, err := store.Open(file, store.Options{})
	require.NoError(t, err)
	require.NoError(t, kept.GoOn()) // it stands for a board that was closed, not for a backup
	require.NoError(t, kept.Close())
	require.NoError(t, os.Remove(file+".lock"))
}
