package board

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// nameMost is the longest name, textMost the longest free text, in runes.
const (
	nameMost = 80
	textMost = 2000
)

// checkName refuses a text that cannot be a name: empty, too long, with spaces
// at its ends, or with control characters or characters that turn the direction
// of writing.
func checkName(field, text string) *Refusal {
	if strings.TrimSpace(text) == "" {
		switch field {
		case "reason", "why":
			return badField(field, "Say why, in a few words.")
		case "name":
			return badField(field, "A name is missing. Type one.")
		}
		return badField(field, "Nothing is typed there. Type it.")
	}
	if text != strings.TrimSpace(text) {
		return badField(field, "The name begins or ends with a space. Take it off.")
	}
	return checkText(field, text, nameMost)
}

// checkNote refuses a text that is too long or holds characters that do not
// belong in one; it may be empty and may have line ends.
func checkNote(field, text string) *Refusal {
	return checkText(field, strings.ReplaceAll(text, "\n", " "), textMost)
}

// reasonLeast is how many letters or digits a reason has at the least: our decision.
const reasonLeast = 4

// checkReason refuses a text that gives nobody to read why: no words, or less than one.
// A letter of a script without small and capital ones counts twice: many words there are
// two characters long.
func checkReason(field, text string) *Refusal {
	if bad := checkName(field, text); bad != nil {
		return bad
	}
	if !readable(text) {
		return badField(field, "There is too little to read there. Say it in a few words.")
	}
	return nil
}

// readable tells whether there is enough in a text to say something.
func readable(text string) bool {
	letters := 0
	for _, r := range text {
		switch {
		case ignorable(r): // the Hangul fillers are letters to Unicode
		case unicode.Is(unicode.Lo, r):
			letters += 2
		case unicode.In(r, unicode.L, unicode.N):
			letters++
		}
	}
	return letters >= reasonLeast
}

// checkShort is checkName for a text that may be empty.
func checkShort(field, text string) *Refusal {
	if text == "" {
		return nil
	}
	return checkName(field, text)
}

func checkText(field, text string, most int) *Refusal {
	if !utf8.ValidString(text) {
		return badField(field, "The text is not valid UTF-8. Type it again.")
	}
	if utf8.RuneCountInString(text) > most {
		return badField(field, "The text is longer than %d characters. Shorten it.", most)
	}
	if i := strings.IndexFunc(text, unprintable); i >= 0 {
		return badField(field, "The text holds a control character or one that turns the writing direction. Take it out.")
	}
	return nil
}

func unprintable(r rune) bool {
	switch {
	case unicode.IsControl(r), r == '\uFEFF', r == '\u061C', r == '\u200E', r == '\u200F':
		return true
	case r >= '\u202A' && r <= '\u202E', r >= '\u2066' && r <= '\u2069', r == '\u2028', r == '\u2029':
		return true
	}
	return false
}

// checkRange refuses a number outside [low, high].
func checkRange[N int | float64 | Moment](field string, n, low, high N, unit string) *Refusal {
	if n >= low && n <= high {
		return nil
	}
	return badField(field, "%v %s is out of range. Enter %v to %v.", n, unit, low, high)
}

// oneOf refuses a word that is not in list.
func oneOf[W ~string](field string, w W, list ...W) *Refusal {
	words := make([]string, len(list))
	for i, l := range list {
		if w == l {
			return nil
		}
		words[i] = string(l)
	}
	return badField(field, "%q is not known here. Choose one of %s.", w, strings.Join(words, ", "))
}

// each applies check to every member of list.
func each[T any](list []T, check func(T) *Refusal) *Refusal {
	for _, x := range list {
		if bad := check(x); bad != nil {
			return bad
		}
	}
	return nil
}
