package server

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/photo"
	"mendline/server/store"
)

// Join codes of the pit. They and the names are invented.
var pitCodes = map[board.Role]string{
	board.RoleCaptain: "CAPTA1NCODE", board.RoleSafety: "SAFETYCODE", board.RoleCrew: "CREWCODE", board.RoleViewer: "WALLCODE",
}

const adminToken = "administrator-of-the-pit"

// hand is a clock that the test moves.
type hand struct {
	mu  sync.Mutex
	now time.Time
	off time.Duration // of the laptop's clock
}

func (h *hand) laptop() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.now.Add(h.off)
}

func (h *hand) boot() time.Duration { return h.Now().Sub(time.Unix(0, 0)) }

// step sets the laptop's clock by so much from where it would be by itself.
func (h *hand) step(by time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.off = by
}

func (h *hand) Now() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.now
}

func (h *hand) pass(d time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.now = h.now.Add(d)
}

// sayings is what was logged.
type sayings struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *sayings) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(b)
}

func (l *sayings) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// pit is a board that serves on a real port.
type pit struct {
	t     testing.TB
	clock *hand
	log   *sayings
	path  string
	album string // the folder of photos
	d     *desk.Desk
	s     *Server
	http  *http.Server
	addr  string
	n     uint64

	stopDesk func()

	ada, ben, dee, kit board.PersonID // captain, crew, safety, crew
	moth               board.RobotID
}

// with changes what a pit is made of.
type with struct {
	options func(*Options)
	http    func(*http.Server)
	store   store.Options
	path    string
	// unlimited takes connections however many, for benchmarks.
	unlimited bool
}

func newPit(t testing.TB) *pit { return newPitWith(t, with{}) }

func newPitWith(t testing.TB, w with) *pit {
	t.Helper()
	p := newEmptyPitWith(t, w)
	p.load()
	return p
}

// newEmptyPit is a board that no team was loaded into.
func newEmptyPit(t testing.TB) *pit { return newEmptyPitWith(t, with{}) }

func newEmptyPitWith(t testing.TB, w with) *pit {
	t.Helper()
	p := &pit{t: t, clock: &hand{now: time.Date(2026, 5, 9, 9, 0, 0, 0, time.UTC)}, log: &sayings{}, path: w.path}
	if p.path == "" {
		p.path = filepath.Join(t.TempDir(), "board.db")
	}
	log := slog.New(slog.NewJSONHandler(p.log, &slog.HandlerOptions{Level: slog.LevelDebug}))
	if w.store.FreeBytesLeast == 0 {
		w.store.FreeBytesLeast = -1
	}
	m := NewMetrics("test")
	var err error
	p.d, err = desk.New(desk.Options{Path: p.path, Store: w.store, Now: p.clock.laptop, Boot: p.clock.boot, Log: log, Metrics: m.Desk(), Forecast: plainForecast})
	require.NoError(t, err)
	p.runDesk()
	p.album = filepath.Join(t.TempDir(), "photos")
	photos, err := photo.OpenStore(p.album)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, photos.Close()) })
	o := Options{
		Desk: p.d, Photos: photos, Files: func() (map[string][]byte, error) { return pages, nil }, Codes: pitCodes, AdminToken: adminToken, Version: "test",
		Metrics: m, Log: log, Now: p.clock.Now, pinRounds: 10,
	}
	if w.options != nil {
		w.options(&o)
	}
	p.s, err = New(o)
	require.NoError(t, err)
	p.serve(w)
	return p
}

var pages = map[string][]byte{
	"index.html":         []byte("<!doctype html>" + strings.Repeat("<p>the same again</p>", 50)),
	"home/captain.html":  []byte("<!doctype html><p>of the captain"),
	"app.js":             []byte("export {};" + strings.Repeat("// the same again\n", 50)),
	"vendor/preact.mjs":  []byte("export const h = 1;"),
	"core/base.css":      []byte("body{}"),
	"icon.svg":           []byte("<svg/>"),
	"vendor/LICENSE":     []byte("MIT License"),
	"made/app-ABC.js":    []byte("export {};"),
	"vendor/no-type.bin": []byte{0, 1, 2},
}

