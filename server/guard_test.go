package server

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// Each bad request stands beside one that is taken and differs in that point
// alone.
func TestABadRequestIsRefusedBesideItsGoodTwin(t *testing.T) {
	p := newPit(t)
	ada, ben, wall := p.captain(), p.crew(), p.wall()
	own := "http://" + p.addr
	body := func() string { return string(encode(t, p.command(note("blade is bent")))) }
	ok := func(d device, change ...func(*http.Request)) func() answer {
		return func() answer { return d.post("/api/do", body(), change...) }
	}
	raw := func(bend func(string) string) func() answer {
		return func() answer { return ben.post("/api/do", bend(body())) }
	}
	host := func(h string) func(*http.Request) { return func(r *http.Request) { r.Host = h } }
	tests := []struct {
		name      string
		bad, good func() answer
		status    int
		code      board.Code
		field     string
	}{
		{"not JSON", raw(func(b string) string { return b[1:] }), raw(same), 400, board.CodeMalformed, ""},
		{"half an object", raw(func(b string) string { return b[:len(b)-1] }), raw(same), 400, board.CodeMalformed, ""},
		{"data behind it", raw(func(b string) string { return b + "{}" }), raw(func(b string) string { return b + " \n" }), 400, board.CodeMalformed, ""},
		{"unknown field", raw(func(b string) string { return strings.Replace(b, `{"id"`, `{"colour":"red","id"`, 1) }), raw(same), 400, board.CodeMalformed, "colour"},
		{"field in other letters", raw(func(b string) string { return strings.Replace(b, `"do"`, `"Do"`, 1) }), raw(same), 400, board.CodeMalformed, "Do"},
		{"unknown field of the command", raw(func(b string) string { return strings.Replace(b, `{"text"`, `{"tint":1,"text"`, 1) }), raw(same), 400, board.CodeMalformed, "tint"},
		{"repeated field", raw(func(b string) string { return strings.Replace(b, `{"id"`, `{"do":"note.add","id"`, 1) }), raw(same), 400, board.CodeMalformed, "do"},
		{"repeated field of the command", raw(func(b string) string { return strings.Replace(b, `{"text"`, `{"text":"a","text"`, 1) }), raw(same), 400, board.CodeMalformed, "with/text"},
		{"wrong type", raw(func(b string) string { return strings.Replace(b, `"blade is bent"`, `7`, 1) }), raw(same), 400, board.CodeMalformed, "text"},
		{"wrong type around the command", raw(func(b string) string { return strings.Replace(b, `"note.add"`, `7`, 1) }), raw(same), 400, board.CodeMalformed, "do"},
		{"nested too deep", deep(ben, p, 17), deep(ben, p, 1), 400, board.CodeMalformed, ""},
		{"no such command", raw(func(b string) string { return strings.Replace(b, "note.add", "note.sing", 1) }), raw(same), 404, board.CodeUnknown, "do"},
		{"id of version 4", raw(func(b string) string { return strings.Replace(b, "-7", "-4", 1) }), raw(same), 422, board.CodeBadField, "id"},
		{"huge body", raw(func(b string) string { return b + strings.Repeat(" ", bodyMost) }), raw(func(b string) string { return b + strings.Repeat(" ", bodyMost/2) }), 413, codeTooBig, ""},
		{"name too long", raw(func(b string) string { return strings.Replace(b, "bent", strings.Repeat("x", 2001), 1) }), raw(func(b string) string { return strings.Replace(b, "bent", strings.Repeat("x", 1900), 1) }), 422, board.CodeBadField, "text"},

		{"no session", ok(p.nobody()), ok(ben), 401, codeNoSession, ""},
		{"a made-up token", ok(device{p: p, token: newToken()}), ok(ben), 401, codeNoSession, ""},
		{"a screen commands", ok(wall), ok(ben), 403, board.CodeForbidden, ""},
		{"crew reads the journal", get(ben, "/api/journal"), get(ada, "/api/journal"), 403, board.CodeForbidden, ""},
		{"crew looks at the door", get(ben, "/api/door"), get(ada, "/api/door"), 403, board.CodeForbidden, ""},
		{"crew lists sessions", get(ben, "/api/sessions"), get(ada, "/api/sessions"), 403, board.CodeForbidden, ""},
		{"crew lists codes", get(ben, "/api/codes"), get(ada, "/api/codes"), 403, board.CodeForbidden, ""},
		{"crew commands the captain's", post(ben, p, board.PlaceAdd{PlaceFields: board.PlaceFields{Name: "bench 1", Kind: board.PlaceBench}}),
			post(ada, p, board.PlaceAdd{PlaceFields: board.PlaceFields{Name: "bench 2", Kind: board.PlaceBench}}), 403, board.CodeForbidden, ""},

		{"page of another origin", ok(ben, ben.page("http://elsewhere.example")), ok(ben, ben.page(own)), 403, board.CodeForbidden, ""},
		{"page of another port", ok(ben, ben.page("http://127.0.0.1:1")), ok(ben, ben.page(own)), 403, board.CodeForbidden, ""},
		{"opaque origin", ok(ben, ben.page("null")), ok(ben, ben.page(own)), 403, board.CodeForbidden, ""},
		{"origin of another scheme", ok(ben, ben.page("file://"+p.addr)), ok(ben, ben.page(own)), 403, board.CodeForbidden, ""},
		{"cookie without origin", ok(ben, ben.page("")), ok(ben), 403, board.CodeForbidden, ""},
		{"bearer from another site", ok(ben, header("Sec-Fetch-Site", "cross-site")), ok(ben, header("Sec-Fetch-Site", "same-origin")), 403, board.CodeForbidden, ""},
		{"join from another site", joinFrom(p, "http://elsewhere.example"), joinFrom(p, own), 403, board.CodeForbidden, ""},

		{"a name that leads here", ok(ben, host("rebound.example:80")), ok(ben, host("192.168.7.9:80")), 421, board.CodeForbidden, ""},
		{"a name like ours", ok(ben, host("localhost.example")), ok(ben, host("localhost")), 421, board.CodeForbidden, ""},

		{"form body", ok(ben, header("Content-Type", "application/x-www-form-urlencoded")), ok(ben, header("Content-Type", "application/json; charset=utf-8")), 415, board.CodeMalformed, "Content-Type"},
		{"plain text body", ok(ben, header("Content-Type", "text/plain")), ok(ben), 415, board.CodeMalformed, "Content-Type"},
		{"no type", ok(ben, header("Content-Type", "")), ok(ben), 415, board.CodeMalformed, "Content-Type"},

		{"crew reads the debrief", get(ben, "/api/debrief"), get(ada, "/api/debrief?moves=0.5&fights=4&grams=5000"), 403, board.CodeForbidden, ""},
		{"damage that moves how", get(ada, "/api/debrief?moves=NaN"), get(ada, "/api/debrief?moves=2"), 422, board.CodeBadField, "moves"},
		{"no fights to come", get(ada, "/api/debrief?fights=0"), get(ada, "/api/debrief?as=page"), 422, board.CodeBadField, "fights"},
		{"journal after what", get(ada, "/api/journal?after=yesterday"), get(ada, "/api/journal?after=1"), 422, board.CodeBadField, "after"},
		{"no such session to end", endSession(ada, "none"), endSession(ada, p.sessionOf(ada, p.wall())), 404, board.CodeUnknown, "session"},
		{"no such role's code", changeCode(ada, "owner"), changeCode(ada, "viewer"), 422, board.CodeBadField, "role"},
		{"nothing there", get(ben, "/api/nothing"), get(ben, "/api/me"), 404, board.CodeUnknown, ""},
		{"nothing there for nobody", get(p.nobody(), "/nothing"), get(p.nobody(), "/app.js"), 401, codeNoSession, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before := p.d.View().State.Rev
			bad := tt.bad().refused(tt.status, tt.code)
			require.Equal(t, tt.field, bad.Field)
			require.Equal(t, before, p.d.View().State.Rev, "a refused request changes nothing")
			tt.good().ok()
		})
	}
}

