package store

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"
)

// TestPagesInACircleAreFoundAtOnce: bbolt's own cursor would follow them for
// ever.
func TestPagesInACircleAreFoundAtOnce(t *testing.T) {
	path, root := branching(t)
	change(t, path, root, func(page []byte) {
		binary.NativeEndian.PutUint64(page[headBytes+8:], uint64(root)) // its first child is itself
	})
	_, err := Check(path)
	require.ErrorIs(t, err, ErrDamaged)
	require.ErrorContains(t, err, "is reached twice")
	requireSound(t, path)
}

func TestABranchIntoNowhereIsFound(t *testing.T) {
	path, root := branching(t)
	change(t, path, root, func(page []byte) { binary.NativeEndian.PutUint64(page[headBytes+8:], 1<<40) })
	_, err := Check(path)
	require.ErrorIs(t, err, ErrDamaged)
	require.ErrorContains(t, err, "page 1099511627776 of")
}

func TestAValueOutsideItsPageIsFound(t *testing.T) {
	path, root := branching(t)
	leaf := 0
	change(t, path, root, func(page []byte) { leaf = int(binary.NativeEndian.Uint64(page[headBytes+8:])) })
	change(t, path, leaf, func(page []byte) { binary.NativeEndian.PutUint32(page[headBytes+12:], 1<<31) })
	_, err := Check(path)
	require.ErrorIs(t, err, ErrDamaged)
	require.ErrorContains(t, err, "a value outside the page")
}

// branching is a board whose journal has a branch page, and that page.
func branching(t *testing.T) (path string, root int) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "board.db")
	s, err := Open(path, Options{})
	require.NoError(t, err)
	commit(t, s, entries(1, 100)...)
	require.NoError(t, s.view(func(tx *bolt.Tx) error {
		root = int(tx.Bucket(bucketLines).RootPage())
		return nil
	}))
	require.NoError(t, s.Close())
	return path, root
}

func change(t *testing.T, path string, page int, edit func([]byte)) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	edit(data[page*pageBytes : (page+1)*pageBytes])
	require.NoError(t, os.WriteFile(path, data, 0o600))
}

// FuzzADamagedFileIsOpenedOrRefused overwrites eight bytes anywhere: Open must
// return, and a board that opens must load.
func FuzzADamagedFileIsOpenedOrRefused(f *testing.F) {
	whole, err := os.ReadFile("testdata/format3.db")
	require.NoError(f, err)
	for at := uint32(0); at < uint32(len(whole)); at += 1021 {
		f.Add(at, uint64(at)*0x9e3779b97f4a7c15)
		f.Add(at&^4095, uint64(3))
	}
	f.Fuzz(func(t *testing.T, at uint32, value uint64) {
		data := append([]byte(nil), whole...)
		binary.NativeEndian.PutUint64(data[int(at)%(len(data)-8):], value)
		path := filepath.Join(memoryFolder(t), "board.db")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		s, err := Open(path, Options{FreeBytesLeast: -1, Created: time.Unix(0, 0)})
		if err != nil {
			return
		}
		_, err = s.Load(LinesMost)
		require.NoError(t, err)
		require.NoError(t, s.Close())
	})
}
