// Package spreadsheet writes cells that a spreadsheet shows and does not run.
//
// A cell that begins with = + - @, a tab or a line end is a formula to one
// spreadsheet or another (OWASP, "CSV Injection"; CVE-2021-41270). Such a cell gets
// an apostrophe before it, which spreadsheets take for "this is text". A number may
// begin with its sign.
package spreadsheet

import (
	"bytes"
	"encoding/csv"
	"regexp"
	"strings"
)

var number = regexp.MustCompile(`^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?$`)

// IsNumber tells whether text is a number as every spreadsheet writes it, with a
// point.
func IsNumber(text string) bool { return number.MatchString(text) }

// Encode gives rows as CSV, each cell guarded, each row with CRLF at its end
// (RFC 4180).
func Encode(rows [][]string) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range rows {
		guarded := make([]string, len(row))
		for i, text := range row {
			guarded[i] = Guard(text)
		}
		if err := w.Write(guarded); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// Guard makes a cell of text that no spreadsheet takes for a formula. An apostrophe
// of the text's own is guarded too, so that Unguard gives back every text.
func Guard(text string) string {
	if text == "" || !strings.ContainsRune("=+-@\t\r\n'", rune(text[0])) || IsNumber(text) {
		return text
	}
	return "'" + text
}

// Unguard gives the text of a cell: without the one apostrophe before it.
func Unguard(cell string) string { return strings.TrimPrefix(cell, "'") }
