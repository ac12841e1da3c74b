package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const published = "../../testdata/psplib"

func bench(args ...string) (status int, stdout, stderr string) {
	var out, complaints bytes.Buffer
	status = run(args, &out, &complaints)
	return status, out.String(), complaints.String()
}

func table(t *testing.T, text string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	return rows
}

func number(t *testing.T, text string) int {
	t.Helper()
	v, err := strconv.Atoi(text)
	require.NoError(t, err)
	return v
}

func set(t *testing.T, pattern string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(published, pattern))
	require.NoError(t, err)
	require.Len(t, files, 12)
	return files
}

// The checker of this test reads files and schedules by itself.
func TestEveryScheduleWrittenKeepsToItsFile(t *testing.T) {
	for pattern, optima := range map[string]string{"j30/*.sm": "j30_optimum.csv", "j10mm/*.mm": "j10mm_optimum.csv"} {
		out := t.TempDir()
		files := set(t, pattern)
		status, stdout, stderr := bench(append([]string{"-schedules", "1000", "-out", out}, files...)...)
		require.Zero(t, status, stderr)
		best := map[string]string{}
		text, err := os.ReadFile(filepath.Join(published, optima))
		require.NoError(t, err)
		for _, row := range table(t, string(text)) {
			best[row[0]] = row[1]
		}
		rows := table(t, stdout)
		require.Equal(t, []string{"instance", "makespan", "schedules", "seconds"}, rows[0])
		require.Len(t, rows, 13)
		for _, row := range rows[1:] {
			i := slices.IndexFunc(files, func(f string) bool { return strings.Contains(f, "/"+row[0]+".") })
			makespan, err := makespanOf(files[i], filepath.Join(out, row[0]+".csv"))
			require.NoError(t, err, row[0])
			require.Equal(t, number(t, row[1]), makespan, row[0])
			require.GreaterOrEqual(t, makespan, number(t, best[row[0]]), "%s: below the proven optimum", row[0])
			require.LessOrEqual(t, number(t, row[2]), 1000, row[0])
		}
	}
}

func TestACheckerThatIsGivenAWrongScheduleRefusesIt(t *testing.T) {
	file := filepath.Join(published, "j10mm/j102_2.mm")
	out := t.TempDir()
	status, _, stderr := bench("-out", out, file)
	require.Zero(t, status, stderr)
	path := filepath.Join(out, "j102_2.csv")
	good, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(good)), "\n")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	for says, spoil := range map[string]func([]string){
		"mode 4 does not exist":   func(l []string) { l[2] = "2,4,0" },
		"before job":              func(l []string) { l[12] = "12,1,0" },
		"in use, there are":       func(l []string) { atOnce(l, readProject(string(text))) },
		"job 3 is missing":        func(l []string) { l[3] = l[2] },
		"nonrenewable resource 2": slowest,
	} {
		bad := slices.Clone(lines)
		spoil(bad)
		require.NoError(t, os.WriteFile(path, []byte(strings.Join(bad, "\n")), 0o644))
		_, err := makespanOf(file, path)
		require.ErrorContains(t, err, says)
	}
}

// atOnce starts each job as soon as those before it are over, whatever else is
// going on.
func atOnce(lines []string, p project) {
	at := readSchedule(strings.Join(lines, "\n"))
	for job := 1; job < len(lines); job++ {
		start := 0
		for _, before := range p.after[job] {
			start = max(start, at[before].start+p.modes[before][at[before].mode-1][0])
		}
		at[job] = placed{at[job].mode, start}
		lines[job] = fmt.Sprintf("%d,%d,%d", job, at[job].mode, start)
	}
}

// slowest takes every job's last mode, which is cheap in renewables, one after
// another.
func slowest(lines []string) {
	for i := 2; i < len(lines)-1; i++ {
		lines[i] = strconv.Itoa(i) + ",3," + strconv.Itoa(i*10)
	}
	lines[len(lines)-1] = "12,1,1000"
}

