package store

import (
	"maps"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	bolterrors "go.etcd.io/bbolt/errors"
	"pgregory.net/rapid"
)

func TestAnAnswerIsRememberedOverARestart(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entries(1, 3)...)
	want := Done{Rev: 2, Actor: "person/ada", Body: [32]byte{2, 1}, Answer: []byte(`{"rev":2}`)}
	for range 2 {
		got, ok := s.Done(entry(2).ID)
		require.True(t, ok)
		require.Equal(t, want, got)
		_, ok = s.Done(entry(4).ID)
		require.False(t, ok)
		require.NoError(t, s.Close())
		s = opened(t, path, Options{})
	}
}

func TestACommandOfTheDeskItselfLeavesNoID(t *testing.T) {
	s, _ := fresh(t, Options{})
	e, next := entry(1), entry(2)
	e.ID, next.ID = [16]byte{}, [16]byte{}
	commit(t, s, e, next)
	_, ok := s.Done([16]byte{})
	require.False(t, ok)
}

func TestIDsAreForgottenAfterAWeek(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	commit(t, s, entries(1, 3)...)
	at := func(rev uint64, moment time.Time) Entry {
		e := entry(rev)
		e.At, e.ID = moment, idAt(moment, rev)
		e.Line = line(e)
		return e
	}
	atLimit := entry(2).At.Add(KeepIDs)
	commit(t, s, at(4, atLimit))
	for range 2 {
		_, first := s.Done(entry(1).ID)
		_, second := s.Done(entry(2).ID)
		require.False(t, first)
		require.True(t, second, "exactly a week old")
		require.True(t, s.TooOld(entry(1).ID, atLimit))
		require.True(t, s.TooOld(idAt(noon, 0), atLimit), "nobody can say whether this was done")
		require.False(t, s.TooOld(entry(2).ID, atLimit))
		require.NoError(t, s.Close())
		s = opened(t, path, Options{})
	}
}

func TestWhatWasForgottenOnATimeThatWasSetBackMakesNothingOld(t *testing.T) {
	const month = 30 * 24 * time.Hour
	path := temporary(t)
	s := opened(t, path, Options{})
	at := func(rev uint64, now, dated time.Time) Entry {
		e := entry(rev)
		e.At, e.ID = now, idAt(dated, rev)
		e.Line = line(e)
		return e
	}
	commit(t, s, at(1, noon.Add(month), noon.Add(month)), at(2, noon.Add(2*month), noon.Add(2*month)))
	for range 2 {
		require.True(t, s.TooOld(idAt(noon.Add(month), 0), noon.Add(2*month)))
		require.False(t, s.TooOld(idAt(noon, 0), noon), "the time was set back")
		require.NoError(t, s.Close())
		s = opened(t, path, Options{})
	}
	commit(t, s, at(3, noon.Add(2*month), noon)) // what only raises is taken however old
	require.True(t, s.TooOld(idAt(noon.Add(month), 0), noon.Add(2*month)), "what is forgotten stays so")
}

func TestOnlySoManyIDsAreKeptTheOldestGoFirst(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	s.ids.max = 10
	commit(t, s, entries(1, 10)...)
	require.False(t, s.TooOld(entry(1).ID, noon.Add(time.Hour)))
	commit(t, s, entries(11, 3)...)
	require.True(t, s.TooOld(entry(3).ID, noon.Add(time.Hour)))
	require.False(t, s.TooOld(entry(4).ID, noon.Add(time.Hour)))
	require.NoError(t, s.Close())
	s = opened(t, path, Options{})
	require.Len(t, s.ids.done, 10)
	_, ok := s.Done(entry(4).ID)
	require.True(t, ok)
}

func TestMisuseBreaksTheStoreAndWritesNothing(t *testing.T) {
	twice := entry(4)
	twice.ID = entry(2).ID
	noKey := entry(4)
	noKey.Put = []KV{{Value: []byte("{}")}}
	for name, bad := range map[string]Entry{
		"a gap":            entry(5),
		"a revision again": entry(3),
		"an id again":      twice,
		"a noun's key":     noKey,
	} {
		t.Run(name, func(t *testing.T) {
			path := temporary(t)
			s := opened(t, path, Options{})
			commit(t, s, entries(1, 3)...)
			require.ErrorIs(t, s.Commit([]Entry{bad}), ErrBroken)
			require.NoError(t, s.Close())
			require.EqualValues(t, 3, load(t, opened(t, path, Options{})).Rev)
		})
	}
}

