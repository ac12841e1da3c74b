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

// ParseCurve reads a curve from a table whose first row names the columns, its
// values separated by commas, semicolons or tabs; lines that begin with # are
// skipped. Beside semicolons and tabs a decimal comma is read too. One column is the
// state of charge (soc, z or state of charge), 0 to 1 or 0 to 100, up or down; the
// voltage per cell is in the column named, or where column is empty in the only other
// one, or in the one named volts, voltage, v or ocv. A unit in brackets belongs to no
// name. Errors name the line.
func ParseCurve(text, column string) (Curve, error) {
	if strings.ContainsRune(text, 0) {
		return Curve{}, fmt.Errorf("this is no plain text: save the table as comma-separated values in UTF-8")
	}
	r, comma := curveReader(text)
	head, err := r.Read()
	if errors.Is(err, io.EOF) {
		return Curve{}, fmt.Errorf("it is empty: give a row with the names of the columns, soc and volts, and a row for each point")
	}
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
		z, zErr := curveNumber(strings.TrimSuffix(row[socAt], "%"), comma)
		v, vErr := curveNumber(row[voltsAt], comma)
		if zErr != nil || vErr != nil {
			return Curve{}, fmt.Errorf("line %d: %.40q and %.40q must both be numbers", line, row[socAt], row[voltsAt])
		}
		soc, volts = append(soc, z), append(volts, v)
	}
	return NewCurve(upFromEmpty(soc, volts))
}

// curveReader tells by the first row how values are separated, and whether a comma
// is then free to be a decimal one.
func curveReader(text string) (r *csv.Reader, decimalComma bool) {
	text = strings.TrimPrefix(text, "\ufeff")
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	r = csv.NewReader(strings.NewReader(text))
	r.TrimLeadingSpace = true
	r.Comment = '#'
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") || line == "\n" {
			continue
		}
		if k := strings.IndexAny(line, ";\t"); k >= 0 {
			r.Comma, decimalComma = rune(line[k]), true
		}
		break
	}
	return r, decimalComma
}

func curveNumber(text string, decimalComma bool) (float64, error) {
	if decimalComma {
		text = strings.Replace(text, ",", ".", 1)
	}
	return strconv.ParseFloat(strings.TrimSpace(text), 64)
}

// upFromEmpty turns percent into shares and a table that runs down about, and takes
// ends within a millionth of empty and full for these.
func upFromEmpty(soc, volts []float64) (upSoC, upVolts []float64) {
	if len(soc) == 0 {
		return nil, nil
	}
	const mostShare, dust = 1.5, 1e-6
	if slices.Max(soc) > mostShare {
		for k := range soc {
			soc[k] /= 100
		}
	}
	last := len(soc) - 1
	if soc[0] > soc[last] {
		slices.Reverse(soc)
		slices.Reverse(volts)
	}
	if between(soc[0], -dust, dust) {
		soc[0] = 0
	}
	if between(soc[last], 1-dust, 1+dust) {
		soc[last] = 1
	}
	return soc, volts
}

var (
	socNames  = []string{"soc", "z", "state of charge", "state_of_charge", "soc_percent", "soc_pct"}
	voltNames = []string{"volts", "voltage", "v", "ocv", "volt"}
)

// NoColumn is the error of a table that leaves open which column holds the volts. Its
// text ends with the names to choose from.
type NoColumn string

func (e NoColumn) Error() string { return string(e) }

// curveColumns finds the columns of state of charge and volts.
func curveColumns(head []string, column string) (socAt, voltsAt int, err error) {
	for k, name := range head {
		name, _, _ = strings.Cut(strings.ToLower(name), "(")
		name, _, _ = strings.Cut(name, "[")
		head[k] = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(name), "%"))
	}
	if socAt = firstOf(head, socNames); socAt < 0 {
		return 0, 0, fmt.Errorf("no column soc among %s: name the columns in the first row", listed(head))
	}
	if column == "" && len(head) == 2 {
		return socAt, 1 - socAt, nil
	}
	names := voltNames
	if column != "" {
		names = []string{strings.TrimSpace(strings.ToLower(column))}
	}
	if voltsAt = firstOf(head, names); voltsAt < 0 || voltsAt == socAt {
		return 0, 0, NoColumn(fmt.Sprintf("no column %.40q for the volts: choose one of %s", names[0], listed(slices.Delete(slices.Clone(head), socAt, socAt+1))))
	}
	return socAt, voltsAt, nil
}

func firstOf(head, names []string) int {
	return slices.IndexFunc(head, func(h string) bool { return slices.Contains(names, h) })
}

// listed quotes names for one line of text.
func listed(names []string) string {
	const most = 8
	var quoted []string
	for _, name := range names[:min(len(names), most)] {
		quoted = append(quoted, fmt.Sprintf("%.30q", name))
	}
	if len(names) > most {
		quoted = append(quoted, "…")
	}
	return strings.Join(quoted, ", ")
}
