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
// names the columns. One is soc, 0 to 1 or 0 to 100; the voltage per cell is in
// the column named, or in the only other one, or in the one named volts, where
// column is empty. Errors name the line.
func ParseCurve(text, column string) (Curve, error) {
	r := csv.NewReader(strings.NewReader(text))
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
		z, zErr := strconv.ParseFloat(strings.TrimSpace(row[socAt]), 64)
		v, vErr := strconv.ParseFloat(strings.TrimSpace(row[voltsAt]), 64)
		if zErr != nil || vErr != nil {
			return Curve{}, fmt.Errorf("line %d: %q and %q must both be numbers", line, row[socAt], row[voltsAt])
		}
		soc, volts = append(soc, z), append(volts, v)
	}
	if len(soc) > 0 && soc[len(soc)-1] == 100 {
		for k := range soc {
			soc[k] /= 100
		}
	}
	return NewCurve(soc, volts)
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
		return 0, 0, fmt.Errorf("no column %s of volts: choose one of %s", column, strings.Join(head, ", "))
	}
	return socAt, voltsAt, nil
}
