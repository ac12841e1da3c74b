package frontend

import (
	"context"
	"encoding/json"
	"io/fs"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/require"

	"mendline/frontend/browsertest"
)

// patience is how long a test waits for what must come.
const patience = 20 * time.Second

// message is one frame, either way.
type message map[string]any

// pit is a server that says what a test tells it to, and a page that follows it.
type pit struct {
	t    *testing.T
	page context.Context
	addr string
	// said carries what the page said, echoes aside.
	said chan message

	mu   sync.Mutex
	down bool
	conn *websocket.Conn
}

// openPit serves the modules, under a name that is no secure context, to a page
// with nothing in it: a tab of the browser, at an origin of its own.
func openPit(t *testing.T, browser context.Context) *pit {
	t.Helper()
	p := &pit{t: t, said: make(chan message, 64)}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /live", p.live)
	mux.HandleFunc("GET /blank", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; connect-src 'self'; require-trusted-types-for 'script'; trusted-types 'none'")
		w.Header().Set("Content-Type", "text/html")
	})
	mux.HandleFunc("GET /", func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, "js") {
			w.Header().Set("Content-Type", "text/javascript")
		}
		http.FileServerFS(fs.FS(Files)).ServeHTTP(w, r)
	})
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	_, port, err := net.SplitHostPort(server.Listener.Addr().String())
	require.NoError(t, err)
	p.addr = "http://" + browsertest.PitName + ":" + port

	page, end := chromedp.NewContext(browser)
	t.Cleanup(end)
	t.Cleanup(p.cut)
	p.page = page
	require.NoError(t, chromedp.Do(page, chromedp.Navigate(p.addr+"/blank")))
	return p
}

func (p *pit) live(w http.ResponseWriter, r *http.Request) {
	p.mu.Lock()
	down := p.down
	p.mu.Unlock()
	if down {
		w.WriteHeader(http.StatusServiceUnavailable)
		return
	}
	up := websocket.Upgrader{Subprotocols: []string{"mendline.v1"}}
	conn, err := up.Upgrade(w, r, nil)
	if err != nil {
		return
	}
	p.mu.Lock()
	p.conn = conn
	p.mu.Unlock()
	p.say(message{"t": "hello", "proto": "mendline.v1", "epoch": "e", "rev": 7, "from": 0, "now": now(), "role": "crew", "person": "ada", "version": "1"})
	for {
		var m message
		if conn.ReadJSON(&m) != nil {
			return
		}
		if m["t"] == "echo" {
			p.say(message{"t": "echo", "sent": m["sent"], "got": now(), "now": now()})
			continue
		}
		p.said <- m
	}
}

func now() string { return time.Now().UTC().Format("2006-01-02T15:04:05.000Z") }

func (p *pit) say(m message) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.conn != nil {
		_ = p.conn.WriteJSON(m) // a page that is gone has said all it will
	}
}

// cut ends the connection and refuses new ones until up.
func (p *pit) cut() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.down = true
	if p.conn != nil {
		_ = p.conn.Close()
		p.conn = nil
	}
}

func (p *pit) up() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.down = false
}

// hears waits for the page's next word and wants it to be of kind t.
func (p *pit) hears(kind string) message {
	p.t.Helper()
	select {
	case m := <-p.said:
		require.Equal(p.t, kind, m["t"], "%v", m)
		return m
	case <-time.After(patience):
		require.FailNow(p.t, "the page said nothing", "want %s", kind)
		return nil
	}
}

// runs evaluates a script in the page and decodes what it gives.
func runs[T any](p *pit, script string) T {
	p.t.Helper()
	raw, err := chromedp.Run(p.page, chromedp.Evaluate[[]byte]("(async () => {"+script+"})()", chromedp.EvalAwaitPromise))
	require.NoError(p.t, err)
	var v T
	if len(raw) > 0 && string(raw) != "null" {
		require.NoError(p.t, json.Unmarshal(raw, &v))
	}
	return v
}

