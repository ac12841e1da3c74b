package store

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestABackupTakenWhileCommittingIsWhole(t *testing.T) {
	s, path := fresh(t, Options{})
	commit(t, s, entries(1, 100)...)
	stop, stopped := make(chan struct{}), make(chan error)
	go func() {
		for {
			select {
			case <-stop:
				stopped <- nil
				return
			default:
			}
			if err := s.Commit(entries(s.rev+1, 5)); err != nil { // the only one that commits
				stopped <- err
				return
			}
		}
	}()
	last := uint64(100)
	for range 5 {
		backup := path + ".backup"
		r, err := s.Backup(backup)
		require.NoError(t, err)
		require.NoError(t, r.Err())
		require.GreaterOrEqual(t, r.Rev, last)
		last = r.Rev
		again, err := Check(backup)
		require.NoError(t, err)
		require.Equal(t, r, again)
	}
	close(stop)
	require.NoError(t, <-stopped)
	require.Equal(t, []string{"board.db", "board.db.backup", "board.db.lock"}, leftovers(t, path))
}

func TestARunningBoardIsCheckedWithoutATrace(t *testing.T) {
	s, path := fresh(t, Options{})
	commit(t, s, entries(1, 10)...)
	r, err := s.Check()
	require.NoError(t, err)
	require.NoError(t, r.Err())
	require.EqualValues(t, 10, r.Rev)
	require.Equal(t, 10, r.Lines)
	require.Equal(t, 10, r.IDs)
	require.Equal(t, []string{"board.db", "board.db.lock"}, leftovers(t, path))
}

func TestABackupNeverFallsOnTheBoardItself(t *testing.T) {
	s, path := fresh(t, Options{})
	_, err := s.Backup(path)
	require.ErrorContains(t, err, "that is the board itself")
	link := filepath.Join(t.TempDir(), "other.db")
	if os.Symlink(path, link) == nil {
		_, err = s.Backup(link)
		require.ErrorContains(t, err, "that is the board itself")
	}
	_, _, err = Restore(path, path, noon)
	require.ErrorContains(t, err, "that is the board itself")
}

func TestABackupIntoAMissingFolderNamesIt(t *testing.T) {
	s, path := fresh(t, Options{})
	_, err := s.Backup(filepath.Join(filepath.Dir(path), "stick", "board.db"))
	require.ErrorIs(t, err, os.ErrNotExist)
	require.ErrorContains(t, err, "stick")
	commit(t, s, entry(1))
}

func TestABackupIsKnownForOneUntilTheBoardGoesOnFromIt(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entries(1, 4)...)
	backup := filepath.Join(t.TempDir(), "board.backup")
	_, err := s.Backup(backup)
	require.NoError(t, err)
	require.False(t, s.Copied())
	require.NoError(t, s.Close())
	require.False(t, opened(t, path, Options{}).Copied(), "the board itself is no copy")

	copied := opened(t, backup, Options{})
	require.True(t, copied.Copied())
	require.NoError(t, copied.Close())
	copied = opened(t, backup, Options{})
	require.True(t, copied.Copied(), "looking at it is not going on from it")
	require.NoError(t, copied.GoOn())
	require.False(t, copied.Copied())
	commit(t, copied, entry(5))
	require.NoError(t, copied.Close())
	require.False(t, opened(t, backup, Options{}).Copied())
}

func TestRestorePutsTheBackupInPlaceAndKeepsTheOld(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entries(1, 4)...)
	backup := filepath.Join(t.TempDir(), "board.backup")
	_, err := s.Backup(backup)
	require.NoError(t, err)
	commit(t, s, entries(5, 3)...)
	require.NoError(t, s.Close())

	r, kept, err := Restore(backup, path, noon)
	require.NoError(t, err)
	require.EqualValues(t, 4, r.Rev)
	again := opened(t, path, Options{})
	require.EqualValues(t, 4, load(t, again).Rev)
	require.False(t, again.Opening().Unclean, "it was flushed and examined just now")
	require.Equal(t, path+".replaced-20260502-120000", kept)
	old, err := Check(kept)
	require.NoError(t, err)
	require.EqualValues(t, 7, old.Rev)
	require.Equal(t, []string{"board.db", "board.db.lock", "board.db.replaced-20260502-120000"}, leftovers(t, path))
}

func TestRestoringTwiceWithinASecondLosesNothing(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entries(1, 4)...)
	backup := filepath.Join(t.TempDir(), "board.backup")
	_, err := s.Backup(backup)
	require.NoError(t, err)
	commit(t, s, entries(5, 3)...)
	require.NoError(t, s.Close())

	_, newest, err := Restore(backup, path, noon)
	require.NoError(t, err)
	for range 2 {
		_, kept, err := Restore(backup, path, noon)
		require.NoError(t, err)
		require.NotEqual(t, newest, kept)
		old, err := Check(kept)
		require.NoError(t, err)
		require.EqualValues(t, 4, old.Rev)
	}
	old, err := Check(newest)
	require.NoError(t, err)
	require.EqualValues(t, 7, old.Rev, "the newest board of all is still there")

	_, _, err = Restore(newest, path, noon)
	require.NoError(t, err)
	again := opened(t, path, Options{})
	require.EqualValues(t, 7, load(t, again).Rev)
	require.True(t, again.Copied(), "the newest one that comes back is a step back in time too")
	require.NoError(t, again.GoOn())
	commit(t, again, entry(8))
	old, err = Check(newest)
	require.NoError(t, err)
	require.EqualValues(t, 7, old.Rev, "and what is kept does not go on with it")
}

