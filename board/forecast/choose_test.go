package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// twoForOne is a pit in which one person has a sure job on Sprat and a shorter one
// on Tern that may well take long; both are called at once. Constructed by us.
func twoForOne(t *testing.T, minutesToCall int) (p *pit, ada board.PersonID, sure, wild board.JobID) {
	p = newPit(t)
	p.station("bench", board.StationBench, 1)
	m := board.SkillMechanical
	ada = p.person("Ada", m)
	sprat, tern := p.light("Sprat", 1, ada), p.light("Tern", 2, ada)
	p.open(sprat, ada)
	p.open(tern, ada)
	at := p.now.Add(time.Duration(minutesToCall) * time.Minute)
	p.calledAt(sprat, at)
	p.calledAt(tern, at)
	sure = p.job(board.JobFields{Robot: sprat, Name: "Swap the belt", Fixes: []board.Fix{fix(10, 11, m)}})
	wild = p.job(board.JobFields{Robot: tern, Name: "Find the loose wire", Fixes: []board.Fix{fix(5, 20, m)}})
	return p, ada, sure, wild
}

func TestOfPlansThatScoreAlikeTheOneWithMoreRobotsReadyIsChosen(t *testing.T) {
	p, _, sure, wild := twoForOne(t, 27)
	byScore := forecast.Replan(p.s, p.now, 1, 2000)
	require.Zero(t, byScore.Score.NotReady, "by likely times both are ready either way")
	require.Zero(t, byScore.Score.LateSec)
	first, second := byScore.Tasks[0], byScore.Tasks[1]
	require.Greater(t, first.StartSec, second.StartSec, "the least sum of ready times has the shorter job first")

	require.Less(t, p.plan(sure).StartAt, p.plan(wild).StartAt, "on more days both are ready if the sure job is not kept waiting")
}

func TestPeopleKeepThePlanTheyFollowWhereLittleIsToBeGained(t *testing.T) {
	p, ada, sure, wild := twoForOne(t, 60)
	p.follows(ada, wild, sure)

	require.Greater(t, p.plan(sure).StartAt, p.plan(wild).StartAt)
	require.Nil(t, p.make().Replace)
}

func TestPeopleAreGivenAnotherPlanWhereADotIsToBeGained(t *testing.T) {
	p, ada, sure, wild := twoForOne(t, 24)
	p.follows(ada, wild, sure)

	require.Less(t, p.plan(sure).StartAt, p.plan(wild).StartAt)
	require.NotNil(t, p.make().Replace)
}

// follows tells one person the two jobs, the shorter one first.
func (p *pit) follows(who board.PersonID, first, second board.JobID) {
	p.t.Helper()
	told := func(job board.JobID, from, to time.Duration) board.PlanTask {
		at := p.now.Add(from)
		return board.PlanTask{Job: job, Told: board.Told{People: []board.PersonID{who}, StartAt: at}, EndAt: p.now.Add(to)}
	}
	p.captain(board.PlanReplace{Tasks: []board.PlanTask{told(first, 4*time.Minute, 9*time.Minute), told(second, 9*time.Minute, 19*time.Minute)}})
}
