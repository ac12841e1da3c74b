package demo_test

import (
	"context"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/cmd/mendline/demo"
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

	err = demo.Play(now(t), 60, func(p demo.Step) error {
		clock.Store(int64(p.At))
		do, with, err := p.Wire()
		require.NoError(t, err)
		view, err := d.State(ctx)
		require.NoError(t, err)
		ask := p.Ask(view.State)
		answer, err := d.Do(ctx, desk.Request{ID: p.ID, Do: do, With: with, Seen: ask.Seen, At: ask.At, Actor: p.By})
		require.Nil(t, answer.Refusal, do)
		return err
	})
	require.NoError(t, err)
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
