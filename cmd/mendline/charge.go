package main

import (
	"context"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"

	"mendline/board/charge"
)

// wrongFlag is a flag that cannot be meant: one line that names it and says why.
type wrongFlag string

func (w wrongFlag) Error() string { return string(w) }

func badFlag(flag, why string) error { return wrongFlag("-" + flag + ": " + why) }

// chargeFlags are the flags of mendline charge as they were typed.
type chargeFlags struct {
	job           charge.Job
	from, to      string
	chem, ocv     string
	column        string
	asJSON, asCSV bool
	given         map[string]bool
}

// runCharge computes one charge and prints it.
func runCharge(_ context.Context, t terminal, args []string) error {
	c, err := parseCharge(args)
	if err != nil {
		return err
	}
	if err := c.complete(); err != nil {
		return err
	}
	points, result, err := c.job.Trace()
	var fault *charge.Fault
	if errors.As(err, &fault) {
		return badFlag(flagOf(fault.Field), fault.Why)
	}
	if err != nil {
		return err
	}
	if c.asJSON {
		return printChargeJSON(t.out, result)
	}
	if c.asCSV {
		return printChargeCSV(t.out, points)
	}
	c.print(t.out, points, result)
	return nil
}

func parseCharge(args []string) (*chargeFlags, error) {
	c := &chargeFlags{given: map[string]bool{}}
	f := flag.NewFlagSet("charge", flag.ContinueOnError)
	f.Func("cells", "", func(text string) (err error) {
		if c.job.Cells, err = strconv.Atoi(text); err != nil {
			return errors.New("give a whole number, as 4")
		}
		return nil
	})
	f.Func("ah", "", number(&c.job.CapacityAh))
	f.Func("mohm", "", number(&c.job.MilliOhm))
	f.Func("amps", "", number(&c.job.Amps))
	f.Func("volts", "", number(&c.job.LimitVolts))
	f.Func("end-amps", "", number(&c.job.EndAmps))
	f.Func("watts", "", number(&c.job.Watts))
	f.StringVar(&c.from, "from", "", "")
	f.StringVar(&c.to, "to", "1", "")
	f.StringVar(&c.chem, "chem", "", "")
	f.StringVar(&c.ocv, "ocv", "", "")
	f.StringVar(&c.column, "column", "", "")
	f.BoolVar(&c.asJSON, "json", false, "")
	f.BoolVar(&c.asCSV, "csv", false, "")
	var wrong misuse
	if _, err := parse(f, args); errors.As(err, &wrong) {
		return nil, wrongFlag(wrong)
	} else if err != nil {
		return nil, err
	}
	f.Visit(func(g *flag.Flag) { c.given[g.Name] = true })
	return c, nil
}

// number reads the figure of a flag; which figures can be meant is the charge's to say.
func number(to *float64) func(string) error {
	return func(text string) (err error) {
		if *to, err = strconv.ParseFloat(text, 64); err != nil {
			return errors.New("give a number with a point and no unit, as 1.3")
		}
		return nil
	}
}

// flagOf names the flag a field of the charge is typed with.
func flagOf(field string) string {
	return map[string]string{
		"Cells": "cells", "CapacityAh": "ah", "MilliOhm": "mohm", "Curve": "chem", "Amps": "amps",
		"Watts": "watts", "EndAmps": "end-amps", "LimitVolts": "volts", "From": "from", "To": "to",
	}[field]
}

// complete fills in what follows from what was given, and refuses what is missing.
func (c *chargeFlags) complete() error {
	for _, need := range []struct{ flag, what string }{
		{"cells", "how many cells in series, counted at the balance lead"},
		{"ah", "the pack's capacity in Ah"},
		{"mohm", "the resistance of one cell in mΩ"},
		{"amps", "the charging current, at most what label and charger allow"},
		{"from", "the state of charge it starts from, as 0.3 or 30%"},
	} {
		if !c.given[need.flag] {
			return badFlag(need.flag, "it is missing: give "+need.what)
		}
	}
	if c.asJSON && c.asCSV {
		return badFlag("csv", "-json and -csv exclude each other")
	}
	if !c.given["end-amps"] {
		c.job.EndAmps = c.job.CapacityAh / 20
	}
	if err := c.levels(); err != nil {
		return err
	}
	if err := c.curve(); err != nil {
		return err
	}
	return c.limit()
}

