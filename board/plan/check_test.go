package plan_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// checkedDay is small enough to break by hand: two robots, one bench.
const checkedDay = `group A 40/2
group B 60/1
person P1 M
person P2 M,E
person P3 M
pool bench 1
stock blade 1
a1 A must running P1 5: mend 10 M
a2 A must after a1: swap 10 M,E bench blade
a3 A should after a2: wash 5 M
b1 B must not-before 3: solder 4 E bench
b2 B must after b1: blade 20 M bench blade | mend 15 M`

func TestCheckNamesTheBrokenConstraint(t *testing.T) {
	w := read(t, checkedDay)
	good := plan.Solve(w.Problem, 500, 1)
	require.NoError(t, plan.Check(w.Problem, good))
	at := func(p *plan.Plan, name string) *plan.TaskPlan { return &p.Tasks[w.tasks[name]] }
	move := func(p *plan.Plan, name string, start int32) {
		task := at(p, name)
		task.FinishSec += start - task.StartSec
		task.StartSec = start
	}
	for name, c := range map[string]struct {
		spoil func(*plan.Plan)
		says  string
	}{
		"precedence":      {func(p *plan.Plan) { move(p, "a2", 60) }, "before task 0 is finished"},
		"earliest start":  {func(p *plan.Plan) { move(p, "b1", 0) }, "before its earliest start"},
		"duration":        {func(p *plan.Plan) { at(p, "a2").FinishSec-- }, "lasts 600 s"},
		"running work":    {func(p *plan.Plan) { move(p, "a1", 60) }, "is running, but the plan changes it"},
		"skill":           {func(p *plan.Plan) { at(p, "b1").People = []int{2} }, "lacks skills"},
		"number of hands": {func(p *plan.Plan) { at(p, "b1").People = nil }, "0 people for 1 hands"},
		"one seat each":   {func(p *plan.Plan) { at(p, "a2").People = []int{1, 1} }, "has another hand already"},
		"person":          {func(p *plan.Plan) { at(p, "b2").People = at(p, "a2").People[:1] }, "person 0: task 4 at 420 s: 2 in use"},
		"pool":            {func(p *plan.Plan) { move(p, "a2", 360) }, "pool 0: task"},
		"stock": {func(p *plan.Plan) {
			b2 := at(p, "b2")
			b2.Way, b2.StartSec, b2.FinishSec = 0, 3600, 3600+1200
		}, "stock 0: 2 used, there are 1"},
		"way":                     {func(p *plan.Plan) { at(p, "b2").Way = 2 }, "way 2 does not exist"},
		"a must left off":         {func(p *plan.Plan) { *at(p, "b2") = plan.TaskPlan{State: plan.Skipped, Way: -1} }, "is a must"},
		"skipped work that lasts": {func(p *plan.Plan) { at(p, "a3").State = plan.Skipped }, "takes time"},
		"blocked early":           {func(p *plan.Plan) { at(p, "b2").State = plan.Blocked }, "not a must at the horizon"},
		"ready time":              {func(p *plan.Plan) { p.Groups[0].ReadySec-- }, "group 0: said to be ready"},
		"score":                   {func(p *plan.Plan) { p.Score.ReadySec-- }, "score said to be"},
		"size":                    {func(p *plan.Plan) { p.Tasks = p.Tasks[1:] }, "plan of 4 tasks"},
	} {
		t.Run(name, func(t *testing.T) {
			bad := good
			bad.Tasks, bad.Groups = slices.Clone(good.Tasks), slices.Clone(good.Groups)
			c.spoil(&bad)
			require.ErrorContains(t, plan.Check(w.Problem, bad), c.says)
		})
	}
}

func TestCheckSeesAbsencesTakenPoolsAndRoom(t *testing.T) {
	w := read(t, `group A 40/2
person P1 M
person P2 M
person P3 M
pool bench 2
a1 A must: mend 10 M,M bench
a2 A must: wash 10 M bench`)
	team := plan.TaskPlan{People: []int{0, 1}, FinishSec: 600}
	said := plan.Plan{
		Score:  plan.Score{ReadySec: 1200},
		Tasks:  []plan.TaskPlan{team, {People: []int{2}, StartSec: 600, FinishSec: 1200}},
		Groups: []plan.GroupPlan{{ReadySec: 1200}},
	}
	require.NoError(t, plan.Check(w.Problem, said))

	crowded := said
	crowded.Tasks = []plan.TaskPlan{team, {People: []int{2}, StartSec: 599, FinishSec: 1199}}
	require.ErrorContains(t, plan.Check(w.Problem, crowded), "room of group 0: task")

	away := w.Problem
	away.People = slices.Clone(away.People)
	away.People[2].Away = []plan.Window{{FromSec: 1199, ToSec: 1300}}
	require.ErrorContains(t, plan.Check(away, said), "person 2: task 1")

	taken := w.Problem
	taken.Pools = []plan.Pool{{Capacity: 2, Taken: []plan.Taken{{Window: plan.Window{FromSec: 0, ToSec: 100}, Count: 2}}}}
	require.ErrorContains(t, plan.Check(taken, said), "pool 0: task 0")
}

func TestAssignedPeopleAreUsedWhereTheyFit(t *testing.T) {
	w := read(t, `group A 90/3
person P1 M
person P2 M
person P3 E
person P4 A
a1 A must: mend 10 M
a2 A must: solder 10 E
a3 A must: lift 10 M,A
a4 A must after a1,a2,a3: wire 10 E,A`)
	w.Tasks[0].Assigned = []int{1}    // fits: must be P2
	w.Tasks[1].Assigned = []int{0}    // lacks the skill: a wish that cannot be met
	w.Tasks[2].Assigned = []int{2, 0} // fits as P1 on M, P3 on A
	w.Tasks[3].Assigned = []int{0, 1} // neither can solder: as many of them as fit, though P4 has time for it
	got := plan.Solve(w.Problem, 300, 1)
	require.NoError(t, plan.Check(w.Problem, got))
	require.Equal(t, []int{1}, got.Tasks[0].People)
	require.Equal(t, []int{2}, got.Tasks[1].People)
	require.Equal(t, []int{0, 2}, got.Tasks[2].People)
	require.Equal(t, []int{2, 0}, got.Tasks[3].People)

	other := got
	other.Tasks = slices.Clone(got.Tasks)
	other.Tasks[2].People = []int{1, 2}
	require.ErrorContains(t, plan.Check(w.Problem, other), "person 1 is on it, but it is assigned to others")
	other.Tasks = slices.Clone(got.Tasks)
	other.Tasks[0].People = []int{0}
	require.ErrorContains(t, plan.Check(w.Problem, other), "assigned to others who can do it")
}
