package store

import (
	"errors"
	"io"
	"log"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"
)

// inFolder is a board with ten revisions in a folder that a test may move.
func inFolder(t *testing.T) (s *Store, folder string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "data")
	require.NoError(t, os.Mkdir(folder, 0o700))
	s, err := Open(filepath.Join(folder, "board.db"), Options{})
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	commit(t, s, entries(1, 10)...)
	return s, folder
}

func copyOver(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(to, data, 0o600))
}

func TestNothingIsWrittenToAFileThatIsNotInItsPlace(t *testing.T) {
	for name, gone := range map[string]func(t *testing.T, folder, file string){
		"the folder is moved": func(t *testing.T, folder, _ string) {
			require.NoError(t, os.Rename(folder, folder+" 2"))
		},
		"a folder above it is moved": func(t *testing.T, folder, _ string) {
			require.NoError(t, os.Rename(filepath.Dir(folder), filepath.Dir(folder)+" 2"))
			t.Cleanup(func() { os.RemoveAll(filepath.Dir(folder) + " 2") })
		},
		"the folder is deleted": func(t *testing.T, folder, _ string) { require.NoError(t, os.RemoveAll(folder)) },
		"the folder is replaced by a copy": func(t *testing.T, folder, file string) {
			require.NoError(t, os.Rename(folder, folder+" 2"))
			require.NoError(t, os.Mkdir(folder, 0o700))
			copyOver(t, filepath.Join(folder+" 2", "board.db"), file)
		},
		"the file is moved":   func(t *testing.T, _, file string) { require.NoError(t, os.Rename(file, file+".old")) },
		"the file is deleted": func(t *testing.T, _, file string) { require.NoError(t, os.Remove(file)) },
		"the file is replaced by a copy": func(t *testing.T, _, file string) {
			copyOver(t, file, file+".synced")
			require.NoError(t, os.Rename(file+".synced", file))
		},
		"a link to another folder takes its place": func(t *testing.T, folder, file string) {
			other := t.TempDir()
			copyOver(t, file, filepath.Join(other, "board.db"))
			require.NoError(t, os.Rename(folder, folder+" 2"))
			require.NoError(t, os.Symlink(other, folder))
		},
	} {
		t.Run(name, func(t *testing.T) {
			s, folder := inFolder(t)
			gone(t, folder, filepath.Join(folder, "board.db"))
			require.ErrorIs(t, s.Healthy(), ErrMoved)
			require.ErrorIs(t, s.InPlace(), ErrMoved)
			err := s.Commit(entries(11, 1))
			require.ErrorIs(t, err, ErrMoved)
			require.NotErrorIs(t, err, ErrBroken, "nothing was written")
			require.ErrorIs(t, s.SetSecrets(KV{Key: "code", Value: []byte("x")}), ErrMoved)

			kept := filepath.Join(t.TempDir(), "rescued.db")
			r, err := s.Backup(kept)
			require.NoError(t, err, "what is open can still be copied")
			require.NoError(t, r.Err())
			require.EqualValues(t, 10, r.Rev)
			require.ErrorIs(t, s.Close(), ErrMoved)
		})
	}
}

func TestWhatHappensBesideTheFileChangesNothing(t *testing.T) {
	s, folder := inFolder(t)
	file := filepath.Join(folder, "board.db")
	for name, beside := range map[string]func() error{
		"a backup":        func() error { _, err := s.Backup(file + ".backup"); return err },
		"a copy":          func() error { copyOver(t, file, file+".copy"); return nil },
		"a link to it":    func() error { return os.Link(file, file+".link") },
		"its rights":      func() error { return os.Chmod(file, 0o640) },
		"gone and back":   func() error { return errors.Join(os.Rename(folder, folder+" 2"), os.Rename(folder+" 2", folder)) },
		"another deleted": func() error { return os.Remove(file + ".gone") },
	} {
		require.NoError(t, os.WriteFile(file+".gone", nil, 0o600))
		require.NoError(t, beside(), name)
		commit(t, s, entries(s.rev+1, 1)...)
	}
	require.NoError(t, s.Close())
	requireSound(t, file)
}

func TestAFileThatComesBackIsWrittenToAgain(t *testing.T) {
	s, folder := inFolder(t)
	require.NoError(t, os.Rename(folder, folder+" 2"))
	require.ErrorIs(t, s.Commit(entries(11, 1)), ErrMoved)
	require.NoError(t, os.Rename(folder+" 2", folder))
	commit(t, s, entries(11, 1)...)
	require.NoError(t, s.Close())
	requireSound(t, filepath.Join(folder, "board.db"))
}

// atCommit is called when bbolt says that a transaction is on disk.
type atCommit struct {
	*bolt.DefaultLogger
	do func()
}

func (l atCommit) Debugf(format string, _ ...any) {
	if format == "Committing transaction %d successfully" {
		l.do()
	}
}

func TestWhatWentToAFileThatWasMovedMeanwhileIsNotSaidToBeOnDisk(t *testing.T) {
	s, folder := inFolder(t)
	require.NoError(t, s.db.Close())
	var err error
	s.db, err = bolt.Open(s.path, 0o600, &bolt.Options{Logger: atCommit{
		DefaultLogger: &bolt.DefaultLogger{Logger: log.New(io.Discard, "", 0)},
		do:            func() { require.NoError(t, os.Rename(folder, folder+" 2")) },
	}})
	require.NoError(t, err)
	err = s.Commit(entries(11, 1))
	require.ErrorIs(t, err, ErrMoved)
	require.ErrorIs(t, err, ErrBroken, "the file is ahead of what was said")
	_, done := s.Done(entry(11).ID)
	require.False(t, done)
	_, err = s.Backup(filepath.Join(t.TempDir(), "rescued.db"))
	require.NoError(t, err)
	require.NoError(t, os.Rename(folder+" 2", folder))
	require.ErrorIs(t, s.Commit(entries(11, 1)), ErrBroken, "only another Open helps")
}

func TestAFileThatTheSystemDoesNotTellFromOthersIsNotWatched(t *testing.T) {
	s, _ := inFolder(t)
	require.True(t, s.Watched())
	other, err := os.Create(filepath.Join(t.TempDir(), "other"))
	require.NoError(t, err)
	defer other.Close()
	s.spot, err = spotOf(s.path, other) // as where the open file has one number and its path another
	require.NoError(t, err)
	require.False(t, s.Watched())
	require.NoError(t, os.Remove(s.path))
	require.NoError(t, s.InPlace())
	commit(t, s, entries(11, 1)...)
}

func TestOpenMakesNoBoardWhereOneMustBe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "board.db")
	_, err := Open(path, Options{Existing: true})
	require.ErrorIs(t, err, os.ErrNotExist)
	require.NoFileExists(t, path)
	s, err := Open(path, Options{})
	require.NoError(t, err)
	require.NoError(t, s.Close())
	s, err = Open(path, Options{Existing: true})
	require.NoError(t, err)
	require.NoError(t, s.Close())
}