// plainForecast says one thing of each robot.
func plainForecast(s board.State, at board.Moment, _ uint64) desk.Derived {
	all := map[board.Key][]byte{}
	for id := range s.Robots {
		all[board.Key("strip/"+string(id))] = []byte(fmt.Sprintf(`{"robot":%q,"phase":"make safe","said":""}`, id))
	}
	return desk.Derived{Nouns: all}
}

// runDesk runs the desk; at cleanup it stops, and its file must pass the check.
func (p *pit) runDesk() {
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- p.d.Run(ctx) }()
	p.stopDesk = sync.OnceFunc(func() {
		cancel()
		require.NoError(p.t, <-done)
	})
	p.t.Cleanup(func() {
		p.stopDesk()
		r, err := store.Check(p.path)
		require.NoError(p.t, err)
		require.NoError(p.t, r.Err())
	})
}

func (p *pit) serve(w with) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(p.t, err)
	p.addr = l.Addr().String()
	p.http = p.s.HTTP(p.addr)
	if w.http != nil {
		w.http(p.http)
	}
	if !w.unlimited {
		l = Limited(l)
	}
	done := make(chan error, 1)
	go func() { done <- p.http.Serve(l) }()
	p.t.Cleanup(func() {
		ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
		defer cancel()
		require.NoError(p.t, p.s.Close(ctx))
		require.NoError(p.t, p.http.Close())
		require.ErrorIs(p.t, <-done, http.ErrServerClosed)
	})
}

// load puts the team on the board, unless it is there.
func (p *pit) load() {
	v := p.d.View().State
	if len(v.People) == 0 {
		all := []board.EnergyKind{board.EnergyWeapon}
		p.told(board.PersonAdd{PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCaptain, Authorised: all}})
		p.told(board.PersonAdd{PersonFields: board.PersonFields{Name: "Ben", Role: board.RoleCrew, Authorised: all}})
		p.told(board.PersonAdd{PersonFields: board.PersonFields{Name: "Dee", Role: board.RoleSafety, Authorised: all, Signer: true}})
		p.told(board.PersonAdd{PersonFields: board.PersonFields{Name: "Kit", Role: board.RoleCrew, Minor: true}})
		p.told(board.RobotAdd{RobotFields: board.RobotFields{
			Name: "Tin Moth", Number: 1, Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules 2"}, Size: board.Light,
			Energies: []board.Energy{{Kind: board.EnergyWeapon, Isolator: "removable link", Reach: board.Outside}},
			Hands:    2, BeforeSec: 540, AfterSec: 300, Weight: 1,
		}})
		v = p.d.View().State
	}
	for id, who := range v.People {
		switch who.Name {
		case "Ada":
			p.ada = id
		case "Ben":
			p.ben = id
		case "Dee":
			p.dee = id
		case "Kit":
			p.kit = id
		}
	}
	for id := range v.Robots {
		p.moth = id
	}
}

// told gives the desk a command of the captain's, past the server.
func (p *pit) told(c board.Command) board.Rev {
	p.t.Helper()
	a, err := p.d.Do(context.Background(), desk.Request{ID: p.newID(), Do: board.Name(c), With: encode(p.t, c), Actor: board.Actor{Role: board.RoleCaptain}})
	require.NoError(p.t, err)
	require.Nil(p.t, a.Refusal)
	return a.Rev
}

// itself gives the desk a command of the board's own.
func (p *pit) itself(c board.Command) {
	p.t.Helper()
	a, err := p.d.Do(context.Background(), desk.Request{ID: p.newID(), Do: board.Name(c), With: encode(p.t, c), Actor: board.Itself()})
	require.NoError(p.t, err)
	require.Nil(p.t, a.Refusal)
}

func (p *pit) newID() board.CommandID {
	p.n++
	var id board.CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(p.clock.Now().UnixMilli())<<16)
	id[6] = 0x70
	binary.BigEndian.PutUint64(id[8:], p.n)
	id[8] = 0x80 | id[8]&0x3f
	return id
}

func encode(t testing.TB, v any) []byte {
	t.Helper()
	b, err := json.Marshal(v, json.Deterministic(true))
	require.NoError(t, err)
	return b
}

func decode[T any](t testing.TB, b []byte) T {
	t.Helper()
	var v T
	require.NoError(t, json.Unmarshal(b, &v), string(b))
	return v
}

