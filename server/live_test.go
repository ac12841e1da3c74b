package server

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
)

func TestHelloSaysWhoAndWhere(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	k := p.dial(ben)
	m := k.await("hello")
	v := p.d.View()
	require.Equal(t, message{
		T: "hello", Proto: "mendline.v1", Epoch: v.Epoch, Rev: v.State.Rev, From: v.From, Now: board.MomentOf(p.clock.Now()),
		Role: board.RoleCrew, Person: p.ben, Name: "Ben", Version: "test",
	}, m)
}

func TestASocketWithoutSessionOrProtocolIsToldSoByACloseCode(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	auth := http.Header{"Authorization": {"Bearer " + ben.token}}
	open := func(h http.Header, protocols ...string) *sock {
		k, _, err := p.dialWith(h, protocols...)
		require.NoError(t, err)
		return k
	}
	require.Equal(t, 4001, open(http.Header{"Authorization": {"Bearer " + newToken()}}, proto).closed())
	require.Equal(t, 4003, open(auth).closed())
	require.Equal(t, 4003, open(auth, "mendline.v0").closed())
	open(auth, "mendline.v9", proto).await("hello")
	ben.post("/api/leave", "{}").ok()
	require.Equal(t, 4001, open(auth, proto).closed())
}

func TestASocketIsOpenedByOurOwnPageOrByAScript(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	cookie := func(origin string) http.Header {
		h := http.Header{"Cookie": {"mendline=" + ben.token}}
		if origin != "" {
			h.Set("Origin", origin)
		}
		return h
	}
	k, _, err := p.dialWith(cookie("http://"+p.addr), proto)
	require.NoError(t, err)
	k.await("hello")
	for _, origin := range []string{"", "http://elsewhere.example", "http://127.0.0.1:1", "null", "file://" + p.addr, "http://" + p.addr + ".example"} {
		_, res, err := p.dialWith(cookie(origin), proto)
		require.Error(t, err, origin)
		require.Equal(t, http.StatusForbidden, res.StatusCode, origin)
	}
	_, res, err := p.dialWith(http.Header{"Host": {"rebound.example"}, "Authorization": {"Bearer " + ben.token}}, proto)
	require.Error(t, err)
	require.Equal(t, http.StatusMisdirectedRequest, res.StatusCode)
	_, res, err = p.dialWith(http.Header{"Origin": {"http://elsewhere.example"}, "Authorization": {"Bearer " + ben.token}}, proto)
	require.Error(t, err)
	require.Equal(t, http.StatusForbidden, res.StatusCode, "a bearer token does not excuse a foreign origin")
}

func TestANewClientGetsTheWholeBoardAndForecast(t *testing.T) {
	p := newPit(t)
	k := p.dial(p.crew())
	m := k.resume("", 0)
	require.Equal(t, "board", m.T)
	require.Equal(t, p.d.View().Epoch, m.Epoch)
	require.Equal(t, p.d.View().State.Rev, m.Rev)
	require.Len(t, m.Put, len(p.d.View().State.Nouns()))
	f := k.await("forecast")
	require.True(t, f.Whole, "the first is whole")
	for len(f.Put) == 0 {
		f = k.await("forecast") // that one was made before the team came
	}
	require.Contains(t, f.Put, board.Key("strip/"+string(p.moth)))
}

func TestTheBoardBeats(t *testing.T) {
	t.Parallel() // it takes the two seconds from one beat to the next
	p := newPit(t)
	k := p.dial(p.crew())
	k.resume("", 0)
	m := k.await("beat")
	require.Equal(t, board.MomentOf(p.clock.Now()), m.Now)
	require.Empty(t, m.ReadOnly)
}

func TestResumeBringsTheMissingPatches(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	k := p.dial(ben)
	first := k.resume("", 0)
	require.NoError(t, k.conn.Close())

	for i := range 5 {
		ben.do(note(fmt.Sprint("while away ", i))).ok()
	}
	k = p.dial(ben)
	m := k.resume(first.Epoch, first.Rev)
	require.Equal(t, "patches", m.T)
	require.Len(t, m.List, 5)
	for i, patch := range m.List {
		require.Equal(t, first.Rev+board.Rev(i)+1, patch.Rev)
		require.Equal(t, "note.add", patch.Do)
		require.Equal(t, p.ben, patch.By)
		require.Len(t, patch.Put, 1)
	}
}

