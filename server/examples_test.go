package server

import (
	"reflect"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/charge"
	"mendline/board/debrief"
	"mendline/board/forecast"
	"mendline/board/view"
)

// camel turns robot.close-up into RobotCloseUp.
func camel(name string) string {
	var b strings.Builder
	for _, part := range strings.FieldsFunc(name, func(r rune) bool { return r == '.' || r == '-' }) {
		b.WriteRune(unicode.ToUpper(rune(part[0])))
		b.WriteString(part[1:])
	}
	return b.String()
}

// Invented values, by the Go type.
var byType = map[reflect.Type]any{
	reflect.TypeFor[board.Moment]():        board.MomentOf(time.Date(2026, 5, 9, 14, 2, 31, 500e6, time.UTC)),
	reflect.TypeFor[time.Time]():           time.Date(2026, 5, 9, 8, 0, 0, 0, time.UTC),
	reflect.TypeFor[board.Rev]():           board.Rev(42),
	reflect.TypeFor[board.CommandID]():     board.CommandID(uuid.MustParse("019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d")),
	reflect.TypeFor[jsontext.Value]():      exampleNote(),
	reflect.TypeFor[board.Key]():           exampleNoteKey,
	reflect.TypeFor[board.Role]():          board.RoleCrew,
	reflect.TypeFor[debrief.Spend]():       debrief.WaitPart,
	reflect.TypeFor[board.Skill]():         board.SkillWeld,
	reflect.TypeFor[board.EnergyKind]():    board.EnergyWeapon,
	reflect.TypeFor[board.Reach]():         board.Outside,
	reflect.TypeFor[board.MassUnit]():      board.Pound,
	reflect.TypeFor[board.Size]():          board.Light,
	reflect.TypeFor[board.PowerState]():    board.Verified,
	reflect.TypeFor[board.PlaceKind]():     board.PlaceBench,
	reflect.TypeFor[board.StationKind]():   board.StationBench,
	reflect.TypeFor[board.Working]():       board.WorksDegraded,
	reflect.TypeFor[board.MassWord]():      board.MassOver,
	reflect.TypeFor[board.MassBasis]():     board.FromScale,
	reflect.TypeFor[board.PackState]():     board.PackCooling,
	reflect.TypeFor[charge.Chemistry]():    charge.LiPo,
	reflect.TypeFor[board.PackUse]():       board.UseMain,
	reflect.TypeFor[board.Look]():          board.LookFine,
	reflect.TypeFor[charge.Wear]():         charge.Worn,
	reflect.TypeFor[board.FightState]():    board.FightPlanned,
	reflect.TypeFor[board.Result]():        board.Won,
	reflect.TypeFor[board.Grade]():         board.Grade("G2"),
	reflect.TypeFor[board.Severity]():      board.Severity("hard"),
	reflect.TypeFor[board.System]():        board.SysWeapon,
	reflect.TypeFor[board.Triage]():        board.Must,
	reflect.TypeFor[board.JobState]():      board.JobRunning,
	reflect.TypeFor[board.HoldWhy]():       board.HoldPart,
	reflect.TypeFor[board.Way]():           board.WaySwap,
	reflect.TypeFor[board.Asks]():          board.AsksLook,
	reflect.TypeFor[board.Where]():         board.AtRobot,
	reflect.TypeFor[board.SheetList]():     board.ListMakeSafe,
	reflect.TypeFor[board.Lock]():          board.LockPlain,
	reflect.TypeFor[board.SheetState]():    board.SheetOpen,
	reflect.TypeFor[board.Said]():          board.SaidDone,
	reflect.TypeFor[board.LineKind]():      board.LineNumber,
	reflect.TypeFor[board.RestEnd]():       board.RestMatchEnd,
	reflect.TypeFor[board.FailsafePlace](): board.FailsafeTestBox,
	reflect.TypeFor[board.FollowBy]():      board.FollowBoard,
	reflect.TypeFor[board.LearnKind]():     board.LearnKind("eddc15f4-688e-5e70-bf4e-6c8c61b2c903"),
	reflect.TypeFor[board.PostponeFor]():   board.PostponeTeam,
	reflect.TypeFor[board.Code]():          board.CodeStale,
	reflect.TypeFor[forecast.Flag]():       forecast.FlagTight,
	reflect.TypeFor[forecast.CauseKind]():  forecast.CauseStation,
	reflect.TypeFor[forecast.Act]():        forecast.ActStart,
	reflect.TypeFor[view.Phase]():          view.PhaseInspect,
	reflect.TypeFor[view.Lack]():           view.LackRobots,
	reflect.TypeFor[forecast.Class]():      forecast.ClassB,
}

// Invented values, by the field's name on the wire; for strings, and where one Go
// type has two sets of words.
var byName = map[string]string{
	"restTo": "call", "name": "Tin Moth", "text": "blade is bent", "proto": proto, "epoch": "5b2c8f2e-1d3c-4c56-9a77-0c0ffee00001",
	"version": "1.0.0", "do": "note.add", "id": "019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d", "pin": "271828", "code": "7K3QZ9TM",
	"token": "Zm9yIGV4YW1wbGUgb25seSwgbm90IGEgdG9rZW4hISE", "session": "5b2c8f2e-1d3c-4c56-9a77-0c0ffee00002", "day": "2026-05-09", "arena": "main",
	"field": "seen", "sentence": "Someone changed this since you looked. Read what it says now, then repeat if it still holds.",
	"readOnly": "The board could not write to its disk.",
}