func same(b string) string { return b }

func get(d device, path string) func() answer { return func() answer { return d.get(path) } }

func post(d device, p *pit, c board.Command) func() answer {
	return func() answer { return d.do(c) }
}

func joinFrom(p *pit, origin string) func() answer {
	return func() answer {
		return p.nobody().post("/api/join", JoinAsk{Code: pitCodes[board.RoleCrew]}, header("Origin", origin))
	}
}

// deep nests a command's field so many lists deep.
func deep(d device, p *pit, lists int) func() answer {
	return func() answer {
		if lists == 1 {
			return d.do(note("flat"))
		}
		ask := p.command(note("deep"))
		ask.With = []byte(`{"text":` + strings.Repeat("[", lists) + strings.Repeat("]", lists) + `}`)
		return d.post("/api/do", ask)
	}
}

func endSession(d device, id string) func() answer {
	return func() answer { return d.post("/api/sessions/end", map[string]string{"session": id}) }
}

func changeCode(d device, role string) func() answer {
	return func() answer { return d.post("/api/codes/change", map[string]string{"role": role}) }
}

// sessionOf is the id of d's session, as the captain sees it.
func (p *pit) sessionOf(captain, d device) string {
	p.t.Helper()
	list := decode[sessionsAnswer](p.t, captain.get("/api/sessions").ok().body).Sessions
	n, ok := p.s.sessions.find(d.token, p.clock.Now())
	require.True(p.t, ok)
	for _, e := range list {
		if e.ID == n.ID {
			return e.ID
		}
	}
	p.t.Fatal("the captain does not see the session")
	return ""
}

