package store

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkCommit commits groups of commands with nouns of about 1 KB. Compare
// with BenchmarkFloor, run beside it.
func BenchmarkCommit(b *testing.B) {
	for _, size := range []int{1, 25, 100} {
		b.Run(fmt.Sprintf("commands=%d", size), func(b *testing.B) {
			s := opened(b, filepath.Join(b.TempDir(), "board.db"), Options{})
			b.ReportAllocs()
			for b.Loop() {
				b.StopTimer()
				group := fat(s.rev+1, size)
				b.StartTimer()
				require.NoError(b, s.Commit(group))
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*size), "µs/command")
		})
	}
}

// BenchmarkFloor overwrites 4 KB and flushes: what the disk asks of anyone.
func BenchmarkFloor(b *testing.B) {
	f, err := os.Create(filepath.Join(b.TempDir(), "floor"))
	require.NoError(b, err)
	defer f.Close()
	page := make([]byte, pageBytes)
	for b.Loop() {
		_, err := f.WriteAt(page, 0)
		require.NoError(b, err)
		require.NoError(b, f.Sync())
	}
}

func BenchmarkCheck(b *testing.B) {
	path := temporary(b)
	s, err := Open(path, Options{noSync: true})
	require.NoError(b, err)
	for range 40 {
		commit(b, s, entries(s.rev+1, 500)...)
	}
	require.NoError(b, s.Close())
	b.Run("lines=20000", func(b *testing.B) {
		for b.Loop() {
			r, err := Check(path)
			require.NoError(b, err)
			require.Equal(b, 20000, r.Lines)
		}
	})
}

// BenchmarkOpen opens a closed board of 100,000 journal lines of about 1 KB.
func BenchmarkOpen(b *testing.B) {
	path := filepath.Join(b.TempDir(), "board.db")
	s, err := Open(path, Options{noSync: true})
	require.NoError(b, err)
	for rev := uint64(1); rev <= 100_000; rev += 500 {
		commit(b, s, fat(rev, 500)...)
	}
	require.NoError(b, s.Close())
	for b.Loop() {
		s, err := Open(path, Options{})
		require.NoError(b, err)
		require.NoError(b, s.Close())
	}
}

// fat are entries whose noun is about 1 KB.
func fat(first uint64, n int) []Entry {
	group := entries(first, n)
	for i := range group {
		e := &group[i]
		e.Put[0].Value = fmt.Appendf(nil, `{"v":%d,"note":%q}`, e.Rev, strings.Repeat("x", 1000))
		e.Line = line(*e)
	}
	return group
}
