package server

import (
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestTheCaptainAsksWhatASetTimeWouldMove(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	same := decode[clockAnswer](t, ada.get("/api/clock").ok().body)
	require.Zero(t, same.BySec)
	require.Empty(t, same.Moves)

	p.clock.step(-20 * time.Minute)
	asked := decode[clockAnswer](t, ada.get("/api/clock").ok().body)
	require.Equal(t, -1200, asked.BySec)
	require.Equal(t, asked.Laptop.Add(20*time.Minute), asked.Now)
	require.Contains(t, asked.Moves[0], "The board's time goes back 20 min")

	own := decode[clockAnswer](t, ada.get("/api/clock?to="+asked.Now.Add(90*time.Second).String()).ok().body)
	require.Equal(t, 90, own.BySec)
	ada.get("/api/clock?to=noon").refused(http.StatusUnprocessableEntity, board.CodeBadField)
	p.crew().get("/api/clock").refused(http.StatusForbidden, board.CodeForbidden)

	ada.do(board.TimeSet{BySec: asked.BySec}).ok()
	require.Equal(t, p.d.Laptop(), p.d.Now())
	require.Empty(t, decode[clockAnswer](t, ada.get("/api/clock").ok().body).Moves)
	p.crew().do(board.TimeSet{BySec: 60}).refused(http.StatusForbidden, board.CodeForbidden)
}
