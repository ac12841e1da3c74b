package plan_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board/plan"
)

// The share need not be 1: enumeration may also give up a must of a group that
// is never ready anyway to keep optional work, which the planner does not.
func TestTinyDaysAreSolvedToTheOptimum(t *testing.T) {
	t.Parallel()
	days := atLength(100, 1000)
	optimal := 0
	for seed := range uint64(days) {
		p := day(seededDraw(seed), tinyDay)
		got := plan.Solve(p, 1000, 1)
		require.NoError(t, plan.Check(p, got), "day %d", seed)
		best := optimum(p)
		require.GreaterOrEqual(t, got.Score.Compare(best), 0, "day %d: better than the optimum %+v: %+v", seed, best, got.Score)
		if got.Score == best {
			optimal++
		} else {
			t.Logf("day %d: %+v, optimum %+v", seed, got.Score, best)
		}
	}
	t.Logf("%d of %d optimal", optimal, days)
	require.GreaterOrEqual(t, optimal, days*95/100)
}

func TestEveryPlanOfAFullDayPassesTheCheck(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := day(rapidDraw(t), fullDay)
		got := plan.Solve(p, plan.Budget(rapid.IntRange(1, 60).Draw(t, "budget")), rapid.Uint64().Draw(t, "seed"))
		require.NoError(t, plan.Check(p, got))
		for g, group := range got.Groups {
			require.LessOrEqual(t, group.BoundSec, group.ReadySec, "group %d is ready before its bound", g)
			late := group.LateSec > 0 || group.Never
			require.Equal(t, late, group.Cause.Kind != plan.NoCause, "group %d", g)
		}
	})
}

func TestNoPlanIsReadyBeforeTheBound(t *testing.T) {
	t.Parallel()
	for seed := range uint64(atLength(200, 2000)) {
		p := day(seededDraw(1000+seed), tinyDay)
		for g, said := range plan.Solve(p, 1, 1).Groups {
			require.LessOrEqual(t, int64(said.BoundSec), leastReadySec(p, g), "day %d, group %d", seed, g)
		}
	}
}

// leastReadySec is the lateness of group g where it alone has a deadline, now.
func leastReadySec(p plan.Problem, g int) int64 {
	groups := make([]plan.Group, len(p.Groups))
	for k := range groups {
		groups[k] = plan.Group{Room: p.Groups[k].Room, DeadlineSec: plan.NoDeadline}
	}
	groups[g].DeadlineSec = 0
	p.Groups = groups
	return optimum(p).LateSec
}

func TestTheSameSeedAndBudgetGiveTheSamePlan(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := day(rapidDraw(t), fullDay)
		seed := rapid.Uint64().Draw(t, "seed")
		require.Equal(t, plan.Solve(p, 40, seed), plan.Solve(p, 40, seed))
	})
}

// A larger budget is spent another way from the start, so that a single day may
// come out worse.
func TestMoreWorkGivesBetterPlans(t *testing.T) {
	t.Parallel()
	better, worse := 0, 0
	for seed := range uint64(20) {
		p := day(seededDraw(seed), fullDay)
		few, many := plan.Solve(p, 50, seed), plan.Solve(p, 400, seed)
		require.LessOrEqual(t, many.Schedules, 400)
		switch c := many.Score.Compare(few.Score); {
		case c < 0:
			better++
		case c > 0:
			worse++
		}
	}
	t.Logf("of 20 days, %d better and %d worse", better, worse)
	require.LessOrEqual(t, worse, 1)
	require.GreaterOrEqual(t, better, 3)
}

func TestRelabellingChangesNothingOfTheOptimum(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		p := day(seededDraw(2000+seed), tinyDay)
		q := relabelled(p, seed)
		require.Equal(t, optimum(p), optimum(q), "day %d", seed)
		require.Equal(t, plan.Solve(p, 1000, 1).Score, plan.Solve(q, 1000, 1).Score, "day %d", seed)
	}
}

