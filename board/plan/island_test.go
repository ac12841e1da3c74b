package plan_test

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

func TestIslandsGiveTheSameAnswerAtOnceAndInTurn(t *testing.T) {
	p := day(seededDraw(1), fullDay)
	inTurn := plan.Best(plan.Solve(p, 100, plan.Island(7, 0)), plan.Solve(p, 100, plan.Island(7, 1)))
	var atOnce [2]plan.Plan
	var both sync.WaitGroup
	for k := range atOnce {
		both.Go(func() { atOnce[k] = plan.Solve(p, 100, plan.Island(7, k)) })
	}
	both.Wait()
	require.Equal(t, inTurn, plan.Best(atOnce[:]...))
	require.NotEqual(t, plan.Island(7, 1), plan.Island(7, 2))
	require.NotEqual(t, plan.Island(7, 1), plan.Island(8, 1))
}

func TestTheBestIslandWins(t *testing.T) {
	good, same := plan.Plan{Score: plan.Score{LateSec: 100}, Schedules: 1}, plan.Plan{Score: plan.Score{LateSec: 100}, Schedules: 2}
	bad := plan.Plan{Score: plan.Score{LateSec: 130}}
	require.Equal(t, good, plan.Best(bad, good, same), "the first of equals")
	bad.Held = true
	require.Equal(t, bad, plan.Best(bad, good), "30 s are no reason to leave the plan people follow")
	bad.Score.LateSec = 160
	require.Equal(t, good, plan.Best(bad, good))
}
