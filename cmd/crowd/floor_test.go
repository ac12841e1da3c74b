package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestTheFloorTimesTheFlushAndThenTheLastSocket(t *testing.T) {
	dir := t.TempDir()
	f, err := openFloor(dir, 3)
	require.NoError(t, err)
	messages := [][]byte{[]byte("a"), bytes.Repeat([]byte("b"), 3*pageBytes+1), bytes.Repeat([]byte("c"), 500)}
	times, err := f.replay(t.Context(), []time.Duration{0, 1, 2, 3}, messages)
	require.NoError(t, err)
	require.Len(t, times.flush, 3)
	require.Len(t, times.everywhere, 3)
	for i := range times.flush {
		require.Positive(t, times.flush[i])
		require.Greater(t, times.everywhere[i], times.flush[i], "the sockets come after the flush")
	}
	written, err := os.ReadFile(filepath.Join(dir, "floor"))
	require.NoError(t, err)
	require.Len(t, written, 4*pageBytes, "whole pages")
	require.Equal(t, messages[2], bytes.TrimRight(written[:pageBytes], "\x00"), "the last message is in the first page")
	require.NoError(t, f.close())
	require.NoFileExists(t, filepath.Join(dir, "floor"))
}

func TestTheFloorEndsWithItsContext(t *testing.T) {
	f, err := openFloor(t.TempDir(), 1)
	require.NoError(t, err)
	enough := errors.New("enough")
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(enough)
	_, err = f.replay(ctx, []time.Duration{time.Hour}, [][]byte{[]byte("never")})
	require.ErrorIs(t, err, enough)
	require.NoError(t, f.close())
}
