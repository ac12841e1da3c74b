package copies

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

var noon = board.MomentOf(time.Date(2026, 5, 2, 12, 0, 0, 0, time.UTC))

func TestACopysNameSaysWhenOfWhichRevisionAndOfWhichLine(t *testing.T) {
	c := Copy{At: noon.Add(95 * time.Second), Rev: 1234, Line: "0a1b2c3d"}
	require.Equal(t, "mendline-20260502T120135Z-r1234-0a1b2c3d.db", c.name())
	read, ok := parseName(c.name())
	require.True(t, ok)
	require.Equal(t, c, read)
	for _, other := range []string{"", "board.db", c.name() + ".new", "my-" + c.name(), "mendline-20261302T120135Z-r1-0a1b2c3d.db", "mendline-20260502T120135Z-r-0a1b2c3d.db"} {
		_, ok := parseName(other)
		require.False(t, ok, other)
	}
}

// played are the copies that stay of those made every minute from noon on.
func played(during time.Duration) []Copy {
	var all []Copy
	for now := noon; now <= noon.Add(during); now = now.Add(time.Minute) {
		all = append(all, Copy{At: now, Rev: board.Rev(len(all) + 1)})
		for _, gone := range surplus(all, now) {
			all = slices.DeleteFunc(all, func(c Copy) bool { return c == gone })
		}
	}
	return all
}

func TestAllCopiesOfTheLastHourStayOneOfEachHourAndOneOfEachDay(t *testing.T) {
	var young []Copy
	of := map[string]int{}
	for _, c := range played(3 * 24 * time.Hour) {
		switch age := noon.Add(3 * 24 * time.Hour).Sub(c.At); {
		case age < time.Hour:
			young = append(young, c)
		case age < 24*time.Hour:
			of[c.At.Time().Format("2 15h")]++
		default:
			of[c.At.Time().Format("2 (:04)")]++
		}
	}
	require.Len(t, young, 60)
	want := map[string]int{"2 (:59)": 1, "3 (:59)": 1, "4 (:59)": 1}
	for h := 12; h < 24; h++ {
		want[fmt.Sprintf("4 %02dh", h)] = 1
	}
	for h := range 12 {
		want[fmt.Sprintf("5 %02dh", h)] = 1
	}
	require.Equal(t, want, of)
}

func TestTheNewestCopyStaysHoweverOldItIs(t *testing.T) {
	one := []Copy{{At: noon, Rev: 1}, {At: noon.Add(time.Minute), Rev: 2}}
	require.Equal(t, one[:1], surplus(one, noon.Add(1000*time.Hour)))
	require.Empty(t, surplus(one[1:], noon.Add(1000*time.Hour)))
	require.Empty(t, surplus(nil, noon))
}
