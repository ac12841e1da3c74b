package server

import (
	"fmt"
	"net/http"
	"net/netip"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// house is the sessions of a board, at which devices come in one after the other.
type house struct {
	t   *testing.T
	l   *sessions
	now time.Time
}

func newHouse(t *testing.T) *house {
	return &house{t, loadSessions(nil, nineOClock), nineOClock}
}

// comes lets a device in, nil where there was no place.
func (h *house) comes(role board.Role, from string, connected bool) *session {
	h.now = h.now.Add(time.Second)
	n, _ := issue(role, "", netip.MustParseAddr(from), h.now)
	if connected {
		n.sockets[&socket{session: n}] = true
	}
	if _, ok := h.l.add(n, h.now); !ok {
		return nil
	}
	return n
}

func (h *house) in(n *session) bool { return h.l.stands(n, h.now) }

func (h *house) fill(role board.Role, connected bool) {
	for i := range shareOf(role) {
		require.NotNil(h.t, h.comes(role, fmt.Sprint("10.0.0.", i%250), connected))
	}
}

func TestOneDeviceWithTheWallsCodeKeepsNobodyOut(t *testing.T) {
	h := newHouse(t)
	wall := h.comes(board.RoleViewer, "10.0.0.7", false)
	for range 1000 {
		require.NotNil(t, h.comes(board.RoleViewer, "10.0.0.66", false))
	}
	require.Len(t, h.l.byKey, shareOf(board.RoleViewer)/2+1)
	require.True(t, h.in(wall), "a screen that is away for a moment keeps its place")
	for _, role := range joinRoles {
		require.NotNil(t, h.comes(role, "10.0.0.8", true), role)
	}

	h = newHouse(t)
	for range shareOf(board.RoleViewer) / 2 {
		require.NotNil(t, h.comes(board.RoleViewer, "10.0.0.66", true))
	}
	require.Nil(t, h.comes(board.RoleViewer, "10.0.0.66", true))
	require.NotNil(t, h.comes(board.RoleViewer, "10.0.0.7", true))
}

func TestTheOldestWithoutASocketGivesWay(t *testing.T) {
	h := newHouse(t)
	busy := h.comes(board.RoleCrew, "10.0.1.1", true)
	first, second := h.comes(board.RoleCrew, "10.0.1.2", false), h.comes(board.RoleCrew, "10.0.1.3", false)
	for i := range shareOf(board.RoleCrew) - 3 {
		require.NotNil(t, h.comes(board.RoleCrew, fmt.Sprintf("10.1.%d.%d", i/200, i%200), true))
	}
	require.True(t, h.in(first))
	require.NotNil(t, h.comes(board.RoleCrew, "10.0.1.4", true))
	require.False(t, h.in(first))
	require.True(t, h.in(second))
	require.NotNil(t, h.comes(board.RoleCrew, "10.0.1.5", true))
	require.False(t, h.in(second))
	require.Nil(t, h.comes(board.RoleCrew, "10.0.1.6", true), "all are connected")
	require.True(t, h.in(busy))

	h.now = h.now.Add(sessionFor)
	require.NotNil(t, h.comes(board.RoleCrew, "10.0.1.6", true))
	require.Len(t, h.l.byKey, 1, "those that are over made room")
}

func TestCaptainAndSafetyAlwaysFindAPlace(t *testing.T) {
	for _, role := range []board.Role{board.RoleCaptain, board.RoleSafety} {
		h := newHouse(t)
		h.fill(board.RoleCrew, true)
		h.fill(board.RoleViewer, true)
		h.fill(role, true)
		own := h.comes(role, "10.0.9.9", true)
		require.True(t, h.in(own), role)
		require.Nil(t, h.comes(board.RoleCrew, "10.0.9.9", true))
		require.Nil(t, h.comes(board.RoleViewer, "10.0.9.9", true))
	}
}

func TestWhoMustGiveWayIsGoneFromTheStoreToo(t *testing.T) {
	p := newPit(t)
	code := JoinAsk{Code: pitCodes[board.RoleViewer]}
	tokens := map[string]bool{}
	for range shareOf(board.RoleViewer)/2 + 5 {
		tokens[decode[JoinedAnswer](t, p.tryJoin(code).ok().body).Token] = true
		p.clock.pass(time.Second)
	}
	held, err := p.d.Store().Load(0)
	require.NoError(t, err)
	require.Len(t, held.Sessions, shareOf(board.RoleViewer)/2)
	for token := range tokens {
		want := http.StatusUnauthorized
		if held.Sessions[keyOf(token)] != nil {
			want = http.StatusOK
		}
		require.Equal(t, want, (device{p: p, token: token}).get("/api/me").status)
	}
}

func TestAJoinThatCannotBeKeptTakesNobodysPlace(t *testing.T) {
	p := newPit(t)
	network := netip.MustParseAddr("127.0.0.1")
	var all []*session
	for range shareOf(board.RoleCrew) / 2 {
		n, _ := issue(board.RoleCrew, p.ben, network, p.clock.Now())
		_, ok := p.s.sessions.add(n, p.clock.Now())
		require.True(t, ok)
		all = append(all, n)
	}
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Ve\u202era", PIN: somePIN}).refused(http.StatusUnprocessableEntity, board.CodeBadField)
	for _, n := range all {
		require.True(t, p.s.sessions.stands(n, p.clock.Now()))
	}
	p.join(board.RoleCrew, "Vera")
	require.Len(t, p.s.sessions.byKey, len(all))
}

func TestTheCaptainEndsAllOfOneCodeOrAllThatAreNotConnected(t *testing.T) {
	p := newPit(t)
	ada, again, ben, dee := p.captain(), p.captain(), p.crew(), p.safety()
	end := func(d device, what any) answer { return d.post("/api/sessions/end", what) }
	ended := func(a answer) int { return decode[endedAnswer](t, a.ok().body).Ended }
	end(ben, map[string]any{"unused": true}).refused(http.StatusForbidden, board.CodeForbidden)

	k := p.dial(ben)
	k.resume("", 0)
	p.wall()
	p.wall()
	require.Equal(t, 2, ended(end(ada, map[string]any{"role": "viewer"})))
	require.Zero(t, ended(end(ada, map[string]any{"role": "viewer"})))
	require.Equal(t, 2, ended(end(ada, map[string]any{"unused": true})), "the other captain's phone and the safety lead's")
	for _, gone := range []device{again, dee} {
		gone.get("/api/me").refused(http.StatusUnauthorized, codeNoSession)
	}
	ada.get("/api/me").ok()
	require.Equal(t, "ack", k.do(p.command(note("still here"))).T)
	require.Equal(t, 1, ended(end(ada, map[string]any{"role": "crew"})))
	require.Equal(t, 4001, k.closed())
	require.Zero(t, ended(end(ada, map[string]any{"role": "captain"})), "the device that asks stays")
	held, err := p.d.Store().Load(0)
	require.NoError(t, err)
	require.Len(t, held.Sessions, 1)
}

func TestALockedDoorLetsNoNewNameIn(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	turn := func(do string) doorAnswer {
		return decode[doorAnswer](t, ada.post("/api/door", map[string]any{"do": do}).ok().body)
	}
	comes := func(name string) answer {
		return p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: name, PIN: somePIN})
	}
	comes("Vera").ok()
	require.Equal(t, doorAnswer{Locked: true}, turn("lock"))
	require.Contains(t, comes("Wim").refused(http.StatusForbidden, board.CodeForbidden).Sentence, "locked the door")
	comes("Vera").ok()
	comes("Ben").ok() // on the roster, though no device took the name before
	p.wall()

	lifted := turn("lift")
	require.Equal(t, board.MomentOf(p.clock.Now().Add(liftedFor)), lifted.LiftedUntil)
	comes("Wim").ok()
	p.clock.pass(liftedFor)
	comes("Xena").refused(http.StatusForbidden, board.CodeForbidden)
	turn("lift")
	turn("lock")
	comes("Xena").refused(http.StatusForbidden, board.CodeForbidden)

	p.crew().post("/api/door", map[string]any{"do": "unlock"}).refused(http.StatusForbidden, board.CodeForbidden)
	ada.post("/api/door", map[string]any{"do": "knock"}).refused(http.StatusUnprocessableEntity, board.CodeBadField)
	require.NoError(t, p.s.Close(t.Context()))
	p.stopDesk()
	q := newPitWith(t, with{path: p.path})
	bad := q.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Xena", PIN: somePIN}).refused(http.StatusForbidden, board.CodeForbidden)
	require.Contains(t, bad.Sentence, "locked the door", "a restart unlocks nothing")
	require.Equal(t, doorAnswer{}, decode[doorAnswer](t, device{p: q, token: ada.token}.post("/api/door", map[string]any{"do": "unlock"}).ok().body))
	q.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Xena", PIN: somePIN}).ok()
}
