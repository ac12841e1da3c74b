package board

import (
	"cmp"
	"iter"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// Sorted is a table's nouns in the order of key and then of id, so that nothing
// depends on the order of a map.
func Sorted[ID ~string, N any](table map[ID]N, key func(N) string) []N {
	type place struct {
		key string
		id  ID
	}
	order := make([]place, 0, len(table))
	for id, n := range table {
		order = append(order, place{key(n), id})
	}
	slices.SortFunc(order, func(a, b place) int { return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.id, b.id)) })
	list := make([]N, len(order))
	for i, at := range order {
		list[i] = table[at.id]
	}
	return list
}

// SortedOf is Sorted of the nouns of a table that are so: the others are not copied.
func SortedOf[ID ~string, N any](table map[ID]N, is func(N) bool, key func(N) string) []N {
	some := map[ID]N{}
	for id, n := range table {
		if is(n) {
			some[id] = n
		}
	}
	return Sorted(some, key)
}

// inOrder goes through a table by id: of two nouns that could be named, the same one
// is named each time, and sums round the same way.
func inOrder[ID ~string, N any](table map[ID]N) iter.Seq2[ID, N] {
	return func(yield func(ID, N) bool) {
		for _, id := range slices.Sorted(maps.Keys(table)) {
			if !yield(id, table[id]) {
				return
			}
		}
	}
}

// listNames joins names as a sentence does: "Ada, Ben and Dee".
func listNames(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

func itoa(n int) string { return strconv.Itoa(n) }

// atoi reads a number that this package wrote.
func atoi(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		panic("board: no number: " + text)
	}
	return n
}

// listOr joins words as a choice does: "verified or work".
func listOr(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// spaced joins sentences that are there.
func spaced(sentences ...string) string {
	return strings.Join(slices.DeleteFunc(sentences, func(text string) bool { return text == "" }), " ")
}

// isAre begins a sentence about some people: "Ada is", "Ada and Ben are".
func isAre(names []string) string {
	if len(names) == 1 {
		return names[0] + " is"
	}
	return listNames(names) + " are"
}

func sortedNames[V any](set map[string]V) []string {
	names := make([]string, 0, len(set))
	for n := range set {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}