func TestNoSessionComesBackWithACopy(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entry(1))
	require.NoError(t, s.SetSessions(KV{Key: "hash", Value: []byte("ada")}))
	require.NoError(t, s.SetSecrets(KV{Key: "pin/ada", Value: []byte("digest")}))
	backup := filepath.Join(t.TempDir(), "board.backup")
	_, err := s.Backup(backup)
	require.NoError(t, err)
	require.NoError(t, s.Close())
	s = opened(t, path, Options{})
	require.Len(t, load(t, s).Sessions, 1, "a restart ends none")
	require.NoError(t, s.Close())

	whole := filepath.Join(t.TempDir(), "whole.db")
	require.NoError(t, CopyFile(path, whole))
	for _, from := range []string{backup, whole} {
		_, _, err = Restore(from, path, noon)
		require.NoError(t, err)
		s = opened(t, path, Options{})
		require.Empty(t, load(t, s).Sessions)
		require.Len(t, load(t, s).Secrets, 1)
		require.NoError(t, s.Close())
	}
}

func TestRestoreIntoAnEmptyFolder(t *testing.T) {
	path := temporary(t)
	_, kept, err := Restore("testdata/format1.db", path, noon)
	require.NoError(t, err)
	require.Empty(t, kept)
	require.EqualValues(t, 9, load(t, opened(t, path, Options{})).Rev)
}

func TestADamagedBackupIsNotRestored(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entry(1))
	require.NoError(t, s.Close())
	whole, err := os.ReadFile("testdata/format1.db")
	require.NoError(t, err)
	cut := filepath.Join(t.TempDir(), "cut.db")
	require.NoError(t, os.WriteFile(cut, whole[:len(whole)-pageBytes], 0o600))
	noEnd := meddled(t, func(w *writer) error { return w.del(bucketLines, bigEndian(10)) })

	for _, bad := range []string{cut, noEnd} {
		_, _, err := Restore(bad, path, noon)
		require.ErrorIs(t, err, ErrDamaged)
	}
	_, _, err = Restore(filepath.Join(t.TempDir(), "none.db"), path, noon)
	require.ErrorIs(t, err, os.ErrNotExist)
	require.EqualValues(t, 1, load(t, opened(t, path, Options{})).Rev)
	require.Equal(t, []string{"board.db", "board.db.lock"}, leftovers(t, path))
}

func TestACopyTakesThePlaceOfACopyAndOfNoBoardThatPeopleWentOnWith(t *testing.T) {
	s, _ := fresh(t, Options{})
	commit(t, s, entry(1))
	copied := func() string {
		path := filepath.Join(t.TempDir(), "copy.db")
		_, err := s.Draft(path)
		require.NoError(t, err)
		return path
	}
	spare := filepath.Join(t.TempDir(), "board.db")
	require.NoError(t, PutCopy(copied(), spare))
	commit(t, s, entry(2))
	newer := copied()
	require.NoError(t, PutCopy(newer, spare), "a newer one takes its place")

	b := opened(t, spare, Options{})
	require.EqualValues(t, 2, load(t, b).Rev)
	require.False(t, b.Opening().Unclean)
	require.ErrorAs(t, PutCopy(newer, spare), new(*HeldError), "it is served")
	require.NoError(t, b.Close())
	require.NoError(t, PutCopy(newer, spare), "it was looked at only")
	b = opened(t, spare, Options{})
	require.NoError(t, b.GoOn())
	commit(t, b, entry(3))
	require.NoError(t, b.Close())
	commit(t, s, entries(3, 9)...)
	require.ErrorIs(t, PutCopy(copied(), spare), ErrGoneOn, "however new the copy is")
	require.EqualValues(t, 3, load(t, opened(t, spare, Options{})).Rev)

	torn := filepath.Join(t.TempDir(), "board.db")
	require.NoError(t, os.WriteFile(torn, []byte("half a board"), 0o600))
	require.ErrorIs(t, PutCopy(newer, torn), ErrGoneOn, "nobody knows what it was")
}

func TestBoardsThatGoOnFromOneFileAreToldApart(t *testing.T) {
	s, _ := fresh(t, Options{})
	commit(t, s, entry(1))
	at := filepath.Join(t.TempDir(), "copy.db")
	r, err := s.Draft(at)
	require.NoError(t, err)
	first := r.Line
	require.Len(t, first, 8)
	lines := map[string]bool{first: true}
	for range 2 {
		spare := filepath.Join(t.TempDir(), "board.db")
		require.NoError(t, PutCopy(at, spare))
		b := opened(t, spare, Options{})
		require.Equal(t, first, b.Report().Line)
		require.NoError(t, b.GoOn())
		r, err := b.Draft(filepath.Join(t.TempDir(), "copy.db"))
		require.NoError(t, err)
		lines[r.Line] = true
		require.NoError(t, b.GoOn(), "once")
		again, err := b.Draft(filepath.Join(t.TempDir(), "copy.db"))
		require.NoError(t, err)
		require.Equal(t, r.Line, again.Line)
	}
	require.Len(t, lines, 3)
}