func TestWhoCannotBeServedPatchesGetsASnapshot(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	v := p.d.View()
	for name, from := range map[string]ResumeMessage{
		"unknown epoch":       {Epoch: "5b2c8f2e-0000-4000-8000-000000000000", Rev: v.State.Rev},
		"ahead of the server": {Epoch: v.Epoch, Rev: v.State.Rev + 7},
		"nothing yet":         {Epoch: "", Rev: 0},
	} {
		t.Run(name, func(t *testing.T) {
			m := p.dial(ben).resume(from.Epoch, from.Rev)
			require.Equal(t, "board", m.T)
			require.Equal(t, v.State.Rev, m.Rev)
		})
	}
	require.Contains(t, p.log.String(), "ahead of the board")

	k := p.dial(ben)
	k.await("hello")
	k.say(ResumeMessage{T: "resume", Epoch: v.Epoch, Rev: v.State.Rev})
	require.NotEqual(t, "board", k.await("forecast").T, "who is up to date gets neither")
}

func TestAGapIsClosedByResumingOnTheSameSocket(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	k := p.dial(ben)
	first := k.resume("", 0)
	for i := range 3 {
		require.Equal(t, "ack", k.do(p.command(note(fmt.Sprint(i)))).T)
	}
	k.say(ResumeMessage{T: "resume", Epoch: first.Epoch, Rev: first.Rev})
	m := k.first()
	for m.T == "patches" && len(m.List) < 3 {
		m = k.first() // what was on its way
	}
	require.Len(t, m.List, 3)
	require.Equal(t, "ack", k.do(p.command(note("goes on"))).T)
}

func TestTheAckComesBehindThePatchOfItsRevision(t *testing.T) {
	p := newPit(t)
	k := p.dial(p.crew())
	rev := k.resume("", 0).Rev
	ask := p.command(note("blade is bent"))
	k.say(DoMessage{T: "do", Ask: ask})
	for {
		m, err := k.next()
		require.NoError(t, err)
		if m.T == "patches" {
			for _, patch := range m.List {
				rev = patch.Rev
			}
		}
		if m.T == "ack" {
			require.Equal(t, ask.ID, m.ID)
			require.Equal(t, rev, m.Rev)
			break
		}
	}
	again := k.do(ask)
	require.Equal(t, "ack", again.T)
	require.Equal(t, rev, again.Rev, "the same id gets its first answer again")
	require.Equal(t, rev, p.d.View().State.Rev)
}

func TestARefusalOverTheSocketNamesTheCommand(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	k := p.dial(ben)
	k.await("hello")
	m := k.do(p.command(note("too soon")))
	require.Equal(t, board.CodeNotYet, m.Refusal.Code, "nothing before resume")
	k.say(ResumeMessage{T: "resume"})
	k.first()

	ask := p.command(note(""))
	ask.With = []byte(`{"text":"x","colour":"red"}`)
	m = k.do(ask)
	require.Equal(t, board.CodeMalformed, m.Refusal.Code)
	require.Equal(t, "colour", m.Refusal.Field)
	m = k.do(p.command(board.PlaceAdd{}))
	require.Equal(t, board.CodeForbidden, m.Refusal.Code)
	m = k.do(Ask{ID: "not an id", Do: "note.add"})
	require.Equal(t, board.CodeBadField, m.Refusal.Code)
	require.Equal(t, "id", m.Refusal.Field)

	for _, text := range []string{"", "{", "[]", `{"t":"sing"}`, `{"t":"do","t":"do"}`, `{"t":"do","id":7}`, `{"t":"resume","epoch":"","rev":-1}`, `{"t":"echo","sent":"x"}`, `{"t":"echo","sent":1,"more":2}`} {
		require.NoError(t, k.conn.WriteMessage(websocket.TextMessage, []byte(text)))
		require.Equal(t, board.CodeMalformed, k.await("refused").Refusal.Code, text)
		p.clock.pass(time.Second)
	}
	require.Equal(t, "ack", k.do(p.command(note("and goes on"))).T)
}

func TestAStaleCommandComesBackWithTheNounAsItStands(t *testing.T) {
	p := newPit(t)
	dee := p.safety()
	k := p.dial(dee)
	k.resume("", 0)
	key := board.KeyOf(board.KindPower, p.moth)
	test := board.RobotTest{Robot: p.moth, What: "spin up", Minutes: 2}
	now, ok := p.d.View().State.Get(key)
	require.True(t, ok)

	ask := p.command(test)
	m := k.do(ask)
	require.Equal(t, board.CodeStale, m.Refusal.Code, "what gives power back says what it saw")
	ask = p.command(test)
	ask.Seen = map[board.Key]board.Rev{key: now.Rev() - 1}
	m = k.do(ask)
	require.Equal(t, board.CodeStale, m.Refusal.Code)
	require.Equal(t, key, m.Refusal.Now)
	require.JSONEq(t, string(board.Encode(now)), string(m.Entity))
	a := dee.post("/api/do", ask)
	require.Equal(t, key, a.refused(http.StatusConflict, board.CodeStale).Now)
	require.JSONEq(t, string(board.Encode(now)), string(decode[RefusedAnswer](t, a.body).Entity))

	ask.Seen[key] = now.Rev()
	require.NotEqual(t, board.CodeStale, k.do(ask).Refusal.Code, "fresh, and judged")
}

