package team

import (
	"fmt"
	"slices"
	"strconv"
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
	// More are the lines on which the same is wrong in the same column.
	More []int `json:"more,omitempty"`
	// Ask is the setting of the event that would settle it, "" where none would.
	Ask string `json:"ask,omitzero"`
}

// fault is a RowError with what is said of its cell alone.
type fault struct {
	RowError
	hint string
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
	b.WriteString(e.Want)
	if len(e.More) > 0 {
		b.WriteString("; so too on line " + runs(e.More))
	}
	return b.String()
}

// runs writes lines as "3 to 9, 12".
func runs(lines []int) string {
	var all []string
	for i := 0; i < len(lines); {
		k := i
		for k+1 < len(lines) && lines[k+1] == lines[k]+1 {
			k++
		}
		text := strconv.Itoa(lines[i])
		if k > i {
			text += " to " + strconv.Itoa(lines[k])
		}
		all = append(all, text)
		i = k + 1
	}
	return strings.Join(all, ", ")
}

// gathered makes one fault of those that are the same in one column: of the same
// text, or of three and more. A cell by itself has what is said of it alone.
func gathered(errs []fault) []RowError {
	type place struct{ file, column, want string }
	at := map[place][]fault{}
	for _, e := range errs {
		here := place{e.File, e.Column, e.Want}
		at[here] = append(at[here], e)
	}
	done := map[place]bool{}
	var all []RowError
	for _, e := range errs {
		here := place{e.File, e.Column, e.Want}
		same := at[here]
		apart := func(o fault) bool { return o.Value != e.Value }
		switch differ := slices.ContainsFunc(same, apart); {
		case e.Column == "" || differ && len(same) < gatherLeast:
		case done[here]:
			continue
		default:
			done[here] = true
			for _, o := range same[1:] {
				if o.Line != e.Line && !slices.Contains(e.More, o.Line) {
					e.More = append(e.More, o.Line)
				}
			}
			if differ {
				e.hint = ""
			}
		}
		e.Want += e.hint
		all = append(all, e.RowError)
	}
	return all
}

// gatherLeast is how many cells of one column are wrong at least for the column to be so.
const gatherLeast = 3

// valueMost is how many runes of a cell an error shows.
const valueMost = 60

func shorten(text string) string {
	if r := []rune(text); len(r) > valueMost {
		return string(r[:valueMost]) + "…"
	}
	return text
}
