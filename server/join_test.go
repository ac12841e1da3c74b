package server

import (
	"context"
	"crypto/pbkdf2"
	"crypto/sha256"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

func (p *pit) tryJoin(ask JoinAsk) answer { return p.nobody().post("/api/join", ask) }

func TestACodeAloneShowsWhoMayJoinWithIt(t *testing.T) {
	p := newPit(t)
	a := decode[rosterAnswer](t, p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew]}).ok().body)
	require.Equal(t, rosterAnswer{Role: board.RoleCrew, People: []rosterEntry{{p.ben, "Ben", false}, {p.kit, "Kit", false}}}, a)
	p.crew()
	a = decode[rosterAnswer](t, p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew]}).ok().body)
	require.Equal(t, []rosterEntry{{p.ben, "Ben", true}, {p.kit, "Kit", false}}, a.People)
}

func TestACodeIsReadAsPeopleTypeIt(t *testing.T) {
	p := newPit(t)
	for _, typed := range []string{"CAPTA1NCODE", "captaincode", "capta-lnc0de", " CAPT A1NC ODE "} {
		a := decode[rosterAnswer](t, p.tryJoin(JoinAsk{Code: typed}).ok().body)
		require.Equal(t, board.RoleCaptain, a.Role, typed)
	}
	for _, typed := range []string{"", "CAPTA1NCOD", "CAPTA1NCODEX", "CAPTA2NCODE"} {
		bad := p.tryJoin(JoinAsk{Code: typed}).refused(http.StatusForbidden, board.CodeForbidden)
		require.Equal(t, "code", bad.Field)
	}
}

func TestTheFirstClaimSetsThePINAndLaterOnesNeedIt(t *testing.T) {
	p := newPit(t)
	code := pitCodes[board.RoleCrew]
	bad := p.tryJoin(JoinAsk{Code: code, Name: "Ben"}).refused(http.StatusForbidden, board.CodeNeedProof)
	require.Equal(t, "pin", bad.Field)
	for _, bad := range []string{"12345", "1234567", "12345x", "１２３４５６"} {
		p.tryJoin(JoinAsk{Code: code, Name: "Ben", PIN: bad}).refused(http.StatusForbidden, board.CodeNeedProof)
	}
	require.Zero(t, p.d.View().State.People[p.ben].Claimed)

	first := decode[JoinedAnswer](t, p.tryJoin(JoinAsk{Code: code, Name: "Ben", PIN: "314159"}).ok().body)
	require.Equal(t, WhoAnswer{Role: board.RoleCrew, Person: p.ben, Name: "Ben"}, first.WhoAnswer)
	require.NotZero(t, p.d.View().State.People[p.ben].Claimed)

	p.tryJoin(JoinAsk{Code: code, Name: "Ben", PIN: "314158"}).refused(http.StatusForbidden, board.CodeNeedProof)
	second := decode[JoinedAnswer](t, p.tryJoin(JoinAsk{Code: code, Name: " ben ", PIN: "314159"}).ok().body)
	require.Equal(t, first.WhoAnswer, second.WhoAnswer)
	require.NotEqual(t, first.Token, second.Token)
}

func TestANewNameIsAGuest(t *testing.T) {
	p := newPit(t)
	d := p.join(board.RoleCrew, "Vera")
	who := p.d.View().State.People[d.who.Person]
	require.Equal(t, "Vera", who.Name)
	require.True(t, who.Guest)
	require.Equal(t, board.RoleCrew, who.Role)
	d.do(board.HandsOn{Robot: p.moth}).ok()
	d.do(board.TagOn{Robot: p.moth}).refused(http.StatusConflict, board.CodeSafety)
}

func TestANameThatCannotBeIsRefused(t *testing.T) {
	p := newPit(t)
	bad := p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Ve\u202era", PIN: somePIN}).refused(http.StatusUnprocessableEntity, board.CodeBadField)
	require.Equal(t, "name", bad.Field)
	require.Len(t, p.s.sessions.byKey, 0, "a refused join leaves no session behind")
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Vera", PIN: somePIN}).ok()
}