// follows starts the page and answers its resume with an empty board.
func (p *pit) follows() {
	p.t.Helper()
	runs[any](p, `const {Board} = await import("/core/board.js"); const {start} = await import("/core/live.js");
		window.board = new Board(); window.live = start({board}); window.done = [];
		window.give = (what, fields) => live.send(what, fields).then((o) => done.push(o));
		window.until = (ok) => new Promise((go) => { const look = () => ok() ? go() : setTimeout(look, 10); look(); });`)
	resume := p.hears("resume")
	require.Equal(p.t, "", resume["epoch"])
	p.say(message{"t": "board", "epoch": "e", "rev": 7, "at": now(), "put": message{"job/1": message{"v": 7, "number": 41, "name": "belt"}}})
	runs[any](p, `await until(() => live.status === "live")`)
}

type outcome struct {
	ID      string
	Rev     int
	Waits   bool
	Refusal struct{ Code, Sentence string }
}

func TestAPageInABrowser(t *testing.T) {
	var browser browsertest.Browser
	t.Cleanup(browser.Stop)
	browser.Needed(t)
	for claim, test := range map[string]func(*testing.T, *pit){
		"makes ids on plain http as the board makes them":           idsAreMadeAsTheBoardMakesThem,
		"sends what waited in order, one at a time, and once":       whatWaitsIsSentOnce,
		"sends what makes people safer before the rest":             whatIsSaferGoesFirst,
		"keeps an emergency that nothing took, and says so":         anEmergencyIsKept,
		"sends what its person left before it was loaded again":     aPageLoadedAgainSends,
		"holds a dangerous button for 800 ms and names the robot":   holdsForDangerousActs,
		"asks for a revision that is missing, and applies no later": aMissingRevisionIsAskedFor,
		"says minutes as the board says them":                       minutesAreSaidAsInTheTable,
	} {
		t.Run(claim, func(t *testing.T) { test(t, openPit(t, browser.Context)) })
	}
}

// minutesAreSaidAsInTheTable reads the table that the board is held to too.
func minutesAreSaidAsInTheTable(t *testing.T, p *pit) {
	raw, err := os.ReadFile("../testdata/minutes.json")
	require.NoError(t, err)
	wrong := runs[[]string](p, `const {minuteWords, leftWords} = await import("/core/clock.js");
		return `+string(raw)+`.flatMap(({sec, work, left}) => [
			minuteWords(sec, "work") === work ? "" : sec + " s of work: " + minuteWords(sec, "work"),
			minuteWords(sec, "left") === left ? "" : sec + " s left: " + minuteWords(sec, "left"),
			sec === 0 || leftWords(sec * 1000 + 999) === left ? "" : sec + " s on the clock: " + leftWords(sec * 1000 + 999)]).filter(Boolean)`)
	require.Empty(t, wrong)
}

// RFC 9562 §5.5 and §5.7, against package google/uuid.
func idsAreMadeAsTheBoardMakesThem(t *testing.T, p *pit) {
	require.False(t, runs[bool](p, `return isSecureContext`), "the test must run where browsers keep crypto.subtle back")
	ids := runs[[]string](p, `const {commandId, madeId} = await import("/core/board.js");
		const id = commandId(1645557742000); return [id, madeId(id, "damage"), madeId(id, "job", "follow-up")]`)
	command, err := uuid.Parse(ids[0])
	require.NoError(t, err)
	require.Equal(t, uuid.Version(7), command.Version())
	require.Equal(t, uuid.RFC4122, command.Variant())
	require.True(t, strings.HasPrefix(ids[0], "017f22e2-79b0-7"), "the moment of RFC 9562 appendix A.6 leads: %s", ids[0])
	require.Equal(t, uuid.NewSHA1(command, []byte("damage/")).String(), ids[1])
	require.Equal(t, uuid.NewSHA1(command, []byte("job/follow-up")).String(), ids[2])
}

