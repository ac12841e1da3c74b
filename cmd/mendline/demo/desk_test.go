package demo_test

import (
	"context"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
)

func TestTheDayGoesThroughTheDeskAsAnyonesCommandsDo(t *testing.T) {
	var clock atomic.Int64
	clock.Store(int64(now(t) - 300*minute))
	d, err := desk.New(desk.Options{
		Path: filepath.Join(t.TempDir(), "board.db"),
		Now:  func() time.Time { return board.Moment(clock.Load()).Time() },
	})
	require.NoError(t, err)
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- d.Run(ctx) }()

	for _, p := range theDay(t) {
		clock.Store(int64(p.At))
		with, err := json.Marshal(p.Command)
		require.NoError(t, err)
		view, err := d.State(ctx)
		require.NoError(t, err)
		ask := p.Ask(view.State)
		answer, err := d.Do(ctx, desk.Request{ID: p.ID, Do: board.Name(p.Command), With: with, Seen: ask.Seen, At: ask.At, Actor: p.By})
		require.NoError(t, err)
		require.Nil(t, answer.Refusal, board.Name(p.Command))
	}
	view, err := d.State(ctx)
	require.NoError(t, err)
	stop()
	require.NoError(t, <-ended)

	var want, got []string
	for _, n := range atNow(t).Nouns() {
		want = append(want, string(board.Encode(n)))
	}
	for _, n := range view.State.Nouns() {
		got = append(got, string(board.Encode(n)))
	}
	require.Equal(t, want, got)
}