func TestAGuestIsNobodyWhoseNameLooksTheSame(t *testing.T) {
	p := newPit(t)
	p.crew()
	code := pitCodes[board.RoleCrew]
	for _, name := range []string{"\uff22\uff45\uff4e", "BEN", "Ben\u200b", "B\u00aden", "Ben\U000e0041", "Ben\u3164"} {
		bad := p.tryJoin(JoinAsk{Code: code, Name: name, PIN: "161803"}).refused(http.StatusForbidden, board.CodeNeedProof)
		require.Contains(t, bad.Sentence, "Ben", "%+q", name)
		joined := decode[JoinedAnswer](t, p.tryJoin(JoinAsk{Code: code, Name: name, PIN: somePIN}).ok().body)
		require.Equal(t, WhoAnswer{Role: board.RoleCrew, Person: p.ben, Name: "Ben"}, joined.WhoAnswer)
		p.clock.pass(20 * time.Minute)
	}
	bad := p.tryJoin(JoinAsk{Code: code, Name: "Be\u2060a", PIN: somePIN}).refused(http.StatusUnprocessableEntity, board.CodeBadField)
	require.Contains(t, bad.Sentence, "nobody can see (U+2060)")
	require.Equal(t, "Bea", p.join(board.RoleCrew, "Bea").who.Name)
}

func TestACodeOfAnotherRoleThanTheRosterSaysIsRefusedInWords(t *testing.T) {
	p := newPit(t)
	for range 2 { // before and after the name is claimed
		bad := p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCaptain], Name: "Ben", PIN: somePIN}).refused(http.StatusForbidden, board.CodeForbidden)
		require.Contains(t, bad.Sentence, "Ben is crew on the roster")
		p.crew()
	}
}

func TestAPersonOffTheRosterCannotJoinNorGoOn(t *testing.T) {
	p := newPit(t)
	d := p.crew()
	d.get("/api/me").ok()
	p.told(board.PersonRetire{Person: p.ben})
	d.get("/api/me").refused(http.StatusUnauthorized, codeNoSession)
	d.do(note("still here")).refused(http.StatusUnauthorized, codeNoSession)
}

func TestTheRoleIsTheOneTheRosterSaysNow(t *testing.T) {
	p := newPit(t)
	d := p.crew()
	d.get("/api/codes").refused(http.StatusForbidden, board.CodeForbidden)
	p.told(board.PersonChange{Person: p.ben, PersonFields: board.PersonFields{Name: "Ben", Role: board.RoleCaptain}})
	d.get("/api/codes").ok()
	require.Equal(t, WhoAnswer{Role: board.RoleCaptain, Person: p.ben, Name: "Ben"}, decode[WhoAnswer](t, d.get("/api/me").ok().body))
	p.told(board.PersonChange{Person: p.ben, PersonFields: board.PersonFields{Name: "Ben", Role: board.RoleCrew}})
	d.get("/api/codes").refused(http.StatusForbidden, board.CodeForbidden)
}

func TestFiveWrongPINsLockAPersonForAWhile(t *testing.T) {
	p := newPit(t)
	p.crew()
	wrong := JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Ben", PIN: "000000"}
	right := JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Ben", PIN: somePIN}
	start := p.clock.Now()
	for range 5 {
		p.clock.pass(time.Minute)
		p.tryJoin(wrong).refused(http.StatusForbidden, board.CodeNeedProof)
	}
	bad := p.tryJoin(right).refused(http.StatusTooManyRequests, board.CodeTooMany)
	require.Contains(t, bad.Sentence, "Ben")
	p.join(board.RoleSafety, "Dee") // others are not locked

	p.clock.pass(start.Add(16*time.Minute - time.Second).Sub(p.clock.Now()))
	p.tryJoin(right).refused(http.StatusTooManyRequests, board.CodeTooMany)
	p.clock.pass(2 * time.Second) // the first error is a quarter of an hour old
	p.tryJoin(right).ok()
	p.tryJoin(wrong).refused(http.StatusForbidden, board.CodeNeedProof)
	p.tryJoin(right).refused(http.StatusTooManyRequests, board.CodeTooMany)
}

