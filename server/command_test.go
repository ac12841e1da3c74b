package server

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// Every command by every role, through both doors: the table of /api/commands is
// what holds.
func TestEachRoleMayGiveItsOwnCommandsThroughBothDoors(t *testing.T) {
	p := newPit(t)
	devices := map[board.Role]device{
		board.RoleCaptain: p.captain(), board.RoleSafety: p.safety(), board.RoleCrew: p.crew(), board.RoleViewer: p.wall(),
	}
	list := decode[commandsAnswer](t, devices[board.RoleCrew].get("/api/commands").ok().body).Commands
	require.NotEmpty(t, list)
	ask := func(do string) Ask {
		p.clock.pass(time.Second)
		return Ask{ID: p.newID().String(), Do: do, With: []byte("{}")}
	}
	for role, d := range devices {
		t.Run(string(role), func(t *testing.T) {
			k := p.dial(d)
			k.resume("", 0)
			for _, c := range list {
				over := decode[RefusedAnswer](t, d.post("/api/do", ask(c.Do)).body).Refusal
				live := k.do(ask(c.Do)).Refusal
				for _, bad := range []*board.Refusal{over, live} {
					byRole := bad != nil && bad.Code == board.CodeForbidden
					require.Equal(t, !slices.Contains(c.Roles, role), byRole, "%s: %+v", c.Do, bad)
				}
			}
			for _, own := range []string{"person.claim", "board.start", "board.tick"} {
				require.Equal(t, board.CodeForbidden, k.do(ask(own)).Refusal.Code, own)
				d.post("/api/do", ask(own)).refused(http.StatusForbidden, board.CodeForbidden)
			}
		})
	}
}

func TestARoleInTheMessageIsNotBelieved(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	body := string(encode(t, p.command(board.PlaceAdd{PlaceFields: board.PlaceFields{Name: "bench 1", Kind: board.PlaceBench}})))
	for _, more := range []string{`"role":"captain"`, `"actor":{"role":"captain"}`, `"by":"` + string(p.ada) + `"`} {
		ben.post("/api/do", strings.Replace(body, "{", "{"+more+",", 1)).refused(http.StatusBadRequest, board.CodeMalformed)
	}
}

func TestAPINProvesAPersonOnAnothersDevice(t *testing.T) {
	p := newPit(t)
	ada, ben := p.captain(), p.crew()
	p.safety()
	ben.do(board.HandsOn{Robot: p.moth}).ok()
	var hands board.Hands
	for _, h := range p.d.View().State.Hands {
		hands = h
	}
	off := func(pins ...Pin) answer {
		ask := p.command(board.HandsOff{Hands: hands.ID})
		ask.Seen = map[board.Key]board.Rev{hands.Key(): hands.V}
		ask.Pins = pins
		return ada.post("/api/do", ask)
	}
	require.NotEqual(t, http.StatusOK, off().status, "Ben's hands are Ben's to lift")
	require.NotEqual(t, http.StatusOK, off(Pin{p.dee, somePIN}).status, "another's PIN proves another")
	bad := off(Pin{p.ben, "000000"}).refused(http.StatusForbidden, board.CodeNeedProof)
	require.Equal(t, "pins", bad.Field)
	off(Pin{p.dee, somePIN}, Pin{p.ben, "000000"}).refused(http.StatusForbidden, board.CodeNeedProof)
	off(Pin{p.kit, somePIN}).refused(http.StatusForbidden, board.CodeNeedProof)
	off(Pin{"nobody", somePIN}).refused(http.StatusNotFound, board.CodeUnknown)
	off(Pin{p.ben, somePIN}, Pin{p.ben, somePIN}, Pin{p.ben, somePIN}, Pin{p.ben, somePIN}, Pin{p.ben, somePIN}).refused(http.StatusUnprocessableEntity, board.CodeBadField)
	off(Pin{p.ben, somePIN}).ok()
	require.Empty(t, p.d.View().State.Hands)
}

func TestWrongPINsInCommandsLockThePersonToo(t *testing.T) {
	p := newPit(t)
	ada := p.captain()
	p.crew()
	k := p.dial(ada)
	k.resume("", 0)
	sign := func(pin string) Ask {
		ask := p.command(note("signed"))
		ask.Pins = []Pin{{Person: p.ben, PIN: pin}}
		return ask
	}
	for range 3 {
		ada.post("/api/do", sign("000000")).refused(http.StatusForbidden, board.CodeNeedProof)
	}
	for range 2 {
		require.Equal(t, board.CodeNeedProof, k.do(sign("000000")).Refusal.Code)
	}
	ada.post("/api/do", sign(somePIN)).refused(http.StatusTooManyRequests, board.CodeTooMany)
	require.Equal(t, board.CodeTooMany, k.do(sign(somePIN)).Refusal.Code)
	p.clock.pass(guessWindow)
	ada.post("/api/do", sign(somePIN)).ok()
}

func TestTheSameCommandTwiceIsDoneOnce(t *testing.T) {
	p := newPit(t)
	ben, dee := p.crew(), p.safety()
	ask := p.command(note("once"))
	first := decode[DoneAnswer](t, ben.post("/api/do", ask).ok().body)
	require.Equal(t, ask.ID, first.ID.String())
	require.Equal(t, first, decode[DoneAnswer](t, ben.post("/api/do", ask).ok().body))
	require.Equal(t, first.Rev, p.d.View().State.Rev)
	dee.post("/api/do", ask).refused(http.StatusConflict, board.CodeIDReused)
	ask.With = []byte(`{"text":"twice"}`)
	ben.post("/api/do", ask).refused(http.StatusConflict, board.CodeIDReused)
	old := p.command(note("old"))
	p.clock.pass(8 * 24 * time.Hour)
	p.crew().post("/api/do", old).refused(http.StatusGone, board.CodeTooLate)
}

// The statuses are those of RFC 9110 §15 and RFC 6585 §4. The codes are read out of
// the board's own source, so that a new one cannot be forgotten.
func TestEveryCodeOfTheBoardHasItsStatusAndIsListed(t *testing.T) {
	codes := codesOfTheBoard(t)
	require.Greater(t, len(codes), 15)
	known, err := os.ReadFile("../frontend/core/wire.d.ts")
	require.NoError(t, err)
	for _, code := range codes {
		i := slices.IndexFunc(meanings, func(m Meaning) bool { return m.Code == code })
		require.GreaterOrEqual(t, i, 0, "%q has no status and is not in /api/commands", code)
		status := statusOf(code)
		require.True(t, status >= 400 && status < 600 && status != 500, "%s: %d", code, status)
		require.NotEmpty(t, http.StatusText(status))
		require.NotEmpty(t, meanings[i].What, code)
		require.Contains(t, string(known), strconv.Quote(string(code)), "the frontend does not know this code")
	}
	require.Equal(t, 500, statusOf("no-such-code"))
	require.Equal(t, 429, statusOf(board.CodeTooMany))
	require.Equal(t, 401, statusOf(codeNoSession))
}

// codesOfTheBoard are the constants of type Code in package board.
func codesOfTheBoard(t *testing.T) []board.Code {
	t.Helper()
	files, err := filepath.Glob("../board/*.go")
	require.NoError(t, err)
	var codes []board.Code
	for _, file := range files {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			if spec, ok := n.(*ast.ValueSpec); ok && spec.Type != nil && types.ExprString(spec.Type) == "Code" {
				for _, v := range spec.Values {
					text, err := strconv.Unquote(types.ExprString(v))
					require.NoError(t, err)
					codes = append(codes, board.Code(text))
				}
			}
			return true
		})
	}
	return codes
}
