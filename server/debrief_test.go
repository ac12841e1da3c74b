package server

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/debrief"
)

func TestTheDebriefReadsOnWhereItStopped(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	read := func() debrief.Account { return decode[debrief.Account](t, ada.get("/api/debrief").ok().body) }
	first, reading := read(), p.s.debriefed.reading
	require.Equal(t, int(p.d.View().State.Rev), first.Lines)
	ada.do(board.EventSet{EventFields: board.EventFields{Name: "Shed Meet"}}).ok()
	second := read()
	require.Equal(t, first.Lines+1, second.Lines)
	require.Equal(t, "Shed Meet", second.Event)
	require.Same(t, reading, p.s.debriefed.reading, "the lines before were not read again")
	whole, err := debrief.Read(p.d.Store().Lines())
	require.NoError(t, err)
	want, err := whole.Account(debrief.Usual())
	require.NoError(t, err)
	require.JSONEq(t, string(encode(t, want)), string(encode(t, second)))

	p.s.debriefed.epoch = "of a board that was opened again"
	require.Equal(t, second, read())
	require.NotSame(t, reading, p.s.debriefed.reading)
}

func TestADebriefThatNobodyWaitsForStopsAndIsTakenUpAgain(t *testing.T) {
	p := newPit(t)
	ctx, leave := context.WithCancel(t.Context())
	leave()
	_, err := p.s.record(ctx)
	require.ErrorIs(t, err, context.Canceled)
	rec, err := p.s.record(t.Context())
	require.NoError(t, err)
	require.Equal(t, int(p.d.View().State.Rev), rec.Lines)
}