func TestManyGuessesAtOnceAreNoWayRoundTheLock(t *testing.T) {
	p := newPit(t)
	p.crew()
	ben := p.d.View().State.People[p.ben]
	results := make(chan board.Code)
	for i := range 40 {
		go func() {
			_, bad := p.s.pins.verify(t.Context(), ben, fmt.Sprintf("%06d", i), guesser{device: "a phone"}, p.clock.Now())
			results <- bad.Code
		}()
	}
	seen := map[board.Code]int{}
	for range 40 {
		seen[<-results]++
	}
	require.Equal(t, map[board.Code]int{board.CodeNeedProof: 5, board.CodeTooMany: 35}, seen)
}

func TestFailedJoinsAreFewAnAddressAndKeepNobodyFromWork(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	guess := func() answer { return p.tryJoin(JoinAsk{Code: "GUESSGUESS"}) }
	for range failsBurst {
		guess().refused(http.StatusForbidden, board.CodeForbidden)
	}
	guess().refused(http.StatusTooManyRequests, board.CodeTooMany)
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleViewer]}).refused(http.StatusTooManyRequests, board.CodeTooMany)
	ben.do(note("work goes on")).ok()

	p.clock.pass(time.Minute / failsPerMinute)
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleViewer]}).ok() // a right code costs nothing
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleViewer]}).ok()
	guess().refused(http.StatusForbidden, board.CodeForbidden)
	guess().refused(http.StatusTooManyRequests, board.CodeTooMany)
}

func TestWrongPINsCountAsFailedJoins(t *testing.T) {
	p := newPit(t)
	p.crew()
	p.join(board.RoleCrew, "Kit")
	for i := range failsBurst {
		name := []string{"Ben", "Kit"}[i%2]
		p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: name, PIN: "000000"}).refused(http.StatusForbidden, board.CodeNeedProof)
	}
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew]}).refused(http.StatusTooManyRequests, board.CodeTooMany)
}

// What is on disk is a hash: of the token SHA-256, of the PIN PBKDF2 (RFC 8018)
// as the standard library computes it.
func TestTokensAndPINsAreHashedAtRest(t *testing.T) {
	p := newPit(t)
	d := p.crew()
	held, err := p.d.Store().Load(10)
	require.NoError(t, err)
	rec := decode[pinRecord](t, held.Secrets[pinKey(p.ben)])
	want, err := pbkdf2.Key(sha256.New, somePIN, rec.Salt, 10, 32)
	require.NoError(t, err)
	require.Equal(t, want, rec.Hash)
	require.Len(t, rec.Salt, 16)
	require.Contains(t, held.Sessions, fmt.Sprintf("%x", sha256.Sum256([]byte(d.token))))
	for _, lines := range [][]store.Line{held.Lines} {
		for _, l := range lines {
			require.NotContains(t, string(l.Data), somePIN)
			require.NotContains(t, string(l.Data), d.token)
		}
	}
	require.Equal(t, 600_000, Options{}.withDefaults().pinRounds)

	other := decode[pinRecord](t, func() []byte {
		p.safety()
		held, err := p.d.Store().Load(0)
		require.NoError(t, err)
		return held.Secrets[pinKey(p.dee)]
	}())
	require.NotEqual(t, rec.Hash, other.Hash, "the same PIN of another person has another hash")
}

func TestSessionsPINsAndCodesOutliveARestart(t *testing.T) {
	p := newPitWith(t, with{options: func(o *Options) { o.Codes = nil }})
	codes := p.s.Codes()
	require.Len(t, codes, 4)
	for _, c := range codes {
		require.Regexp(t, `^[0-9A-HJKMNP-TV-Z]{8}$`, c)
	}
	a := p.tryJoin(JoinAsk{Code: codes[board.RoleCrew], Name: "Ben", PIN: somePIN}).ok()
	d := device{p: p, token: decode[JoinedAnswer](t, a.body).Token}
	gone := device{p: p, token: decode[JoinedAnswer](t, p.tryJoin(JoinAsk{Code: codes[board.RoleViewer]}).ok().body).Token}
	gone.post("/api/leave", "{}").ok()
	d.do(note("before")).ok()
	require.NoError(t, p.s.Close(t.Context()))
	p.stopDesk()

	q := newPitWith(t, with{path: p.path, options: func(o *Options) { o.Codes = nil }})
	require.Equal(t, codes, q.s.Codes())
	device{p: q, token: d.token}.do(note("after")).ok()
	device{p: q, token: gone.token}.get("/api/me").refused(http.StatusUnauthorized, codeNoSession)
	q.tryJoin(JoinAsk{Code: codes[board.RoleCrew], Name: "Ben", PIN: "000000"}).refused(http.StatusForbidden, board.CodeNeedProof)
	q.tryJoin(JoinAsk{Code: codes[board.RoleCrew], Name: "Ben", PIN: somePIN}).ok()
}

