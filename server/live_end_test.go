package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestShutdownSendsTheLastAcksAndThenSaysRestarting(t *testing.T) {
	p := newPit(t)
	ben, dee := p.crew(), p.safety()
	var socks []*sock
	for _, d := range []device{ben, dee} {
		k := p.dial(d)
		k.resume("", 0)
		socks = append(socks, k)
	}
	idle := p.dial(ben)
	idle.await("hello") // never resumed
	start := p.d.View().State.Rev
	asks := map[string]bool{}
	for i := range 30 {
		ask := p.command(note(fmt.Sprint(i)))
		asks[ask.ID] = true
		socks[i%2].say(DoMessage{T: "do", Ask: ask})
	}
	socks[0].await("ack") // some are under way
	closed := make(chan error, 1)
	go func() { closed <- p.s.Close(context.Background()) }()

	done, refused := 1, 0
	for _, k := range socks {
		for {
			m, err := k.next()
			if err != nil {
				var end *websocket.CloseError
				require.ErrorAs(t, err, &end)
				require.Equal(t, 1012, end.Code)
				break
			}
			switch m.T {
			case "ack":
				require.True(t, asks[m.ID])
				done++
			case "refused":
				require.Equal(t, board.CodeRestarting, m.Refusal.Code)
				refused++
			}
		}
	}
	require.Equal(t, 1012, idle.closed())
	require.NoError(t, <-closed)
	require.Equal(t, start+board.Rev(done), p.d.View().State.Rev, "each command on disk was acknowledged, %d refused", refused)

	ben.do(note("too late")).refused(http.StatusServiceUnavailable, board.CodeRestarting)
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleViewer]}).refused(http.StatusServiceUnavailable, board.CodeRestarting)
	p.nobody().get("/healthz").refusedBy(http.StatusServiceUnavailable)
	k, _, err := p.dialWith(http.Header{"Authorization": {"Bearer " + ben.token}}, proto)
	require.NoError(t, err)
	require.Equal(t, 1012, k.closed())
}

func TestCloseDoesNotWaitForASocketThatIsStuck(t *testing.T) {
	p := newPit(t)
	k := p.dial(p.crew())
	k.resume("", 0)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	require.ErrorIs(t, p.s.Close(ctx), context.Canceled)
	require.NoError(t, p.s.Close(context.Background()), "it was cut, and its handler has ended")
}

func TestTheDesksEndClosesTheSockets(t *testing.T) {
	p := newPit(t)
	k := p.dial(p.crew())
	k.resume("", 0)
	p.stopDesk()
	require.Equal(t, 1012, k.closed())
}

func TestTryAgainIsForAFreshStart(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	ben := p.crew()
	ben.post("/api/again", "{}").refused(http.StatusForbidden, board.CodeForbidden)
	ada.post("/api/again", "{}").ok() // a board that can write stays as it is
	ben.do(note("goes on")).ok()
}

func TestALivePeerIsPingedAndADeadOneDropped(t *testing.T) {
	t.Parallel() // it waits for a dead peer's time to pass
	p := newPitWith(t, with{options: func(o *Options) {
		o.waits = waits{ping: 20 * time.Millisecond, read: time.Second, write: testWait, close: testWait}
	}})
	ben := p.crew()
	alive, dead := p.dial(ben), p.dial(ben)
	pings := make(chan bool, 100)
	dead.conn.SetPingHandler(func(string) error { pings <- true; return nil }) // and no pong
	alive.resume("", 0)
	dead.resume("", 0)
	go func() {
		for {
			if _, err := alive.next(); err != nil {
				return
			}
		}
	}()
	var end *websocket.CloseError
	for end == nil {
		if _, err := dead.next(); err != nil {
			require.ErrorAs(t, err, &end)
		}
	}
	require.Equal(t, websocket.CloseAbnormalClosure, end.Code)
	require.True(t, <-pings)
	require.Eventually(t, func() bool {
		return strings.Contains(string(p.nobody().get("/metrics").body), "mendline_ws_clients 1\n")
	}, testWait, time.Millisecond, "the one that answers stays")
}
