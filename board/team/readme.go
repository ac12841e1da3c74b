package team

import (
	"fmt"
	"strings"

	"mendline/board/spreadsheet"
)

// ReadMe says what each file and column of a folder is.
const ReadMe = "README.txt"

// mark stands before every file: without it one spreadsheet takes UTF-8 for
// something else.
const mark = "\uFEFF"

// Blank gives the files of a team that holds nothing yet: their first lines, the names
// of the event's settings, and what they all mean.
func Blank() (map[string][]byte, error) {
	written := map[string][]byte{}
	for _, f := range files {
		rows := [][]string{f.names()}
		if f.layout == eventFile {
			for _, s := range settings() {
				rows = append(rows, []string{s.name, ""})
			}
		}
		if err := enter(written, f.file, rows); err != nil {
			return nil, err
		}
	}
	written[ReadMe] = ReadMeText()
	return written, nil
}

func enter(written map[string][]byte, file string, rows [][]string) error {
	data, err := spreadsheet.Encode(rows)
	if err != nil {
		return fmt.Errorf("write team: %s: %w", file, err)
	}
	written[file] = append([]byte(mark), data...)
	return nil
}

const readMeHead = `A TEAM FOLDER

One table a file, which any spreadsheet opens and writes: save as "CSV UTF-8". The
first line names the columns; their order does not matter, and a column or file that
you don't need may be left out. Robots and people need their names alone.

Commas or semicolons between cells, and points or commas before decimals, are both
read. What may be read in two ways is asked. A semicolon stands between several things
in one cell; one inside a name has a backslash before it. "=" or "-" at the start of a
text has an apostrophe before it, so that no spreadsheet takes it for a formula.

Dates and times are the event's: 2026-05-09 14:30. Minutes may have one decimal, or be
seconds: 45 s. Money is in the event's currency, without its sign.

A folder is loaded into a board without robots, packs, jobs and fights. Robots come in
with their power unknown, packs unread or set aside.
`

// ReadMeText is written from the tables of columns.
func ReadMeText() []byte {
	var b strings.Builder
	b.WriteString(readMeHead)
	for _, f := range files {
		fmt.Fprintf(&b, "\n\n%s: %s\n", f.file, f.about)
		if f.layout == eventFile {
			for _, s := range settings() {
				entryOf(&b, s.name, s.name == "name", s.means, s.kind, s.like)
			}
			continue
		}
		for _, c := range f.heads {
			entryOf(&b, c.name, c.need, c.means, c.kind, c.like)
		}
	}
	return []byte(mark + strings.ReplaceAll(b.String(), "\n", "\r\n"))
}

func entryOf(b *strings.Builder, name string, need bool, means, kind, like string) {
	needed := ""
	if need {
		needed = " (needed)"
	}
	fmt.Fprintf(b, "\n  %s%s: %s.\n      %s. Example: %s\n", name, needed, means, kind, like)
}