func TestGivenCodesMustBeLongAndDiffer(t *testing.T) {
	keep := func(...store.KV) error { return nil }
	for name, codes := range map[string]map[board.Role]string{
		"want 8 or more": {board.RoleCrew: "AB-CD-EF-G"},
		"are the same":   {board.RoleCrew: "ABCDEFGHO", board.RoleCaptain: "abcdefgh0"},
	} {
		_, err := loadCodes(codes, nil, keep)
		require.ErrorContains(t, err, name)
	}
	c, err := loadCodes(map[board.Role]string{board.RoleCrew: "AB-CD-EF-GH"}, map[string][]byte{"code/crew": []byte("OLDOLDOLD"), "code/viewer": []byte("KEPTKEPT")}, keep)
	require.NoError(t, err)
	require.Equal(t, "AB-CD-EF-GH", c.all()[board.RoleCrew], "given before kept")
	require.Equal(t, "KEPTKEPT", c.all()[board.RoleViewer], "kept before made")
}

func TestTheLogHoldsNoCodeTokenOrPIN(t *testing.T) {
	p := newPit(t)
	ada, ben := p.captain(), p.crew()
	p.tryJoin(JoinAsk{Code: "PLANTEDWRONGCODE"}).refused(http.StatusForbidden, board.CodeForbidden)
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Ben", PIN: "161803"}).refused(http.StatusForbidden, board.CodeNeedProof)
	p.nobody().post("/api/join", `{"code":"`+pitCodes[board.RoleCrew]+`","pin":161803}`).refused(http.StatusBadRequest, board.CodeMalformed)
	ask := p.command(note("signed"))
	ask.Pins = []Pin{{Person: p.ben, PIN: somePIN}}
	ada.post("/api/do", ask).ok()
	ask = p.command(note("signed wrong"))
	ask.Pins = []Pin{{Person: p.ben, PIN: "161803"}}
	ada.post("/api/do", ask).refused(http.StatusForbidden, board.CodeNeedProof)
	sock := p.dial(ben)
	sock.resume("", 0)
	ask.ID = p.newID().String()
	sock.say(DoMessage{T: "do", Ask: ask})
	require.Equal(t, board.CodeNeedProof, sock.await("refused").Refusal.Code)
	code := decode[codeEntry](t, changeCode(ada, "crew")().ok().body).Code
	ada.post("/api/pins/forget", map[string]any{"person": p.ben}).ok()
	ada.post("/api/leave", "{}").ok()

	// Digits of a moment or of an id may be those of a PIN by chance.
	said := regexp.MustCompile(`"time":"[^"]*"|[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}`).ReplaceAllString(p.log.String(), "")
	require.Contains(t, said, "joined")
	require.Contains(t, said, "wrong code")
	require.Contains(t, said, "session ended")
	for _, secret := range []string{
		pitCodes[board.RoleCaptain], pitCodes[board.RoleCrew], code, "PLANTEDWRONGCODE", somePIN, "161803", ada.token, ben.token, keyOf(ada.token), adminToken,
	} {
		require.NotContains(t, said, secret)
	}
	held, err := p.d.Store().Load(50)
	require.NoError(t, err)
	for _, l := range held.Lines {
		require.False(t, strings.Contains(string(l.Data), somePIN) || strings.Contains(string(l.Data), "161803"), "the journal holds a PIN")
	}
}

