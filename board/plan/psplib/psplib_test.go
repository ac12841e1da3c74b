package psplib_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan/psplib"
)

func text(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(published, path))
	require.NoError(t, err)
	return string(b)
}

func TestReadTakesModesDemandsAndCapacitiesFromTheFile(t *testing.T) {
	in := instance(t, "j10mm/j1010_1.mm")
	require.Len(t, in.Jobs, 12)
	require.Equal(t, []int{11, 9}, in.Renewable)
	require.Equal(t, []int{42, 17}, in.Nonrenewable)
	require.Equal(t, 17, in.CriticalPath)
	require.Equal(t, 77, in.HorizonLength)
	require.Equal(t, psplib.Job{
		Successors: []int{4, 10},
		Modes: []psplib.Mode{
			{Duration: 1, Renewable: []int{0, 6}, Nonrenewable: []int{2, 0}},
			{Duration: 7, Renewable: []int{0, 6}, Nonrenewable: []int{0, 6}},
			{Duration: 10, Renewable: []int{8, 0}, Nonrenewable: []int{0, 6}},
		},
	}, in.Jobs[2])
	require.Empty(t, in.Jobs[11].Successors)
}

func TestTheHorizonIsTheSumOfTheLongestModes(t *testing.T) {
	for name := range optima(t, "j10mm") {
		in := instance(t, "j10mm/"+name+".mm")
		sum := 0
		for _, job := range in.Jobs {
			longest := 0
			for _, m := range job.Modes {
				longest = max(longest, m.Duration)
			}
			sum += longest
		}
		require.Equal(t, in.HorizonLength, sum, name)
	}
}

func TestReadNamesTheLineItCannotRead(t *testing.T) {
	good := text(t, "j10mm/j1010_1.mm")
	for says, c := range map[string][2]string{
		"line 20: precedence relation":                {"   2        3          2           5  11", "   2        3          2           5  11  12"},
		"line 20: job 2: successor 99 does not exist": {"   2        3          2           5  11", "   2        3          2           5  99"},
		"line 40: job 3: mode 3 out of order":         {"         2     7       0    6    0    6", "         3     7       0    6    0    6"},
		"line 40: mode: 5 numbers with 4 resources":   {"         2     7       0    6    0    6", "         2     7       0    6    0"},
		"line 6: jobs (incl. supersource/sink )":      {"):  12", "):  twelve"},
		"job 12: 1 modes, 2 declared":                 {"  12        1          0", "  12        2          0"},
		"availabilities are missing":                  {"   11    9   42   17", ""},
	} {
		t.Run(says, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(good, c[0]))
			_, err := psplib.Read(strings.NewReader(strings.Replace(good, c[0], c[1], 1)))
			require.ErrorContains(t, err, says)
		})
	}
	_, err := psplib.Read(strings.NewReader("a letter\n"))
	require.ErrorContains(t, err, "is this a .sm or .mm file?")
}

func FuzzWhatCanBeReadIsAProject(f *testing.F) {
	f.Add(text(f, "j10mm/j1010_1.mm"))
	f.Add("jobs (incl. supersource/sink ):  1\nPRECEDENCE RELATIONS:\n1 1 0\nREQUESTS/DURATIONS:\n1 1 5\n")
	f.Fuzz(func(t *testing.T, s string) {
		in, err := psplib.Read(strings.NewReader(s))
		if err != nil {
			return
		}
		p := in.Problem()
		require.Len(t, p.Tasks, len(in.Jobs))
		for i := range p.Tasks {
			require.NotEmpty(t, p.Tasks[i].Ways)
		}
	})
}