// answer is what came back over HTTP.
type answer struct {
	t      testing.TB
	status int
	header http.Header
	body   []byte
}

func (a answer) refused(status int, code board.Code) *board.Refusal {
	a.t.Helper()
	require.Equal(a.t, status, a.status, string(a.body))
	bad := decode[RefusedAnswer](a.t, a.body).Refusal
	require.NotNil(a.t, bad, string(a.body))
	require.Equal(a.t, code, bad.Code, bad.Sentence)
	require.NotEmpty(a.t, bad.Sentence)
	return bad
}

func (a answer) ok() answer {
	a.t.Helper()
	require.Equal(a.t, http.StatusOK, a.status, string(a.body))
	return a
}

// device asks over HTTP with its token, as a script does.
type device struct {
	p     *pit
	token string
	who   JoinedAnswer
}

// nobody is a device that has not joined.
func (p *pit) nobody() device { return device{p: p} }

func (d device) get(path string, change ...func(*http.Request)) answer {
	return d.ask("GET", path, nil, change...)
}

func (d device) post(path string, body any, change ...func(*http.Request)) answer {
	d.p.t.Helper()
	var b []byte
	switch v := body.(type) {
	case string:
		b = []byte(v)
	default:
		b = encode(d.p.t, v)
	}
	return d.ask("POST", path, b, change...)
}

func (d device) ask(method, path string, body []byte, change ...func(*http.Request)) answer {
	d.p.t.Helper()
	r, err := http.NewRequest(method, "http://"+d.p.addr+path, bytes.NewReader(body))
	require.NoError(d.p.t, err)
	if d.token != "" {
		r.Header.Set("Authorization", "Bearer "+d.token)
	}
	if method == "POST" {
		r.Header.Set("Content-Type", "application/json")
	}
	for _, c := range change {
		c(r)
	}
	res, err := plain.Do(r)
	require.NoError(d.p.t, err)
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	require.NoError(d.p.t, err)
	return answer{d.p.t, res.StatusCode, res.Header, b}
}

// plain neither keeps connections nor unpacks answers.
var plain = &http.Client{Transport: &http.Transport{DisableKeepAlives: true, DisableCompression: true, ExpectContinueTimeout: testWait}}

// page makes a request one of a browser: the token as a cookie, and the page's
// origin.
func (d device) page(origin string) func(*http.Request) {
	return func(r *http.Request) {
		r.Header.Del("Authorization")
		r.AddCookie(&http.Cookie{Name: "mendline", Value: d.token})
		if origin != "" {
			r.Header.Set("Origin", origin)
		}
	}
}

func header(name, value string) func(*http.Request) {
	return func(r *http.Request) { r.Header.Set(name, value) }
}

const somePIN = "271828"

// join is a new device of the person so called, with the code of role.
func (p *pit) join(role board.Role, name string) device {
	p.t.Helper()
	p.clock.pass(time.Second)
	a := p.nobody().post("/api/join", JoinAsk{Code: pitCodes[role], Name: name, PIN: somePIN}).ok()
	who := decode[JoinedAnswer](p.t, a.body)
	require.Len(p.t, who.Token, 43)
	return device{p: p, token: who.Token, who: who}
}

func (p *pit) captain() device { return p.join(board.RoleCaptain, "Ada") }
func (p *pit) crew() device    { return p.join(board.RoleCrew, "Ben") }
func (p *pit) safety() device  { return p.join(board.RoleSafety, "Dee") }
func (p *pit) wall() device {
	p.t.Helper()
	p.clock.pass(time.Second)
	a := p.nobody().post("/api/join", JoinAsk{Code: pitCodes[board.RoleViewer]}).ok()
	who := decode[JoinedAnswer](p.t, a.body)
	return device{p: p, token: who.Token, who: who}
}

// command is a command ready to be sent. The clock moves a little, as a person
// would take their time.
func (p *pit) command(c board.Command) Ask {
	p.clock.pass(100 * time.Millisecond)
	return Ask{ID: p.newID().String(), Do: board.Name(c), With: jsontext.Value(encode(p.t, c))}
}

func (d device) do(c board.Command) answer {
	d.p.t.Helper()
	return d.post("/api/do", d.p.command(c))
}

func note(text string) board.Command { return board.NoteAdd{Text: text} }
