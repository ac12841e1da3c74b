package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

const quarter = 15 * 60_000

// gassed gives the robot gas with a valve of that reach, and opens it with Ben at
// work and a job running.
func gassed(t *testing.T, reach Reach) (*pit, JobID) {
	p := newPit(t)
	p.energies(Energy{Kind: EnergyDrive, Isolator: "removable link", Reach: Outside}, Energy{Kind: EnergyGas, Isolator: "bleed valve", Reach: reach})
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	return p, job
}

// bled finds the sheet and the moment of the newest answer about gas.
func (p *pit) bled() Recheck {
	p.t.Helper()
	list := p.s.Rechecks(p.moth)
	require.Len(p.t, list, 1)
	return list[0]
}

func (p *pit) again(by Actor, said Said) (Change, *Refusal) {
	zero := 0.0
	r := p.bled()
	return p.try(by, SheetAnswer{Sheet: r.Sheet, Line: r.Line.ID, Said: said, Number: &zero})
}

func TestGasIsCheckedAgainWhilePeopleAreAtWork(t *testing.T) {
	for _, reach := range []Reach{Outside, Inside} {
		t.Run(string(reach)+": overdue", func(t *testing.T) {
			p, job := gassed(t, reach)
			due := p.bled().Due
			require.Equal(t, p.bled().Answered+quarter, due)
			require.Equal(t, due, Due(p.s, p.now))
			p.now = due - 1001 // the tick comes a second later
			p.ok(Itself(), BoardTick{})
			require.Equal(t, Work, p.state())
			p.now = due + 4000
			p.ok(Itself(), BoardTick{})
			require.Equal(t, Unknown, p.state())
			require.True(t, p.s.Powers[p.moth].Conflict, "people are at it")
			require.Equal(t, JobHeld, p.jobState(job))
			require.Equal(t, HoldLockout, p.s.Jobs[job].HeldFor)
			require.Equal(t, due, p.s.Jobs[job].Stints[0].To, "what was worked before counts, the gap does not")
			require.NotEmpty(t, p.tagOf(p.ben))
		})
		t.Run(string(reach)+": answered again", func(t *testing.T) {
			p, job := gassed(t, reach)
			due := p.bled().Due
			p.now = due - 60_000
			_, bad := p.again(p.as(p.ben), SaidDone)
			require.Nil(t, bad)
			require.Equal(t, p.now+quarter, Due(p.s, p.now))
			p.now = due + 60_000
			p.ok(Itself(), BoardTick{})
			require.Equal(t, Work, p.state())
			require.Equal(t, JobRunning, p.jobState(job))
		})
		t.Run(string(reach)+": it has built up", func(t *testing.T) {
			p, job := gassed(t, reach)
			_, bad := p.again(p.as(p.ben), SaidNo)
			require.Nil(t, bad)
			require.Equal(t, Unknown, p.state())
			require.Equal(t, JobHeld, p.jobState(job))
		})
	}
}

func TestTheEventSetsHowLongSuchAnAnswerHolds(t *testing.T) {
	p, _ := gassed(t, Outside)
	f := p.settings()
	f.RecheckSec = 300
	p.captain(EventSet{EventFields: f})
	require.Equal(t, p.bled().Answered+300_000, Due(p.s, p.now))
	f.RecheckSec = 3601
	_, bad := p.try(p.as(p.ada), EventSet{EventFields: f})
	require.Equal(t, "recheckSec", bad.Field)
}

func TestNobodyGoesToWorkOnAnAnswerThatIsOverdue(t *testing.T) {
	p, _ := gassed(t, Outside)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.now += quarter + 60_000
	require.NotEqual(t, p.bled().Due, Due(p.s, p.now), "nobody is at work")
	bad = p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 3)
	sentenceHas(t, bad, "gauge")
	require.Equal(t, Verified, p.state())
	_, bad = p.again(p.as(p.ben), SaidDone)
	require.Nil(t, bad)
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	require.Equal(t, Work, p.state())
}

func TestWhoGoesInFirstAgainBleedsWhatIsReachedInsideOnly(t *testing.T) {
	p, _ := gassed(t, Inside)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.now += quarter + 60_000
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	require.Equal(t, Work, p.state())
	p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 3)
	sheet, _ := p.s.Sheet(p.moth, ListFirstIn)
	require.Equal(t, []string{"gas-2"}, asks(sheet), "the pack is out already")
	p.walk(p.as(p.dee), ListFirstIn)
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	require.Equal(t, p.bled().Answered+quarter, Due(p.s, p.now))
}

func TestOpeningAgainAsksForTheGasAnew(t *testing.T) {
	p, job := gassed(t, Outside)
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.now += quarter + 60_000
	p.ok(Itself(), BoardTick{})
	require.Equal(t, ClosingUp, p.state(), "nobody's hands are in it")
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	require.Equal(t, Work, p.state(), "Ben's tag stayed on")
	require.Equal(t, ListReopen, p.s.Sheets[p.bled().Sheet].List)
}

func TestARobotWithoutGasOrCapacitorsOwesNoRecheck(t *testing.T) {
	p := newPit(t)
	p.open()
	require.Empty(t, p.s.Rechecks(p.moth))
	p.now += 4 * quarter
	p.ok(Itself(), BoardTick{})
	require.Equal(t, Work, p.state())
}