func whatWaitsIsSentOnce(t *testing.T, p *pit) {
	p.follows()
	p.cut()
	runs[any](p, `await until(() => live.status === "lost"); await give("job.start", {job: "1"}); await give("job.finish", {job: "1"}); await give("sheet.answer", {})`)
	done := runs[[]outcome](p, `return done`)
	require.True(t, done[0].Waits && done[1].Waits, "work waits for the network")
	require.Equal(t, "offline", done[2].Refusal.Code, "a safety answer does not")
	require.Equal(t, []string{"start job 41, belt", "done with job 41, belt"}, runs[[]string](p, `return live.waiting.map((w) => w.words)`))

	p.up()
	require.EqualValues(t, 7, p.hears("resume")["rev"])
	p.say(message{"t": "patches", "list": []message{}})
	first := p.hears("do")
	require.Equal(t, "job.start", first["do"])
	require.NotEmpty(t, first["at"], "it says when it was done")
	p.cut() // before the answer
	p.up()
	p.hears("resume")
	p.say(message{"t": "patches", "list": []message{}})
	again := p.hears("do")
	require.Equal(t, first["id"], again["id"], "the same id until it is answered")
	p.say(message{"t": "ack", "id": again["id"], "rev": 8})
	second := p.hears("do")
	require.Equal(t, "job.finish", second["do"])
	p.say(message{"t": "refused", "id": second["id"], "refusal": message{"code": "state", "sentence": "Job 41, belt, is held."}})
	require.Equal(t, []string{"Job 41, belt, is held."}, runs[[]string](p, `await until(() => live.refused.length === 1); return live.refused.map((r) => r.refusal.sentence)`))
	require.Empty(t, runs[[]string](p, `return live.waiting.map((w) => w.words)`))
}

// The board is slow: what is given meanwhile stands in line, and an emergency does not.
func whatIsSaferGoesFirst(t *testing.T, p *pit) {
	p.follows()
	runs[any](p, `give("tag.off", {tag: "t"}); give("job.start", {job: "1"}); give("damage.photo", {damage: "d", photo: "p"}); give("note.add", {text: "n"});
		give("tag.on", {robot: "r"}); give("robot.doubt", {robot: "r"})`)
	off := p.hears("do")
	require.Equal(t, "tag.off", off["do"])
	runs[any](p, `give("emergency.raise", {})`)
	emergency := p.hears("do")
	require.Equal(t, "emergency.raise", emergency["do"], "it waits for no answer")

	p.say(message{"t": "ack", "id": off["id"], "rev": 8})
	// The tag goes on behind what took one off, and before the work that was given before it.
	for i, want := range []string{"tag.on", "robot.doubt", "job.start", "note.add", "damage.photo"} {
		next := p.hears("do")
		require.Equal(t, want, next["do"])
		if want == "note.add" {
			p.say(message{"t": "ack", "id": emergency["id"], "rev": 20})
		}
		p.say(message{"t": "ack", "id": next["id"], "rev": 9 + i})
	}
	require.Equal(t, 7, runs[int](p, `await until(() => done.length === 7); return done.filter((o) => o.rev).length`))
}

func anEmergencyIsKept(t *testing.T, p *pit) {
	p.follows()
	p.say(message{"t": "beat", "now": now(), "readOnly": "The disk is full."})
	runs[any](p, `await until(() => live.readOnly); await give("emergency.raise", {})`)
	require.True(t, runs[bool](p, `return done[0].waits`), "it is said at once that the board has not got it")
	require.Equal(t, []string{"emergency"}, runs[[]string](p, `return live.waiting.map((w) => w.words)`))
	p.say(message{"t": "beat", "now": now()})
	emergency := p.hears("do")
	require.Equal(t, "emergency.raise", emergency["do"])

	// The session ends before the answer: the page still knows, and tries with the next.
	runs[any](p, `await until(() => live.waiting.length === 0)`)
	p.mu.Lock()
	_ = p.conn.WriteMessage(websocket.CloseMessage, websocket.FormatCloseMessage(4001, ""))
	p.mu.Unlock()
	runs[any](p, `await until(() => live.status === "ended"); await until(() => live.waiting.length === 1); live.again()`)
	p.hears("resume")
	p.say(message{"t": "patches", "list": []message{}})
	require.Equal(t, emergency["id"], p.hears("do")["id"], "the same one")
}

