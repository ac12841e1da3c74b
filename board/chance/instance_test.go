package chance_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/chance"
	"mendline/board/plan"
)

const (
	mech = plan.SkillSet(1)
	elec = plan.SkillSet(2)
)

// w5 is an instance constructed by us: a robot A called in 60 minutes whose frame
// is being straightened, a robot B called in 70, one charging channel. Its best plan
// and the chances of it, with every bad case twice the likely time, were computed
// independently (Python/scipy).
func w5() plan.Problem {
	way := func(min int32, place plan.Place, pool int, team ...plan.SkillSet) []plan.Way {
		return []plan.Way{{DurationSec: min * 60, Place: place, Team: team, Needs: []plan.Need{{Pool: pool, Count: 1}}}}
	}
	const bench, channel = 0, 1
	return plan.Problem{
		People: []plan.Person{{Skills: mech}, {Skills: mech | elec}, {Skills: mech}},
		Pools:  []plan.Pool{{Capacity: 2}, {Capacity: 1}},
		Groups: []plan.Group{{Room: 2, DeadlineSec: 60 * 60, Weight: 1}, {Room: 2, DeadlineSec: 70 * 60, Weight: 1}},
		Tasks: []plan.Task{
			{Group: 0, Ways: way(30, plan.In, bench, mech, mech), Running: &plan.Running{People: []int{0, 2}, LeftSec: 18 * 60}},
			{Group: 0, EarliestSec: 10 * 60, Ways: way(25, plan.Off, channel)},
			{Group: 0, After: []int{0, 1}, Ways: way(10, plan.In, bench, mech)},
			{Group: 1, Ways: way(25, plan.Off, channel)},
			{Group: 1, Ways: way(20, plan.In, bench, mech, mech)},
			{Group: 1, After: []int{3, 4}, Ways: way(10, plan.In, bench, mech)},
		},
	}
}

// network follows a plan of w5.
func network(t *testing.T, p plan.Problem, made plan.Plan) *chance.Network {
	after, order := chance.Flow(p, made)
	n := &chance.Network{Calls: []chance.Call{by(60), by(70)}, Groups: []chance.Group{{Call: 0}, {Call: 1}}}
	at := map[int]int{}
	for _, i := range order {
		likely := float64(p.Tasks[i].Ways[made.Tasks[i].Way].DurationSec) / 60
		task := chance.Task{Key: uint64(i + 1), Group: p.Tasks[i].Group, Work: work(t, likely, 2*likely), ReleaseSec: float64(p.Tasks[i].EarliestSec)}
		if p.Tasks[i].Running != nil {
			task.Work.SpentSec = 12 * 60
		}
		for _, a := range after[i] {
			task.After = append(task.After, chance.Arc{From: at[a.From], Kind: a.Kind, Index: a.Index})
		}
		at[i] = len(n.Tasks)
		n.Tasks = append(n.Tasks, task)
	}
	return n
}

func TestAPlanThatFitsMayHaveAPoorChance(t *testing.T) {
	t.Parallel()
	p := w5()
	made := plan.Solve(p, 2000, 1)
	require.Zero(t, made.Score.NotReady)
	aFirst := p
	aFirst.Groups = []plan.Group{p.Groups[0], {Room: 2, DeadlineSec: plan.NoDeadline}}
	aFirst.Groups[0].DeadlineSec = 45 * 60
	d := chance.NewDraws(1, many, 0)
	for _, c := range []struct {
		what                string
		made                plan.Plan
		a, b, both, lateMin float64
	}{
		{"B charges first, both would be ready", packedIn(made), .363, .693, .294, 22.2},
		{"A charges first", packedIn(plan.Solve(aFirst, 2000, 1)), .689, .308, .292, 23.5},
	} {
		o := chance.Play(network(t, p, c.made), d, 0, many)
		require.InDelta(t, c.a, o.Chance(0), 0.006, c.what)
		require.InDelta(t, c.b, o.Chance(1), 0.006, c.what)
		both := 0
		for day, ready := range o.ReadyDays(0) {
			if ready <= 60*60 && o.ReadyDays(1)[day] <= 70*60 {
				both++
			}
		}
		require.InDelta(t, c.both, float64(both)/many, 0.006, c.what)
		require.InDelta(t, c.lateMin, (o.LateSec(0)+o.LateSec(1))/60, 0.3, c.what)
	}
}

// packedIn closes A with whoever is not on B's blade, and B with one who is: nobody
// then waits for a person of the other robot, as in the computed figures.
func packedIn(made plan.Plan) plan.Plan {
	made.Tasks = slices.Clone(made.Tasks)
	blade := made.Tasks[4].People
	made.Tasks[2].People = []int{3 - blade[0] - blade[1]}
	made.Tasks[5].People = blade[:1]
	return made
}
