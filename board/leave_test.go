package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestBegunWorkIsLeftAsItIsUnderTheRulesOfWorkThatCloses(t *testing.T) {
	for name, c := range map[string]struct {
		work func(p *pit) JobID
		rule int
	}{
		"under lockout, packs out": {func(p *pit) JobID { return p.begun() }, 0},
		"without their own tag on": {func(p *pit) JobID { job := p.job(); p.bare(job); return job }, 8},
		"with a pack in meanwhile": {func(p *pit) JobID {
			job := p.jobWith(p.as(p.ben), Must, packsOut(p.blade))
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			return job
		}, 9},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			job := c.work(p)
			leave := JobDefer{Job: job, Acceptor: p.ada, Reason: "to make the call"}
			p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldClock})
			if c.rule != 0 {
				sentenceHas(t, p.refused(p.as(p.ada), leave, c.rule), "looks at the work again")
				p.ok(p.as(p.ada), JobReinspect{Job: job})
			}
			p.ok(p.as(p.ada), leave)
			j := p.s.Jobs[job]
			require.Equal(t, JobDeferred, j.State)
			require.Equal(t, p.ada, j.Acceptor)
			require.False(t, j.Blocking())
			require.Positive(t, j.WorkedSec(p.now), "the time that it took stands in the record")
		})
	}
}

// begun starts a job.
func (p *pit) begun() JobID {
	p.t.Helper()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	return job
}
