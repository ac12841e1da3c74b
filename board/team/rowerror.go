package team

import (
	"fmt"
	"strings"
)

// RowError is one thing that is wrong with a team folder.
type RowError struct {
	// File is the file's name, "" for the folder as a whole.
	File string `json:"file"`
	// Line counts from 1; 0 stands for the whole file.
	Line int `json:"line,omitzero"`
	// Column is the column's name and Number its place, from 1; "" and 0 stand
	// for the whole row.
	Column string `json:"column,omitzero"`
	Number int    `json:"number,omitzero"`
	// Value is what stands there.
	Value string `json:"value,omitzero"`
	// Want says what would be right.
	Want string `json:"want"`
}

// Error is the fault as one line: where, what stands there, what would be right.
func (e RowError) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, " line %d", e.Line)
	}
	if e.Column != "" {
		fmt.Fprintf(&b, ", column %q", e.Column)
	}
	if e.Number > 0 {
		fmt.Fprintf(&b, " (column %d)", e.Number)
	}
	if e.Value != "" {
		fmt.Fprintf(&b, ", %q", shorten(e.Value))
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	return b.String() + e.Want
}

// valueMost is how many runes of a cell an error shows.
const valueMost = 60

func shorten(text string) string {
	if r := []rune(text); len(r) > valueMost {
		return string(r[:valueMost]) + "…"
	}
	return text
}
