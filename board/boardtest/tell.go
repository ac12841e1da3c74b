package boardtest

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	. "mendline/board"
)

// StoryLine is a line of a story: a time of day, who, what they do, and its fields. A
// person does a command of the board's.
type StoryLine struct {
	At     Moment
	By, Do string
	Rest   []string
}

// ReadLine reads a line of a story on the day that began at midnight.
func ReadLine(midnight Moment, text string) (StoryLine, error) {
	words := words(text)
	if len(words) < 2 {
		return StoryLine{}, fmt.Errorf("%q is no line of a story: give a time, who, and what", text)
	}
	at, err := timeOfDay(midnight, words[0])
	l := StoryLine{At: at, By: words[1]}
	if len(words) > 2 {
		l.Do, l.Rest = words[2], words[3:]
	}
	return l, err
}

func timeOfDay(midnight Moment, text string) (Moment, error) {
	at, err := time.Parse("15:04", text)
	if err != nil {
		return 0, fmt.Errorf("%q is no time of day: %w", text, err)
	}
	return midnight.Add(time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute), nil
}

// words cuts at spaces outside of double quotes, which it takes away.
func words(line string) []string {
	var all []string
	quoted, word := false, ""
	for _, r := range line {
		switch {
		case r == '"':
			quoted = !quoted
		case r == ' ' && !quoted:
			if word != "" {
				all = append(all, word)
			}
			word = ""
		default:
			word += string(r)
		}
	}
	if word == "" {
		return all
	}
	return append(all, word)
}

// Command is what the line asks of a board that stands at s, and who asks. Nouns
// go by the names people call them by; what is not said of the event stays.
func (l StoryLine) Command(s State) (Command, Actor, error) {
	who, ok := byName(s.People, l.By, func(p Person) string { return p.Name })
	if !ok {
		return nil, Actor{}, fmt.Errorf("nobody is called %s", l.By)
	}
	fields := map[string]jsontext.Value{}
	if l.Do == "event.set" {
		was, err := json.Marshal(s.Event().EventFields)
		if err == nil {
			err = json.Unmarshal(was, &fields)
		}
		if err != nil {
			return nil, Actor{}, fmt.Errorf("read the event’s settings: %w", err)
		}
	}
	for _, word := range l.Rest {
		key, value, _ := strings.Cut(word, "=")
		raw, err := json.Marshal(l.value(s, key, value))
		if err != nil {
			return nil, Actor{}, fmt.Errorf("field %s: %w", key, err)
		}
		fields[key] = raw
	}
	with, err := json.Marshal(fields)
	if err != nil {
		return nil, Actor{}, fmt.Errorf("%s: %w", l.Do, err)
	}
	c, refusal := Decode(l.Do, with)
	if refusal != nil {
		return nil, Actor{}, fmt.Errorf("%s: %s", l.Do, refusal.Sentence)
	}
	return c, Actor{Person: who.ID, Role: who.Role}, nil
}

// value turns what a story says into what the wire says.
func (l StoryLine) value(s State, key, value string) any {
	switch key {
	case "people", "after", "damages":
		ids := []string{}
		for _, v := range strings.Split(value, ",") {
			ids = append(ids, idOf(s, strings.TrimSuffix(map[string]string{"people": "person", "after": "job"}[key]+key, "s"), v))
		}
		return ids
	case "notBefore", "from", "to":
		if at, err := timeOfDay(l.At-l.At%day, value); err == nil {
			return at
		}
	}
	if id := idOf(s, key, value); id != value {
		return id
	}
	if raw := jsontext.Value(value); raw.IsValid() {
		return raw
	}
	return value
}

const day = 24 * 3600 * 1000

// idOf finds a noun by the name people call it by; what has none is given back.
func idOf(s State, key, value string) string {
	id := ""
	switch {
	case key == "robot":
		n, _ := byName(s.Robots, value, func(n Robot) string { return n.Name })
		id = string(n.ID)
	case key == "place":
		n, _ := byName(s.Places, value, func(n Place) string { return n.Name })
		id = string(n.ID)
	case key == "pack":
		n, _ := byName(s.Packs, value, func(n Pack) string { return n.Name })
		id = string(n.ID)
	case key == "stock":
		n, _ := byName(s.Stocks, value, func(n Stock) string { return n.Name })
		id = string(n.ID)
	case key == "template":
		n, _ := byName(s.Templates, value, func(n Template) string { return n.Name })
		id = string(n.ID)
	case key == "acceptor", key == "told", strings.HasPrefix(key, "person"):
		n, _ := byName(s.People, value, func(n Person) string { return n.Name })
		id = string(n.ID)
	case strings.HasPrefix(key, "job"):
		n, _ := byName(s.Jobs, value, func(n Job) string { return fmt.Sprint(n.Number) })
		id = string(n.ID)
	case strings.HasPrefix(key, "damage"):
		n, _ := byName(s.Damages, value, func(n Damage) string { return fmt.Sprint(n.Number) })
		id = string(n.ID)
	case key == "fight":
		n, _ := byName(s.Fights, value, func(n Fight) string { return fmt.Sprint(n.Arena, " ", n.Number) })
		id = string(n.ID)
	}
	if id == "" {
		return value
	}
	return id
}

func byName[K ~string, N any](all map[K]N, name string, of func(N) string) (N, bool) {
	for _, id := range ordered(all) {
		if of(all[id]) == name {
			return all[id], true
		}
	}
	var none N
	return none, false
}

// NextAnswer is what a person says to the open line of a robot's sheet where all is
// as it should be; false if the sheet is not open.
func NextAnswer(s State, robot RobotID, list SheetList, who PersonID) (SheetAnswer, bool) {
	h, ok := s.Sheet(robot, list)
	if !ok || h.State != SheetOpen {
		return SheetAnswer{}, false
	}
	l, _ := h.OpenLine()
	return AnswerTo(s, h, l, who), true
}

// AnswerTo is what a person says to a line where all is as it should be.
func AnswerTo(s State, h Sheet, l Line, who PersonID) SheetAnswer {
	a := SheetAnswer{Sheet: h.ID, Line: l.ID, Said: SaidDone}
	switch l.Kind {
	case LineNumber:
		a.Number = &l.Most
	case LinePlace:
		for _, id := range ordered(s.Places) {
			if a.Place == "" || s.Places[id].Kind == PlaceCharging {
				a.Place = id
			}
		}
	case LinePack:
		for _, pack := range s.Packs {
			if pack.State == PackCharged && slices.Contains(pack.Fits, h.Robot) {
				a.Pack = max(a.Pack, pack.ID)
			}
		}
	case LineTold:
		a.Told = who
	}
	return a
}
