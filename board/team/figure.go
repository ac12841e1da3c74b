package team

import (
	"regexp"
	"strings"
)

var (
	commaGroups = regexp.MustCompile(`^[+-]?\d{1,3}(,\d{3})+(\.\d+)?$`)
	pointGroups = regexp.MustCompile(`^[+-]?\d{1,3}(\.\d{3})+(,\d+)?$`)
	blankGroups = regexp.MustCompile(`^[+-]?\d{1,3}( \d{3})+([.,]\d+)?$`)
	commaDecs   = regexp.MustCompile(`^[+-]?\d*,\d*$`)
	// eitherWay is 1.25 to one spreadsheet and 1250 to another.
	eitherWay = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}[.,]\d{3}$`)
)

// plainNumber writes a number as one with a point for its decimals and nothing
// between its thousands, however a spreadsheet wrote it; it is not sure of one that
// two spreadsheets would read differently. Semicolons stand between cells where
// commas stand before decimals.
func (w *row) plainNumber(text string) (plain string, sure bool) {
	text = strings.NewReplacer("−", "-", "\u00a0", " ", "\u202f", " ", "\u2009", " ").Replace(text)
	if blankGroups.MatchString(text) {
		text = strings.ReplaceAll(text, " ", "")
	}
	oneComma := strings.Count(text, ",") == 1 && !strings.Contains(text, ".")
	switch {
	case eitherWay.MatchString(text) && oneComma != w.decimalComma:
		return text, false
	case oneComma && commaDecs.MatchString(text):
		return strings.Replace(text, ",", ".", 1), true
	case commaGroups.MatchString(text):
		return strings.ReplaceAll(text, ",", ""), true
	case pointGroups.MatchString(text) && (strings.Contains(text, ",") || strings.Count(text, ".") > 1):
		return strings.Replace(strings.ReplaceAll(text, ".", ""), ",", ".", 1), true
	}
	return text, true
}

// inDoubt says how to write what plainNumber is not sure of.
func inDoubt(text string, sure bool) string {
	if sure {
		return ""
	}
	plain := strings.Replace(text, ",", ".", 1)
	return "; this may be " + strings.Replace(plain, ".", "", 1) + " or " + strings.TrimRight(strings.TrimRight(plain, "0"), ".") + ": write it so"
}
