package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func (p *pit) followUps(of JobID) int {
	n := 0
	for _, j := range p.s.Jobs {
		if j.FollowUpOf == of {
			n++
		}
	}
	return n
}

// A job that is finished, reopened and finished again has taken its spares once
// and leaves one patch to be put right.
func TestAJobFinishedAgainTakesItsSparesOnce(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(G2)
	patch, swap := swapBlade(p.blade), swapBlade(p.blade)
	patch.Name, patch.Way, patch.Limits = "strap it", WayPatch, "no hard hits"
	job := JobID(p.madeKind(KindJob, p.captain(JobAdd{JobFields: JobFields{
		Robot: p.moth, Name: "blade", Triage: Could, Fixes: []Fix{patch, swap}, Damages: []DamageID{d},
	}})))
	finish := func() {
		p.now += Moment(60_000)
		p.ok(p.as(p.ben), JobStart{Job: job})
		p.now += Moment(60_000)
		p.ok(p.as(p.ben), JobFinish{Job: job})
		p.now += Moment(60_000)
	}
	before := p.s.Stocks[p.blade].Count
	finish()
	require.Equal(t, before-1, p.s.Stocks[p.blade].Count)
	require.Equal(t, 1, p.followUps(job))

	p.ok(p.as(p.ben), JobReopen{Job: job})
	finish()
	require.Equal(t, before-1, p.s.Stocks[p.blade].Count, "the spare was in already")
	require.Equal(t, 1, p.followUps(job))

	p.ok(p.as(p.ben), JobReopen{Job: job})
	p.captain(JobFix{Job: job, Chosen: 1})
	finish()
	require.Equal(t, before-2, p.s.Stocks[p.blade].Count, "another way takes its own")
	require.Equal(t, 1, p.followUps(job))
}

// Whoever took part in isolating is no second pair of eyes, even if someone else
// answered the last line.
func TestRule4WhoAnsweredAnyIsolatingLineDoesNotVerifyAsTheSecond(t *testing.T) {
	p := newPit(t)
	fields := p.s.Robots[p.moth].RobotFields
	fields.SecondVerifier = true
	p.captain(RobotChange{Robot: p.moth, RobotFields: fields})
	p.answer(p.as(p.ben), ListMakeSafe)
	for p.state() != Isolated {
		p.answer(p.as(p.dee), ListMakeSafe)
	}
	require.Equal(t, p.dee, p.s.Powers[p.moth].IsolatedBy)
	for _, who := range []PersonID{p.ben, p.dee} {
		p.refused(p.as(who), p.said(ListMakeSafe, "try", SaidDone), 4)
	}
	p.ok(p.as(p.ada), p.said(ListMakeSafe, "try", SaidDone))
}

// The result of a fight always sets unknown. What was inspected since the robot
// came out of the arena counts all the same; without that knowledge it does not.
func TestALateResultKeepsWhatWasInspectedSinceTheArena(t *testing.T) {
	for _, known := range []bool{true, false} {
		p := newPit(t)
		f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
		p.open()
		p.ready()
		p.now += Moment(60_000)
		p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
		p.now += Moment(60_000)
		if known {
			p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7})
		}
		p.now += Moment(4 * 60_000)
		p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
		p.open()
		p.walk(p.as(p.ben), ListInspect)
		looked, _ := p.s.Sheet(p.moth, ListInspect)
		require.Equal(t, SheetComplete, looked.State)
		p.now += Moment(60_000)

		p.ok(p.as(p.ada), FightEnd{Fight: f, Result: Won})
		require.Equal(t, Unknown, p.state())
		require.Equal(t, known, p.s.Powers[p.moth].FoughtAt < looked.OpenedAt)
		if known {
			require.Contains(t, p.s.Powers[p.moth].Why, "came late")
		}
		_, bad := p.tagOff(p.as(p.ben), p.ben)
		require.Nil(t, bad)
		p.open()
		fresh, _ := p.s.Sheet(p.moth, ListInspect)
		_, open := fresh.OpenLine()
		require.Equal(t, known, !open, "the inspection stands where it is known to be of after the fight")
	}
}
