package store

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"
)

var writeFormat = flag.Bool("write-format", false, "write testdata/formatN.db of today's format")

func TestANewerFormatIsRefused(t *testing.T) {
	newer := len(migrations) + 1
	path := meddled(t, func(w *writer) error {
		return errors.Join(w.putMeta(metaSchema, bigEndian(uint64(newer))), w.putMeta(metaProgram, []byte("9.9")))
	})
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	_, err = Open(path, Options{})
	require.ErrorIs(t, err, ErrNewer)
	require.EqualError(t, err, fmt.Sprintf("open board: file written by a newer program: format %d, by program \"9.9\", where this one reads formats up to %d: "+
		"start the newer program, or restore a backup made before it, such as the board.db.format%d that it left", newer, newer-1, newer-1))
	_, err = Check(path)
	require.ErrorIs(t, err, ErrNewer)
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	require.True(t, bytes.Equal(before, after), "the file stays as it was")
}

func TestFilesOfEveryFormatStillOpen(t *testing.T) {
	const formats = 3
	require.Len(t, migrations, formats, "raise the number, run the tests here and in ../desk with -write-format, and keep the files")
	if *writeFormat {
		s, _ := fresh(t, Options{Created: noon, Program: "test"})
		commit(t, s, entries(1, 9)...)
		require.NoError(t, s.SetSessions(KV{"hash", []byte(`{"role":"crew"}`)}))
		require.NoError(t, s.SetSecrets(KV{"code/crew", []byte("7G2KQ0ZD")}))
		_, err := s.Backup(fmt.Sprintf("testdata/format%d.db", formats))
		require.NoError(t, err)
	}
	for n := 1; n <= formats; n++ {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			s := opened(t, copied(t, fmt.Sprintf("testdata/format%d.db", n)), Options{})
			snap := load(t, s)
			require.Equal(t, noon, snap.Created)
			require.EqualValues(t, 9, snap.Rev)
			require.Len(t, snap.Nouns, 9)
			require.Equal(t, []byte(`{"role":"crew"}`), snap.Sessions["hash"])
			require.Equal(t, []byte("7G2KQ0ZD"), snap.Secrets["code/crew"])
			done, ok := s.Done(entry(9).ID)
			require.True(t, ok)
			require.Equal(t, Done{Rev: 9, Actor: "person/ada", Body: entry(9).Body, Answer: []byte(`{"rev":9}`)}, done)
			commit(t, s, entry(10))
		})
	}
}

// copied is the path of a copy of file that has no mark of a clean stop.
func copied(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	path := temporary(t)
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return path
}

// contents are all pairs of a file, by bucket.
func contents(t *testing.T, path string) map[string][]KV {
	t.Helper()
	db, err := openReadOnly(path)
	require.NoError(t, err)
	all := map[string][]KV{}
	err = db.View(func(tx *bolt.Tx) error {
		for _, name := range buckets() {
			all[string(name)] = pairs(tx.Bucket(name))
		}
		return nil
	})
	require.NoError(t, errors.Join(err, db.Close()))
	return all
}

func TestFormat2RenamesLimitsInNounsAndJournalAndKeepsTheOldFile(t *testing.T) {
	const file = "testdata/format1-team.db"
	path := copied(t, file)
	s := opened(t, path, Options{Program: "2.0"})
	r := s.Report()
	require.NoError(t, r.Err())
	require.Equal(t, len(migrations), r.Format)
	require.Equal(t, "2.0", r.Program)
	require.NoError(t, s.Close())
	require.Equal(t, []string{"board.db", "board.db.format1", "board.db.lock"}, leftovers(t, path))

	was, is := contents(t, file), contents(t, path)
	require.Equal(t, was, contents(t, path+".format1"))
	renamed := 0
	for _, bucket := range []string{"ent", "jnl"} {
		for i, kv := range was[bucket] {
			for old, now := range map[string]string{"maxAmps": "ampsMost", "maxWatts": "wattsMost", "maxChargeAmps": "chargeAmpsMost"} {
				renamed += bytes.Count(kv.Value, []byte(`"`+old+`":`))
				kv.Value = bytes.ReplaceAll(kv.Value, []byte(`"`+old+`":`), []byte(`"`+now+`":`))
			}
			was[bucket][i] = kv
		}
	}
	require.Greater(t, renamed, 15, "in nouns, in what was asked, in what became and in what was")
	was["meta"], is["meta"] = nil, nil
	for _, name := range sealedBuckets() {
		require.Len(t, is[string(name)], len(was[string(name)]))
		for j, kv := range is[string(name)] {
			data, ok := unseal(name, []byte(kv.Key), kv.Value)
			require.True(t, ok)
			is[string(name)][j].Value = data
		}
	}
	require.Equal(t, was, is)
}

