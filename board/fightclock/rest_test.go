package fightclock_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/fightclock"
)

// The first row is the example computed independently; the rest follow by hand.
func TestPromisedRestDoesNotCountPauses(t *testing.T) {
	pause := func(from, to string) fightclock.Window { return fightclock.Window{From: at(from), To: at(to)} }
	for _, c := range []struct {
		name   string
		pauses []fightclock.Window
		want   string
	}{
		{"re-weigh", []fightclock.Window{pause("14:01", "14:05")}, "14:24"},
		{"none", nil, "14:20"},
		{"before the end", []fightclock.Window{pause("13:30", "13:50")}, "14:20"},
		{"over the end", []fightclock.Window{pause("13:55", "14:05")}, "14:25"},
		{"after it is over", []fightclock.Window{pause("14:20", "14:40")}, "14:20"},
		{"two that overlap", []fightclock.Window{pause("14:03", "14:08"), pause("14:01", "14:05")}, "14:27"},
		{"one within another", []fightclock.Window{pause("14:01", "14:10"), pause("14:02", "14:03")}, "14:29"},
		{"one that the first pushes into", []fightclock.Window{pause("14:01", "14:05"), pause("14:22", "14:30")}, "14:32"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := fightclock.EarliestStart(at("14:00"), 20*time.Minute, c.pauses)
			require.NoError(t, err)
			require.Equal(t, at(c.want), got)
		})
	}
}

func TestPromisedRestRefusesNonsense(t *testing.T) {
	_, err := fightclock.EarliestStart(at("14:00"), -time.Minute, nil)
	require.ErrorContains(t, err, "give 0 or more")
	_, err = fightclock.EarliestStart(at("14:00"), time.Minute, []fightclock.Window{{From: at("14:05"), To: at("14:01")}})
	require.ErrorContains(t, err, "pause 1")
}

func TestAnotherPauseNeverShortensTheRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minute := func(label string, from, to int) time.Duration {
			return time.Duration(rapid.IntRange(from, to).Draw(t, label)) * time.Minute
		}
		window := func(label string) fightclock.Window {
			from := at("14:00").Add(minute(label+" from", -30, 60))
			return fightclock.Window{From: from, To: from.Add(minute(label+" length", 1, 30))}
		}
		gap := minute("gap", 0, 60)
		one := []fightclock.Window{window("first")}
		two := append(one, window("second"))
		a, err := fightclock.EarliestStart(at("14:00"), gap, one)
		require.NoError(t, err)
		b, err := fightclock.EarliestStart(at("14:00"), gap, two)
		require.NoError(t, err)
		require.False(t, b.Before(a))
		require.False(t, a.Before(at("14:00").Add(gap)))
	})
}