// exampleOf is the value of a type, where what it holds is not told by its fields.
func exampleOf(typ reflect.Type, name string) (any, bool) {
	switch name {
	case "with":
		return jsontext.Value(`{"text":"blade is bent"}`), true
	case "lines":
		if typ == reflect.TypeFor[jsontext.Value]() {
			return jsontext.Value(`{"rev":42,"at":"2026-05-09T14:02:31.500Z","id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","role":"crew","do":"note.add","with":{"text":"blade is bent"},"put":{"` +
				string(exampleNoteKey) + `":` + string(exampleNote()) + `}}`), true
		}
	case "about", "seen", "now":
		if typ == reflect.TypeFor[board.Key]() {
			return board.Key("robot/" + exampleID("RobotID")), true
		}
	}
	x, ok := byType[typ]
	return x, ok
}

var exampleNoteKey = board.KeyOf(board.KindNote, exampleID("NoteID"))

func exampleNote() jsontext.Value {
	return board.Encode(board.Note{
		ID: board.NoteID(exampleID("NoteID")), V: 42, Text: "blade is bent", By: board.PersonID(exampleID("PersonID")),
		At: board.MomentOf(time.Date(2026, 5, 9, 14, 2, 31, 500e6, time.UTC)),
	})
}

func exampleID(typ string) string {
	return uuid.NewSHA1(uuid.MustParse("6ba7b810-9dad-11d1-80b4-00c04fd430c8"), []byte("example/"+typ)).String()
}

// filled makes a value of the type with no field zero.
func filled(t *testing.T, typ reflect.Type) reflect.Value {
	v := reflect.New(typ).Elem()
	fill(t, v, "")
	return v
}

func fill(t *testing.T, v reflect.Value, name string) {
	t.Helper()
	if plain := v.Kind() == reflect.String && (v.Type().Name() == "string" || name == "restTo"); plain && byName[name] != "" {
		v.SetString(byName[name])
		return
	}
	if x, ok := exampleOf(v.Type(), name); ok {
		v.Set(reflect.ValueOf(x))
		return
	}
	switch v.Kind() {
	case reflect.String:
		fillString(t, v, name)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(3)
	case reflect.Uint64:
		v.SetUint(9)
	case reflect.Float64:
		v.SetFloat(2.5)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(t, v.Elem(), name)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(t, v.Index(0), name)
	case reflect.Map:
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(t, key, name)
		fill(t, value, name)
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(key, value)
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			wire, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if wire == "" {
				wire = f.Name
			}
			fill(t, v.Field(i), wire)
		}
	default:
		require.Fail(t, "no example", "of %s", v.Type())
	}
}

func fillString(t *testing.T, v reflect.Value, name string) {
	t.Helper()
	switch typ := v.Type().Name(); {
	case strings.HasSuffix(typ, "ID"):
		v.SetString(exampleID(typ))
	case typ == "string":
		v.SetString(spaced(name))
	default:
		require.Fail(t, "no example", "of the words of %s", typ)
	}
}

// spaced makes words of a field's name: spinDown gives "spin down".
func spaced(name string) string {
	return strings.ToLower(regexp.MustCompile(`([a-z])([A-Z])`).ReplaceAllString(name, "$1 $2"))
}

// requireFull fails on a field that is zero, or that the encoding leaves out.
func requireFull(t *testing.T, v reflect.Value, path string) {
	t.Helper()
	require.False(t, v.IsZero(), "%s is zero", path)
	switch v.Kind() {
	case reflect.Struct:
		if _, whole := byType[v.Type()]; whole {
			return
		}
		for i := range v.NumField() {
			requireFull(t, v.Field(i), path+"."+v.Type().Field(i).Name)
		}
	case reflect.Pointer:
		requireFull(t, v.Elem(), path)
	case reflect.Slice:
		require.NotZero(t, v.Len(), path)
	}
}

// The examples are read back by the same strict decoders that read a device's
// messages and the store's nouns.
func TestTheExamplesAreWhatTheBoardReads(t *testing.T) {
	for _, c := range board.Commands() {
		zero, refusal := board.Decode(c.Do, nil)
		require.Nil(t, refusal)
		full := filled(t, reflect.TypeOf(zero)).Interface()
		got, refusal := board.Decode(c.Do, encode(t, full))
		require.Nil(t, refusal, c.Do)
		require.Equal(t, full, got, c.Do)
	}
	state := reflect.TypeFor[board.State]()
	for i := range state.NumField() {
		if f := state.Field(i); f.Type.Kind() == reflect.Map {
			n := filled(t, f.Type.Elem()).Interface().(board.Noun)
			got, err := board.DecodeNoun(n.Key(), board.Encode(n))
			require.NoError(t, err)
			require.Equal(t, n, got)
		}
	}
	var m DoMessage
	require.NoError(t, json.Unmarshal(encode(t, filled(t, reflect.TypeFor[DoMessage]()).Interface()), &m, json.RejectUnknownMembers(true)))
}
