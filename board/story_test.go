package board_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
)

var rewrite = flag.Bool("rewrite", false, "write the stories' outcomes again; review the diff")

// TestStories plays each story: a line is a time, a person, a command and its
// fields; indented below stands what then changed or was refused.
func TestStories(t *testing.T) {
	files, err := filepath.Glob("../testdata/stories/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			told, err := os.ReadFile(file)
			require.NoError(t, err)
			got := (&teller{pit: newPit(t)}).tell(string(told))
			if *rewrite {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
				return
			}
			require.Equal(t, string(told), got)
		})
	}
}

type teller struct{ *pit }

func (s *teller) tell(story string) string {
	var out strings.Builder
	for _, line := range strings.Split(strings.TrimSuffix(story, "\n"), "\n") {
		switch {
		case strings.HasPrefix(line, "    "):
			continue
		case line == "" || strings.HasPrefix(line, "#"):
			fmt.Fprintln(&out, line)
			continue
		}
		fmt.Fprintln(&out, line)
		for _, change := range s.line(line) {
			fmt.Fprintln(&out, "    "+change)
		}
	}
	return out.String()
}

// line does one line and says what came of it.
func (s *teller) line(line string) []string {
	words := boardtest.Words(line)
	at, err := time.Parse("15:04", words[0])
	require.NoError(s.t, err, line)
	s.now = morning - 9*3600_000 + Moment(at.Hour()*3600_000+at.Minute()*60_000)
	if words[0] < "04:00" {
		s.now += 24 * 3600_000
	}
	by := Itself()
	if words[1] != "board" {
		by = s.as(PersonID(s.id("person", words[1])))
	}
	fields := map[string]any{}
	ask := Ask{}
	for _, w := range words[3:] {
		key, value, _ := strings.Cut(w, "=")
		if key == "done-at" {
			done, err := time.Parse("15:04", value)
			require.NoError(s.t, err, line)
			ask.At = morning - 9*3600_000 + Moment(done.Hour()*3600_000+done.Minute()*60_000)
			continue
		}
		fields[key] = s.value(key, value)
	}
	with, err := json.Marshal(fields)
	require.NoError(s.t, err)
	c, bad := Decode(words[2], with)
	require.Nil(s.t, bad, "%s: %+v", line, bad)
	s.n++
	ask.ID, ask.Seen = newID(s.now, s.n), s.seen(c)
	before := s.s
	ch, bad := s.tryAsk(by, c, ask)
	if bad != nil {
		if bad.Rule != 0 {
			return []string{fmt.Sprintf("refused, rule %d: %s", bad.Rule, bad.Sentence)}
		}
		return []string{"refused: " + bad.Sentence}
	}
	return s.changes(before, ch)
}

// value turns what a story says into what the wire says.
func (s *teller) value(key, value string) any {
	switch key {
	case "minutes", "number", "chosen", "hit", "count":
		n := 0
		_, err := fmt.Sscan(value, &n)
		require.NoError(s.t, err)
		return n
	case "charged", "stuck":
		return value == "yes"
	case "cellVolts":
		var volts []float64
		for _, v := range strings.Split(value, ",") {
			f := 0.0
			_, err := fmt.Sscan(v, &f)
			require.NoError(s.t, err)
			volts = append(volts, f)
		}
		return volts
	case "damages", "people", "after":
		var ids []string
		for _, v := range strings.Split(value, ",") {
			ids = append(ids, s.id(strings.TrimSuffix(map[string]string{"people": "person", "after": "job"}[key]+key, "s"), v))
		}
		return ids
	}
	return s.id(key, value)
}

