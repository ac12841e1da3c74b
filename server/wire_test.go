package server

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/debrief"
	"mendline/board/forecast"
	"mendline/board/review"
	"mendline/board/view"
	"mendline/server/copies"
	"mendline/server/desk"
)

var update = flag.Bool("update", false, "write testdata/wire/examples.js and frontend/core/wire.d.ts")

const examplesFile = "../testdata/wire/examples.js"

const examplesHead = `// One full example of all that goes over the wire: messages, commands, nouns,
// derived nouns, and the bodies of the HTTP routes. Every field is there and none
// is zero. "go test ./server -run TestWire -update" writes this file from the Go
// structs; the type check of the pages reads it.

`

// TestWireExamples fails when the examples are not those of the structs.
func TestWireExamples(t *testing.T) {
	var b bytes.Buffer
	b.WriteString(examplesHead)
	for _, v := range wireValues(t) {
		requireFull(t, v.value, v.name)
		fmt.Fprintf(&b, "/** %s@satisfies {import('../../frontend/core/wire.d.ts').%s} */\nexport const %s = %s;\n\n",
			v.what, v.satisfies(), v.name, encode(t, v.value.Interface()))
	}
	upToDate(t, examplesFile, append(bytes.TrimRight(b.Bytes(), "\n"), '\n'))
}

// upToDate compares a file that these tests write, or writes it.
func upToDate(t *testing.T, file string, want []byte) {
	t.Helper()
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
		require.NoError(t, os.WriteFile(file, want, 0o666))
	}
	have, err := os.ReadFile(file)
	require.NoError(t, err)
	is, lines := strings.Split(string(have), "\n"), strings.Split(string(want), "\n")
	for i := range min(len(is), len(lines)) {
		require.Equal(t, lines[i], is[i], "%s:%d is stale: run go test ./server -run TestWire -update", file, i+1)
	}
	require.Len(t, is, len(lines), "%s is stale: run go test ./server -run TestWire -update", file)
}

// wireKind is where a value stands on the wire.
type wireKind int

const (
	fromServer wireKind = iota
	toServer
	aCommand
	aNoun
	aBody // of an HTTP request or answer
)

// wireValue is one full value of a type that goes over the wire by itself.
type wireValue struct {
	name  string // of the example
	kind  wireKind
	key   string // "t" of a message, "do" of a command, the kind in a noun's key
	typ   string // what TypeScript calls it, where that is not its name in Go
	what  string
	value reflect.Value
}

// satisfies is the type that its example is checked against.
func (v wireValue) satisfies() string {
	switch v.kind {
	case aCommand:
		return fmt.Sprintf("Commands[%q]", v.key)
	case aNoun:
		return fmt.Sprintf("Nouns[%q]", v.key)
	}
	return tsName(v.value.Type(), v.typ)
}

