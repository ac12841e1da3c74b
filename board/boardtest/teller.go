package boardtest

import (
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/go-json-experiment/json"

	. "mendline/board"
)

// Teller gives the commands of a story to a board.
type Teller struct {
	// Midnight begins the story's day.
	Midnight Moment
	// Give gives the board a command at a moment; State is the board as it stands.
	Give  func(at Moment, by Actor, ask Ask, c Command) (*Refusal, error)
	State func() State

	n uint32
}

// Tell does one line. It says what is worth reading: jobs that came, or why the
// board refused. An error is the story's own mistake.
func (t *Teller) Tell(l StoryLine) ([]string, error) {
	before := t.State()
	refusal, err := t.do(l)
	switch {
	case err != nil:
		return nil, fmt.Errorf("story line %q: %w", l.Text, err)
	case refusal != nil && refusal.Rule != 0:
		return []string{fmt.Sprintf("refused, rule %d: %s", refusal.Rule, refusal.Sentence)}, nil
	case refusal != nil:
		return []string{"refused: " + refusal.Sentence}, nil
	}
	return NewJobs(before, t.State()), nil
}

func (t *Teller) do(l StoryLine) (*Refusal, error) {
	by, err := t.actor(l.Who)
	if err != nil {
		return nil, err
	}
	if l.Do == "walks" {
		return t.walk(l, by)
	}
	c, err := t.command(l)
	if err != nil {
		return nil, err
	}
	return t.give(l.At, by, c)
}

func (t *Teller) give(at Moment, by Actor, c Command) (*Refusal, error) {
	t.n++
	return t.Give(at, by, Ask{ID: storyID(at, t.n), Seen: Seen(t.State(), c)}, c)
}

// storyID is the n-th command's: a version 7 UUID of moment at.
func storyID(at Moment, n uint32) CommandID {
	var id CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(at)<<16)
	id[6], id[8] = 0x70, 0x80
	binary.BigEndian.PutUint32(id[12:], n)
	return id
}

// actor is a person by name, or the captain's tablet with nobody's name on it.
func (t *Teller) actor(who string) (Actor, error) {
	if who == "captain" {
		return Actor{Role: RoleCaptain}, nil
	}
	id, ok := Named(t.State(), KindPerson, who)
	if !ok {
		return Actor{}, fmt.Errorf("there is nobody called %s", who)
	}
	return Actor{Person: PersonID(id), Role: t.State().People[PersonID(id)].Role}, nil
}

// walk answers the open lines of a robot's list, one by one.
func (t *Teller) walk(l StoryLine, by Actor) (*Refusal, error) {
	robot, ok := Named(t.State(), KindRobot, l.Of("robot"))
	if !ok {
		return nil, fmt.Errorf("there is no robot %q", l.Of("robot"))
	}
	for {
		answer, open := NextAnswer(t.State(), RobotID(robot), SheetList(l.Of("list")), by.Person)
		if !open {
			return nil, nil
		}
		sheet := t.State().Sheets[answer.Sheet]
		at := l.At
		for _, line := range sheet.Lines {
			if line.ID == answer.Line {
				at = max(at, t.State().RestsAt(sheet.Robot, line))
			}
		}
		if refusal, err := t.give(at, by, answer); refusal != nil || err != nil {
			return refusal, err
		}
	}
}

// command is a line's command: what is usual, then what the line says.
func (t *Teller) command(l StoryLine) (Command, error) {
	fields, err := t.usual(l)
	if err != nil {
		return nil, err
	}
	types := typesOf(l.Do)
	for _, f := range l.With {
		if _, known := types[f.Key]; !known {
			if _, short := ofFix[f.Key]; short && l.Do == "job.add" {
				continue
			}
			return nil, fmt.Errorf("%s has no field %q", l.Do, f.Key)
		}
		if fields[f.Key], err = t.value(l.Do, f.Key, types[f.Key], f.Value); err != nil {
			return nil, err
		}
	}
	with, err := json.Marshal(fields)
	if err != nil {
		return nil, err
	}
	c, refusal := Decode(l.Do, with)
	if refusal != nil {
		return nil, fmt.Errorf("%s (%s)", refusal.Sentence, refusal.Field)
	}
	return c, nil
}

func typesOf(do string) map[string]string {
	types := map[string]string{}
	for _, c := range Commands() {
		if c.Do == do {
			for _, f := range c.Fields {
				types[f.Name] = f.Type
			}
		}
	}
	return types
}

// value turns what a story says into what the wire says.
func (t *Teller) value(do, key, kind, text string) (any, error) {
	if inner, list := strings.CutPrefix(kind, "list of "); list {
		values := []any{}
		if text == "" {
			return values, nil
		}
		for _, one := range strings.Split(text, ",") {
			v, err := t.value(do, key, inner, one)
			if err != nil {
				return nil, err
			}
			values = append(values, v)
		}
		return values, nil
	}
	switch kind {
	case "number":
		return amount(text)
	case "boolean":
		return text == "yes", nil
	case "time":
		return timeOfDay(text, t.Midnight)
	case "id":
		return t.named(do, key, text)
	}
	return text, nil
}

// amount is a number; one with a unit of time is in seconds: 20min.
func amount(text string) (float64, error) {
	if d, err := time.ParseDuration(strings.Replace(text, "min", "m", 1)); err == nil {
		return d.Seconds(), nil
	}
	return strconv.ParseFloat(text, 64)
}

// kindOf says what the fields hold that are not called as the kind they name.
var kindOf = map[string]Kind{
	"lead": KindPerson, "driver": KindPerson, "people": KindPerson, "acceptor": KindPerson, "attendant": KindPerson,
	"fits": KindRobot, "chargingPlaces": KindPlace, "after": KindFight, "damages": KindDamage,
}

func (t *Teller) named(do, key, name string) (string, error) {
	kind, other := kindOf[key]
	switch {
	case do == "job.add" && key == "after":
		kind = KindJob
	case !other:
		kind = Kind(key)
	}
	id, ok := Named(t.State(), kind, name)
	if !ok {
		return "", fmt.Errorf("there is no %s called %q", kind, name)
	}
	return id, nil
}