// id finds a noun by the name people call it by.
func (s *teller) id(key, value string) string {
	switch {
	case key == "robot", key == "place", key == "pack", key == "stock":
		for _, n := range s.s.Nouns() {
			if k, id := n.Key().Split(); string(k) == key && nameOf(n) == value {
				return id
			}
		}
	case strings.HasPrefix(key, "person"), key == "told", key == "acceptor":
		for id, person := range s.s.People {
			if person.Name == value {
				return string(id)
			}
		}
	case strings.HasPrefix(key, "job"):
		for id, j := range s.s.Jobs {
			if fmt.Sprint(j.Number) == value {
				return string(id)
			}
		}
	case strings.HasPrefix(key, "damage"):
		for id, d := range s.s.Damages {
			if fmt.Sprint(d.Number) == value {
				return string(id)
			}
		}
	case key == "fight":
		for id, f := range s.s.Fights {
			if fmt.Sprint(f.Arena, " ", f.Number) == value {
				return string(id)
			}
		}
	case key == "template":
		for id, template := range s.s.Templates {
			if template.Name == value {
				return string(id)
			}
		}
	case key == "line":
		if at, pack, ok := strings.Cut(value, "-P"); ok {
			return at + "-" + s.id("pack", "P"+pack)
		}
	case key == "sheet":
		sheet, ok := s.s.Sheet(s.moth, SheetList(value))
		require.True(s.t, ok, "there is no %s sheet yet: one before it still asks something", value)
		return string(sheet.ID)
	case key == "tag":
		return string(s.tagOf(PersonID(s.id("person", value))))
	case key == "hands":
		for id, hands := range s.s.Hands {
			if s.s.People[hands.Person].Name == value {
				return string(id)
			}
		}
	}
	return value
}

func nameOf(n Noun) string {
	switch n := n.(type) {
	case Robot:
		return n.Name
	case Place:
		return n.Name
	case Pack:
		return n.Name
	case Stock:
		return n.Name
	}
	return ""
}

// changes says in words what a command did.
func (s *teller) changes(before State, ch Change) []string {
	var said []string
	for _, n := range ch.Put {
		was, _ := before.Get(n.Key())
		if words := s.change(was, n); words != "" {
			said = append(said, words)
		}
	}
	for _, k := range ch.Del {
		was, _ := before.Get(k)
		switch n := was.(type) {
		case Tag:
			said = append(said, s.s.People[n.Person].Name+"'s tag is off "+s.s.Robots[n.Robot].Name)
		case Hands:
			said = append(said, s.s.People[n.Person].Name+"'s hands are away from "+s.s.Robots[n.Robot].Name)
		}
	}
	slices.Sort(said)
	return said
}

func (s *teller) change(was, is Noun) string {
	switch n := is.(type) {
	case Power:
		old, _ := was.(Power)
		if old.State == n.State && old.Why == n.Why {
			return ""
		}
		why := ""
		if n.Why != "" {
			why = ", because: " + n.Why
		}
		return fmt.Sprintf("%s: %s -> %s%s", s.s.Robots[n.Robot].Name, old.State, n.State, why)
	case Job:
		old, _ := was.(Job)
		owes := ""
		if n.State == JobFinished {
			owes = "(" + strings.Join(s.owes(n.ID), " ") + ")"
		}
		return strings.TrimSpace(fmt.Sprintf("job %d, %s: %s -> %s %s", n.Number, n.Name, or(string(old.State), "new"), n.State, owes))
	case Sheet:
		old, _ := was.(Sheet)
		return s.sheet(old, n)
	case Tag:
		return s.s.People[n.Person].Name + "'s tag is on " + s.s.Robots[n.Robot].Name
	case Hands:
		return s.s.People[n.Person].Name + "'s hands are near " + s.s.Robots[n.Robot].Name
	case Pack:
		return fmt.Sprintf("pack %s: %s, %s", n.Name, n.State, or(or(s.s.Places[n.Place].Name, s.s.Robots[n.Robot].Name), "nowhere on the board"))
	case Damage:
		return fmt.Sprintf("damage %d: %s, %s", n.Number, n.Part, n.Grade)
	case Fight:
		return fmt.Sprintf("fight %s %d: %s %s", n.Arena, n.Number, n.State, n.Result)
	case Stock:
		return fmt.Sprintf("%s: %d left", n.Name, n.Count)
	}
	return ""
}

func (s *teller) sheet(was, is Sheet) string {
	switch {
	case is.State != SheetOpen && is.State != was.State:
		return fmt.Sprintf("sheet %s is %s", is.List, is.State)
	case was.ID == "":
		return fmt.Sprintf("sheet %s begins: %d lines", is.List, len(is.Lines))
	}
	l, _ := is.OpenLine()
	return fmt.Sprintf("sheet %s, next: %s", is.List, l.Ask)
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}
