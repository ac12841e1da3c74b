package plan_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// Constructed by us: each case has one reason for being late, and it is named
// with the minutes waited.
func TestLateWorkNamesTheConstraintItWaitedForLongest(t *testing.T) {
	const crew = `person P1 M
person P2 M
person P3 M,E
`
	for name, c := range map[string]struct {
		text    string
		kind    plan.CauseKind
		index   int
		minutes int32
	}{
		"the sequence alone is too long": {crew + `group A 20/2
a1 A must: strip 15 M
a2 A must after a1: close 10 M`, plan.ByClock, 1, 5},
		"cooling ends too late": {crew + `group A 20/2
a1 A must not-before 18: close 10 M`, plan.ByClock, 0, 8},
		"the one who can solder is on another robot": {crew + `group B 100/2
group A 30/2
b1 B must running P3 25: controller 30 E
a1 A must: solder 10 E`, plan.ByPerson, 2, 25},
		"both who can solder are": {crew + `person P4 E
group B 100/2
group A 30/2
b1 B must running P3,P4 25: controller 30 E,E
a1 A must: solder 10 E`, plan.BySkill, 'E' - 'A', 25},
		"everyone is busy": {`person P1 M
person P2 E
group B 100/2
group A 20/2
b1 B must running P1,P2 15: carry 30 A,A
a1 A must: wash 10 A`, plan.ByHands, -1, 15},
		"the bench is taken": {crew + `group B 100/2
group A 20/2
pool bench 1
b1 B must running P1 15: mend 15 M bench
a1 A must: mend 10 M bench`, plan.ByPool, 0, 15},
		"hands are in the robot that is to be tested": {crew + `group A 20/2
a1 A must running P1 15: mend 15 M
a2 A must: test 10 M whole`, plan.ByRoom, 0, 15},
		"the last blade went to the other robot": {crew + `group B 20/2
group A 25/2
stock blade 1
b1 B must: swap 20 M blade
a1 A must: swap 20 M blade | mend 40 M`, plan.ByStock, 0, 20},
		"the wait is at the head of the chain": {crew + `group B 100/2
group A 40/2
pool box 1
b1 B must running P1 20: test 20 M box
a1 A must: test 15 M box
a2 A must after a1: close 10 M`, plan.ByPool, 0, 20},
		"the wait is short, the sequence long": {crew + `group B 100/2
group A 10/2
pool box 1
b1 B must running P1 2: test 20 M box
a1 A must: test 15 M box
a2 A must after a1: close 10 M`, plan.ByClock, 2, 15},
	} {
		t.Run(name, func(t *testing.T) {
			w := read(t, c.text)
			got := plan.Solve(w.Problem, 500, 1)
			require.NoError(t, plan.Check(w.Problem, got))
			require.Equal(t, plan.Cause{Kind: c.kind, Index: c.index, WaitSec: c.minutes * 60}, got.Groups[w.groups["A"]].Cause)
		})
	}
}

// Constructed by us: work that cannot be done names what is missing.
func TestBlockedWorkNamesWhatIsMissing(t *testing.T) {
	for name, c := range map[string]struct {
		text  string
		kind  plan.CauseKind
		index int
	}{
		"nobody can do it":      {"a1 A must: weld 10 W", plan.BySkill, 'W' - 'A'},
		"too few people":        {"a1 A must: lift 10 A,A,A off", plan.ByHands, -1},
		"no such room":          {"a1 A must: lift 10 A,A", plan.ByRoom, 0},
		"no bench":              {"pool bench 0\na1 A must: mend 10 M bench", plan.ByPool, 0},
		"no spare":              {"stock blade 0\na1 A must: swap 10 M blade", plan.ByStock, 0},
		"one spare for two":     {"stock blade 1\na1 A must: swap 10 M blade\na2 A must: swap 10 M blade", plan.ByStock, 0},
		"what stands before it": {"a0 A must: weld 10 W\na1 A must after a0: close 10 M", plan.BySkill, 'W' - 'A'},
		"what stands before, through work left off": {"a0 A must: weld 10 W\na1 A could after a0: wash 5 M\na2 A must after a1: close 10 M",
			plan.BySkill, 'W' - 'A'},
	} {
		t.Run(name, func(t *testing.T) {
			w := read(t, "group A 60/1\nperson P1 M\nperson P2 E\n"+c.text)
			got := plan.Solve(w.Problem, 100, 1)
			require.NoError(t, plan.Check(w.Problem, got))
			require.True(t, got.Groups[0].Never)
			require.Equal(t, plan.Cause{Kind: c.kind, Index: c.index, WaitSec: plan.HorizonSec}, got.Groups[0].Cause)
		})
	}
}

