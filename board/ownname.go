package board

import (
	"slices"
	"strings"
	"unicode"
)

// What a person is called is theirs alone: nobody is everyone, and a name stays whose it
// is while something stands in it.

// many are words for several people; beside them stand words that make nobody of them.
var (
	many  = []string{"team", "teams", "crew", "crews", "everyone", "everybody", "anyone", "anybody", "someone", "somebody", "noone", "nobody", "all", "us", "we", "group", "staff", "members", "people", "shared"}
	aside = []string{"the", "our", "a", "an", "of", "whole", "pit", "robot", "no", "one", "member", "login", "account", "phone", "you", "them"}
)

// ofMany tells whether a name says several people, or nobody.
func ofMany(name string) bool {
	words := strings.FieldsFunc(Folded(name), func(r rune) bool { return !unicode.IsLetter(r) })
	rest := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return slices.Contains(many, w) })
	return len(rest) < len(words) && !slices.ContainsFunc(rest, func(w string) bool { return !slices.Contains(aside, w) })
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

// rule5Names gives nobody a name for several people, and nobody another name while
// something stands in theirs, nor theirs to someone else.
func rule5Names(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindPerson {
			continue
		}
		is, was := t.s().People[PersonID(id)], t.before.People[PersonID(id)]
		if is.ID == "" || is.Retired || Folded(is.Name) == Folded(was.Name) {
			continue
		}
		if ofMany(is.Name) {
			return &Refusal{Code: CodeSafety, Rule: 5, Field: "name", Sentence: is.Name + " is nobody in particular. Type a person's own name."}
		}
		if stands := t.before.standsIn(was); was.ID != "" && stands != "" {
			return breaks(5, "%s: the name stays while that stands. First off, or read; then the other name.", stands)
		}
		for _, other := range inOrder(t.s().People) {
			if stands := t.s().standsIn(other); other.ID != is.ID && other.Retired && Folded(other.Name) == Folded(is.Name) && stands != "" {
				return breaks(5, "%s, and is off the roster. Enter them again, or choose another name.", stands)
			}
		}
	}
	return nil
}
