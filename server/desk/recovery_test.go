package desk

import (
	"bytes"
	"log/slog"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

func TestWhatWasAmissIsSaidByWhatItConcerns(t *testing.T) {
	p := newPit(t, Options{})
	robot, pack := string(board.KeyOf(board.KindRobot, p.moth)), string(board.KeyOf(board.KindPack, p.pack))
	power := string(board.KeyOf(board.KindPower, p.moth))
	s := p.state()
	name, called := s.Robots[p.moth].Name, s.Packs[p.pack].Name
	for _, c := range []struct {
		is    store.Opening
		brief string
		bad   bool
		said  []string
	}{
		{store.Opening{}, "file whole", false, nil},
		{store.Opening{Unclean: true}, "not closed as it should be, found whole", false,
			[]string{"The board was not closed as it should be. Its file was copied and examined."}},
		{store.Opening{Head: true}, "the file was mended", true,
			[]string{"One of the two first pages of the board's file was broken. It was mended, and no change is lost."}},
		{store.Opening{Head: true, Behind: 2}, "the board starts 2 revisions back", true, nil},
		{store.Opening{Head: true, Unclean: true}, "the board may start one change back", true, nil},
		{store.Opening{Kept: "board.db.damaged", Rebuilt: &store.Salvaged{State: true, Rebuilt: []string{power, robot, pack}, Lost: []uint64{3, 4, 5, 9}}, Lost: []uint64{3, 4, 5, 9}},
			"its file was damaged and rebuilt, 1 pack, 1 power, 1 robot from the journal, 4 lines of the journal lost", true,
			[]string{
				"The board's file was damaged and was rebuilt. The damaged one is board.db.damaged.",
				"Rebuilt from the journal, as they were: what is known of the power of " + name + ", robot " + name + ", pack " + called + ".",
				"4 lines of the journal could not be read: revision 3 to 5, 9. What was done then is in no account.",
			}},
		{store.Opening{Lost: []uint64{7}}, "1 line of the journal lost", true,
			[]string{"1 line of the journal was lost before: what was done then is in no account."}},
	} {
		says, bad := Brief(c.is)
		require.Equal(t, c.brief, says)
		require.Equal(t, c.bad, bad)
		require.NotContains(t, says, name, "whoever asks may not know the robots")
		if said := Recovered(c.is, s); c.said != nil || !c.bad {
			require.Equal(t, c.said, said)
		}
	}
}

// TestABoardThatIsKnownToStartBackDoubtsAllThatHurts closes a board, puts an older file in
// its place, and twins it with one that nobody touched.
func TestABoardThatIsKnownToStartBackDoubtsAllThatHurts(t *testing.T) {
	for _, back := range []bool{true, false} {
		path := filepath.Join(t.TempDir(), "board.db")
		p := newPit(t, Options{Path: path})
		p.stop()
		older, err := os.ReadFile(path)
		require.NoError(t, err)
		p2 := served(t, Options{Path: path})
		p2.stop()
		if back {
			require.NoError(t, os.WriteFile(path, older, 0o600))
		}
		var log bytes.Buffer
		p3 := served(t, Options{Path: path, Log: slog.New(slog.NewTextHandler(&log, nil))})
		require.Equal(t, back, len(p3.state().Notes) > 0, "a note that people must settle")
		require.Equal(t, back, bytes.Contains(log.Bytes(), []byte("The board starts 1 revision back")), log.String())
		p3.stop()
	}
}

// An older program that reads what a newer one wrote would drop the fields it does not
// know, and what they hold back with them.
func TestAFieldOrANounOfANewerProgramIsRefusedAsThat(t *testing.T) {
	place := store.KV{Key: "place/0192a0b0-0000-7000-8000-000000000001", Value: []byte(`{"id":"0192a0b0-0000-7000-8000-000000000001","v":1}`)}
	for name, c := range map[string]struct {
		put  store.KV
		more string // in the journal line
	}{
		"a line with a member more": {put: place, more: `"held":true,`},
		"a noun with a field more":  {put: store.KV{Key: place.Key, Value: []byte(`{"id":"0192a0b0-0000-7000-8000-000000000001","v":1,"held":true}`)}},
		"a noun of a new kind":      {put: store.KV{Key: "rope/1", Value: []byte(`{"v":1}`)}},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "board.db")
			s, err := store.Open(path, store.Options{FreeBytesLeast: -1})
			require.NoError(t, err)
			put := c.put
			line := []byte(`{"rev":1,` + c.more + `"at":"2026-05-02T12:00:00.000Z","role":"captain","do":"place.add","put":{"` + put.Key + `":` + string(put.Value) + `}}`)
			require.NoError(t, s.Commit([]store.Entry{{Rev: 1, At: noon, Put: []store.KV{put}, Line: line}}))
			require.NoError(t, s.Close())
			before, err := os.ReadFile(path)
			require.NoError(t, err)
			_, err = New(Options{Path: path, Store: store.Options{FreeBytesLeast: -1}})
			require.ErrorIs(t, err, board.ErrNewer)
			require.ErrorContains(t, err, "written by a newer mendline")
			after, err := os.ReadFile(path)
			require.NoError(t, err)
			require.True(t, bytes.Equal(before, after), "and the file stays as it was")
		})
	}
}