// relabelled gives tasks, people and groups other indices.
func relabelled(p plan.Problem, seed uint64) plan.Problem {
	r := rand.New(rand.NewPCG(seed, 2))
	task, person, group := r.Perm(len(p.Tasks)), r.Perm(len(p.People)), r.Perm(len(p.Groups))
	q := plan.Problem{People: make([]plan.Person, len(p.People)), Pools: p.Pools, Stocks: p.Stocks,
		Groups: make([]plan.Group, len(p.Groups)), Tasks: make([]plan.Task, len(p.Tasks))}
	for i := range p.People {
		q.People[person[i]] = p.People[i]
	}
	for i := range p.Groups {
		q.Groups[group[i]] = p.Groups[i]
	}
	through := func(perm, list []int) (out []int) {
		for _, i := range list {
			out = append(out, perm[i])
		}
		return out
	}
	for i, t := range p.Tasks {
		t.Group = group[t.Group]
		t.After, t.Assigned = through(task, t.After), through(person, t.Assigned)
		if t.Running != nil {
			running := *t.Running
			running.People = through(person, running.People)
			t.Running = &running
		}
		q.Tasks[task[i]] = t
	}
	return q
}

func TestASkippedTaskInBetweenChangesNothingElse(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		p := day(seededDraw(3000+seed), tinyDay)
		q := p
		q.Tasks = append([]plan.Task(nil), p.Tasks...)
		for i := range q.Tasks {
			if len(q.Tasks[i].After) == 0 || q.Tasks[i].Running != nil {
				continue
			}
			// Nobody can do it, so it is always left off.
			between := plan.Task{Group: q.Tasks[i].Group, Grade: plan.Could, After: q.Tasks[i].After, EarliestSec: 5000,
				Ways: []plan.Way{{DurationSec: 600, Team: []plan.SkillSet{1 << 40}}}}
			q.Tasks[i].After = []int{len(q.Tasks)}
			q.Tasks = append(q.Tasks, between)
			break
		}
		got := plan.Solve(q, 1000, 1)
		require.NoError(t, plan.Check(q, got))
		want := optimum(p)
		want.CouldOff += len(q.Tasks) - len(p.Tasks)
		require.Equal(t, want, got.Score, "day %d", seed)
	}
}

func TestMoreCapacityNeverWorsensTheOptimum(t *testing.T) {
	for seed := range uint64(60) {
		p := day(seededDraw(4000+seed), tinyDay)
		q := p
		q.Pools = append([]plan.Pool(nil), p.Pools...)
		q.Stocks = append([]plan.Stock(nil), p.Stocks...)
		q.Pools[0].Capacity++
		q.Stocks[0].Count++
		require.LessOrEqual(t, optimum(q).Compare(optimum(p)), 0, "day %d", seed)
	}
}

func TestTheSearchStopsAtTheBoundAndWhereNothingIsGained(t *testing.T) {
	w := read(t, "group A 60/2\nperson P1 M\na1 A must: mend 10 M\na2 A must: wash 10 M")
	require.LessOrEqual(t, plan.Solve(w.Problem, 1000, 1).Schedules, 3)
	stuck := read(t, w6)
	require.Less(t, plan.Solve(stuck.Problem, 20_000, 1).Schedules, 12_000)
	require.InDelta(t, 20, plan.Solve(stuck.Problem, 20, 1).Schedules, 2)
}

func TestNothingToDoIsReadyAtOnce(t *testing.T) {
	p := plan.Problem{Groups: []plan.Group{{DeadlineSec: 0}}}
	got := plan.Solve(p, 100, 1)
	require.NoError(t, plan.Check(p, got))
	require.Zero(t, got.Score)
}

func TestSolveRefusesAnInvalidProblem(t *testing.T) {
	require.PanicsWithValue(t, "plan: solve an invalid problem: group 0: deadline -5 s is negative; times count from now, give 0 for what has passed",
		func() { plan.Solve(plan.Problem{Groups: []plan.Group{{DeadlineSec: -5}}}, 1, 1) })
}