func TestAFullDiskBreaksTheStoreAndKeepsWhatWasAcknowledged(t *testing.T) {
	path := temporary(t)
	s, err := Open(path, Options{BytesMost: 1 << 20})
	require.NoError(t, err)
	acked := uint64(0)
	for err == nil {
		group := entries(acked+1, 50)
		if err = s.Commit(group); err == nil {
			acked += 50
		}
	}
	require.ErrorIs(t, err, ErrBroken)
	require.ErrorIs(t, err, bolterrors.ErrMaxSizeReached)
	require.Greater(t, acked, uint64(500))

	t.Run("every use of the file says so", func(t *testing.T) {
		_, errLoad := s.Load(0)
		_, errLines := s.Journal(0, 1)
		_, errBackup := s.Backup(path + ".backup")
		_, errCheck := s.Check()
		for _, err := range []error{
			s.Commit(entries(acked+1, 1)), s.SetSessions(KV{"a", nil}), s.SetSecrets(KV{"a", nil}),
			s.Healthy(), errLoad, errLines, errBackup, errCheck,
		} {
			require.ErrorIs(t, err, ErrBroken)
		}
		require.NoFileExists(t, path+".backup")
	})
	t.Run("answers are still known", func(t *testing.T) {
		_, ok := s.Done(entry(acked).ID)
		require.True(t, ok)
		_, ok = s.Done(entry(acked + 1).ID)
		require.False(t, ok)
	})
	t.Run("opening again takes what the file holds", func(t *testing.T) {
		require.NoError(t, s.Close())
		again := opened(t, path, Options{})
		require.True(t, again.Opening().Unclean)
		snap := load(t, again)
		require.Equal(t, acked, snap.Rev)
		commit(t, again, entry(acked+1))
	})
}

func TestLittleFreeSpaceRefusesAWriteAndBreaksNothing(t *testing.T) {
	s, path := fresh(t, Options{})
	if _, known := freeBytes(path); !known {
		t.Skip("no guard on this system")
	}
	s.freeLeast = 1 << 62
	require.ErrorIs(t, s.Commit(entries(1, 1)), ErrLowDisk)
	require.ErrorIs(t, s.SetSessions(KV{"a", []byte("b")}), ErrLowDisk)
	require.ErrorIs(t, s.Healthy(), ErrLowDisk)
	require.Zero(t, load(t, s).Rev)

	s.freeLeast = 1
	require.NoError(t, s.Healthy())
	commit(t, s, entry(1))
	require.EqualValues(t, 1, load(t, s).Rev)
}

func TestAClaimAndItsPINAreOneWrite(t *testing.T) {
	path := temporary(t)
	s := opened(t, path, Options{})
	e := entry(1)
	e.Secrets = []KV{{"pin/ada", []byte("hash")}}
	e.Sessions = []KV{{"token hash", []byte(`{"person":"ada"}`)}}
	commit(t, s, e)
	require.NoError(t, s.SetSecrets(KV{"code/crew", []byte("7G2KQ0ZD")}))
	require.NoError(t, s.SetSessions(KV{"other", []byte("{}")}, KV{"token hash", nil}))
	for range 2 {
		snap := load(t, s)
		require.EqualValues(t, 1, snap.Rev)
		require.Equal(t, map[string][]byte{"pin/ada": []byte("hash"), "code/crew": []byte("7G2KQ0ZD")}, snap.Secrets)
		require.Equal(t, map[string][]byte{"other": []byte("{}")}, snap.Sessions)
		require.NoError(t, s.Close())
		s = opened(t, path, Options{})
	}
}

// TestTheStoreAgreesWithAMap drives store and plain maps side by side.
func TestTheStoreAgreesWithAMap(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		path := filepath.Join(memoryFolder(t), "board.db")
		s, err := Open(path, Options{noSync: true})
		require.NoError(t, err)
		nouns, done, rev := map[string]string{}, map[[16]byte]uint64{}, uint64(0)
		for range rapid.IntRange(1, 8).Draw(r, "groups") {
			group := entries(rev+1, rapid.IntRange(1, 30).Draw(r, "size"))
			commit(t, s, group...)
			for _, e := range group {
				for _, kv := range e.Put {
					nouns[kv.Key] = string(kv.Value)
				}
				for _, key := range e.Del {
					delete(nouns, key)
				}
				done[e.ID] = e.Rev
			}
			rev += uint64(len(group))
			if rapid.Bool().Draw(r, "reopen") {
				require.NoError(t, s.Close())
				s, err = Open(path, Options{noSync: true})
				require.NoError(t, err)
			}
			requireHolds(t, s, rev, nouns, done)
		}
		require.NoError(t, s.Close())
		requireSound(t, path)
	})
}

func requireHolds(t *testing.T, s *Store, rev uint64, nouns map[string]string, done map[[16]byte]uint64) {
	t.Helper()
	snap := load(t, s)
	require.Equal(t, rev, snap.Rev)
	got := map[string]string{}
	for _, kv := range snap.Nouns {
		got[kv.Key] = string(kv.Value)
	}
	require.Equal(t, nouns, got)
	require.True(t, slices.IsSortedFunc(snap.Lines, func(a, b Line) int { return int(a.Rev) - int(b.Rev) }))
	for _, id := range slices.Collect(maps.Keys(done)) {
		d, ok := s.Done(id)
		require.True(t, ok)
		require.Equal(t, done[id], d.Rev)
	}
}

func FuzzAnAnswerIsReadBackOrRefused(f *testing.F) {
	e := entry(3)
	f.Add(encodeDone(&e))
	f.Add(encodeDone(&e)[:41])
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := decodeDone(data)
		if err != nil {
			return
		}
		again, err := decodeDone(encodeDone(&Entry{Rev: d.Rev, Actor: d.Actor, Body: d.Body, Answer: d.Answer}))
		require.NoError(t, err)
		require.Equal(t, d, again)
	})
}
