package store

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestNothingAcknowledgedIsLostToAKill kills a committing child at random
// moments, MENDLINE_KILLS times.
func TestNothingAcknowledgedIsLostToAKill(t *testing.T) {
	t.Parallel()
	kills := times(t, "MENDLINE_KILLS", 20)
	seed := seedOf(t)
	rng := rand.New(rand.NewPCG(seed, 2))
	path := temporary(t)
	acked := uint64(0)
	for n := range kills {
		acked = max(acked, killedAfter(t, path, 1+rng.IntN(12), seed+uint64(n)))
		r, err := Check(path)
		require.NoError(t, err)
		require.NoError(t, r.Err())
		require.GreaterOrEqual(t, r.Rev, acked, "kill %d", n)
	}
	t.Logf("%d kills, %d acknowledged", kills, acked)
	requireOnce(t, path, acked)
}

// killedAfter is the last revision that a child acknowledged. It is killed
// when so many groups are acknowledged; what it writes till the signal comes
// counts too.
func killedAfter(t *testing.T, path string, groups int, seed uint64) uint64 {
	t.Helper()
	cmd, lines, _ := started(t, "commit", path, 0, seed)
	acked := uint64(0)
	for n := 0; lines.Scan(); n++ {
		acked = ackOf(t, lines.Text())
		if n+1 == groups {
			require.NoError(t, cmd.Process.Kill())
		}
	}
	require.ErrorContains(t, cmd.Wait(), "killed")
	return acked
}

func ackOf(t *testing.T, line string) uint64 {
	t.Helper()
	text, ok := strings.CutPrefix(line, "ACK ")
	require.True(t, ok, line)
	rev, err := strconv.ParseUint(text, 10, 64)
	require.NoError(t, err)
	return rev
}

// requireOnce reads the whole journal: each acknowledged command is there at
// its revision, none twice, and its answer is remembered.
func requireOnce(t *testing.T, path string, acked uint64) {
	t.Helper()
	s := opened(t, path, Options{})
	seen := map[string]uint64{}
	last := uint64(0)
	for {
		page, err := s.Journal(last, LinesMost)
		require.NoError(t, err)
		if len(page) == 0 {
			break
		}
		for _, l := range page {
			var head struct{ ID string }
			require.NoError(t, json.Unmarshal(l.Data, &head))
			require.Zero(t, seen[head.ID], "id %s is there twice", head.ID)
			require.Equal(t, last+1, l.Rev)
			last, seen[head.ID] = l.Rev, l.Rev
		}
	}
	require.GreaterOrEqual(t, last, acked)
	for rev := uint64(1); rev <= acked; rev++ {
		id := entry(rev).ID
		require.Equal(t, rev, seen[fmt.Sprintf("%x", id)])
		d, ok := s.Done(id)
		require.True(t, ok)
		require.Equal(t, rev, d.Rev)
	}
}
