package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/cmd/mendline/demo"
	"mendline/server/desk"
)

// The designer's story is told from the demo's day, as a board's file that was taken
// home.
func TestTheDesignerFindsWhichFrameToBuildNext(t *testing.T) {
	t.Parallel()
	file := demoFile(t)
	told, err := os.ReadFile("../../testdata/stories/debrief/designer.txt")
	require.NoError(t, err)
	answer, asked := "", 0
	for line := range strings.Lines(string(told)) {
		line = strings.TrimSuffix(line, "\n")
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "$ mendline "):
			answer = asks(t, strings.Fields(strings.ReplaceAll(strings.TrimPrefix(line, "$ mendline "), "day.db", file)))
			asked++
		default:
			want := strings.TrimSpace(line)
			_, rest, found := strings.Cut(answer, want)
			require.True(t, found, "%q is not in what follows:\n%s", want, answer)
			answer = rest
		}
	}
	require.Equal(t, 3, asked)
}

// asks runs a command and gives what it prints.
func asks(t *testing.T, args []string) string {
	t.Helper()
	var out, trouble bytes.Buffer
	require.Zero(t, run(t.Context(), args, nil, &out, &trouble), trouble.String())
	return out.String()
}

// demoFile is the file of a board on which the demo's day has been played.
func demoFile(t *testing.T) string {
	t.Helper()
	now := board.MomentOf(time.Date(2026, 5, 9, 14, 0, 0, 0, time.UTC))
	path := filepath.Join(t.TempDir(), "day.db")
	var clock atomic.Int64
	clock.Store(int64(now.Add(-300 * time.Minute)))
	d, err := desk.New(desk.Options{Path: path, Now: func() time.Time { return board.Moment(clock.Load()).Time() }})
	require.NoError(t, err)
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- d.Run(ctx) }() // ended by stop, waited for below
	steps, err := demo.Day(now, 0)
	require.NoError(t, err)
	for _, p := range steps {
		clock.Store(int64(p.At))
		require.NoError(t, give(ctx, d, p))
	}
	stop()
	require.NoError(t, <-ended)
	return path
}
