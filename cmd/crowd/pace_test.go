package main

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0)) }

func TestASteadyScheduleIsEvenlySpaced(t *testing.T) {
	due := schedule(seeded(1), 4, time.Second, true)
	require.Equal(t, []time.Duration{250 * time.Millisecond, 500 * time.Millisecond, 750 * time.Millisecond, time.Second}, due)
}

// The number of arrivals of a Poisson process in a time has mean and variance
// rate·time (standard; no source needed), so 10,000 lie within 400 of that.
func TestARandomScheduleHasTheRateAndKeepsToItsSeed(t *testing.T) {
	due := schedule(seeded(1), 100, 100*time.Second, false)
	require.InDelta(t, 10_000, len(due), 400)
	require.True(t, slices.IsSorted(due))
	require.LessOrEqual(t, due[len(due)-1], 100*time.Second)
	require.Equal(t, due, schedule(seeded(1), 100, 100*time.Second, false))
	require.NotEqual(t, due, schedule(seeded(2), 100, 100*time.Second, false))
}
