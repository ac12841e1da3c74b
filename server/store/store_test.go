package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestANewBoardIsEmptyAndItsOwnersAlone(t *testing.T) {
	s, path := fresh(t, Options{Created: noon, Program: "1.2.3"})
	snap := load(t, s)
	require.Equal(t, Snapshot{Created: noon, Sessions: map[string][]byte{}, Secrets: map[string][]byte{}}, snap)
	require.False(t, s.Opening().Unclean)
	require.Equal(t, "1.2.3", s.Report().Program)
	require.Equal(t, []string{"board.db", "board.db.lock"}, leftovers(t, path))
	for _, name := range leftovers(t, path) {
		info, err := os.Stat(filepath.Join(filepath.Dir(path), name))
		require.NoError(t, err)
		if runtime.GOOS != "windows" {
			require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), name)
		}
	}
}

func TestWhatWasCommittedIsThereAfterReopening(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entries(1, 30)...)
	before := load(t, s)
	require.Len(t, before.Nouns, 19, "twenty jobs, the one deleted at revision 28 not put again")
	require.NoError(t, s.Close())

	again := opened(t, path, Options{})
	require.False(t, again.Opening().Unclean)
	require.Equal(t, before, load(t, again))
	commit(t, again, entry(31))
}

func TestACutCreationLeavesNothingInTheWay(t *testing.T) {
	path := temporary(t)
	require.NoError(t, os.WriteFile(path+".new", []byte("half a file"), 0o600))
	s := opened(t, path, Options{})
	commit(t, s, entry(1))
	require.NoFileExists(t, path+".new")
}

func TestASecondOpenNamesTheHolder(t *testing.T) {
	t.Parallel()
	_, path := fresh(t, Options{})
	_, err := Open(path, Options{})
	var held *HeldError
	require.ErrorAs(t, err, &held)
	require.Equal(t, &HeldError{Path: path, PID: os.Getpid()}, held)
}

func TestASecondProcessIsKeptOut(t *testing.T) {
	t.Parallel()
	path := temporary(t)
	holder, lines, stdin := started(t, "hold", path, 0, 0)
	require.True(t, lines.Scan())
	require.Equal(t, "OPEN", lines.Text())

	tries := []func() error{
		func() error { _, err := Open(path, Options{}); return err },
		func() error { _, err := Check(path); return err },
		func() error { _, _, err := Restore("testdata/format1.db", path, noon); return err },
	}
	refusals := make(chan error)
	for _, try := range tries {
		go func() { refusals <- try() }()
	}
	for range tries {
		var held *HeldError
		require.ErrorAs(t, <-refusals, &held)
		require.Equal(t, &HeldError{Path: path, PID: holder.Process.Pid}, held)
	}
	require.NoError(t, stdin.Close())
	require.NoError(t, holder.Wait())
	require.False(t, opened(t, path, Options{}).Opening().Unclean)
}

func TestAfterAnUncleanStopOpenTakesACopy(t *testing.T) {
	path := temporary(t)
	s, err := Open(path, Options{})
	require.NoError(t, err)
	commit(t, s, entries(1, 5)...)
	want := load(t, s)
	before, err := os.Stat(path)
	require.NoError(t, err)
	require.NoError(t, errors.Join(s.db.Close(), s.lock.f.Close())) // as the kernel does for a killed process

	again := opened(t, path, Options{})
	require.True(t, again.Opening().Unclean)
	require.Equal(t, want, load(t, again))
	after, err := os.Stat(path)
	require.NoError(t, err)
	require.False(t, os.SameFile(before, after), "another file stands in its place")
	require.NoError(t, again.Close())
	require.False(t, opened(t, path, Options{}).Opening().Unclean)
}

func TestAFileWithoutItsMarkIsNotTrusted(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entry(1))
	require.NoError(t, s.Close())
	require.NoError(t, os.Remove(path+".lock"))
	again := opened(t, path, Options{})
	require.True(t, again.Opening().Unclean)
	require.EqualValues(t, 1, load(t, again).Rev)
}

func TestDamagedFilesAreRefused(t *testing.T) {
	whole := meddled(t, func(*writer) error { return nil })
	data, err := os.ReadFile(whole)
	require.NoError(t, err)
	zeroed := func(from, to int) []byte {
		return append(append(bytes.Clone(data[:from]), make([]byte, to-from)...), data[to:]...)
	}
	for name, bad := range map[string][]byte{
		"empty":            {},
		"not a board":      bytes.Repeat([]byte("job,robot,likely\n"), 2000),
		"cut short":        data[:3*pageBytes],
		"no meta page":     zeroed(0, 2*pageBytes),
		"pages wiped":      zeroed(2*pageBytes, len(data)),
		"all of it noise":  bytes.Repeat([]byte{0xa5}, 1<<20),
		"cut in the metas": data[:pageBytes+10],
	} {
		for _, mark := range []string{"closed", "open 1"} {
			path := filepath.Join(t.TempDir(), "board.db")
			require.NoError(t, os.WriteFile(path, bad, 0o600))
			require.NoError(t, os.WriteFile(path+".lock", []byte(mark), 0o600))
			_, err := Open(path, Options{})
			require.ErrorIs(t, err, ErrDamaged, name)
			still, err := os.ReadFile(path)
			require.NoError(t, err)
			require.True(t, bytes.Equal(bad, still), "%s: the file stays as it was", name)
		}
	}
}

func TestAClosedStoreSaysSo(t *testing.T) {
	s, path := fresh(t, Options{})
	require.NoError(t, s.Close())
	require.NoError(t, s.Close())
	require.ErrorIs(t, s.Commit(entries(1, 1)), ErrClosed)
	_, err := s.Load(1)
	require.ErrorIs(t, err, ErrClosed)
	require.ErrorIs(t, s.Healthy(), ErrClosed)
	mark, err := os.ReadFile(path + ".lock")
	require.NoError(t, err)
	require.Equal(t, "closed 0", strings.TrimSpace(string(mark)))
}
