package plan_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// pitDay is a day whose every must can be done: 1 to 6 robots, 3 to 10 people, 10
// to 80 open tasks, each call between what its robot needs at least and what
// all robots need one after another.
func pitDay(seed uint64) plan.Problem {
	p := withoutBlocked(day(seededDraw(seed), size{groups: 6, people: 10, minPeople: 3, minTasks: 10, maxTasks: 80}))
	n := seededDraw(seed + 1)
	first := plan.Solve(p, 1, 1)
	for g := range p.Groups {
		p.Groups[g].Weight = 1
		p.Groups[g].DeadlineSec = first.Groups[g].BoundSec * int32(n(100, 100+100*len(p.Groups))) / 100
	}
	return p
}

// Where enumeration does not reach, the sum of lateness is measured against
// what is proved, by the groups' own bounds and the shortage.
func TestFullDaysComeNearTheirBounds(t *testing.T) {
	t.Parallel()
	const days = 12
	proved, gap := 0, 0.0
	for seed := range uint64(days) {
		p := pitDay(10_000 + seed)
		got := plan.Solve(p, 300, 1)
		require.NoError(t, plan.Check(p, got))
		var least, work int64
		for g, group := range got.Groups {
			least += int64(max(group.BoundSec-p.Groups[g].DeadlineSec, 0))
			work += int64(group.ReadySec)
		}
		least = max(least, got.Short.LateSec)
		require.GreaterOrEqual(t, got.Score.LateSec, least, "day %d", seed)
		if got.Score.LateSec == least {
			proved++
		}
		gap += 100 * float64(got.Score.LateSec-least) / float64(max(work, 1))
	}
	t.Logf("%d of %d days as little late as can be; mean gap %.1f %% of the ready times", proved, days, gap/days)
	require.GreaterOrEqual(t, proved, 9)
}