func (c *chargeFlags) levels() error {
	for _, level := range []struct {
		flag, text string
		to         *float64
	}{{"from", c.from, &c.job.From}, {"to", c.to, &c.job.To}} {
		z, ok := parseSoC(level.text)
		if !ok {
			return badFlag(level.flag, fmt.Sprintf("%q is no state of charge: give 0 to 1, as 0.3, or percent, as 30%%", level.text))
		}
		*level.to = z
	}
	return nil
}

// parseSoC reads a state of charge: 0 to 1, or percent with its sign.
func parseSoC(text string) (float64, bool) {
	number, percent := strings.CutSuffix(strings.TrimSpace(text), "%")
	z, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || math.IsNaN(z) {
		return 0, false
	}
	if percent {
		z /= 100
	}
	return z, z >= 0 && z <= 1
}

func (c *chargeFlags) curve() error {
	switch {
	case c.ocv != "" && c.chem != "":
		return badFlag("ocv", "give either -chem or a table of your own, not both")
	case c.ocv != "":
		return c.readCurve()
	case c.chem == "":
		return badFlag("chem", "it is missing: name lipo, lipo-hv, li-ion or life, or give a table with -ocv")
	case c.column != "":
		return badFlag("column", "it names a column of the table of -ocv, and there is none")
	}
	c.chem = chemistryCalled(c.chem)
	curve, err := charge.CurveOf(charge.Chemistry(c.chem))
	if err != nil {
		return badFlag("chem", err.Error())
	}
	c.job.Curve = curve
	return nil
}

// chemistryCalled takes a chemistry in capitals, and by its other common names.
func chemistryCalled(name string) string {
	name = strings.ToLower(strings.TrimSpace(name))
	other := map[string]charge.Chemistry{
		"lfp": charge.LiFe, "lifepo4": charge.LiFe, "liion": charge.LiIon, "lipohv": charge.LiPoHV, "lihv": charge.LiPoHV,
	}
	if c, known := other[name]; known {
		return string(c)
	}
	return name
}

// A table of a curve has some hundred rows.
const largestCurveFile = 1 << 20

func (c *chargeFlags) readCurve() error {
	file, err := os.Open(c.ocv)
	if err != nil {
		return badFlag("ocv", err.Error())
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, largestCurveFile+1))
	if err != nil {
		return badFlag("ocv", err.Error())
	}
	if len(text) > largestCurveFile {
		return badFlag("ocv", c.ocv+": a file above 1 MB is no table of a curve")
	}
	var open charge.NoColumn
	if c.job.Curve, err = charge.ParseCurve(string(text), c.column); errors.As(err, &open) {
		return badFlag("ocv", c.ocv+": "+err.Error()+" with -column")
	} else if err != nil {
		return badFlag("ocv", c.ocv+": "+err.Error())
	}
	return nil
}

// limit sets the limit voltage. Nothing but the label makes a cell high-voltage, so
// 4.35 V is never filled in.
func (c *chargeFlags) limit() error {
	most := charge.LimitsOf(charge.Chemistry(c.chem)).ChargeVolts
	switch {
	case !c.given["volts"] && c.ocv != "":
		return badFlag("volts", "it is missing: with -ocv give the limit voltage per cell from the label")
	case !c.given["volts"] && charge.Chemistry(c.chem) == charge.LiPoHV:
		return badFlag("volts", "it is missing: give the limit per cell that the label of a high-voltage pack states")
	case !c.given["volts"]:
		c.job.LimitVolts = most
	case c.job.LimitVolts > 5 && c.job.Cells > 1:
		return badFlag("volts", fmt.Sprintf("%g V: it is the limit of one cell, and %d cells at %g V are %.2f V each", c.job.LimitVolts, c.job.Cells, c.job.LimitVolts, c.job.LimitVolts/float64(c.job.Cells)))
	case most > 0 && c.job.LimitVolts > most:
		return badFlag("volts", fmt.Sprintf("%g V: a %s cell is never charged above %.2f V", c.job.LimitVolts, c.chem, most))
	}
	return nil
}

