package team_test

import (
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/team"
)

// TestEveryTextOfATeamIsHeldToItsForm puts a control character, and then a text that is
// too long, into each free text of the full team in turn. It reads the types, so that a
// new field without a check fails here.
func TestEveryTextOfATeamIsHeldToItsForm(t *testing.T) {
	read := func() board.TeamLoad {
		load, errs := team.Read(folder(t), loadID(t))
		require.Empty(t, errs)
		return load
	}
	load, looked := read(), 0
	var walk func(v reflect.Value, path string)
	walk = func(v reflect.Value, path string) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				if f := v.Type().Field(i); f.Anonymous || ofFolder(v.Type(), f.Name) {
					walk(v.Field(i), path+"."+f.Name)
				}
			}
		case reflect.Slice:
			if v.Len() > 0 {
				walk(v.Index(0), path)
			}
		case reflect.String:
			if v.Type() != reflect.TypeFor[string]() {
				return // an id, or one of a few words
			}
			looked++
			was := v.String()
			for _, text := range []string{"a\x00b", strings.Repeat("x", 5000)} {
				v.SetString(text)
				_, bad := board.Apply(board.State{}, load, board.Ask{ID: loadID(t)}, board.Actor{Role: board.RoleCaptain}, loadID(t).Moment())
				require.NotNil(t, bad, "%s takes %.9q", path, text)
			}
			v.SetString(was)
		}
	}
	walk(reflect.ValueOf(&load).Elem(), "team")
	require.Equal(t, read(), load)
	require.Greater(t, looked, 40)
}
