package store

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

var noon = time.Date(2026, 5, 2, 12, 0, 0, 0, time.UTC)

// temporary is a path in a folder of its own. At cleanup what lies there must
// open and pass the check.
func temporary(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "board.db")
	t.Cleanup(func() { requireSound(t, path) })
	return path
}

// opened is a store that is closed, opened again and checked at cleanup.
func opened(t testing.TB, path string, o Options) *Store {
	t.Helper()
	s, err := Open(path, o)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	return s
}

func fresh(t testing.TB, o Options) (*Store, string) {
	t.Helper()
	path := temporary(t)
	return opened(t, path, o), path
}

func requireSound(t testing.TB, path string) {
	t.Helper()
	s, err := Open(path, Options{})
	require.NoError(t, err)
	require.NoError(t, s.Report().Err())
	require.NoError(t, s.Close())
	r, err := Check(path)
	require.NoError(t, err)
	require.NoError(t, r.Err())
}

// idAt is a UUIDv7 of that moment, told apart by n.
func idAt(at time.Time, n uint64) [16]byte {
	var id [16]byte
	ms := uint64(at.UnixMilli())
	binary.BigEndian.PutUint64(id[:8], ms<<16|0x7000)
	binary.BigEndian.PutUint64(id[8:], 1<<63|n)
	return id
}

// entry is an invented command at the revision: it puts one of twenty jobs,
// and every seventh revision deletes another.
func entry(rev uint64) Entry {
	e := Entry{
		Rev: rev, At: noon.Add(time.Duration(rev) * time.Second), Actor: "person/ada",
		Body: [32]byte{byte(rev), 1}, Answer: fmt.Appendf(nil, `{"rev":%d}`, rev),
		Put: []KV{{Key: fmt.Sprintf("job/%02d", rev%20), Value: fmt.Appendf(nil, `{"v":%d,"title":"swap the <left> wheel"}`, rev)}},
	}
	e.ID = idAt(e.At, rev)
	if rev%7 == 0 {
		e.Del = []string{fmt.Sprintf("job/%02d", (rev+3)%20)}
	}
	e.Line = line(e)
	return e
}

func line(e Entry) []byte {
	put := map[string]json.RawMessage{}
	for _, kv := range e.Put {
		put[kv.Key] = kv.Value
	}
	b, err := json.Marshal(map[string]any{"rev": e.Rev, "id": fmt.Sprintf("%x", e.ID), "put": put, "del": e.Del})
	if err != nil {
		panic(err)
	}
	return b
}

// entries are those from the revision first on.
func entries(first uint64, n int) []Entry {
	group := make([]Entry, n)
	for i := range group {
		group[i] = entry(first + uint64(i))
	}
	return group
}

func commit(t testing.TB, s *Store, group ...Entry) {
	t.Helper()
	require.NoError(t, s.Commit(group))
}

func load(t testing.TB, s *Store) Snapshot {
	t.Helper()
	snap, err := s.Load(LinesMost)
	require.NoError(t, err)
	return snap
}

// meddled is the path of a file with ten revisions, changed by a program that makes
// mistakes: the sums are right.
func meddled(t *testing.T, change func(*writer) error) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "board.db")
	s, err := Open(path, Options{})
	require.NoError(t, err)
	commit(t, s, entries(1, 10)...)
	require.NoError(t, s.update(change))
	require.NoError(t, s.Close())
	return path
}

func leftovers(t *testing.T, path string) []string {
	t.Helper()
	dir, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	var names []string
	for _, f := range dir {
		names = append(names, f.Name())
	}
	return names
}
