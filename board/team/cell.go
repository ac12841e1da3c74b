package team

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"mendline/board"
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
func (w *row) wrong(name, want string) {
	w.bad = true
	c := w.cells[name]
	line := c.line
	if line == 0 {
		line = w.line
	}
	w.reading.fault(RowError{File: w.layout.file, Line: line, Column: name, Number: c.number, Value: c.text, Want: want})
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
	n, err := strconv.ParseFloat(text, 64)
	if !spreadsheet.IsNumber(text) || err != nil || math.IsInf(n, 0) {
		w.wrong(name, "a number"+commaHint(text))
		return 0
	}
	return n
}

func commaHint(text string) string {
	if strings.Contains(text, ",") {
		return " with a point for the decimals and nothing between the thousands: " + strings.Replace(text, ",", ".", 1) + " or " + strings.ReplaceAll(text, ",", "")
	}
	return " such as 12 or 1.5, without its unit"
}

var (
	wholeNumber = regexp.MustCompile(`^[+-]?\d{1,9}$`)
	minuteText  = regexp.MustCompile(`^(\d{1,6})(?:\.(\d))?$`)
	secondText  = regexp.MustCompile(`^(\d{1,8}) ?s$`)
	moneyText   = regexp.MustCompile(`^(\d{1,7})(?:\.(\d{1,2}))?$`)
)

// whole is a column's whole number; 0 where it is blank and may be.
func (w *row) whole(name string) int {
	text := w.text(name)
	if text == "" {
		return 0
	}
	if !wholeNumber.MatchString(text) {
		want := "a whole number such as 12"
		if strings.Contains(text, ",") {
			want += ", with nothing between the thousands"
		}
		w.wrong(name, want)
	}
	return atoi(text)
}

// minutes is a column of minutes, with one decimal at most, in seconds. Seconds
// are taken too, as "605 s".
func (w *row) minutes(name string) int {
	text := w.text(name)
	if text == "" {
		return 0
	}
	if m := minuteText.FindStringSubmatch(text); m != nil {
		return 60*atoi(m[1]) + 6*atoi(m[2])
	}
	if m := secondText.FindStringSubmatch(text); m != nil {
		return atoi(m[1])
	}
	want := `minutes such as 12 or 7.5, one decimal at most, or seconds such as "45 s"`
	if strings.Contains(text, ",") {
		want = "minutes with a point for the decimals, such as " + strings.Replace(text, ",", ".", 1)
	}
	w.wrong(name, want)
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
	m := moneyText.FindStringSubmatch(text)
	if m == nil {
		want := "an amount such as 24.90, without a currency"
		if strings.Contains(text, ",") {
			want = "an amount with a point for the decimals and nothing between the thousands, such as 24.90"
		}
		w.wrong(name, want)
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
	case "yes", "true":
		return true
	case "", "no", "false":
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
	w.wrong(name, "one of "+strings.Join(known, ", ")+didYouMean(text, known))
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

// clock is a column of a date and time of day at the event, offsetMin minutes
// east of UTC.
func (w *row) clock(name string, offsetMin int) board.Moment {
	text := w.text(name)
	if text == "" {
		return 0
	}
	m, ok := parseClock(text, offsetMin)
	if !ok {
		w.wrong(name, clockWant)
	}
	return m
}

const clockWant = "a date and time at the event such as 2026-05-09 14:30"

var clockForms = []string{"2006-01-02 15:04", "2006-01-02 15:04:05", "2006-01-02 15:04:05.000"}

func parseClock(text string, offsetMin int) (board.Moment, bool) {
	zone := time.FixedZone("event", 60*offsetMin)
	for _, form := range clockForms {
		if t, err := time.ParseInLocation(form, text, zone); err == nil && t.UTC().Year() >= 2000 && t.UTC().Year() < 2200 {
			return board.MomentOf(t), true
		}
	}
	return 0, false
}

func clockText(m board.Moment, offsetMin int) string {
	if m == 0 {
		return ""
	}
	form := clockForms[0]
	switch {
	case m%1000 != 0:
		form = clockForms[2]
	case m%60000 != 0:
		form = clockForms[1]
	}
	return m.Time().In(time.FixedZone("event", 60*offsetMin)).Format(form)
}