func TestMembersAreRenamedAndNothingElse(t *testing.T) {
	names := map[string]string{"maxAmps": "ampsMost"}
	for in, want := range map[string]string{
		`{"maxAmps":1.50}`:                         `{"ampsMost":1.50}`,
		`{"a":[{"b":{"maxAmps":1e2,"v":3}}]}`:      `{"a":[{"b":{"ampsMost":1e2,"v":3}}]}`,
		`{"max\u0041mps":12345678901234567890.12}`: `{"ampsMost":12345678901234567890.12}`,
		`{"maxAmps":"maxAmps"}`:                    `{"ampsMost":"maxAmps"}`,
		`{"maxAmps":"<\"é\n"}`:                     `{"ampsMost":"<\"é\n"}`,
		`{"text":"\u003c maxAmps"}`:                `{"text":"\u003c maxAmps"}`,
		`["maxAmps","maxAmps"]`:                    `["maxAmps","maxAmps"]`,
		`"maxAmps"`:                                `"maxAmps"`,
		`{"maxAmps":1`:                             `{"maxAmps":1`,
		`{"maxAmps":1,"ampsMost":2}`:               `{"maxAmps":1,"ampsMost":2}`,
		``:                                         ``,
	} {
		require.Equal(t, want, string(renameMembers([]byte(in), names)), in)
	}
}

func TestAMigrationRunsOnceAndKeepsTheFileOfBefore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "board.db")
	s, err := Open(path, Options{})
	require.NoError(t, err)
	commit(t, s, entries(1, 3)...)
	require.NoError(t, s.Close())

	have, runs := len(migrations), 0
	list := append(migrations[:have:have], func(w *writer) error {
		runs++
		return w.put(bucketSecret, []byte("added"), []byte("by the next format"))
	})
	for range 2 {
		s, err = open(path, Options{Program: "2.0"}.withDefaults(), list)
		require.NoError(t, err)
		require.Equal(t, []byte("by the next format"), load(t, s).Secrets["added"])
		require.NoError(t, s.Close())
	}
	require.Equal(t, 1, runs)
	r, err := inspect(path, have+1)
	require.NoError(t, err)
	require.NoError(t, r.Err())
	require.Equal(t, have+1, r.Format)
	require.Equal(t, "2.0", r.Program)

	old, err := Check(fmt.Sprintf("%s.format%d", path, have))
	require.NoError(t, err)
	require.NoError(t, old.Err())
	require.Equal(t, have, old.Format)
	require.EqualValues(t, 3, old.Rev)
}

func TestAFailedMigrationChangesNothing(t *testing.T) {
	for name, c := range map[string]struct {
		migration migration
		want      string
	}{
		"one that gives up": {func(w *writer) error { return errors.Join(w.tx.DeleteBucket(bucketNouns), errors.New("no such part")) },
			fmt.Sprintf("migration to format %d: no such part", len(migrations)+1)},
		"one that panics":      {func(*writer) error { panic("out of range") }, "out of range"},
		"one that does damage": {func(w *writer) error { return w.tx.DeleteBucket(bucketLines) }, "bucket jnl is missing"},
	} {
		t.Run(name, func(t *testing.T) {
			path := temporary(t)
			s := opened(t, path, Options{})
			commit(t, s, entry(1))
			require.NoError(t, s.Close())
			before := contents(t, path)
			_, err := open(path, Options{}.withDefaults(), append(migrations[:len(migrations):len(migrations)], c.migration))
			require.ErrorContains(t, err, c.want)
			require.Equal(t, before, contents(t, path))
			require.Equal(t, []string{"board.db", fmt.Sprintf("board.db.format%d", len(migrations)), "board.db.lock"}, leftovers(t, path))
		})
	}
}

// What carries no sums yet would carry right ones afterwards, and nobody would notice.
func TestABoardOfAnOlderFormatThatDisagreesWithItsJournalIsNotUpgraded(t *testing.T) {
	data, err := os.ReadFile("testdata/format2.db")
	require.NoError(t, err)
	db := filepath.Join(t.TempDir(), "board.db")
	at := bytes.LastIndex(data, []byte("swap the <left>")) // of a noun: the journal writes < otherwise
	require.Positive(t, at)
	for ; at >= 0; at = bytes.LastIndex(data[:at], []byte("swap the <left>")) {
		data[at] ^= 1
	}
	require.NoError(t, os.WriteFile(db, data, 0o600))
	_, err = Open(db, Options{})
	require.ErrorIs(t, err, ErrDamaged)
	require.ErrorContains(t, err, "differs from the journal")
	still, err := os.ReadFile(db)
	require.NoError(t, err)
	require.NoFileExists(t, db+".format2")
	require.NotEmpty(t, still)
}

// TestAKilledUpgradeLosesNothing kills a child at the first, second, third … call of
// a sort, from its start on, until it gets through.
func TestAKilledUpgradeLosesNothing(t *testing.T) {
	t.Parallel()
	strace := requireStrace(t)
	want := contents(t, "testdata/format1-team.db")
	for _, call := range []string{"renameat", "fsync", "fdatasync", "unlinkat"} {
		t.Run(call, func(t *testing.T) {
			t.Parallel()
			for n := 1; ; n++ {
				require.Less(t, n, 100, "the child never gets through")
				path := copied(t, "testdata/format1-team.db")
				cmd, lines, stdin := started(t, "hold", path, 0, 0, strace, "-f", "-qq", "-o", "/dev/null",
					"-e", "trace="+call, "-e", fmt.Sprintf("inject=%s:signal=KILL:when=%d", call, n))
				require.NoError(t, stdin.Close())
				lines.Scan()
				through := cmd.Wait() == nil
				s := opened(t, path, Options{})
				require.EqualValues(t, 3, load(t, s).Rev)
				require.NoError(t, s.Close())
				require.Equal(t, want, contents(t, path+".format1"))
				require.Equal(t, len(migrations), s.Report().Format)
				if through {
					require.Greater(t, n, 1, "no call was cut off")
					return
				}
			}
		})
	}
}
