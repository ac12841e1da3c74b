// Package team reads a team folder of CSV files into the command that loads it,
// and writes a board's team back to one.
//
// The files are CSV as RFC 4180 has it: records end with CRLF, a cell with a
// separator, quote or line end stands in quotes, a quote inside is doubled. They
// are UTF-8. On reading, what spreadsheets make of such files is taken too: a
// byte order mark, bare LF or CR, semicolons or tabs between cells, blank rows
// and columns at the end. A first line names the columns, in any order.
//
// Cells that a spreadsheet would take for a formula are written with an
// apostrophe before them; reading takes exactly one off.
//
// Read names every bad cell by file, line and column with what would be right.
// When one is bad, nothing is loaded.
package team