func aPageLoadedAgainSends(t *testing.T, p *pit) {
	p.follows()
	p.cut()
	runs[any](p, `await until(() => live.status === "lost"); await give("note.add", {text: "belt is glazed"})`)
	require.Equal(t, 1, runs[int](p, `const open = indexedDB.open("mendline", 1);
		return await new Promise((go) => { open.onsuccess = () => { const n = open.result.transaction("waiting").objectStore("waiting").count(); n.onsuccess = () => go(n.result); }; })`))
	p.up()
	require.NoError(t, chromedp.Do(p.page, chromedp.Navigate(p.addr+"/blank?again")))
	for len(p.said) > 0 {
		<-p.said
	}
	p.follows()
	note := p.hears("do")
	require.Equal(t, "note.add", note["do"])
	require.Equal(t, map[string]any{"text": "belt is glazed"}, note["with"])
}

func aMissingRevisionIsAskedFor(t *testing.T, p *pit) {
	p.follows()
	p.say(message{"t": "patches", "list": []message{{"rev": 8, "at": now(), "do": "job.hold", "put": message{"job/1": message{"v": 8, "number": 41}}}}})
	p.say(message{"t": "patches", "list": []message{{"rev": 10, "at": now(), "do": "job.drop", "del": []string{"job/1"}}}})
	resume := p.hears("resume")
	require.EqualValues(t, 8, resume["rev"])
	require.Equal(t, "e", resume["epoch"])
	require.Equal(t, 8, runs[int](p, `return board.get("job/1").v`), "nothing is applied out of order")
}

// The page's timers are taken over, so that the test says when a tenth of a second is gone.
func holdsForDangerousActs(t *testing.T, p *pit) {
	got := runs[struct {
		Words                                           string
		MS                                              []int
		Lifted, Strayed, Stood, Entered, Repeated, Held int
	}](p, `const {render, hold} = await import("/core/tags.js");
		const ms = []; let ring = null, acts = 0;
		window.setTimeout = (fn, wait) => { ms.push(wait); ring = fn; return 1; };
		window.clearTimeout = () => { ring = null; };
		render(hold({words: "take my tag off", robot: "Pip", act: () => { acts++; }}), document.body);
		const face = document.querySelector("button");
		const point = (kind, x = 5) => { const box = face.getBoundingClientRect();
			face.dispatchEvent(new PointerEvent(kind, {bubbles: true, isPrimary: true, button: 0, clientX: box.left + x, clientY: box.top + 5})); };
		const key = (kind, key, repeat) => face.dispatchEvent(new KeyboardEvent(kind, {bubbles: true, cancelable: true, key, repeat}));
		const passes = (steps = 8) => { for (; steps; steps--) ring?.(); return acts; };
		const out = {words: face.querySelector(".words").textContent, ms};
		point("pointerdown"); point("pointerup"); out.lifted = passes();
		point("pointerdown"); point("pointermove", 5000); out.strayed = passes();
		point("pointerdown"); passes(1); point("pointerup"); out.stood = passes();
		point("pointerdown"); passes(7); point("pointerup"); out.stood += passes();
		key("keydown", "Enter", false); out.entered = passes();
		key("keydown", " ", true); out.repeated = passes();
		point("pointerdown"); out.held = passes(); key("keydown", " ", false); out.held += passes();
		return out;`)
	require.Equal(t, "take my tag off · Pip", got.Words)
	require.Equal(t, slices.Repeat([]int{100}, 1+1+2+8+8+8), got.MS, "a key that repeats and the enter key start nothing")
	require.Zero(t, got.Stood, "the page stood still while the finger rose, and was lifted just before the end")
	require.Zero(t, got.Lifted, "lifted early")
	require.Zero(t, got.Strayed, "moved off the button")
	require.Zero(t, got.Entered)
	require.Zero(t, got.Repeated)
	require.Equal(t, 1+2, got.Held, "held by finger, then by space bar")
}