func printChargeJSON(out io.Writer, r charge.Result) error {
	answer := struct {
		CCSec    float64 `json:"ccSec"`
		CPSec    float64 `json:"cpSec"`
		CVSec    float64 `json:"cvSec"`
		TotalSec float64 `json:"totalSec"`
		// SoCAtCV is null where the charge ends below the limit voltage.
		SoCAtCV     *float64 `json:"socAtCV"`
		WattHoursIn float64  `json:"wattHoursIn"`
	}{r.CCSec, r.CPSec, r.CVSec, r.TotalSec(), nil, r.WattHoursIn}
	if r.ByCurrent || r.CVSec > 0 {
		answer.SoCAtCV = &r.SoCAtCV
	}
	text, err := json.Marshal(answer)
	if err != nil {
		return fmt.Errorf("write the answer: %w", err)
	}
	_, err = fmt.Fprintf(out, "%s\n", text)
	return err
}

func printChargeCSV(out io.Writer, points []charge.Point) error {
	w := csv.NewWriter(out)
	rows := [][]string{{"sec", "amps", "packVolts", "watts", "soc", "wattHoursIn", "phase"}}
	for _, p := range points {
		rows = append(rows, []string{
			fixed(p.Sec, 1), fixed(p.Amps, 4), fixed(p.PackVolts, 4), fixed(p.Watts, 2),
			fixed(p.SoC, 5), fixed(p.WattHoursIn, 4), string(p.Phase),
		})
	}
	return w.WriteAll(rows)
}

func fixed(x float64, digits int) string { return strconv.FormatFloat(x, 'f', digits, 64) }

func (c *chargeFlags) print(out io.Writer, points []charge.Point, r charge.Result) {
	j := c.job
	cells := fmt.Sprintf("%d cells", j.Cells)
	if j.Cells == 1 {
		cells = "1 cell"
	}
	fmt.Fprintf(out, "%s, %g Ah, %g mΩ per cell: %g A (%.1fC) to %.2f V per cell, ended at %g A\n\n",
		cells, j.CapacityAh, j.MilliOhm, j.Amps, j.Amps/j.CapacityAh, j.LimitVolts, j.EndAmps)
	if len(points) == 0 {
		fmt.Fprintf(out, "  Nothing goes in: at %.1f %% no more than %g A would flow at %.2f V per cell.\n", 100*j.From, j.EndAmps, j.LimitVolts)
	} else {
		c.printCharge(out, points, r)
	}
	if j.Amps > j.CapacityAh*1.0001 {
		fmt.Fprintf(out, "\n%.1fC is above 1C: only if the label allows it, and someone has said so.\n", j.Amps/j.CapacityAh)
	}
	fmt.Fprint(out, chargeCaution)
}

func (c *chargeFlags) printCharge(out io.Writer, points []charge.Point, r charge.Result) {
	j := c.job
	fmt.Fprintf(out, "  time     %.1f min: %.1f at set current, %.1f at limited power, %.1f at the limit voltage\n",
		r.TotalSec()/60, r.CCSec/60, r.CPSec/60, r.CVSec/60)
	fmt.Fprintf(out, "  energy   %.2f Wh and %.3f Ah into the pack\n", r.WattHoursIn, r.AhIn)
	fmt.Fprintf(out, "  charge   from %.1f to %.1f %%\n", 100*j.From, 100*r.EndSoC)
	switch {
	case j.To < 1 && r.ByCurrent:
		fmt.Fprintf(out, "           %.1f %% is not reached: the current falls to %g A before\n", 100*j.To, j.EndAmps)
	case r.EndSoC > 1.0005:
		fmt.Fprintf(out, "           above 100 %%: this curve is full at %.3f V, below the limit voltage\n", j.Curve.Volts(1))
	}
	fmt.Fprintf(out, "\n  %6s %8s %8s %8s %8s  %s\n", "min", "charge %", "A", "V", "W", "limit")
	for _, p := range sample(points) {
		fmt.Fprintf(out, "  %6.1f %8.1f %8.2f %8.2f %8.1f  %s\n", p.Sec/60, 100*p.SoC, p.Amps, p.PackVolts, p.Watts, limitWord(p.Phase))
	}
}

const tableRows = 10

// sample picks the points next to equal steps of time, and the last.
func sample(points []charge.Point) []charge.Point {
	var rows []charge.Point
	if len(points) == 0 {
		return rows
	}
	end := points[len(points)-1].Sec
	for _, p := range points {
		if p.Sec >= end*float64(len(rows))/tableRows {
			rows = append(rows, p)
		}
	}
	if last := points[len(points)-1]; rows[len(rows)-1] != last {
		rows = append(rows, last)
	}
	return rows
}

func limitWord(p charge.Phase) string {
	switch p {
	case charge.CC:
		return "current"
	case charge.CP:
		return "power"
	}
	return "voltage"
}
