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
// fields; indented below stands what then changed or was refused. "here:" says who of
// the cast is there that day, and "walks" answers a sheet line by line.
func TestStories(t *testing.T) {
	files, err := filepath.Glob("../testdata/stories/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			told, err := os.ReadFile(file)
			require.NoError(t, err)
			got := newTeller(t).tell(string(told))
			if *rewrite {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
				return
			}
			require.Equal(t, string(told), got)
		})
	}
}

type teller struct {
	*pit
	last CommandID
}

// newTeller has two more kinds of job than the cast: a wheel, and work at the grinder.
func newTeller(t *testing.T) *teller {
	p := newPit(t)
	wheel := swapBlade(p.blade)
	wheel.Name, wheel.Stock, wheel.Touches = "swap wheel", nil, []System{SysDrive, SysMass}
	for _, fix := range []Fix{wheel, boardtest.DressBurrs()} {
		p.captain(TemplateAdd{TemplateFields: TemplateFields{Name: fix.Name, Size: Light, Triage: Should, Fixes: []Fix{fix}}})
	}
	return &teller{pit: p}
}

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
		if s.sets(line) {
			continue
		}
		for _, change := range s.line(line) {
			fmt.Fprintln(&out, "    "+change)
		}
	}
	return out.String()
}

// sets does a line that says how the day begins: who is there, and what the robot has.
func (s *teller) sets(line string) bool {
	if names, ok := strings.CutPrefix(line, "here: "); ok {
		here := strings.Split(names, ", ")
		for id, person := range s.s.People {
			if !slices.Contains(here, person.Name) {
				s.captain(PersonRetire{Person: id})
			}
		}
		return true
	}
	reach, gas := strings.CutPrefix(line, "Tin Moth has gas, bled from ")
	if gas {
		s.captain(RobotChange{Robot: s.moth, RobotFields: s.cast.Gassed(Reach(reach))})
	}
	return gas
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
	plain := map[string]string{}
	for _, w := range words[3:] {
		key, value, _ := strings.Cut(w, "=")
		plain[key] = value
		switch {
		case key == "done-at":
			ask.At = s.time(value)
		case key == "pin":
			by.Proved = append(by.Proved, PersonID(s.id("person", value)))
		case words[2] != "walks":
			fields[key] = s.value(words[2], key, value)
		}
	}
	if words[2] == "walks" {
		return s.walks(by, plain)
	}
	with, err := json.Marshal(fields)
	require.NoError(s.t, err)
	c, bad := Decode(words[2], with)
	require.Nil(s.t, bad, "%s: %+v", line, bad)
	said, _ := s.give(by, c, ask)
	return said
}

func (s *teller) time(text string) Moment {
	at, err := time.Parse("15:04", text)
	require.NoError(s.t, err)
	return morning - 9*3600_000 + Moment(at.Hour()*3600_000+at.Minute()*60_000)
}

// give gives a command and says what came of it, and whether the board took it.
func (s *teller) give(by Actor, c Command, ask Ask) ([]string, bool) {
	s.n++
	ask.ID, ask.Seen = newID(s.now, s.n), s.seen(c)
	before := s.s
	ch, bad := s.tryAsk(by, c, ask)
	if bad != nil {
		if bad.Rule != 0 {
			return []string{fmt.Sprintf("refused, rule %d: %s", bad.Rule, bad.Sentence)}, false
		}
		return []string{"refused: " + bad.Sentence}, false
	}
	s.last = ask.ID
	return s.changes(before, ch), true
}

// walks answers the open lines of a sheet as its fields say, up to one that is left,
// and says each with its answer.
func (s *teller) walks(by Actor, plain map[string]string) []string {
	var told []string
	for {
		sheet, ok := s.s.Sheet(s.moth, SheetList(plain["sheet"]))
		l, open := sheet.OpenLine()
		if !ok || !open || sheet.State != SheetOpen || l.ID == plain["until"] {
			return told
		}
		c := SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidDone}
		said := l.Say
		switch l.Kind {
		case LineProof:
			if said = "proven"; plain["failsafe"] == "owed" {
				c.Said, said = SaidOwed, "owed to the officials"
			}
		case LinePlace:
			c.Place, said = PlaceID(s.id("place", plain["place"])), plain["place"]
		case LinePack:
			c.Pack, said = PackID(s.id("pack", plain["pack"])), plain["pack"]
		case LineTold:
			c.Told, said = PersonID(s.id("person", plain["told"])), plain["told"]
			if said == "alone" {
				c.Said, c.Told, said = SaidAlone, "", "nobody else was there"
			}
		case LineNumber:
			n := 0.0
			if said = "0"; l.Unit == "g" {
				said = plain["grams"]
			}
			_, err := fmt.Sscan(said, &n)
			require.NoError(s.t, err, l.Ask)
			c.Number, said = &n, said+" "+l.Unit
		}
		if at := s.s.RestsAt(s.moth, l); at > s.now {
			s.now = at
			told = append(told, s.s.Clock(at)+", the rotor has had its time:")
		}
		came, took := s.give(by, c, Ask{})
		told = append(told, l.Ask+" "+said)
		for _, came := range came {
			if !strings.HasPrefix(came, "sheet "+plain["sheet"]+", next") {
				told = append(told, "  "+came)
			}
		}
		if !took {
			return told
		}
	}
}

// value turns what a story says into what the wire says.
func (s *teller) value(do, key, value string) any {
	kind := ""
	for _, c := range Commands() {
		for _, f := range c.Fields {
			if c.Do == do && f.Name == key {
				kind = f.Type
			}
		}
	}
	if one, list := strings.CutPrefix(kind, "list of "); list {
		values := []any{}
		for _, v := range strings.Split(value, ",") {
			values = append(values, s.one(one, key, v))
		}
		return values
	}
	return s.one(kind, key, value)
}

func (s *teller) one(kind, key, value string) any {
	switch kind {
	case "number":
		n := 0.0
		_, err := fmt.Sscan(value, &n)
		require.NoError(s.t, err, "%s=%s", key, value)
		return n
	case "boolean":
		return value == "yes"
	case "time":
		return s.time(value)
	}
	return s.id(key, value)
}

// id finds a noun by the name people call it by.
func (s *teller) id(key, value string) string {
	switch {
	case key == "command":
		return fmt.Sprint(s.last)
	case key == "emergency":
		for id, emergency := range s.s.Emergencies {
			if emergency.EndedAt == 0 {
				return string(id)
			}
		}
	case key == "notice":
		for id, notice := range s.s.Notices {
			if notice.Taken == 0 {
				return string(id)
			}
		}
	case key == "inSight":
		return s.id("place", value)
	case key == "robot", key == "place", key == "pack", key == "stock", key == "channel", key == "station":
		for _, n := range s.s.Nouns() {
			if k, id := n.Key().Split(); string(k) == key && nameOf(n) == value {
				return id
			}
		}
	case strings.HasPrefix(key, "person"), slices.Contains([]string{"told", "acceptor", "attendant", "second", "checkedBy"}, key):
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
	case Channel:
		return n.Name
	case Station:
		return n.Name
	}
	return ""
}
