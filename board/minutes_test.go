package board_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "mendline/board"
)

// TestMinutesAreSaidAsInTheTable reads the table that the screens' clock is held to too.
func TestMinutesAreSaidAsInTheTable(t *testing.T) {
	raw, err := os.ReadFile("../testdata/minutes.json")
	require.NoError(t, err)
	var table []struct {
		Sec        int
		Work, Left string
	}
	require.NoError(t, json.Unmarshal(raw, &table))
	require.NotEmpty(t, table)
	for _, row := range table {
		require.Equal(t, row.Work, MinutesOfWork.Say(row.Sec), "%d s of work", row.Sec)
		require.Equal(t, row.Left, MinutesLeft.Say(row.Sec), "%d s left", row.Sec)
	}
}

func TestWorkThatDoesNotFitIsNeverSaidToTakeWhatIsLeft(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		left := rapid.IntRange(0, 10_000).Draw(rt, "left")
		work := left + rapid.IntRange(1, 600).Draw(rt, "more")
		require.Greater(rt, MinutesOfWork.Whole(work), MinutesLeft.Whole(left))
		require.LessOrEqual(rt, 60*MinutesLeft.Whole(-work), -work)
	})
}
