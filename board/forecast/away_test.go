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

func TestWhoIsOnTheSheetsIsOnNoOtherJob(t *testing.T) {
	p, ada, back, open := twoForAda(t, 90)
	m := board.SkillMechanical
	j := p.job(board.JobFields{Robot: open, Name: "Swap the belt", Fixes: []board.Fix{fix(10, 10, m)}})
	require.Equal(t, noon, p.plan(j).StartAt, "nothing is to be done on Sprat")

	p.job(board.JobFields{Robot: back, Name: "Swap the wheel", Fixes: []board.Fix{fix(3, 3, board.SkillElectrical)}})
	require.Equal(t, noon.Add(9*time.Minute), p.plan(j).StartAt, "Sprat is made safe and inspected first, by its lead")
	away := find(t, p.make().Absent, func(a forecast.Absent) bool { return a.Person == ada })
	require.Equal(t, forecast.Absence{From: noon, To: noon.Add(9 * time.Minute), What: "on the sheets of Sprat"}, away.At[0])
}

// Sprat takes five minutes to close up and sign before its call at 12:20, and nine when
// it is back: its lead begins no job of 20 minutes that runs into that.
func TestWhoClosesUpAndSignsIsAwayFromThenOn(t *testing.T) {
	p, ada, back, open := twoForAda(t, 20)
	p.open(back, ada)
	p.job(board.JobFields{Robot: open, Name: "Swap the belt", Fixes: []board.Fix{fix(16, 16, board.SkillMechanical)}})

	at := find(t, p.make().Absent, func(a forecast.Absent) bool { return a.Person == ada }).At[0]
	require.Equal(t, noon.Add(15*time.Minute), at.From)
	require.Equal(t, "at a fight and its sheets", at.What)
	start := p.call(back).StartAt.Median
	require.Equal(t, start.Add((3+9)*time.Minute), at.To)
	lane := find(t, p.make().Lanes, func(l forecast.Lane) bool { return l.Robot == open })
	require.Equal(t, at.To, lane.Bars[0].StartAt)
}