func TestWorkThatWaitsForWhatCannotBeDoneHoldsNoStock(t *testing.T) {
	w := read(t, `group A 60/2
person P1 M
stock blade 1
a1 A must: weld 10 W
a2 A must after a1: swap 10 M blade
a3 A should: spare 10 M blade`)
	got := plan.Solve(w.Problem, 1, 1)
	require.NoError(t, plan.Check(w.Problem, got))
	require.Equal(t, plan.Blocked, got.Tasks[1].State)
	require.Equal(t, plan.Kept, got.Tasks[2].State)
}

func TestTheOnlySpareGoesToTheWorkThatComesFirst(t *testing.T) {
	w := read(t, `group A 60/1
person P1 M
stock belt 1
a1 A must: swap 10 M belt
a2 A must after a1: fit 10 M belt`)
	for seed := range uint64(20) {
		got := plan.Solve(w.Problem, 1, seed)
		require.NoError(t, plan.Check(w.Problem, got))
		require.Equal(t, plan.Kept, got.Tasks[0].State)
		require.Equal(t, plan.Blocked, got.Tasks[1].State)
	}
}

// Constructed by us; the sums are beside each case.
func TestTheBoundSaysByHowMuchNoPlanMeetsACall(t *testing.T) {
	for name, c := range map[string]struct {
		text    string
		minutes int32
	}{
		"longest path on shortest ways":  {"a1 A must: swap 20 M | mend 30 M\na2 A must after a1: close 10 M", 30},
		"optional work does not count":   {"a1 A must: swap 20 M\na2 A should after a1: wash 30 M\na3 A must after a2: close 10 M", 30},
		"an earliest start":              {"a1 A must not-before 25: swap 20 M", 45},
		"running work":                   {"a1 A must running P1 7: swap 20 M\na2 A must after a1: close 10 M", 17},
		"one bench, 15 + 15 + 15":        {"pool bench 1\na1 A must: x 15 M bench\na2 A must: y 15 M bench\na3 A must: z 15 - bench", 45},
		"one who solders, 20 + 15":       {"a1 A must: x 20 E\na2 A must: y 15 E", 35},
		"three people, 5 x 20 / 3":       {"a1 A must: v 20 A off\na2 A must: x 20 A off\na3 A must: y 20 A off\na4 A must: z 20 A off\na5 A must: u 20 A off", 0},
		"three people, 3 pairs in turn":  {"a1 A must: v 20 A,A off\na2 A must: x 20 A,A off\na3 A must: y 20 A,A off", 60},
		"solder after a strip, 5+20+15":  {"a0 A must: strip 5 M\na1 A must after a0: x 20 E\na2 A must after a0: y 15 E", 40},
		"a test after the solder, +8":    {"a1 A must: x 20 E\na2 A must: y 15 E\na3 A must after a1,a2: test 8 M whole", 43},
		"room for two, 3 x 20 x 1 / 2":   {"a1 A must: x 20 M\na2 A must: y 20 M\na3 A must: z 20 A", 30},
		"not more than is there running": {"a1 A must running P1,P2,P3 10: x 20 A,A,A\na2 A must: y 10 -", 10},
	} {
		t.Run(name, func(t *testing.T) {
			w := read(t, "group A 1/2\nperson P1 M\nperson P2 M,E\nperson P3 M\n"+c.text)
			got := plan.Solve(w.Problem, 100, 1)
			want := c.minutes * 60
			if want == 0 {
				want = 100 * 60 / 3 // 33 min 20 s
			}
			require.Equal(t, want, got.Groups[0].BoundSec)
			require.LessOrEqual(t, want, got.Groups[0].ReadySec)
		})
	}
}
