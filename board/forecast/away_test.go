package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// twoForAda is a robot back from its fight, and another that stands open, both Ada's.
func twoForAda(t *testing.T, calledInMin int) (p *pit, ada board.PersonID, back, open board.RobotID) {
	p = newPit(t)
	p.station("bench", board.StationBench, 2)
	m := board.SkillMechanical
	ada = p.person("Ada", m)
	p.person("Ben", board.SkillElectrical)
	open = p.light("Tern", 2, ada)
	p.open(open, ada)
	back = p.light("Sprat", 1, ada)
	p.calledAt(back, noon.Add(time.Duration(calledInMin)*time.Minute))
	p.calledAt(open, noon.Add(200*time.Minute))
	return p, ada, back, open
}

// away is where a person is by the plan.
func (p *pit) away(who board.PersonID) []forecast.Absence {
	p.t.Helper()
	return find(p.t, p.make().Absent, func(a forecast.Absent) bool { return a.Person == who }).At
}

func TestWhoIsOnTheSheetsIsOnNoOtherJob(t *testing.T) {
	p, ada, _, open := twoForAda(t, 90)
	j := p.job(board.JobFields{Robot: open, Name: "Swap the belt", Fixes: []board.Fix{fix(10, 10, board.SkillMechanical)}})

	job, sheets := p.plan(j), 0
	for _, a := range p.away(ada) {
		if a.What == "on the sheets of Sprat" || a.What == "on the sheets of Tern" {
			sheets++
			require.True(t, a.To <= job.StartAt || job.EndAt <= a.From, "%+v", a)
		}
	}
	require.NotZero(t, sheets)
}

// Sprat takes five minutes to close up and sign before its call at 12:20, and nine when
// it is back: its lead begins no job of 16 minutes that runs into that.
func TestWhoClosesUpAndSignsIsAwayFromThenOn(t *testing.T) {
	p, ada, back, open := twoForAda(t, 20)
	p.open(back, ada)
	p.job(board.JobFields{Robot: open, Name: "Swap the belt", Fixes: []board.Fix{fix(16, 16, board.SkillMechanical)}})

	away := p.away(ada)
	require.Equal(t, "on the sheets of Sprat", away[0].What)
	require.LessOrEqual(t, away[0].To, noon.Add(20*time.Minute))
	fight := find(t, away, func(a forecast.Absence) bool { return a.What == "at a fight and its sheets" })
	require.Equal(t, noon.Add(20*time.Minute), fight.From)
	start := p.call(back).StartAt.Median
	require.Equal(t, start.Add((3+9)*time.Minute), fight.To)
	lane := find(t, p.make().Lanes, func(l forecast.Lane) bool { return l.Robot == open })
	require.Equal(t, fight.To, lane.Bars[0].StartAt)
}
