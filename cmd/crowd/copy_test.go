package main

import (
	"testing"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

func nouns(pairs ...string) map[board.Key]jsontext.Value {
	m := map[board.Key]jsontext.Value{}
	for i := 0; i < len(pairs); i += 2 {
		m[board.Key(pairs[i])] = jsontext.Value(pairs[i+1])
	}
	return m
}

func TestACopyFollowsTheBoardPatchByPatch(t *testing.T) {
	var c boardCopy
	snapshot := &message{Epoch: "e", Rev: 7, Put: nouns("note/a", `{"v":3}`, "note/b", `{"v":7}`)}
	c.replace(snapshot)
	require.NoError(t, c.apply(&patch{Rev: 8, Put: nouns("note/a", `{"v":8}`, "note/c", `{"v":8}`)}))
	require.NoError(t, c.apply(&patch{Rev: 9, Del: []board.Key{"note/b"}}))
	require.Equal(t, boardCopy{epoch: "e", rev: 9, nouns: nouns("note/a", `{"v":8}`, "note/c", `{"v":8}`)}, c)
	require.Equal(t, nouns("note/a", `{"v":3}`, "note/b", `{"v":7}`), snapshot.Put, "the snapshot is shared and stays")
}

func TestACopyTakesOnlyTheNextPatch(t *testing.T) {
	for rev, want := range map[board.Rev]string{
		9: "at revision 7 came the patch of 9",
		7: "at revision 7 came the patch of 7",
		8: "",
	} {
		c := boardCopy{rev: 7, nouns: nouns()}
		err := c.apply(&patch{Rev: rev})
		if want == "" {
			require.NoError(t, err)
			continue
		}
		require.EqualError(t, err, want)
	}
}

func TestACopyDiffersWhereItsJSONSaysSomethingElse(t *testing.T) {
	b := &message{Put: nouns("job/1", `{"name":"belt","v":2}`)}
	for _, c := range []struct {
		name string
		have map[board.Key]jsontext.Value
		want []string
	}{
		{"the same bytes", nouns("job/1", `{"name":"belt","v":2}`), nil},
		{"other spaces and order", nouns("job/1", `{ "v": 2, "name": "belt" }`), nil},
		{"another value", nouns("job/1", `{"name":"belt","v":3}`), []string{`job/1 is {"name":"belt","v":3}, on the board {"name":"belt","v":2}`}},
		{"a field more", nouns("job/1", `{"name":"belt","v":2,"w":0}`), []string{`job/1 is {"name":"belt","v":2,"w":0}, on the board {"name":"belt","v":2}`}},
		{"one missing", nouns(), []string{"job/1 is missing"}},
		{"one too many", nouns("job/1", `{"name":"belt","v":2}`, "job/2", `{}`), []string{"job/2 is not on the board"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			own := boardCopy{nouns: c.have}
			require.Equal(t, c.want, own.differences(b))
		})
	}
}