func TestTheSameSeedGivesTheSameScheduleAndAnotherMayNot(t *testing.T) {
	file := filepath.Join(published, "j30/j309_3.sm")
	read := func(seed string) string {
		out := t.TempDir()
		status, _, stderr := bench("-schedules", "300", "-seed", seed, "-out", out, file)
		require.Zero(t, status, stderr)
		b, err := os.ReadFile(filepath.Join(out, "j309_3.csv"))
		require.NoError(t, err)
		return string(b)
	}
	require.Equal(t, read("1"), read("1"))
	require.NotEqual(t, read("1"), read("2"))
}

func TestFilesAreSolvedInNumericOrder(t *testing.T) {
	dir := t.TempDir()
	text, err := os.ReadFile(filepath.Join(published, "j10mm/j1010_1.mm"))
	require.NoError(t, err)
	var files []string
	for _, name := range []string{"j3010_1", "j301_10", "j302_1", "j301_2", "j120_1"} {
		files = append(files, filepath.Join(dir, name+".mm"))
		require.NoError(t, os.WriteFile(files[len(files)-1], text, 0o644))
	}
	_, stdout, _ := bench(append([]string{"-schedules", "1"}, files...)...)
	var order []string
	for _, row := range table(t, stdout)[1:] {
		order = append(order, row[0])
	}
	require.Equal(t, []string{"j120_1", "j301_2", "j301_10", "j302_1", "j3010_1"}, order)
}

func TestAProjectBeyondItsStockHasNoMakespan(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(published, "j10mm/j1010_1.mm"))
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "short.mm")
	spoilt := strings.Replace(string(text), "   11    9   42   17", "   11    9    1    1", 1)
	require.NotEqual(t, string(text), spoilt)
	require.NoError(t, os.WriteFile(file, []byte(spoilt), 0o644))
	out := filepath.Join(t.TempDir(), "out")
	status, stdout, stderr := bench("-schedules", "50", "-out", out, file)
	require.Zero(t, status, stderr)
	require.Equal(t, "", table(t, stdout)[1][1])
	require.NoFileExists(t, filepath.Join(out, "short.csv"))
}

func TestABadFileIsOneLineAndTheOthersAreSolved(t *testing.T) {
	good := filepath.Join(published, "j10mm/j1010_1.mm")
	text, err := os.ReadFile(good)
	require.NoError(t, err)
	bad := filepath.Join(t.TempDir(), "bad.mm")
	require.NoError(t, os.WriteFile(bad, []byte(strings.Replace(string(text), "5  11", "5  99", 1)), 0o644))
	status, stdout, stderr := bench("-schedules", "10", bad, good, "missing.sm")
	require.Equal(t, 1, status)
	require.Len(t, table(t, stdout), 2)
	lines := strings.Split(strings.TrimSpace(stderr), "\n")
	require.Len(t, lines, 2)
	require.Contains(t, lines[0], "bad.mm: line 20: job 2: successor 99 does not exist")
	require.Contains(t, lines[1], "open missing.sm")
}

func TestWrongFlagsAreExplained(t *testing.T) {
	for says, args := range map[string][]string{
		"no files":                {},
		"-schedules 0 is not":     {"-schedules", "0", "a.sm"},
		"not defined: -fast":      {"-fast", "a.sm"},
		"-seed stands behind":     {"a.sm", "-seed", "1"},
		"invalid value \"-1\"":    {"-seed", "-1", "a.sm"},
		"(planbench -h shows":     {"-schedules", "many", "a.sm"},
		"is not 1 to 100000000\n": {"-schedules", "100000001", "a.sm"},
	} {
		status, stdout, stderr := bench(args...)
		require.Equal(t, 2, status)
		require.Empty(t, stdout)
		require.Contains(t, stderr, says)
	}
	status, stdout, _ := bench("-h")
	require.Zero(t, status)
	require.Contains(t, stdout, "Example:")
}
