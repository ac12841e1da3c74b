package store

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTheJournalIsReadPageByPage(t *testing.T) {
	s, _ := fresh(t, Options{})
	commit(t, s, entries(1, 1234)...)
	var sizes []int
	next := uint64(1)
	for {
		page, err := s.Journal(next-1, 9999)
		require.NoError(t, err)
		sizes = append(sizes, len(page))
		for _, l := range page {
			require.Equal(t, next, l.Rev)
			require.Equal(t, entry(next).Line, l.Data)
			next++
		}
		if len(page) == 0 {
			break
		}
	}
	require.Equal(t, []int{500, 500, 234, 0}, sizes)
}

func TestAPageOfTheJournalHasItsLimit(t *testing.T) {
	s, _ := fresh(t, Options{})
	commit(t, s, entries(1, 10)...)
	for _, c := range []struct {
		after uint64
		limit int
		want  []uint64
	}{
		{0, 2, []uint64{1, 2}},
		{7, 500, []uint64{8, 9, 10}},
		{10, 500, nil},
		{1 << 63, 500, nil},
		{0, 0, nil},
		{0, -1, nil},
	} {
		lines, err := s.Journal(c.after, c.limit)
		require.NoError(t, err)
		var got []uint64
		for _, l := range lines {
			got = append(got, l.Rev)
		}
		require.Equal(t, c.want, got, "%+v", c)
	}
}

func TestLoadGivesTheNewestLines(t *testing.T) {
	s, _ := fresh(t, Options{})
	commit(t, s, entries(1, 10)...)
	snap, err := s.Load(2)
	require.NoError(t, err)
	require.Equal(t, []Line{{9, entry(9).Line}, {10, entry(10).Line}}, snap.Lines)
	snap, err = s.Load(0)
	require.NoError(t, err)
	require.Empty(t, snap.Lines)
}
