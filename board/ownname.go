package board

import (
	"slices"
	"strings"
	"unicode"
)

// What a person is called is theirs alone: nobody is everyone, and a name stays whose it
// is while something stands in it.

// nobodys are words that no name of one person holds: several people, or a device that
// goes from hand to hand. few make nobody of a name that holds nothing else but them.
var (
	nobodys = []string{
		"team", "teams", "crew", "crews", "everyone", "everybody", "anyone", "anybody", "someone", "somebody", "noone", "nobody",
		"phone", "phones", "smartphone", "telephone", "tablet", "tablets", "laptop", "laptops", "computer", "device", "handset", "login", "account",
		"mobile", "mobiles", "screen", "screens", "monitor", "monitors", "kiosk", "pc", "browser",
	}
	few = []string{
		"the", "our", "your", "my", "a", "an", "of", "and", "new", "whole", "pit", "pits", "event", "board", "bench", "no", "one", "member", "you", "them", "me",
		"all", "both", "either", "two", "us", "we", "group", "staff", "members", "people", "shared", "user",
		"captain", "lead", "safety", "signer", "guest", "visitor", "driver", "minor", "official", "neighbour", "neighbor", "marshal", "steward",
	}
)

// nobodyIn tells whether a name is nobody's: it says several people, a device or only what
// someone does, or holds no letter and no picture.
func nobodyIn(name string) bool {
	words := strings.FieldsFunc(Folded(name), func(r rune) bool { return !unicode.In(r, unicode.L, unicode.M, unicode.So) })
	only := func(w string) bool { return slices.Contains(few, w) }
	given := slices.Contains([]string{"a", "an", "my", "no", "pit"}, Folded(name))
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(nobodys, w) }) ||
		!given && !slices.ContainsFunc(words, func(w string) bool { return !only(w) })
}

// severalIn tells whether a person's name is that of several. A sign or an "and" between
// two is enough; a comma or an "or" may be part of a name, and counts between the names of
// others on the roster.
func (s State) severalIn(is Person) bool {
	apart := func(by ...string) []string {
		name := Folded(is.Name)
		for _, other := range by[1:] {
			name = strings.ReplaceAll(name, other, by[0])
		}
		return slices.DeleteFunc(strings.Split(name, by[0]), func(piece string) bool { return !strings.ContainsFunc(piece, unicode.IsLetter) })
	}
	others := 0
	for _, piece := range apart(",", " or ") {
		if s.othersName(is, strings.TrimSpace(piece)) {
			others++
		}
	}
	return others > 1 || len(apart("&", "+", "/", "|", " and ")) > 1
}

// othersName tells whether someone else on the roster has a name, or has it as their first.
func (s State) othersName(is Person, folded string) bool {
	for _, other := range s.People {
		if name := Folded(other.Name); other.ID != is.ID && !other.Retired && (name == folded || strings.HasPrefix(name, folded+" ")) {
			return true
		}
	}
	return false
}

// thingCalled says what of the team's has a name: a robot, a place, a station or the event
// itself; "" for none.
func (s State) thingCalled(name string) string {
	name = Folded(name)
	for _, robot := range s.Robots {
		if !robot.Retired && Folded(robot.Name) == name {
			return "a robot"
		}
	}
	for _, place := range s.Places {
		if !place.Retired && Folded(place.Name) == name {
			return "a place"
		}
	}
	for _, station := range s.Stations {
		if !station.Retired && Folded(station.Name) == name {
			return "a station"
		}
	}
	if Folded(s.Event().Name) == name {
		return "the event"
	}
	return ""
}

// standsIn says what stands on a robot in a person's name, or waits for them; "" for
// nothing.
func (s State) standsIn(person Person) string {
	for _, tag := range inOrder(s.Tags) {
		if tag.Person == person.ID {
			return person.Name + "'s tag is on " + s.Robots[tag.Robot].Name
		}
	}
	for _, hands := range inOrder(s.Hands) {
		if hands.Person == person.ID {
			return person.Name + "'s hands are near " + s.Robots[hands.Robot].Name
		}
	}
	if notice, due := s.noticeDue(person.ID); due {
		return person.Name + " has a notice to read about " + s.Robots[notice.Robot].Name
	}
	return ""
}

// unfit says why somebody's name is none of a person's; "" where it is.
func (s State) unfit(is Person) string {
	switch {
	case nobodyIn(is.Name):
		return " is nobody in particular. Type a person's own name."
	case s.severalIn(is):
		return " is more than one name. Each person is entered alone: type one person's own name."
	}
	if what := s.thingCalled(is.Name); what != "" {
		return " is " + what + " here. Type a person's own name."
	}
	return ""
}

// rule5Names gives nobody a name for several people or a thing's, and nobody another name while
// something stands in theirs, nor theirs to someone else.
func rule5Names(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindPerson {
			continue
		}
		is, was := t.s().People[PersonID(id)], t.before.People[PersonID(id)]
		same := FoldedPerson(is.Name) == FoldedPerson(was.Name)
		if is.ID == "" || is.Retired || same && !was.Retired {
			continue
		}
		if unfit := t.s().unfit(is); unfit != "" {
			return &Refusal{Code: CodeSafety, Rule: 5, Field: "name", Sentence: is.Name + unfit}
		}
		if stands := t.before.standsIn(was); was.ID != "" && !same && stands != "" {
			return breaks(5, "%s: the name stays while that stands. First off, or read; then the other name.", stands)
		}
		for _, other := range inOrder(t.s().People) {
			if stands := t.s().standsIn(other); other.ID != is.ID && other.Retired && FoldedPerson(other.Name) == FoldedPerson(is.Name) && stands != "" {
				return breaks(5, "%s, and is off the roster. Enter them again, or choose another name.", stands)
			}
		}
	}
	return nil
}
