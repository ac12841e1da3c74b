package main

import (
	"os"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The forms are those of proc(5), from memory; the values are constructed by us.
func TestAProcessStatusTellsItsMemory(t *testing.T) {
	m, err := parseMemory("Name:\tmendline\nVmHWM:\t   70000 kB\nVmRSS:\t   60000 kB\nRssAnon:\t   40000 kB\nThreads:\t9\n")
	require.NoError(t, err)
	require.Equal(t, memory{Resident: 60000 << 10, Own: 40000 << 10, Peak: 70000 << 10}, m)
	_, err = parseMemory("Name:\tmendline\nThreads:\t9\n")
	require.EqualError(t, err, "read memory: no VmHWM in the process's status")
}

func TestAProcessStatTellsItsProcessorTime(t *testing.T) {
	d, err := parseProcessor("4242 (odd) name)) S 1 4242 4242 0 -1 4194304 900 0 3 0 150 25 0 0 20 0 9 0 100")
	require.NoError(t, err)
	require.Equal(t, 1750*time.Millisecond, d)
	_, err = parseProcessor("4242 (short) S 1")
	require.Error(t, err)
}

func TestTheOwnProcessCanBeRead(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("needs /proc, so Linux")
	}
	m, err := memoryOf(os.Getpid())
	require.NoError(t, err)
	require.Positive(t, m.Own)
	require.GreaterOrEqual(t, m.Peak, m.Own)
	_, err = processorOf(os.Getpid())
	require.NoError(t, err)
}