func TestAForgottenPINIsSetAnew(t *testing.T) {
	p := newPit(t)
	ada, ben := p.captain(), p.crew()
	ada.post("/api/pins/forget", map[string]any{"person": p.kit}).refused(http.StatusNotFound, board.CodeUnknown)
	ben.post("/api/pins/forget", map[string]any{"person": p.ben}).refused(http.StatusForbidden, board.CodeForbidden)
	ada.post("/api/pins/forget", map[string]any{"person": p.ben}).ok()
	ben.get("/api/me").refused(http.StatusUnauthorized, codeNoSession)
	again := JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Ben", PIN: "112358"}
	p.tryJoin(again).ok()
	p.tryJoin(again).ok()
	again.PIN = somePIN
	p.tryJoin(again).refused(http.StatusForbidden, board.CodeNeedProof)
}

func TestANewPINTakesNothingOffThatStoodBeforeAndTheOldOneDoes(t *testing.T) {
	p := newPit(t)
	ada, ben := p.captain(), p.crew()
	ben.do(board.HandsOn{Robot: p.moth}).ok()
	before := p.d.View().State.Rev
	ada.post("/api/pins/forget", map[string]any{"person": p.ben}).ok()
	state := p.d.View().State
	require.Equal(t, before+1, state.Rev, "it stands in the journal")
	require.Equal(t, ada.who.Person, state.People[p.ben].Forgotten.By)
	a := p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Ben", PIN: "112358"}).ok()
	again := device{p: p, token: decode[JoinedAnswer](t, a.body).Token}
	near, _ := state.HandsOf(p.moth, p.ben)
	off := p.command(board.HandsOff{Hands: near.ID})
	off.Seen = map[board.Key]board.Rev{near.Key(): near.V}
	again.post("/api/do", off).refused(http.StatusConflict, board.CodeSafety)
	off.ID, off.Pins = p.newID().String(), []Pin{{p.ben, "112358"}}
	ada.post("/api/do", off).refused(http.StatusConflict, board.CodeSafety)
	ada.post("/api/pins/forget", map[string]any{"person": p.ben}).ok()
	off.ID = p.newID().String()
	ada.post("/api/do", off).refused(http.StatusForbidden, board.CodeNeedProof)
	off.ID, off.Pins = p.newID().String(), []Pin{{p.ben, somePIN}}
	ada.post("/api/do", off).ok()
	on := p.command(board.HandsOn{Robot: p.moth, Person: p.ben})
	on.Pins = off.Pins
	ada.post("/api/do", on).refused(http.StatusForbidden, board.CodeNeedProof)
}

// Six phones take one name at the same moment, half of them with another PIN.
func TestOneOfManyFirstClaimsAtOnceSetsThePIN(t *testing.T) {
	p := newPit(t)
	joined := make(chan answer)
	for i := range 6 {
		go func() {
			joined <- p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Kit", PIN: []string{somePIN, "112358"}[i%2]})
		}()
	}
	people := map[board.PersonID]int{}
	for range 6 {
		a := <-joined
		if a.status == http.StatusOK {
			people[decode[JoinedAnswer](t, a.body).Person]++
			continue
		}
		a.refused(http.StatusForbidden, board.CodeNeedProof)
	}
	require.Equal(t, map[board.PersonID]int{p.kit: 3}, people)
}

// New PINs are never done here: who has one already signs, joins and works.
func TestNobodyWaitsForAnothersPIN(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	p.crew()
	for range cap(p.s.pins.making) {
		p.s.pins.making <- struct{}{}
	}
	ctx, leave := context.WithCancel(t.Context())
	waiting := make(chan *board.Refusal)
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, "/api/join", nil)
	require.NoError(t, err)
	r.RemoteAddr = "10.0.0.7:1"
	go func() {
		_, refusal := p.s.admit(r, board.RoleCrew, JoinAsk{Name: "Vera", PIN: somePIN})
		waiting <- refusal
	}()
	p.wall().get("/api/me").ok()
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew]}).ok()
	p.signs(ada, "000000").refused(http.StatusForbidden, board.CodeNeedProof)
	p.signs(ada, somePIN).ok()
	p.captain()
	ada.post("/api/pins/forget", map[string]any{"person": p.ada}).ok()
	leave()
	require.Equal(t, board.CodeRestarting, (<-waiting).Code)
	for range cap(p.s.pins.making) {
		<-p.s.pins.making
	}
	p.join(board.RoleCrew, "Vera")
}
