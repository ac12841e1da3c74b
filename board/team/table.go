package team

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// layout is one file of the folder: its name and the heads of its columns in the
// order in which they are written. What stands in a column that is gone is passed over.
type layout struct {
	file  string
	also  string // another name that people give it
	most  int    // rows
	heads []head
	gone  []string
}

// head is the first line's part of a column. Its cells must not be blank where need is set;
// field is the wire name under which the board refuses what stands there; was is
// the name that folders of an earlier program have above it.
type head struct {
	name  string
	need  bool
	field string
	was   string
	why   string // it has another name now
	kind  string // what stands in its cells
	means string
	like  string // an example
}

// Limits of a file. A team of ten has files of some ten kilobytes.
const (
	FileMost = 1 << 20
	rowsMost = 2000
	crewMost = 300 // each is compared by ear with all others
)

// row is one record under its header.
type row struct {
	reading *reading
	layout  *layout
	line    int
	cells   map[string]cell
	// decimalComma tells that semicolons stand between its cells.
	decimalComma bool
	bad          bool
}

type cell struct {
	text   string
	line   int
	number int
}

// rows reads a file; a file that is not there has no rows.
func (d *reading) rows(l *layout) []*row {
	text, ok := d.text(l.file)
	if !ok {
		return nil
	}
	text = separatorLine.ReplaceAllString(text, "\n")
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = separator(text)
	r.FieldsPerRecord = -1
	header, err := r.Read()
	if err != nil {
		d.unreadable(l.file, err)
		return nil
	}
	columns, ok := d.header(l, r, header)
	if !ok {
		return nil
	}
	return d.records(l, r, columns)
}

// separatorLine is what one spreadsheet writes above the header.
var separatorLine = regexp.MustCompile(`^(?i:"?sep=[;,\t]"?)\n`)

func (d *reading) records(l *layout, r *csv.Reader, columns []string) []*row {
	var all []*row
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			d.unreadable(l.file, err)
			return all
		}
		if blank(record) {
			continue
		}
		if len(all) == l.most {
			d.fault(RowError{File: l.file, Want: fmt.Sprintf("a file of at most %d rows", l.most)})
			return all
		}
		all = append(all, d.record(l, r, columns, record))
	}
}

func (d *reading) record(l *layout, r *csv.Reader, columns, record []string) *row {
	line, _ := r.FieldPos(0)
	w := &row{reading: d, layout: l, line: line, cells: map[string]cell{}, decimalComma: r.Comma == ';'}
	for i, text := range record {
		at, _ := r.FieldPos(i)
		if i < len(columns) && columns[i] != "" {
			w.cells[columns[i]] = cell{text: text, line: at, number: i + 1}
			continue
		}
		if strings.TrimSpace(text) != "" {
			w.bad = true
			d.fault(RowError{File: l.file, Line: at, Number: i + 1, Value: text, Want: "nothing, as no column is named above it; give the column a name, or look for a missing quote"})
		}
	}
	return w
}

// text gives a file as UTF-8 with LF at line ends.
func (d *reading) text(file string) (string, bool) {
	data, there := d.tables[file]
	if !there {
		return "", false
	}
	if len(data) > FileMost {
		d.fault(RowError{File: file, Want: fmt.Sprintf("a file of at most %d bytes", FileMost)})
		return "", false
	}
	return d.decode(file, data)
}

const saveAs = `save it again as "CSV UTF-8"`

func (d *reading) decode(file string, data []byte) (string, bool) {
	if bytes.HasPrefix(data, []byte{0xFF, 0xFE}) || bytes.HasPrefix(data, []byte{0xFE, 0xFF}) || bytes.IndexByte(data, 0) >= 0 {
		d.fault(RowError{File: file, Line: 1, Want: "UTF-8 text; this is UTF-16 or no text at all: " + saveAs})
		return "", false
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	text := strings.ReplaceAll(strings.ReplaceAll(string(data), "\r\n", "\n"), "\r", "\n")
	if !utf8.ValidString(text) {
		d.fault(RowError{File: file, Line: badLine(text), Want: "UTF-8 text; a character here is in another encoding: " + saveAs})
		return "", false
	}
	return text, true
}

func badLine(text string) int {
	line := 1
	for i, r := range text {
		if _, size := utf8.DecodeRuneInString(text[i:]); r == utf8.RuneError && size == 1 {
			break
		}
		if r == '\n' {
			line++
		}
	}
	return line
}

// separator is what stands most often between the header's cells: a comma, a
// semicolon or a tab.
func separator(text string) rune {
	header, _, _ := strings.Cut(strings.TrimLeft(text, "\n"), "\n")
	best, most := ',', strings.Count(header, ",")
	for _, c := range []rune{';', '\t'} {
		if n := strings.Count(header, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}

// header finds the columns that the first line names: known, each once, and all
// that are needed.
func (d *reading) header(l *layout, r *csv.Reader, header []string) ([]string, bool) {
	known := l.names()
	columns := make([]string, len(header))
	ok := true
	wrong := func(i int, value, want string) {
		line, _ := r.FieldPos(i)
		d.fault(RowError{File: l.file, Line: line, Number: i + 1, Value: value, Want: want})
		ok = false
	}
	for i, text := range header {
		name := columnName(text)
		if now, ok := l.renamed(name); ok {
			wrong(i, text, "this column is now called "+now.name+now.why)
			name = now.name
		}
		switch {
		case name == "":
		case !slices.Contains(known, name) && !slices.Contains(l.gone, name):
			wrong(i, text, "a column of this file"+didYouMean(name, known)+"; its columns are "+strings.Join(known, ", "))
		case slices.Contains(columns[:i], name):
			wrong(i, text, "each column once; this one is there twice")
		default:
			columns[i] = name
		}
	}
	for _, c := range l.heads {
		if c.need && !slices.Contains(columns, c.name) {
			d.fault(RowError{File: l.file, Line: 1, Column: c.name, Want: "a column of this name, which is missing"})
			ok = false
		}
	}
	return columns, ok
}

// columnName is a header's cell as columns are named: "Likely min" is likely_min.
func columnName(text string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	return strings.NewReplacer(" ", "_", "-", "_").Replace(text)
}

func (l *layout) names() []string {
	names := make([]string, len(l.heads))
	for i, c := range l.heads {
		names[i] = c.name
	}
	return names
}

// renamed gives the name that a column has now.
func (l *layout) renamed(was string) (now head, ok bool) {
	i := slices.IndexFunc(l.heads, func(c head) bool { return c.was != "" && c.was == was })
	if i < 0 {
		return head{}, false
	}
	return l.heads[i], true
}

func blank(record []string) bool {
	return !slices.ContainsFunc(record, func(text string) bool { return strings.TrimSpace(text) != "" })
}

// unreadable reports where a file stops being CSV.
func (d *reading) unreadable(file string, err error) {
	var bad *csv.ParseError
	switch {
	case errors.Is(err, io.EOF):
		d.fault(RowError{File: file, Line: 1, Want: "a first line that names the columns; the file is empty"})
	case errors.As(err, &bad):
		d.fault(RowError{File: file, Line: bad.Line, Want: `cells with a quote in them written in quotes, the quote doubled, as in "5"" wheel"; ` +
			"from here on the file cannot be read: " + bad.Err.Error()})
	default:
		d.fault(RowError{File: file, Want: "a file that can be read: " + err.Error()})
	}
}