// wireValues are all there are.
func wireValues(t *testing.T) []wireValue {
	var all []wireValue
	for _, m := range []struct {
		t, typ string
		kind   wireKind
		v      any
	}{
		{"hello", "Hello", fromServer, HelloMessage{}},
		{"board", "Whole", fromServer, desk.BoardMessage{}},
		{"patches", "Patches", fromServer, desk.PatchesMessage{}},
		{"ack", "Ack", fromServer, desk.AckMessage{}},
		{"refused", "Refused", fromServer, desk.RefusedMessage{}},
		{"beat", "Beat", fromServer, desk.BeatMessage{}},
		{"echo", "Echo", fromServer, EchoMessage{}},
		{"forecast", "Forecast", fromServer, desk.ForecastMessage{}},
		{"resume", "Resume", toServer, ResumeMessage{}},
		{"do", "DoMessage", toServer, DoMessage{}},
		{"echo", "AskEcho", toServer, AskEchoMessage{}},
	} {
		v := filled(t, reflect.TypeOf(m.v))
		v.FieldByName("T").SetString(m.t)
		all = append(all, wireValue{name: "message" + m.typ, kind: m.kind, key: m.t, typ: m.typ, value: v})
	}

	for _, c := range board.Commands() {
		if c.Do == "team.load" {
			continue // no screen sends it
		}
		zero, refusal := board.Decode(c.Do, nil)
		require.Nil(t, refusal)
		all = append(all, wireValue{name: "do" + camel(c.Do), kind: aCommand, key: c.Do, value: filled(t, reflect.TypeOf(zero))})
	}

	state := reflect.TypeFor[board.State]()
	for i := range state.NumField() {
		if f := state.Field(i); f.Type.Kind() == reflect.Map {
			noun := f.Type.Elem()
			all = append(all, wireValue{name: "noun" + noun.Name(), kind: aNoun, key: strings.ToLower(noun.Name()), value: filled(t, noun)})
		}
	}

	for _, d := range []struct {
		kind string
		v    any
	}{
		{"call", forecast.Call{}}, {"chance", forecast.Chance{}}, {"leaveoff", forecast.LeaveOff{}}, {"lane", forecast.Lane{}}, {"plan", forecast.JobPlan{}}, {"todo", forecast.Todo{}},
		{"strip", view.Strip{}}, {"packview", forecast.PackView{}}, {"packhealth", forecast.PackHealth{}},
		{"fightenergy", forecast.FightEnergy{}}, {"channelview", forecast.ChannelView{}}, {"circuitview", forecast.CircuitView{}}, {"fightpacks", forecast.FightPacks{}}, {"alarm", forecast.Alarm{}},
		{"relaxed", view.Relaxed{}}, {"owed", view.Owed{}}, {"first", view.FirstSteps{}}, {"works", view.Works{}}, {"cost", view.Cost{}}, {"setups", view.Setups{}}, {"access", view.Access{}}, {"bends", view.Bends{}},
		{"learned", view.Learned{}}, {"scarce", forecast.Scarce{}}, {"absent", forecast.Absent{}}, {"calibration", view.Calibration{}}, {"tests", view.Tests{}},
		{"copies", copies.Copies{}},
	} {
		all = append(all, wireValue{name: "derived" + camel(d.kind), kind: aNoun, key: d.kind, value: filled(t, reflect.TypeOf(d.v))})
	}

	for _, h := range []struct {
		name, typ, what string
		v               any
	}{
		{"httpDebrief", "Debrief", "answers GET /api/debrief", debrief.Account{}},
		{"httpReview", "", "answers GET /api/review", review.Review{}},
		{"httpLoad", "", "team.load, by POST /admin/load", board.TeamLoad{}},
		{"httpJoin", "", "POST /api/join", JoinAsk{}},
		{"httpRoster", "", "answers a code without a name", rosterAnswer{}},
		{"httpJoined", "", "answers a code with name and PIN", JoinedAnswer{}},
		{"httpMe", "", "answers GET /api/me", WhoAnswer{}},
		{"httpDo", "", "POST /api/do and POST /admin/load", Ask{}},
		{"httpDone", "", "answers POST /api/do", DoneAnswer{}},
		{"httpRefused", "", "answers whatever is no success", RefusedAnswer{}},
		{"httpJournal", "", "answers GET /api/journal?after=41", journalAnswer{}},
		{"httpCommands", "", "answers GET /api/commands", commandsAnswer{}},
		{"httpLists", "", "answers GET /api/lists", listsAnswer{}},
		{"httpSessions", "", "answers GET /api/sessions", sessionsAnswer{}},
		{"httpEnded", "", "answers POST /api/sessions/end", endedAnswer{}},
		{"httpDoor", "", "answers GET and POST /api/door", doorAnswer{}},
		{"httpCodes", "", "answers GET /api/codes", codesAnswer{}},
		{"httpHealth", "", "answers GET /api/health", healthAnswer{}},
		{"httpFile", "", "answers GET /api/file", fileAnswer{}},
		{"httpClock", "", "answers GET /api/clock", clockAnswer{}},
		{"httpCode", "", "answers POST /api/codes/change", codeEntry{}},
		{"httpCopiesCode", "", "answers GET and POST /api/copies/code", copiesCodeAnswer{}},
		{"httpCopiesAsk", "", "POST /api/copies/code", copiesCodeAsk{}},
		{"httpPhoto", "", "answers POST /api/photos", photoAnswer{}},
		{"httpTeam", "", "answers POST /api/team", teamAnswer{}},
		{"httpCheck", "", "answers POST /admin/check", CheckAnswer{}},
	} {
		all = append(all, wireValue{name: h.name, kind: aBody, typ: h.typ, what: h.what + ". ", value: filled(t, reflect.TypeOf(h.v))})
	}
	return all
}