func TestEveryAnswerCarriesTheSecurityHeaders(t *testing.T) {
	p := newPit(t)
	for name, a := range map[string]answer{
		"page":      p.nobody().get("/"),
		"health":    p.nobody().get("/healthz"),
		"refusal":   p.nobody().get("/api/board"),
		"wrong way": p.nobody().ask("DELETE", "/api/board", nil),
		"wrong name": p.nobody().get("/", func(r *http.Request) {
			r.Host = "rebound.example"
		}),
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; manifest-src 'self'; "+
				"form-action 'self'; base-uri 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types 'none'",
				a.header.Get("Content-Security-Policy"))
			require.Equal(t, "nosniff", a.header.Get("X-Content-Type-Options"))
			require.Equal(t, "no-referrer", a.header.Get("Referrer-Policy"))
			require.Equal(t, "geolocation=(), camera=(), microphone=()", a.header.Get("Permissions-Policy"))
		})
	}
	require.Equal(t, "no-store", p.crew().get("/api/board").ok().header.Get("Cache-Control"))
}

func TestWithoutASessionOnlyPagesJoinAndHealthAnswer(t *testing.T) {
	p := newPit(t)
	open := map[string]bool{"GET /": true, "GET /app.js": true, "GET /vendor/preact.mjs": true, "GET /healthz": true}
	for _, route := range []string{
		"GET /", "GET /app.js", "GET /vendor/preact.mjs", "GET /healthz",
		"GET /api/me", "POST /api/leave", "POST /api/do", "GET /api/board", "GET /api/forecast", "GET /api/commands", "GET /api/lists", "GET /api/journal", "GET /api/debrief",
		"GET /api/sessions", "POST /api/sessions/end", "GET /api/codes", "POST /api/codes/change", "POST /api/pins/forget", "POST /api/again", "GET /api/door", "POST /api/door",
		"GET /photos/0192f0c1-aaaa-7aaa-8aaa-aaaaaaaaaaaa", "GET /photos/0192f0c1-aaaa-7aaa-8aaa-aaaaaaaaaaaa/thumb",
		"POST /admin/load", "GET /admin/backup", "POST /admin/check",
	} {
		method, path, _ := strings.Cut(route, " ")
		a := p.nobody().ask(method, path, []byte("{}"))
		if open[route] {
			a.ok()
			continue
		}
		a.refused(http.StatusUnauthorized, codeNoSession)
	}
	p.nobody().ask("POST", "/api/photos", []byte("{}"), header("Content-Type", "image/jpeg")).refused(http.StatusUnauthorized, codeNoSession)
}

func TestAGETChangesNothing(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	before := p.d.View().State.Rev
	for _, path := range []string{"/api/do", "/api/leave", "/api/sessions/end", "/api/codes/change", "/api/pins/forget", "/api/again", "/api/join", "/api/photos", "/admin/load", "/admin/check"} {
		a := ada.get(path)
		require.Contains(t, []int{http.StatusNotFound, http.StatusMethodNotAllowed}, a.status, path)
	}
	require.Equal(t, before, p.d.View().State.Rev)
	ada.get("/api/me").ok()
}

