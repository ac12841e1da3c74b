package team_test

import (
	"encoding/csv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/team"
)

// What spreadsheets make of one small table. Common practice, no source.
func TestSpreadsheetMadeFilesReadAsThePlainOne(t *testing.T) {
	const plain = "name,kind,jobs_at_once\nLong bench,bench,2\n\"Vice, red\",press,1\n"
	want := stations(t, plain)
	require.Len(t, want, 2)
	for _, c := range []struct{ name, text string }{
		{"byte order mark", "\ufeff" + plain},
		{"byte order mark before a quote", "\ufeff\"name\",kind,jobs_at_once\nLong bench,bench,2\n\"Vice, red\",press,1\n"},
		{"CRLF", strings.ReplaceAll(plain, "\n", "\r\n")},
		{"lone CR", strings.ReplaceAll(plain, "\n", "\r")},
		{"no line end at the end", strings.TrimSuffix(plain, "\n")},
		{"semicolons", "name;kind;jobs_at_once\nLong bench;bench;2\nVice, red;press;1\n"},
		{"tabs", "name\tkind\tjobs_at_once\nLong bench\tbench\t2\nVice, red\tpress\t1\n"},
		{"all in quotes", "\"name\",\"kind\",\"jobs_at_once\"\n\"Long bench\",\"bench\",\"2\"\n\"Vice, red\",\"press\",\"1\"\n"},
		{"blank rows at the end", plain + ",,\n,,\n\n"},
		{"blank rows between", "name,kind,jobs_at_once\n,,\nLong bench,bench,2\n\n\"Vice, red\",press,1\n"},
		{"blank columns at the end", "name,kind,jobs_at_once,,\nLong bench,bench,2,,\n\"Vice, red\",press,1, ,\n"},
		{"a blank column between", "name,,kind,jobs_at_once\nLong bench,,bench,2\n\"Vice, red\",,press,1\n"},
		{"blanks around cells", "name , kind,jobs_at_once\nLong bench , bench, 2\n\"Vice, red\",press,1\n"},
		{"columns in another order", "jobs_at_once,name,kind\n2,Long bench,bench\n1,\"Vice, red\",press\n"},
		{"headers as people write them", "Name,KIND,Jobs at once\nLong bench,bench,2\n\"Vice, red\",Press,1\n"},
		{"an apostrophe before a cell", "name,kind,jobs_at_once\n'Long bench,bench,2\n\"Vice, red\",press,'1\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, want, stations(t, c.text))
		})
	}
}

func stations(t *testing.T, text string) []board.Station {
	t.Helper()
	load, errs := team.Read(fstest.MapFS{
		"event.csv":    {Data: []byte("setting,value\nname,Small Open\n")},
		"stations.csv": {Data: []byte(text)},
	}, loadID(t))
	require.Empty(t, errs)
	return load.Stations
}

func TestALineEndInsideQuotesIsPartOfTheCell(t *testing.T) {
	for _, end := range []string{"\n", "\r\n", "\r"} {
		text := "setting,value" + end + "name,Small Open" + end + "card_text,\"one" + end + "two\"" + end + "card_approved_by,A. Steward" + end
		load, errs := team.Read(fstest.MapFS{"event.csv": {Data: []byte(text)}}, loadID(t))
		require.Empty(t, errs)
		require.Equal(t, "one\ntwo", load.Event.Card.Text)
	}
}

func TestLinesAreCountedThroughCellsOfSeveralLines(t *testing.T) {
	_, errs := team.Read(fstest.MapFS{"event.csv": {Data: []byte("setting,value\r\ncard_text,\"one\r\ntwo\r\nthree\"\r\nname,Small Open\r\nlead_fights,two\r\n")}}, loadID(t))
	require.NotEmpty(t, errs)
	require.Equal(t, 6, errs[len(errs)-1].Line)
	require.Equal(t, "two", errs[len(errs)-1].Value)
}

