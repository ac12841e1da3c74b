package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// The first fix takes a belt, and there is none: people are told to mend it, and that is
// what their phones start.
func TestAJobIsToldAndBegunByTheFixThatIsPlanned(t *testing.T) {
	p := newPit(t)
	p.station("bench", board.StationBench, 2)
	m := board.SkillMechanical
	ada := p.person("Ada", m)
	r := p.light("Sprat", 1, ada)
	p.calledAt(r, noon.Add(90*time.Minute))
	mend := fix(12, 20, m)
	mend.Name, mend.Way = "sew it", board.WayMend
	j := p.job(board.JobFields{Robot: r, Name: "Belt", Fixes: []board.Fix{using(fix(5, 10, m), p.stock("belt", 0)), mend}})

	p.open(r, ada)
	plan, todo := p.plan(j), p.todo(ada)
	require.Equal(t, 1, plan.Fix)
	require.Equal(t, forecast.ActStart, todo.Act)
	require.Equal(t, 12*60, todo.LikelySec)
	p.by(ada, board.JobStart{Job: todo.Job, Fix: todo.Fix})
	require.Equal(t, 1, p.s.Jobs[j].Chosen)
}
