package main

import (
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestTheMixIsWhatItsCommentSaysAndFollowsItsSeed(t *testing.T) {
	keys := []board.Key{"robot/r", "stock/s", "person/p"}
	m, again := newMix(seeded(1), keys), newMix(seeded(1), keys)
	given := map[string]int{}
	for range 4000 {
		o, err := m.next()
		require.NoError(t, err)
		same, err := again.next()
		require.NoError(t, err)
		require.Equal(t, same.with, o.with)
		with, err := json.Marshal(o.with)
		require.NoError(t, err)
		_, refusal := board.Decode(o.do, with)
		require.Nil(t, refusal)
		given[o.do]++
	}
	for do, want := range map[string]int{"note.add": 2000, "stock.count": 1000, "damage.report": 600, "job.add": 400} {
		require.InDelta(t, want, given[do], 120, do)
	}
}

func TestWithoutRobotsAndSparesThereAreOnlyNotes(t *testing.T) {
	m := newMix(seeded(1), []board.Key{"person/p"})
	for range 50 {
		o, err := m.next()
		require.NoError(t, err)
		require.Equal(t, "note.add", o.do)
	}
}
