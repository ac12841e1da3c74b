package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// The chances were computed independently: the part as said, twice as long in the bad
// case (10 and 30 min where nobody knows), then the job, then the steps of the sheets, all
// with a correlation of 0.2. 100,000 days each. The inputs are constructed by us.
func TestAJobOnHoldForAPartCountsWithWhenItComes(t *testing.T) {
	for _, c := range []struct {
		said, waited int
		chance       float64
	}{{15, 0, .642}, {5, 0, .976}, {30, 0, .223}, {60, 0, .027}, {0, 0, .747}, {15, 10, .537}} {
		p := newPit(t)
		p.station("bench", board.StationBench, 1)
		m := board.SkillMechanical
		ada := p.person("Ada", m)
		r := p.light("Sprat", 1, ada)
		p.open(r, ada)
		belt := p.stock("belt", 0)
		job := p.job(board.JobFields{Robot: r, Name: "Swap the belt", Fixes: []board.Fix{using(fix(5, 8, m), belt)}})
		called := p.now.Add(30 * time.Minute)
		p.by(ada, board.JobHold{Job: job, Why: board.HoldPart, Minutes: c.said})
		p.wait(time.Duration(c.waited) * time.Minute)
		p.calledAt(r, called)
		require.InDelta(t, c.chance, forecast.ReadyShares(p.s, p.now, 1, budget)[r], 0.03, "%+v", c)
		call := p.call(r)
		require.Equal(t, forecast.CausePart, call.Cause.Kind, call.Cause.Text)
		if c.chance < 0.3 {
			require.Equal(t, forecast.FlagWontFinish, call.Flag)
		}
		p.by(ada, board.JobResume{Job: job})
		require.Equal(t, 10, p.ready("Sprat"), "it is here")
	}
}
