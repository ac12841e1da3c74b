package team

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"mendline/board/spreadsheet"
)

// text is what stands in a column, without the blanks around it; a column that
// must not be blank is refused when it is.
func (w *row) text(name string) string {
	text := w.said(name)
	if text == "" && w.layout.head(name).need {
		w.wrong(name, "something; the cell is empty")
	}
	return text
}

// said is what stands in a column, blank or not.
func (w *row) said(name string) string {
	return spreadsheet.Unguard(strings.TrimSpace(w.cells[name].text))
}

// raw is what stands in a column with the blanks around it.
func (w *row) raw(name string) string { return spreadsheet.Unguard(w.cells[name].text) }

// wrong reports the cell in a column.
func (w *row) wrong(name, want string) { w.wrongBut(name, want, "") }

// wrongBut adds what is said of this cell's text alone.
func (w *row) wrongBut(name, want, hint string) {
	w.fault(RowError{Column: name, Want: want}, hint)
}

func (w *row) fault(e RowError, hint string) {
	w.bad = true
	c := w.cells[e.Column]
	line := c.line
	if line == 0 {
		line = w.line
	}
	e.File, e.Line, e.Number, e.Value = w.layout.file, line, c.number, c.text
	w.reading.errs = append(w.reading.errs, fault{e, hint})
}

func (l *layout) head(name string) head {
	i := slices.IndexFunc(l.heads, func(h head) bool { return h.name == name })
	return l.heads[i]
}

// number is a column's figure; 0 where it is blank and may be.
func (w *row) number(name string) float64 {
	text := w.text(name)
	if text == "" {
		return 0
	}
	plain, sure := w.plainNumber(text)
	n, err := strconv.ParseFloat(plain, 64)
	if !sure || !spreadsheet.IsNumber(plain) || err != nil || math.IsInf(n, 0) {
		w.wrongBut(name, "a number such as 12 or 1.5, without its unit", inDoubt(text, sure))
		return 0
	}
	return n
}

var (
	wholeNumber = regexp.MustCompile(`^([+-]?\d{1,9})(?:\.0{1,6})?$`)
	minuteText  = regexp.MustCompile(`^(\d{1,6})(?:\.(\d)0{0,5})?$`)
	secondText  = regexp.MustCompile(`^(\d{1,8}) ?s$`)
	moneyText   = regexp.MustCompile(`^(\d{1,7})(?:\.(\d{1,2})0{0,4})?$`)
)

// whole is a column's whole number; 0 where it is blank and may be.
func (w *row) whole(name string) int {
	text := w.text(name)
	if text == "" {
		return 0
	}
	plain, sure := w.plainNumber(text)
	m := wholeNumber.FindStringSubmatch(plain)
	if !sure || m == nil {
		w.wrongBut(name, "a whole number such as 12", inDoubt(text, sure))
		return 0
	}
	return atoi(m[1])
}

// minutes is a column of minutes, with one decimal at most, in seconds. Seconds
// are taken too, as "605 s".
func (w *row) minutes(name string) int {
	text := w.text(name)
	if text == "" {
		return 0
	}
	plain, sure := w.plainNumber(text)
	if m := minuteText.FindStringSubmatch(plain); m != nil && sure {
		return 60*atoi(m[1]) + 6*atoi(m[2])
	}
	if m := secondText.FindStringSubmatch(text); m != nil {
		return atoi(m[1])
	}
	w.wrongBut(name, `minutes such as 12 or 7.5, one decimal at most, or seconds such as "45 s"`, inDoubt(text, sure))
	return 0
}

// minutesText writes seconds as minutes where one decimal is enough for them.
func minutesText(sec int) string {
	switch {
	case sec%60 == 0:
		return strconv.Itoa(sec / 60)
	case sec%6 == 0:
		return strconv.Itoa(sec/60) + "." + strconv.Itoa(sec%60/6)
	}
	return strconv.Itoa(sec) + " s"
}

// money is a column of an amount of money, in hundredths.
func (w *row) money(name string) int {
	text := w.text(name)
	if text == "" {
		return 0
	}
	plain, sure := w.plainNumber(strings.TrimSpace(strings.Trim(text, "$€£")))
	m := moneyText.FindStringSubmatch(plain)
	if m == nil || !sure {
		w.wrongBut(name, "an amount such as 24.90, without a currency", inDoubt(text, sure))
		return 0
	}
	return 100*atoi(m[1]) + atoi((m[2] + "00")[:2])
}

func moneyTextOf(cents int) string {
	return strconv.Itoa(cents/100) + "." + strconv.Itoa(cents%100/10) + strconv.Itoa(cents%10)
}

// atoi reads digits that a pattern has checked; "" is 0.
func atoi(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

func numberText(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) }

// yes is a column of yes or no; blank is no.
func (w *row) yes(name string) bool {
	switch strings.ToLower(w.text(name)) {
	case "yes", "y", "true":
		return true
	case "", "no", "n", "false":
		return false
	}
	w.wrong(name, "yes or no")
	return false
}

func yesText(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// word is a column that takes one word of a list; "" where it is blank and may be.
func word[W ~string](w *row, name string, list []W) W {
	text := w.text(name)
	if text == "" {
		return ""
	}
	return wordOf(w, name, text, list)
}

// words is a column that takes some words of a list.
func words[W ~string](w *row, name string, list []W) []W {
	var all []W
	for _, text := range w.list(name) {
		all = append(all, wordOf(w, name, text, list))
	}
	return all
}

func wordOf[W ~string](w *row, name, text string, list []W) W {
	known := make([]string, len(list))
	for i, l := range list {
		if strings.EqualFold(text, string(l)) {
			return l
		}
		known[i] = string(l)
	}
	w.wrongBut(name, "one of "+strings.Join(known, ", "), didYouMean(text, known))
	return ""
}

// list is a column's members.
func (w *row) list(name string) []string { return listOf(w.text(name)) }

// listOf splits a text at its semicolons. A semicolon or a backslash inside a
// member has a backslash before it.
func listOf(text string) []string {
	var all []string
	var one strings.Builder
	flush := func() {
		if text := strings.TrimSpace(one.String()); text != "" {
			all = append(all, text)
		}
		one.Reset()
	}
	escaped := false
	for _, r := range text {
		switch {
		case !escaped && r == '\\':
			escaped = true
			continue
		case !escaped && r == ';':
			flush()
		default:
			one.WriteRune(r)
		}
		escaped = false
	}
	flush()
	return all
}

// listText writes members as list reads them.
func listText[T ~string](all []T) string {
	parts := make([]string, len(all))
	for i, one := range all {
		parts[i] = strings.NewReplacer(`\`, `\\`, `;`, `\;`).Replace(string(one))
	}
	return strings.Join(parts, "; ")
}
