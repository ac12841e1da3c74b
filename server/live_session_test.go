package server

import (
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestAnEndedSessionLosesItsSocketsAtOnce(t *testing.T) {
	p := newPit(t)
	ada, ben := p.captain(), p.crew()
	mine, his := p.dial(ada), p.dial(ben)
	mine.resume("", 0)
	his.resume("", 0)
	fresh := p.dial(ben)
	fresh.await("hello") // never resumed
	endSession(ada, p.sessionOf(ada, ben))().ok()
	require.Equal(t, 4001, his.closed())
	require.Equal(t, 4001, fresh.closed())
	ben.do(note("one more")).refused(http.StatusUnauthorized, codeNoSession)
	require.Equal(t, "ack", mine.do(p.command(note("the captain goes on"))).T)
}

func TestASessionEndsAfterItsTime(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	k := p.dial(ben)
	k.resume("", 0)
	p.clock.pass(sessionFor - time.Minute)
	ben.get("/api/me").ok()
	p.clock.pass(time.Minute)
	ben.get("/api/me").refused(http.StatusUnauthorized, codeNoSession)
	k.say(DoMessage{T: "do", Ask: p.command(note("too late"))})
	require.Equal(t, 4001, k.closed())
}

func TestAnotherRoleClosesThePersonsSockets(t *testing.T) {
	p := newPit(t)
	ben, dee := p.dial(p.crew()), p.dial(p.safety())
	ben.resume("", 0)
	dee.resume("", 0)
	p.told(board.PersonChange{Person: p.ben, PersonFields: board.PersonFields{Name: "Ben", Role: board.RoleSafety}})
	require.Equal(t, 4004, ben.closed())
	p.told(board.PersonRetire{Person: p.dee})
	require.Equal(t, 4001, dee.closed())
}

func TestWhoGivesTheirOwnRoleAwayHearsTheAnswerFirst(t *testing.T) {
	p := newPit(t)
	phone := p.crew()
	for range 50 {
		p.told(board.PersonChange{Person: p.ben, PersonFields: board.PersonFields{Name: "Ben", Role: board.RoleCaptain}})
		ben := p.dial(phone)
		ben.resume("", 0)
		require.Equal(t, "ack", ben.do(p.command(board.PersonChange{Person: p.ben, PersonFields: board.PersonFields{Name: "Ben", Role: board.RoleCrew}})).T)
		require.Equal(t, 4004, ben.closed())
	}
}

func TestASessionHasEightSocketsAtMost(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	var open []*sock
	for range socketsPerSession {
		k := p.dial(ben)
		k.await("hello")
		open = append(open, k)
	}
	require.Equal(t, 1013, p.dial(ben).closed())
	p.dial(p.safety()).await("hello")
	require.NoError(t, open[0].conn.Close())
	require.Eventually(t, func() bool {
		k := p.dial(ben)
		m, err := k.next()
		return err == nil && m.T == "hello"
	}, testWait, time.Millisecond)
}

func TestASessionCommandsSoOftenAndNoMore(t *testing.T) {
	p := newPit(t)
	ben, dee := p.crew(), p.safety()
	k := p.dial(ben)
	k.resume("", 0)
	p.clock.pass(time.Minute)
	still := func() Ask {
		return Ask{ID: p.newID().String(), Do: "note.add", With: []byte(`{"text":"again"}`)}
	}
	for i := range commandsBurst {
		if i%2 == 0 {
			require.Equal(t, "ack", k.do(still()).T)
		} else {
			ben.post("/api/do", still()).ok()
		}
	}
	bad := k.do(still()).Refusal
	require.Equal(t, board.CodeTooMany, bad.Code)
	require.Contains(t, bad.Sentence, "40 things at once, and then 20 a second")
	ben.post("/api/do", still()).refused(http.StatusTooManyRequests, board.CodeTooMany)
	dee.post("/api/do", still()).ok()
	p.clock.pass(time.Second / commandsPerSec)
	require.Equal(t, "ack", k.do(still()).T)
	require.Equal(t, board.CodeTooMany, k.do(still()).Refusal.Code)

	k.say(ResumeMessage{T: "resume"})
	require.Equal(t, 1013, k.closed(), "what is no command is not answered that often")
}

func TestAMessageTooLargeClosesTheSocket(t *testing.T) {
	p := newPit(t)
	k := p.dial(p.crew())
	k.resume("", 0)
	m := p.command(note(strings.Repeat("x", messageMost)))
	k.say(DoMessage{T: "do", Ask: m})
	require.Equal(t, websocket.CloseMessageTooBig, k.closed())
}

// A device that stops reading fills the kernel's buffers and then its queue. It is
// cut, and what it missed comes when it is back.
func TestASlowReaderIsCutAndResumes(t *testing.T) {
	t.Parallel() // it waits for a starved connection to drain
	p := newPitWith(t, with{options: func(o *Options) { o.waits = waits{ping: testWait, read: testWait, write: testWait, close: testWait} }})
	ben := p.crew()
	start := p.d.View().State.Rev
	d := websocket.Dialer{Subprotocols: []string{proto}, NetDial: func(network, addr string) (net.Conn, error) {
		c, err := net.Dial(network, addr)
		if err == nil {
			err = c.(*net.TCPConn).SetReadBuffer(4096)
		}
		return c, err
	}}
	conn, _, err := d.Dial("ws://"+p.addr+"/live", http.Header{"Authorization": {"Bearer " + ben.token}})
	require.NoError(t, err)
	t.Cleanup(func() { conn.Close() })
	slow := &sock{p: p, t: t, conn: conn}
	slow.resume("", 0)

	text := strings.Repeat("\U0001F527", 2000) // 8 KB, the longest a note may be
	const notes = 100
	for range notes {
		p.told(note(text))
	}
	rev := start
	var end error
	for end == nil {
		var m message
		if m, end = slow.next(); m.T == "patches" {
			for _, patch := range m.List {
				rev++
				require.Equal(t, rev, patch.Rev, "what comes is gapless to the end")
			}
		}
	}
	var code *websocket.CloseError
	require.ErrorAs(t, end, &code)
	require.Equal(t, 4002, code.Code)
	require.Less(t, rev, start+notes, "it was cut before the last")

	m := p.dial(ben).resume(p.d.View().Epoch, rev)
	switch m.T {
	case "patches":
		require.Equal(t, rev+1, m.List[0].Rev)
		require.Equal(t, start+notes, m.List[len(m.List)-1].Rev)
	case "board":
		require.Equal(t, start+notes, m.Rev)
	}
}