func TestADumpHoldsNoCellThatASpreadsheetWouldRun(t *testing.T) {
	for _, c := range []struct{ name, cell string }{
		{"=1+2", "'=1+2"},
		{"'quoted", "''quoted"},
		{"-5", "-5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			id := loadID(t)
			s := apply(t, board.TeamLoad{
				Event:  board.EventFields{Name: "Small Open"},
				Stocks: []board.Stock{{ID: board.StockID(board.NewID(id, board.KindStock, c.name)), StockFields: board.StockFields{Name: c.name, Count: 1}}},
			})
			files, err := team.Write(s)
			require.NoError(t, err)

			rows, err := csv.NewReader(strings.NewReader(string(files["spares.csv"]))).ReadAll()
			require.NoError(t, err)
			require.Equal(t, c.cell, rows[1][0])
			require.Equal(t, nouns(s), nouns(onBoard(t, inFolder(files))))
		})
	}
}

func TestACardThatBeginsWithALineEndIsGuardedToo(t *testing.T) {
	s := apply(t, board.TeamLoad{Event: board.EventFields{Name: "Small Open", Card: board.Card{Text: "\n=1 \n ", ApprovedBy: "A. Steward"}}})
	files, err := team.Write(s)
	require.NoError(t, err)
	require.Contains(t, string(files["event.csv"]), "\"'\r\n=1")
	require.Equal(t, nouns(s), nouns(onBoard(t, inFolder(files))))
}

func TestMinutesTakeOneDecimalOrSeconds(t *testing.T) {
	for _, c := range []struct {
		text string
		sec  int
	}{{"3", 180}, {"0.5", 30}, {"7.1", 426}, {"90 s", 90}, {"605s", 605}, {"719.9", 43194}} {
		files := folder(t)
		replace(t, files, "robots.csv", ",9,5.5,", ",9,"+c.text+",")
		load, errs := team.Read(files, loadID(t))
		if c.sec > 7200 {
			require.Len(t, errs, 1, "the board takes two hours at most")
			continue
		}
		require.Empty(t, errs)
		require.Equal(t, c.sec, load.Robots[0].AfterSec, c.text)
	}
}

// RFC 4180, "Common Format and MIME Type for Comma-Separated Values (CSV) Files"
// (Y. Shafranovich, 2005), section 2, is the outside check of the format: its
// rules 1 to 7 with cells of ours, through the standard library's reader, which
// follows it.
func TestFilesAreRFC4180(t *testing.T) {
	files, err := team.Write(onBoard(t, folder(t)))
	require.NoError(t, err)
	for name, data := range files {
		if name == team.ReadMe {
			continue
		}
		text := strings.TrimPrefix(string(data), "\ufeff")
		require.True(t, strings.HasSuffix(text, "\r\n"), "rule 1: records end with CRLF: %s", name)
		require.NotContains(t, strings.ReplaceAll(text, "\r\n", ""), "\n", name)

		r := csv.NewReader(strings.NewReader(text))
		records, err := r.ReadAll()
		require.NoError(t, err, "rules 4 to 7: every record has as many cells as the header: %s", name)
		require.Greater(t, len(records), 1, name)
	}
	require.Contains(t, string(files["event.csv"]), "\"Example.\r\nShout FIRE; leave by gate 2.\"", "rule 6: a line end stands in quotes")
	require.Contains(t, string(files["spares.csv"]), `"belt B2 x3; ""wide"""`, "rule 7: a quote is doubled")
}

func TestFilesThatTheStandardLibraryWritesAreRead(t *testing.T) {
	want := onBoard(t, folder(t))
	for _, crlf := range []bool{false, true} {
		files := folder(t)
		for name, f := range files {
			records, err := csv.NewReader(strings.NewReader(string(f.Data))).ReadAll()
			require.NoError(t, err)
			var b strings.Builder
			w := csv.NewWriter(&b)
			w.UseCRLF = crlf
			require.NoError(t, w.WriteAll(records))
			files[name] = &fstest.MapFile{Data: []byte(b.String())}
		}
		require.Equal(t, nouns(want), nouns(onBoard(t, files)))
	}
}
