package psplib_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
	"mendline/board/plan/psplib"
)

const published = "../../../testdata/psplib"

// optima returns the published optimal makespans of a set, by instance.
func optima(t *testing.T, set string) map[string]int {
	t.Helper()
	f, err := os.Open(filepath.Join(published, set+"_optimum.csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	out := map[string]int{}
	for _, row := range rows[1:] {
		v, err := strconv.Atoi(row[1])
		require.NoError(t, err)
		out[row[0]] = v
	}
	require.NotEmpty(t, out)
	return out
}

func instance(t *testing.T, path string) psplib.Instance {
	t.Helper()
	f, err := os.Open(filepath.Join(published, path))
	require.NoError(t, err)
	defer f.Close()
	in, err := psplib.Read(f)
	require.NoError(t, err, path)
	return in
}

// gaps solves every instance of a set and returns the sum of percentages above
// the published optima.
func gaps(t *testing.T, set, ext string, budget plan.Budget) (sum float64, reached int) {
	t.Helper()
	for name, best := range optima(t, set) {
		p := instance(t, filepath.Join(set, name+ext)).Problem()
		got := plan.Solve(p, budget, 1)
		require.NoError(t, plan.Check(p, got), name)
		require.LessOrEqual(t, got.Schedules, int(budget), name)
		require.Zero(t, got.Score.NotReady, name)
		makespan := int(got.Groups[0].ReadySec)
		require.GreaterOrEqual(t, makespan, best, "%s: below the proven optimum", name)
		require.LessOrEqual(t, int(got.Groups[0].BoundSec), best, "%s: bound above the proven optimum", name)
		if makespan == best {
			reached++
		}
		sum += 100 * float64(makespan-best) / float64(best)
	}
	return sum, reached
}

// The band is the published mean of LFT sampling with serial generation over
// the whole set of 480, 0.83 % at 1,000 schedules (R. Kolisch, S. Hartmann,
// EJOR 174 (2006) 23-37; figure from memory). Ours is a part of the set, so the
// band is a ceiling and not a comparison.
func TestSingleModeInstancesStayWithinThePublishedBand(t *testing.T) {
	t.Parallel()
	sum, reached := gaps(t, "j30", ".sm", 1000)
	t.Logf("%.3f %% above the optimum, %d of 12 optimal", sum/12, reached)
	require.Less(t, sum/12, 0.83)
}

func TestSingleModeInstancesReachTheirOptimumWithOneOfFourSeeds(t *testing.T) {
	t.Parallel()
	for name, best := range optima(t, "j30") {
		p := instance(t, filepath.Join("j30", name+".sm")).Problem()
		reached := 0
		for seed := uint64(1); seed <= 4 && reached != best; seed++ {
			reached = int(plan.Solve(p, 5000, seed).Groups[0].ReadySec)
		}
		require.Equal(t, best, reached, name)
	}
}

func TestMultiModeInstancesReachTheirOptimum(t *testing.T) {
	_, reached := gaps(t, "j10mm", ".mm", 2000)
	require.Equal(t, 12, reached)
}

func TestOnePassIsOneSchedule(t *testing.T) {
	p := instance(t, "j30/j301_1.sm").Problem()
	require.Equal(t, 1, plan.Solve(p, 1, 1).Schedules)
}

func TestTheLongestPathIsTheCriticalPathInTheFile(t *testing.T) {
	for _, path := range []string{"j30/j301_1.sm", "j30/j305_2.sm", "j30/j3012_10.sm"} {
		in := instance(t, path)
		p := in.Problem()
		for k := range p.Pools {
			p.Pools[k].Capacity = plan.CapacityMost
		}
		got := plan.Solve(p, 1, 1)
		require.Equal(t, in.CriticalPath, int(got.Groups[0].BoundSec), path)
		require.Equal(t, in.CriticalPath, int(got.Groups[0].ReadySec), path)
	}
}
