package main

import (
	"bufio"
	"cmp"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"mendline/board/plan"
	"mendline/board/plan/psplib"
)

// run is the program: its exit status is 0, 1 if a file failed, 2 for wrong
// flags. A file that fails is one line on stderr; the others are still solved.
func run(args []string, stdout, stderr io.Writer) int {
	o, err := parse(args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprint(stdout, usage)
		return 0
	}
	if err != nil {
		fmt.Fprintf(stderr, "planbench: %v\n(planbench -h shows the flags)\n", err)
		return 2
	}
	return o.solveAll(stdout, stderr)
}

func (o options) solveAll(stdout, stderr io.Writer) int {
	status := 0
	slices.SortStableFunc(o.files, byNumber)
	fmt.Fprintln(stdout, "instance,makespan,schedules,seconds")
	for _, file := range o.files {
		row, err := o.solve(file)
		if err != nil {
			fmt.Fprintf(stderr, "planbench: %v\n", err)
			status = 1
			continue
		}
		if _, err := fmt.Fprintln(stdout, row); err != nil {
			fmt.Fprintf(stderr, "planbench: print a row: %v\n", err)
			return 1
		}
	}
	return status
}

// solve returns the row of one file and writes its schedule.
func (o options) solve(file string) (row string, err error) {
	in, err := read(file)
	if err != nil {
		return "", err
	}
	problem := in.Problem()
	if err := problem.Validate(); err != nil {
		return "", fmt.Errorf("%s: %w", file, err)
	}
	begin := time.Now()
	got := plan.Solve(problem, plan.Budget(o.schedules), o.seed)
	seconds := time.Since(begin).Seconds()
	if err := plan.Check(problem, got); err != nil {
		return "", fmt.Errorf("%s: the planner's own answer is wrong: %w", file, err)
	}
	name, makespan := instanceName(file), ""
	if got.Score.Never == 0 {
		makespan = fmt.Sprint(got.Groups[0].ReadySec)
		if err := o.write(name, got); err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("%s,%s,%d,%.4f", name, makespan, got.Schedules, seconds), nil
}

func read(file string) (psplib.Instance, error) {
	f, err := os.Open(file)
	if err != nil {
		return psplib.Instance{}, err
	}
	defer f.Close()
	in, err := psplib.Read(bufio.NewReader(f))
	if err != nil {
		return in, fmt.Errorf("%s: %w", file, err)
	}
	return in, nil
}

// write writes a schedule as job,mode,start.
func (o options) write(name string, p plan.Plan) error {
	if o.out == "" {
		return nil
	}
	if err := os.MkdirAll(o.out, 0o755); err != nil {
		return err
	}
	var b strings.Builder
	b.WriteString("job,mode,start\n")
	for i, t := range p.Tasks {
		fmt.Fprintf(&b, "%d,%d,%d\n", i+1, t.Way+1, t.StartSec)
	}
	return os.WriteFile(filepath.Join(o.out, name+".csv"), []byte(b.String()), 0o644)
}

func instanceName(file string) string {
	base := filepath.Base(file)
	return strings.TrimSuffix(base, filepath.Ext(base))
}

// byNumber orders file names by their text and, digit by digit run, by their
// numbers.
func byNumber(a, b string) int {
	x, y := instanceName(a), instanceName(b)
	for x != "" && y != "" {
		px, py := part(x), part(y)
		if c := comparePart(px, py); c != 0 {
			return c
		}
		x, y = x[len(px):], y[len(py):]
	}
	return cmp.Or(cmp.Compare(x, y), cmp.Compare(a, b))
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// part returns the run of digits, or of other bytes, that s begins with.
func part(s string) string {
	for i := range len(s) {
		if digit(s[i]) != digit(s[0]) {
			return s[:i]
		}
	}
	return s
}

func comparePart(a, b string) int {
	if !digit(a[0]) || !digit(b[0]) {
		return cmp.Compare(a, b)
	}
	m, n := strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
	return cmp.Or(cmp.Compare(len(m), len(n)), cmp.Compare(m, n))
}