func TestTwoSocketsSeeEachOthersChangesInOrder(t *testing.T) {
	p := newPit(t)
	ben, dee := p.dial(p.crew()), p.dial(p.safety())
	start := ben.resume("", 0).Rev
	require.Equal(t, start, dee.resume("", 0).Rev)
	const each = 20
	send := func(k *sock, name string) {
		for i := range each {
			k.say(DoMessage{T: "do", Ask: p.command(note(fmt.Sprint(name, i)))})
		}
	}
	send(ben, "ben ")
	send(dee, "dee ")
	see := func(k *sock) []string {
		var texts []string
		acks := 0
		for rev := start; len(texts) < 2*each || acks < each; {
			m, err := k.next()
			require.NoError(t, err)
			switch m.T {
			case "refused":
				require.Fail(t, m.Refusal.Sentence)
			case "ack":
				acks++
				require.LessOrEqual(t, m.Rev, rev)
			case "patches":
				for _, patch := range m.List {
					rev++
					require.Equal(t, rev, patch.Rev, "gapless and in order")
					for _, noun := range patch.Put {
						texts = append(texts, decode[board.Note](t, noun).Text)
					}
				}
			}
		}
		return texts
	}
	one, other := see(ben), see(dee)
	require.Equal(t, one, other)
	for _, who := range []string{"ben ", "dee "} {
		n := 0
		for _, text := range one {
			if strings.HasPrefix(text, who) {
				require.Equal(t, fmt.Sprint(who, n), text)
				n++
			}
		}
		require.Equal(t, each, n)
	}
}

func TestAScreenFollowsAndCommandsNothing(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	k := p.dial(p.wall())
	rev := k.resume("", 0).Rev
	m := k.do(p.command(note("from the wall")))
	require.Equal(t, board.CodeForbidden, m.Refusal.Code)
	ben.do(note("from ben")).ok()
	m = k.await("patches")
	require.Equal(t, rev+1, m.List[0].Rev)
	require.Equal(t, p.ben, m.List[0].By)
}

func TestTheEchoCarriesTheClientsClockAndOurs(t *testing.T) {
	p := newPit(t)
	k := p.dial(p.crew())
	k.await("hello")
	ask := func() {
		k.say(AskEchoMessage{T: "echo", Sent: 1234.5})
		m := k.await("echo")
		require.InDelta(t, 1234.5, m.Sent, 0)
		require.Equal(t, board.MomentOf(p.clock.Now()), m.Got)
		require.Equal(t, board.MomentOf(p.clock.Now()), m.Now)
	}
	ask() // before resume too: a clock does not wait for the board
	k.say(ResumeMessage{T: "resume"})
	k.first()
	ask()
}

func (a answer) refusedBy(status int) {
	a.t.Helper()
	require.Equal(a.t, status, a.status, string(a.body))
}

func TestTheSameFrameIsPreparedOnceForAllSockets(t *testing.T) {
	f := &desk.Frame{Data: []byte(`{"t":"beat"}`)}
	one := f.Prepared(prepare)
	require.Same(t, one, f.Prepared(prepare))
}

// Random pauses, resends and reconnects: whatever happens on the way, each
// command is done exactly once and the client ends with the board's revision.
func TestResendingUntilAnsweredDoesEachCommandOnce(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	rng := rand.New(rand.NewPCG(1, 2))
	start := p.d.View().State.Rev
	k := p.dial(ben)
	k.resume("", 0)
	const commands = 30
	for range commands {
		ask := p.command(note("once"))
		for answered := false; !answered; {
			k.say(DoMessage{T: "do", Ask: ask})
			if rng.IntN(3) == 0 {
				k.conn.Close()
				p.clock.pass(time.Second)
				k = p.dial(ben)
				k.resume("", 0)
				continue
			}
			answered = k.do(ask).T == "ack"
			p.clock.pass(time.Second)
		}
	}
	require.Equal(t, start+commands, p.d.View().State.Rev)
}
