package main

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

func TestTheDemosDayPlaysThroughTheDesk(t *testing.T) {
	day, err := newPlay(time.Now())
	require.NoError(t, err)
	own, err := desk.New(desk.Options{Path: filepath.Join(t.TempDir(), "board.db"), Store: store.Options{FreeBytesLeast: -1}, Now: day.now})
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- own.Run(ctx) }()
	require.NoError(t, day.play(ctx, own))
	s := own.View().State
	require.Len(t, s.Robots, 3)
	states := map[board.PowerState]bool{}
	for _, power := range s.Powers {
		states[power.State] = true
	}
	require.True(t, states[board.Unknown] && states[board.Work], "%v", states)
	stop()
	require.NoError(t, <-ended)
}
