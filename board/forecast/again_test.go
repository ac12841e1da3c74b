package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/board/view"
)

// Computed independently: the steps of a beetle's sheets after the last job (1, 2, 1 and 1
// min, twice as long in the bad case), and on 1 day of 10 a mending of 5 min (15 in the bad
// case), closing up and test once more; 200,000 days. The inputs are constructed by us.
func TestATestThatMayFailCosts(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	r := p.light("Sprat", 1, ada)
	p.charged(p.pack("P1", r))
	p.open(r, ada)
	p.calledAt(r, p.now.Add(12*time.Minute))
	share := func() float64 { return forecast.ReadyShares(p.s, p.now, 1, budget)[r] }
	require.InDelta(t, .986, share(), .01, "the officials may prove the failsafe")
	require.Nil(t, p.make().Tests)

	e := p.s.Event().EventFields
	e.FailsafeAt = []board.FailsafePlace{board.FailsafeTestBox}
	p.captain(board.EventSet{EventFields: e})
	require.InDelta(t, .921, share(), .015)

	p.by(ada, board.RobotCloseUp{Robot: r})
	p.walk(r, board.ListCloseUp, ada)
	ready, _ := p.s.Sheet(r, board.ListReady)
	l, _ := ready.OpenLine()
	require.Equal(t, board.LineProof, l.Kind)
	p.by(ada, board.SheetAnswer{Sheet: ready.ID, Line: l.ID, Said: board.SaidNo})
	require.InDelta(t, 2.0/11, view.TestsFail(p.s), 1e-9, "one that failed, beside a guess of 1 in 10 that is worth ten")
	require.Equal(t, &view.Tests{N: 1, Failed: 1, SaidOf100: 10, Of100: 18}, p.make().Tests)
}
