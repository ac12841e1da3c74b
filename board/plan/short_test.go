package plan_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// Constructed by us; the sums are beside each case.
func TestABoundNamesWhatItRestsOn(t *testing.T) {
	for name, c := range map[string]struct {
		text    string
		minutes int32
		cause   plan.Cause
	}{
		"the longest path":       {"a1 A must: swap 20 M\na2 A must after a1: close 10 M", 30, plan.Cause{Kind: plan.ByClock, Index: 0}},
		"one bench":              {"pool bench 1\na1 A must: x 15 M bench\na2 A must: y 15 - bench", 30, plan.Cause{Kind: plan.ByPool, Index: 0}},
		"the one who solders":    {"a1 A must: x 20 E\na2 A must: y 15 E", 35, plan.Cause{Kind: plan.ByPerson, Index: 1}},
		"two of three mechanics": {"a1 A must: x 20 M,M off\na2 A must: y 15 M,M off\na3 A must: z 15 M,M off", 50, plan.Cause{Kind: plan.BySkill, Index: 'M' - 'A'}},
		"two live tests":         {"a1 A must: x 20 - whole\na2 A must: y 15 - whole", 35, plan.Cause{Kind: plan.ByRoom, Index: 0}},
		"3 + 3 of 5 units at once": {"pool power 5\na1 A must: x 20 - power power power off\na2 A must: y 15 - power power power off", 35,
			plan.Cause{Kind: plan.ByPool, Index: 0}},
		"one blade, two swaps": {"stock blade 1\na1 A must: x 10 M blade | mend 30 M\na2 A must after a1: y 10 M blade | mend 25 M", 35,
			plan.Cause{Kind: plan.ByStock, Index: 0}}, // 10 + 25 beats 30 + 10
		"the blade is needed elsewhere": {"stock blade 1\na0 A must: z 5 E blade\na1 A must: x 10 M blade | mend 30 M", 30,
			plan.Cause{Kind: plan.ByStock, Index: 0}},
	} {
		t.Run(name, func(t *testing.T) {
			w := read(t, "group A 1/2\nperson P1 M\nperson P2 E\nperson P3 M\nperson P4 M\n"+c.text)
			got := plan.Solve(w.Problem, 300, 1).Groups[0]
			require.Equal(t, c.minutes*60, got.BoundSec)
			require.Equal(t, c.cause.Kind, got.BoundCause.Kind)
			if c.cause.Kind != plan.ByClock {
				require.Equal(t, c.cause.Index, got.BoundCause.Index)
			}
		})
	}
}

// Constructed by us: three of the four jobs are the electrician's, but no two of the
// four have room for their hands, so that another electrician would gain nothing.
func TestABoundNamesWhatKeepsAllOfTheWorkApart(t *testing.T) {
	text := `group A 1/3
person P1 M
person P2 E
person P3 M
person P4 M
a1 A must: x 20 M,E
a2 A must: y 15 M,E
a3 A must: z 12 M,E
a4 A must: close 10 M,M`
	got := plan.Solve(read(t, text).Problem, 300, 1).Groups[0]
	require.EqualValues(t, (20+15+12+10)*60, got.BoundSec)
	require.Equal(t, plan.ByRoom, got.BoundCause.Kind)
	another := plan.Solve(read(t, text+"\nperson P5 E").Problem, 300, 1).Groups[0]
	require.Equal(t, got.BoundSec, another.BoundSec)
}

func TestTheMissingBladeIsProvedToCostThirteenMinutes(t *testing.T) {
	w := read(t, w6)
	got := plan.Solve(w.Problem, 300, 1)
	require.Equal(t, plan.Shortage{Groups: []int{0, 1}, LateSec: 13 * 60, Cause: plan.Cause{Kind: plan.ByStock}}, got.Short)
	require.Equal(t, got.Short.LateSec, got.Score.LateSec, "no better plan exists")
}

// Constructed by us.
func TestGroupsThatShareOnePersonAreShortTogether(t *testing.T) {
	text := `group A 25/2
group B 30/2
group C 60/2
person P1 E
person P2 M
a1 A must: solder 20 E
b1 B must: solder 15 E
b2 B must after b1: close 5 M
c1 C must: solder 30 E`
	got := plan.Solve(read(t, text).Problem, 300, 1)
	// A and B need 20 + 15 + 5 by 30, all three 65 by 60.
	require.Equal(t, plan.Shortage{Groups: []int{0, 1}, LateSec: 10*60 - 5*60, Cause: plan.Cause{Kind: plan.ByPerson}}, got.Short)
	alone := read(t, text)
	alone.Groups[0].DeadlineSec = 10 * 60
	got = plan.Solve(alone.Problem, 300, 1)
	require.Empty(t, got.Short.Groups, "A's own bound says more: %+v", got.Short)
}

func TestNoPlanIsLessLateThanTheShortage(t *testing.T) {
	found := 0
	for seed := range uint64(1500) {
		p := day(seededDraw(7000+seed), tinyDay)
		for g := range p.Groups {
			p.Groups[g].Weight = 1
			p.Groups[g].DeadlineSec /= 3
		}
		short := plan.Solve(p, 1, 1).Short
		if len(short.Groups) == 0 {
			continue
		}
		found++
		require.LessOrEqual(t, short.LateSec, optimum(p).LateSec, "day %d", seed)
	}
	t.Logf("%d days with a shortage", found)
	require.Greater(t, found, 10)
}
