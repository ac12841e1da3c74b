package charge

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// ParseCurve reads a curve from a table of comma-separated values whose first row
// names the columns, or of values between semicolons with decimal commas, as
// spreadsheets write where a comma is the decimal point. One column is soc, 0 to 1 or 0
// to 100, rising or falling; the voltage per cell is in the column named, or in the only
// other one, or in the one named volts, where column is empty. Errors name the line.
func ParseCurve(text, column string) (Curve, error) {
	text = strings.TrimPrefix(text, "\ufeff")
	r := csv.NewReader(strings.NewReader(text))
	decimal := "."
	if head, _, _ := strings.Cut(text, "\n"); strings.Contains(head, ";") && !strings.Contains(head, ",") {
		r.Comma, decimal = ';', ","
	}
	r.TrimLeadingSpace = true
	r.Comment = '#'
	head, err := r.Read()
	if err != nil {
		return Curve{}, fmt.Errorf("read the names of the columns: %w", err)
	}
	socAt, voltsAt, err := curveColumns(head, column)
	if err != nil {
		return Curve{}, err
	}
	var soc, volts []float64
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return Curve{}, fmt.Errorf("read the curve: %w", err)
		}
		line, _ := r.FieldPos(0)
		z, zErr := numberIn(row[socAt], decimal)
		v, vErr := numberIn(row[voltsAt], decimal)
		if zErr != nil || vErr != nil {
			return Curve{}, fmt.Errorf("line %d: %q and %q must both be numbers", line, row[socAt], row[voltsAt])
		}
		soc, volts = append(soc, z), append(volts, v)
	}
	if n := len(soc); n > 1 && soc[0] > soc[n-1] {
		slices.Reverse(soc)
		slices.Reverse(volts)
	}
	if len(soc) > 0 && soc[len(soc)-1] == 100 {
		for k := range soc {
			soc[k] /= 100
		}
	}
	return NewCurve(soc, volts)
}

func numberIn(cell, decimal string) (float64, error) {
	return strconv.ParseFloat(strings.Replace(strings.TrimSpace(cell), decimal, ".", 1), 64)
}

func curveColumns(head []string, column string) (socAt, voltsAt int, err error) {
	for k := range head {
		head[k] = strings.ToLower(strings.TrimSpace(head[k]))
	}
	socAt = slices.Index(head, "soc")
	if socAt < 0 {
		return 0, 0, fmt.Errorf("no column soc among %s", strings.Join(head, ", "))
	}
	if column == "" && len(head) == 2 {
		return socAt, 1 - socAt, nil
	}
	if column == "" {
		column = "volts"
	}
	voltsAt = slices.Index(head, strings.ToLower(column))
	if voltsAt < 0 || voltsAt == socAt {
		return 0, 0, fmt.Errorf("no column %s for the volts: choose one of %s", column, strings.Join(slices.Delete(slices.Clone(head), socAt, socAt+1), ", "))
	}
	return socAt, voltsAt, nil
}
