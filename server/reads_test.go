package server

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
)

func TestTheBoardComesPackedToWhoReadsThat(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	whole := ben.get("/api/board").ok()
	require.Empty(t, whole.header.Get("Content-Encoding"))
	m := decode[message](t, whole.body)
	require.Equal(t, "board", m.T)
	require.Equal(t, p.d.View().State.Rev, m.Rev)
	require.Equal(t, "Accept-Encoding", whole.header.Get("Vary"))

	packed := ben.get("/api/board", header("Accept-Encoding", "br, gzip")).ok()
	require.Equal(t, "gzip", packed.header.Get("Content-Encoding"))
	require.Less(t, len(packed.body), len(whole.body)/2)
	require.Equal(t, whole.body, unpack(t, packed.body))
}

func unpack(t *testing.T, b []byte) []byte {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(b))
	require.NoError(t, err)
	plain, err := io.ReadAll(z)
	require.NoError(t, err)
	return plain
}

// RFC 9110 §12.5.3.
func TestAcceptEncodingIsReadByItsRules(t *testing.T) {
	for value, want := range map[string]bool{
		"": false, "gzip": true, "GZIP": true, "br": false, "deflate, gzip;q=1.0, *;q=0.5": true, "gzip;q=0": false, "gzip; q=0.001": true, "x-gzipped": false,
	} {
		r := &http.Request{Header: http.Header{"Accept-Encoding": {value}}}
		require.Equal(t, want, takesGzip(r), "%q", value)
	}
}

func TestTheForecastIsWholeAlsoWhileThereIsNone(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	require.Eventually(t, func() bool {
		return len(decode[message](t, ben.get("/api/forecast").ok().body).Put) > 0
	}, testWait, 1e6)
	m := decode[message](t, ben.get("/api/forecast").ok().body)
	require.Equal(t, "forecast", m.T)
	require.True(t, m.Whole)

	p.s.desk = func() *desk.Desk {
		d, err := desk.New(desk.Options{Path: t.TempDir() + "/board.db"})
		require.NoError(t, err)
		t.Cleanup(func() {
			ctx, cancel := context.WithCancel(context.Background())
			cancel()
			require.NoError(t, d.Run(ctx))
		})
		return d
	}()
	wall := p.wall()
	m = decode[message](t, wall.get("/api/forecast").ok().body)
	require.Equal(t, "forecast", m.T)
	require.True(t, m.Whole)
	require.Zero(t, m.Seq)
}

func TestTheJournalComesInPages(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	for range 3 {
		ada.do(note("written down")).ok()
	}
	rev := p.d.View().State.Rev
	read := func(after string) []board.JournalLine {
		var list []board.JournalLine
		for _, l := range decode[journalAnswer](t, ada.get("/api/journal"+after).ok().body).Lines {
			list = append(list, decode[board.JournalLine](t, l))
		}
		return list
	}
	all := read("")
	require.Len(t, all, int(rev))
	for i, l := range all {
		require.Equal(t, board.Rev(i+1), l.Rev)
	}
	last := read("?after=" + string(encode(t, rev-1)))
	require.Len(t, last, 1)
	require.Equal(t, "note.add", last[0].Do)
	require.Equal(t, p.ada, last[0].By)
	require.Empty(t, read("?after="+string(encode(t, rev))))
}

func TestCommandsAreListedWithFieldsAndRefusals(t *testing.T) {
	p := newPit(t)
	a := decode[commandsAnswer](t, p.crew().get("/api/commands").ok().body)
	require.Equal(t, board.Commands(), a.Commands)
	require.Equal(t, meanings, a.Refusals)
}

func TestTheCaptainSeesAndEndsSessionsAndChangesCodes(t *testing.T) {
	p := newPit(t)
	ada, ben := p.captain(), p.crew()
	p.wall()
	k := p.dial(ben)
	k.await("hello")
	list := decode[sessionsAnswer](t, ada.get("/api/sessions").ok().body).Sessions
	require.Len(t, list, 3)
	require.Equal(t, "Ada", list[0].Name)
	require.True(t, list[0].Mine)
	require.Equal(t, sessionEntry{
		ID: list[1].ID, Role: board.RoleCrew, Code: board.RoleCrew, Person: p.ben, Name: "Ben", Since: list[1].Since, Seen: board.MomentOf(p.clock.Now()), Sockets: 1,
	}, list[1])
	require.Equal(t, board.RoleViewer, list[2].Role)
	for _, e := range list {
		require.NotContains(t, []string{keyOf(ada.token), keyOf(ben.token)}, e.ID)
	}

	was := decode[codesAnswer](t, ada.get("/api/codes").ok().body).Codes
	require.Len(t, was, 4)
	require.Equal(t, codeEntry{board.RoleCrew, pitCodes[board.RoleCrew]}, was[2])
	is := decode[codeEntry](t, changeCode(ada, "crew")().ok().body)
	require.NotEqual(t, was[2].Code, is.Code)
	p.tryJoin(JoinAsk{Code: was[2].Code}).refused(http.StatusForbidden, board.CodeForbidden)
	p.tryJoin(JoinAsk{Code: is.Code}).ok()
	ben.get("/api/me").ok() // who has joined stays
}

func TestLeavingEndsTheSessionAndItsCookie(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	k := p.dial(ben)
	k.resume("", 0)
	c := oneCookie(t, ben.post("/api/leave", "{}").ok())
	require.Equal(t, -1, c.MaxAge)
	require.Empty(t, c.Value)
	require.Equal(t, 4001, k.closed())
	ben.get("/api/me").refused(http.StatusUnauthorized, codeNoSession)
}
