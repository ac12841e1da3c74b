package board

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// named is a noun that people tell from others of its kind by its name.
type named interface {
	Noun
	// called is the name, and among which of its kind no other may have it: "" for
	// all of them. One that is off the board keeps no name from another.
	called() (name, among string, inUse bool)
}

// names asks of each name that is new or back in use whether people can read all of
// it and tell it from the others. A name that stood on the board before the command
// is not asked again: a board of an earlier program goes on with the names it has.
func (t *turn) names() *Refusal {
	others := map[Kind]map[string]int{}
	for _, key := range sortedKeys(t.did) {
		name, among, inUse := t.s().called(key)
		old, oldAmong, wasInUse := t.before.called(key)
		if !inUse || wasInUse && name == old && among == oldAmong {
			continue
		}
		if bad := checkReadable("name", name); bad != nil {
			return bad
		}
		kind, _ := key.Split()
		if others[kind] == nil {
			others[kind] = t.s().inUse(kind)
		}
		if others[kind][among+"/"+folded(kind, name)] > 1 {
			return nameTaken(name)
		}
	}
	return nil
}

// called is what the noun at key is called; nothing is in use there without one.
func (s State) called(key Key) (name, among string, inUse bool) {
	n, ok := s.Get(key)
	if is, has := n.(named); ok && has {
		return is.called()
	}
	return "", "", false
}

// inUse counts the nouns of a kind by the names they are in use under.
func (s State) inUse(k Kind) map[string]int {
	row, _ := kindRow(k)
	count := map[string]int{}
	for _, n := range row.all(s) {
		if name, among, inUse := n.(named).called(); inUse {
			count[among+"/"+folded(k, name)]++
		}
	}
	return count
}

func nameTaken(name string) *Refusal {
	return &Refusal{Code: CodeTaken, Field: "name", Sentence: "The name " + name + " is in use already, or one that looks like it. Choose another."}
}

// Folded is what is left of a name when case, kinds of one letter, spaces and what
// nobody sees are taken away. Names with the same of it are the same name: a
// compatibility caseless match, The Unicode Standard, Version 15.0 (2022), 3.13, D146,
// which is to compare NFKC forms without case. Letters of two alphabets that look
// alike stay two letters.
func Folded(name string) string {
	text := norm.NFD.String(strings.Map(func(r rune) rune {
		if ignorable(r) || r == brailleBlank {
			return -1
		}
		return r
	}, name))
	fold := cases.Fold()
	for range 2 {
		text = norm.NFKD.String(fold.String(text))
	}
	return strings.Join(strings.Fields(text), " ")
}

// FoldedPerson is Folded for what a person is called, without spaces, punctuation and
// signs: nobody reads those out. What looks the same by hand is one, as in FoldedLabel, and
// 5 and S, and vv and w, too.
func FoldedPerson(name string) string {
	text := Folded(name)
	heard := strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsPunct(r) || r < 0x80 && unicode.IsSymbol(r) {
			return -1
		}
		return r
	}, text)
	if heard == "" {
		return text
	}
	return strings.ReplaceAll(strings.ReplaceAll(alikeByHand(heard), "5", "s"), "vv", "w")
}

// FoldedLabel is Folded for what is written on a pack or a robot by hand: O and 0 are one,
// and so are l, 1, I and |.
func FoldedLabel(name string) string { return alikeByHand(Folded(name)) }

func alikeByHand(text string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case '0':
			return 'o'
		case 'l', '1', '|':
			return 'i'
		}
		return r
	}, text)
}

func folded(k Kind, name string) string {
	switch k {
	case KindPerson:
		return FoldedPerson(name)
	case KindPack:
		return packNamed(name)
	case KindRobot:
		return FoldedLabel(name)
	}
	return Folded(name)
}

// brailleBlank shows nothing and is a symbol to Unicode.
const brailleBlank = '\u2800'

// checkReadable refuses a name with a character that nobody sees, which would tell two
// names apart that look the same, and a name with nothing in it to read.
func checkReadable(field, name string) *Refusal {
	if bad := checkSeen(field, "name", name); bad != nil {
		return bad
	}
	if !slices.ContainsFunc([]rune(name), func(r rune) bool { return unicode.In(r, unicode.L, unicode.N, unicode.P, unicode.S) }) {
		return badField(field, "The name holds nothing that people can read. Type one with letters or numbers.")
	}
	return nil
}

// checkSeen refuses a text with a character that nobody sees, and calls the text by what.
func checkSeen(field, what, text string) *Refusal {
	runes := []rune(text)
	for i, r := range runes {
		if r == brailleBlank || ignorable(r) && !shapes(r, runes[:i], runes[i+1:]) {
			return badField(field, "The %s holds a character that nobody can see (%U). Delete the %s and type it again by hand.", what, r, what)
		}
	}
	return nil
}

// ignorable tells whether a character shows nothing by itself: Unicode's
// Default_Ignorable_Code_Point, derived as DerivedCoreProperties-15.0.0.txt (2022) says.
func ignorable(r rune) bool {
	switch {
	case r < 0x80, unicode.Is(unicode.White_Space, r), unicode.Is(unicode.Prepended_Concatenation_Mark, r):
		return false
	case r >= 0xFFF9 && r <= 0xFFFB, r >= 0x13430 && r <= 0x13440: // annotations, and signs between hieroglyphs
		return false
	}
	return unicode.In(r, unicode.Cf, unicode.Variation_Selector, unicode.Other_Default_Ignorable_Code_Point)
}

// shapes tells whether an ignorable character changes how those beside it look, as
// people's names and pictures need it to: a joiner behind a virama (RFC 5892, 2010,
// A.1 and A.2), a non-joiner between Arabic letters, and what colours or joins
// pictures. It makes no name another: Folded leaves it out.
func shapes(r rune, before, after []rune) bool {
	if len(before) == 0 {
		return false
	}
	last := before[len(before)-1]
	switch r {
	case '\u200C', '\u200D':
		virama := norm.NFD.PropertiesString(string(last)).CCC() == 9
		arabic := r == '\u200C' && len(after) > 0 && unicode.Is(unicode.Arabic, last) && unicode.Is(unicode.Arabic, after[0])
		pictures := r == '\u200D' && len(after) > 0 && picture(last) && unicode.Is(unicode.So, after[0])
		return virama || arabic || pictures
	case '\uFE0E', '\uFE0F':
		return unicode.Is(unicode.So, last)
	}
	return false
}

// picture tells whether a character belongs to a picture as phones type them: the
// picture, the colour of its skin, or the mark that has it coloured.
func picture(r rune) bool {
	return unicode.Is(unicode.So, r) || r >= 0x1F3FB && r <= 0x1F3FF || r == '\uFE0F'
}
