package server

import (
	"context"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/review"
)

func TestTheReviewIsForCaptainAndSafetyLead(t *testing.T) {
	p := newPit(t)
	for _, path := range []string{"/api/review", "/sheet/review"} {
		p.nobody().get(path).refused(http.StatusUnauthorized, codeNoSession)
		p.crew().get(path).refused(http.StatusForbidden, board.CodeForbidden)
		p.wall().get(path).refused(http.StatusForbidden, board.CodeForbidden)
		p.captain().get(path).ok()
		p.safety().get(path).ok()
	}
}

func TestTheReviewReadsOnWhereItStopped(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	read := func() review.Review { return decode[review.Review](t, ada.get("/api/review").ok().body) }
	first := read()
	require.Equal(t, p.d.View().State.Rev, first.Of)
	require.Empty(t, first.Relaxed)
	ada.do(board.EventSet{EventFields: board.EventFields{Name: "Shed Meet", RepairerMaySign: true}, Reason: "the event says so"}).ok()
	second := read()
	require.Equal(t, first.Of+1, second.Of)
	require.Len(t, second.Relaxed, 1)
	require.Equal(t, board.MomentOf(p.clock.Now()), second.Relaxed[0].From)
	require.Contains(t, string(ada.get("/sheet/review").ok().body), second.Relaxed[0].Text)
}

func TestAReviewThatNobodyWaitsForStopsAndIsTakenUpAgain(t *testing.T) {
	p := newPit(t)
	ctx, leave := context.WithCancel(t.Context())
	leave()
	_, err := p.s.makeReview(ctx)
	require.ErrorIs(t, err, context.Canceled)
	made, err := p.s.makeReview(t.Context())
	require.NoError(t, err)
	require.Equal(t, p.d.View().State.Rev, made.Of)
	p.captain().do(board.EventSet{EventFields: board.EventFields{Name: "Shed Meet"}}).ok()
	p.s.kill()
	_, err = p.s.makeReview(t.Context())
	require.ErrorIs(t, err, context.Canceled, "the server ends")
}

func TestAReviewThatTakesLongIsAnsweredAndGoesOnFromWhereItIs(t *testing.T) {
	p := newPit(t)
	require.NoError(t, p.s.reviewed.lock(t.Context())) // another reads, and takes its time
	ctx, late := context.WithDeadline(t.Context(), time.Now())
	defer late()
	_, err := p.s.makeReview(ctx)
	require.ErrorIs(t, err, context.DeadlineExceeded, "it does not wait for the other")
	_, err = p.s.record(ctx)
	require.ErrorIs(t, err, context.DeadlineExceeded)
	require.Equal(t, board.CodeTooMany, notRead(err).Code)
	p.s.reviewed.unlock()
	made, err := p.s.makeReview(t.Context())
	require.NoError(t, err)
	require.Equal(t, p.d.View().State.Rev, made.Of)
	require.Less(t, readWithin, answerWait, "what is answered later than that is not answered")
}

// What people do while the journal is read is for the next who asks: on a busy day a
// reader would never come to its end.
func TestAReadingEndsThoughPeopleGoOn(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	newest, read := uint64(p.d.View().State.Rev), 0
	at := newTail()
	reading := func() func([]byte) error {
		return func([]byte) error {
			read++
			require.LessOrEqual(t, read, 1000, "it follows its own tail")
			ada.do(board.NoteAdd{Text: "one more"}).ok()
			return nil
		}
	}
	require.NoError(t, p.s.readOn(t.Context(), &at, reading))
	require.GreaterOrEqual(t, at.of, newest)
	for range 3 {
		of := at.of
		require.NoError(t, p.s.readOn(t.Context(), &at, reading))
		require.Greater(t, at.of, of, "and it goes on")
	}
}

func TestThePrintedReviewIsWellFormed(t *testing.T) {
	p := newPit(t)
	wellFormed(t, string(p.captain().get("/sheet/review").ok().body))
}
