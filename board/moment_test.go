package board_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestALengthOfTimeIsSaidAsPeopleSayIt(t *testing.T) {
	for d, want := range map[time.Duration]string{
		40 * time.Second: "40 s", 119 * time.Second: "119 s", 2 * time.Minute: "2 min", 119*time.Minute + 59*time.Second: "119 min",
		2 * time.Hour: "2 h", 3*time.Hour + 20*time.Minute: "3 h 20 min", 26 * time.Hour: "26 h", 48 * time.Hour: "2 days",
		52*time.Hour + 59*time.Minute: "2 days 4 h",
	} {
		require.Equal(t, want, Moment(d.Milliseconds()).Long())
	}
}
