package spreadsheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/spreadsheet"
)

// The characters are those that OWASP names for CSV injection (www-community
// issue 1116) and of CVE-2021-41270.
func TestNoCellIsAFormula(t *testing.T) {
	for text, cell := range map[string]string{
		"=1+2":         "'=1+2",
		"+cmd":         "'+cmd",
		"-cmd":         "'-cmd",
		"@SUM(A1)":     "'@SUM(A1)",
		"\t=1":         "'\t=1",
		"\r=1":         "'\r=1",
		"\n=1":         "'\n=1",
		"=":            "'=",
		"-":            "'-",
		"-5 bolts":     "'-5 bolts",
		"-5+cmd|' /C'": "'-5+cmd|' /C'",
		"+1e9999":      "'+1e9999",
		"'quoted":      "''quoted",
		"''twice":      "'''twice",
		"-5":           "-5",
		"+1.5e3":       "+1.5e3",
		"a=1":          "a=1",
		"−5":           "−5",
		"":             "",
	} {
		require.Equal(t, cell, spreadsheet.Guard(text), "%q", text)
	}
}

func FuzzAGuardedCellIsNoFormulaAndGivesItsTextBack(f *testing.F) {
	f.Add("=1+2")
	f.Add("'=")
	f.Add("-5")
	f.Fuzz(func(t *testing.T, text string) {
		cell := spreadsheet.Guard(text)
		require.Equal(t, text, spreadsheet.Unguard(cell))
		if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
			require.True(t, spreadsheet.IsNumber(cell), "%q", cell)
		}
	})
}