// RFC 9110 §7.2 gives the form of Host; the names are constructed by us.
func TestHostNamesTheBoardAnswersTo(t *testing.T) {
	list := hostList{}
	list.add("localhost")
	list.add("Pit-Laptop")
	list.add("pit-laptop.local.:8080")
	list.add("")
	for host, want := range map[string]bool{
		"localhost": true, "localhost:8080": true, "LOCALHOST": true, "localhost.": true,
		"pit-laptop": true, "pit-laptop.local:8080": true,
		"127.0.0.1": true, "192.168.1.5:8080": true, "[::1]": true, "[::1]:8080": true, "[fe80::1%eth0]:80": true, "::1": false,
		"": false, "example.com": false, "pit-laptop.example.com": false, "localhost.example": false, "localhost:evil.example": false,
		"127.0.0.1.example.com": false, "127.1": false, "2130706433": false, "0x7f.1": false, "[localhost]": false, "[localhost]:80": false, "a@127.0.0.1": false,
		"localhost:": true, "[127.0.0.1": false, "127.0.0.1]": false, ":8080": false, "local host": false,
	} {
		require.Equal(t, want, list.allows(host), "%q", host)
	}
}

func TestCookiesAreAsSafeAsTheConnectionAllows(t *testing.T) {
	p := newPit(t)
	c := oneCookie(t, p.nobody().post("/api/join", JoinAsk{Code: pitCodes[board.RoleViewer]}).ok())
	require.Equal(t, "mendline", c.Name)
	require.True(t, c.HttpOnly)
	require.False(t, c.Secure, "a browser drops a Secure cookie that came by plain http")
	require.Equal(t, http.SameSiteStrictMode, c.SameSite)
	require.Equal(t, "/", c.Path)
	require.Equal(t, 57600, c.MaxAge)
	require.Empty(t, c.Domain)

	tls := newPitWith(t, with{options: func(o *Options) { o.TLS = true }})
	c = oneCookie(t, tls.nobody().post("/api/join", JoinAsk{Code: pitCodes[board.RoleViewer]}).ok())
	require.Equal(t, "__Host-mendline", c.Name)
	require.True(t, c.Secure)
	require.True(t, c.HttpOnly)
}

func oneCookie(t *testing.T, a answer) *http.Cookie {
	t.Helper()
	list := (&http.Response{Header: a.header}).Cookies()
	require.Len(t, list, 1)
	return list[0]
}

func TestOnlyThisMachineReachesTheAdministratorsRoutes(t *testing.T) {
	p := newPit(t)
	ask := func(remote, path, token string) int {
		r := httptest.NewRequest("GET", path, nil)
		r.RemoteAddr, r.Host = remote, "127.0.0.1"
		if token != "" {
			r.Header.Set("Authorization", "Bearer "+token)
		}
		w := httptest.NewRecorder()
		p.s.handler.ServeHTTP(w, r)
		return w.Code
	}
	require.Equal(t, 200, ask("127.0.0.1:9", "/admin/backup", adminToken))
	require.Equal(t, 200, ask("[::1]:9", "/admin/backup", adminToken))
	require.Equal(t, 200, ask("[::ffff:127.0.0.1]:9", "/admin/backup", adminToken))
	require.Equal(t, 403, ask("192.168.1.7:9", "/admin/backup", adminToken), "not from elsewhere, whatever the token")
	require.Equal(t, 401, ask("127.0.0.1:9", "/admin/backup", adminToken+"x"))
	require.Equal(t, 401, ask("127.0.0.1:9", "/admin/backup", p.captain().token), "a captain is no administrator")

	require.Equal(t, 200, ask("127.0.0.1:9", "/metrics", ""))
	require.Equal(t, 200, ask("192.168.1.7:9", "/metrics", adminToken))
	require.Equal(t, 401, ask("192.168.1.7:9", "/metrics", ""))

	p.s.o.AdminToken = ""
	require.Equal(t, 401, ask("127.0.0.1:9", "/admin/backup", ""), "without a token there is no administrator")
	require.Equal(t, 401, ask("192.168.1.7:9", "/metrics", ""))
}
