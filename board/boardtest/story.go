package boardtest

import (
	"fmt"
	"slices"
	"strings"
	"time"

	. "mendline/board"
)

// StoryLine is one line of a story: at a time of day someone does something, or asks.
//
//	14:05 Ada job.add robot=Bramble name="Swap the rail" likely=20min bad=55min
type StoryLine struct {
	Text string
	At   Moment
	Who  string
	// Do is a command's name, or a word of the story's own: "walks" a list of a
	// robot line by line, "asks" what the forecast says, "hears" which alarms sound.
	Do string
	// With holds the fields as they are written, in order.
	With []Field
}

// Field is one field of a line: key=value.
type Field struct{ Key, Value string }

// Of is the value of a field, "" where it is not there.
func (l StoryLine) Of(key string) string {
	for _, f := range l.With {
		if f.Key == key {
			return f.Value
		}
	}
	return ""
}

// ReadLine reads a line of a story that happens on the day that begins at
// midnight. ok is false for what nobody does: a remark, an empty line, or an
// outcome, which is indented.
func ReadLine(text string, midnight Moment) (l StoryLine, ok bool, err error) {
	if text == "" || strings.HasPrefix(text, "#") || strings.HasPrefix(text, " ") {
		return StoryLine{}, false, nil
	}
	words := Words(text)
	if len(words) < 3 {
		return StoryLine{}, false, fmt.Errorf("story line %q: give a time, who, and what is done", text)
	}
	l = StoryLine{Text: text, Who: words[1], Do: words[2]}
	if l.At, err = timeOfDay(words[0], midnight); err != nil {
		return StoryLine{}, false, err
	}
	for _, w := range words[3:] {
		key, value, _ := strings.Cut(w, "=")
		l.With = append(l.With, Field{key, value})
	}
	return l, true, nil
}

func timeOfDay(text string, midnight Moment) (Moment, error) {
	at, err := time.Parse("15:04", text)
	if err != nil {
		return 0, fmt.Errorf("story: time of day: %w", err)
	}
	return midnight.Add(time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute), nil
}

// Words cuts at spaces outside of double quotes, which it takes away.
func Words(line string) []string {
	var words []string
	quoted := false
	word := ""
	for _, r := range line {
		switch {
		case r == '"':
			quoted = !quoted
		case r == ' ' && !quoted:
			if word != "" {
				words = append(words, word)
			}
			word = ""
		default:
			word += string(r)
		}
	}
	return append(words, word)
}

// Named finds a noun by the name people call it by: a fight by arena and number,
// a job and a damage by its number, a tag by its owner, all else by its name.
func Named(s State, kind Kind, name string) (id string, ok bool) {
	for _, n := range s.Nouns() {
		if k, id := n.Key().Split(); k == kind && called(s, n) == name {
			return id, true
		}
	}
	return "", false
}

func called(s State, n Noun) string {
	switch n := n.(type) {
	case Robot:
		return n.Name
	case Person:
		return n.Name
	case Place:
		return n.Name
	case Pack:
		return n.Name
	case Stock:
		return n.Name
	case Circuit:
		return n.Name
	case Channel:
		return n.Name
	case Fight:
		return fmt.Sprint(n.Arena, " ", n.Number)
	case Tag:
		return s.People[n.Person].Name
	case Job:
		return fmt.Sprint(n.Number)
	case Damage:
		return fmt.Sprint(n.Number)
	}
	return ""
}

// NewJobs says which jobs came to a board, by the number they are called by.
func NewJobs(before, after State) []string {
	var said []string
	for id, j := range after.Jobs {
		if _, had := before.Jobs[id]; !had {
			said = append(said, fmt.Sprintf("job %d: %s", j.Number, j.Name))
		}
	}
	slices.Sort(said)
	return said
}
