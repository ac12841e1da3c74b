package desk

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendline/board"
	"mendline/server/store"
)

const titlesMost = 12 // nouns named in one sentence

// doubted tells whether what people did last may be lost.
func doubted(o store.Opening) bool {
	return o.Behind > 0 || o.Head && o.Rebuilt == nil && o.Unclean
}

// Recovered says in sentences what was amiss with the board's file when it was opened, and
// what became of it; none where it was closed as it should be and is whole.
func Recovered(o store.Opening, s board.State) (said []string) {
	say := func(format string, args ...any) { said = append(said, fmt.Sprintf(format, args...)) }
	if o.Unclean {
		say("The board was not closed as it should be. Its file was copied and examined.")
	}
	switch {
	case o.Behind > 0:
		say("The board starts %s back: it was closed at revision %d and has %d.", count(o.Behind, "revision"), uint64(s.Rev)+o.Behind, s.Rev)
	case doubted(o):
		say("One of the two first pages of the board's file was broken. The board may start one change back: look whether the last one is on it.")
	case o.Head:
		say("One of the two first pages of the board's file was broken. It was mended, and no change is lost.")
	}
	if o.Rebuilt != nil {
		say("The board's file was damaged and was rebuilt. The damaged one is %s.", o.Kept)
		said = append(said, Salvaged(*o.Rebuilt, s)...)
	} else if n := len(o.Lost); n > 0 {
		say("%s of the journal %s lost before: what was done then is in no account.", count(uint64(n), "line"), wasWere(n))
	}
	return said
}

// Brief is Recovered in a few words that name nobody; bad where somebody should look.
func Brief(o store.Opening) (says string, bad bool) {
	var parts []string
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	if o.Behind > 0 {
		add("the board starts %s back", count(o.Behind, "revision"))
	} else if doubted(o) {
		add("the board may start one change back")
	}
	if r := o.Rebuilt; r != nil {
		add("its file was damaged and rebuilt")
		if len(r.Rebuilt) > 0 {
			add("%s from the journal", kindsOf(r.Rebuilt))
		}
		if r.Sessions {
			add("devices join again")
		}
	}
	if n := len(o.Lost); n > 0 {
		add("%s of the journal lost", count(uint64(n), "line"))
	}
	switch {
	case len(parts) > 0:
		return strings.Join(parts, ", "), true
	case o.Head:
		return "the file was mended", true
	case o.Unclean:
		return "not closed as it should be, found whole", false
	}
	return "file whole", false
}

// kindsOf counts nouns by their kind.
func kindsOf(keys []string) string {
	n := map[board.Kind]int{}
	for _, key := range keys {
		kind, _ := board.Key(key).Split()
		n[kind]++
	}
	var parts []string
	for _, kind := range slices.Sorted(maps.Keys(n)) {
		parts = append(parts, count(uint64(n[kind]), string(kind)))
	}
	return strings.Join(parts, ", ")
}

// Salvaged says what was brought out of a damaged file, and what was not.
func Salvaged(r store.Salvaged, s board.State) (said []string) {
	say := func(format string, args ...any) { said = append(said, fmt.Sprintf(format, args...)) }
	if len(r.Rebuilt) > 0 {
		say("Rebuilt from the journal, as they were: %s.", titles(s, r.Rebuilt))
	}
	if len(r.Doubtful) > 0 {
		say("As they once were, perhaps changed or taken away since: %s. Look at each.", titles(s, r.Doubtful))
	}
	if n := len(r.Lost); n > 0 {
		say("%s of the journal could not be read: revision %s. What was done then is in no account.", count(uint64(n), "line"), revisions(r.Lost))
	}
	if r.IDs {
		say("Some command ids are lost: a phone that sends such a command again is told so, and it is not done twice.")
	}
	if r.Sessions {
		say("Some devices were forgotten and join again.")
	}
	if r.Secrets {
		say("Some PINs or join codes are lost: whoever has none sets it again, and the codes may be others.")
	}
	return said
}

func titles(s board.State, keys []string) string {
	var list []string
	for i, key := range keys {
		if i == titlesMost {
			list = append(list, fmt.Sprintf("%d more", len(keys)-i))
			break
		}
		list = append(list, s.Title(board.Key(key)))
	}
	return strings.Join(list, ", ")
}

// revisions writes numbers in order as ranges: 3 to 5, 9.
func revisions(list []uint64) string {
	var parts []string
	for i := 0; i < len(list); {
		end := i
		for end+1 < len(list) && list[end+1] == list[end]+1 {
			end++
		}
		part := fmt.Sprint(list[i])
		if end > i {
			part += fmt.Sprintf(" to %d", list[end])
		}
		parts, i = append(parts, part), end+1
	}
	return strings.Join(parts, ", ")
}

func count(n uint64, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func wasWere(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}
