package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about hands on a robot that carry no tag.

// loose is a job in the robot that asks for no lockout.
func (p *pit) loose(where Where) JobID {
	p.t.Helper()
	fix := swapBlade(p.blade)
	fix.Name, fix.Where, fix.Lockout, fix.PackOut, fix.Touches = "tape the antenna", where, false, false, nil
	return p.jobWith(p.as(p.ben), Could, fix)
}

func TestRule7NoPowerWhileSomeoneIsOnAJobAtTheRobot(t *testing.T) {
	drive := func(p *pit) Command { return RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5} }
	for _, where := range []Where{AtRobot, AllRobot} {
		p := newPit(t)
		p.closedUp()
		job := p.loose(where)
		p.ok(p.as(p.kit), JobStart{Job: job})
		bad := p.refused(p.as(p.ada), drive(p), 7)
		sentenceHas(t, bad, "Kit is on job 1 of Tin Moth")
		require.Equal(t, JobRunning, p.jobState(job), "a refused test holds nobody's job")
		p.ok(p.as(p.kit), JobHold{Job: job, Why: HoldClock})
		p.ok(p.as(p.ada), drive(p))
		bad = p.refused(p.as(p.kit), JobResume{Job: job}, 7)
		sentenceHas(t, bad, "test")
	}
	p := newPit(t)
	p.closedUp()
	off := p.loose(OffRobot)
	p.ok(p.as(p.kit), JobStart{Job: off})
	p.ok(p.as(p.ada), drive(p))
	require.Equal(t, JobRunning, p.jobState(off), "off the robot the work goes on")
}

func TestRule7WorkAtARobotThatCameLateMakesItUnknown(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	job := p.loose(AtRobot)
	p.now += 60_000
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 20})
	p.now += 60_000
	p.refused(p.as(p.kit), JobStart{Job: job}, 7)
	require.Nil(t, p.lateAt(p.as(p.kit), JobStart{Job: job}, 90_000))
	require.Equal(t, Unknown, p.state())
	require.True(t, p.power().Conflict, "an alarm about people")
	require.Equal(t, JobHeld, p.jobState(job))
}

func TestRule7NobodyBeginsWorkAtARobotThatIsSigned(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ready()
	p.refused(p.as(p.kit), JobStart{Job: p.loose(AtRobot)}, 7)
	require.Equal(t, Ready, p.state())
}

func TestTheListOfHandsHasEachPersonOnceByName(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ok(p.as(p.ben), HandsOn{Robot: p.moth})
	job := p.loose(AtRobot)
	p.ok(p.as(p.kit), JobStart{Job: job})
	p.ok(p.as(p.ada), TagOn{Robot: p.moth})
	var names []string
	for _, h := range p.s.HandsOn(p.moth) {
		names = append(names, p.s.People[h.Person].Name)
	}
	require.Equal(t, []string{"Ada", "Ben", "Kit"}, names)
	require.Equal(t, job, p.s.HandsOn(p.moth)[2].Job)
	p.captain(JobChange{Job: job, JobFields: p.s.Jobs[job].JobFields})
	p.refused(p.as(p.ada), RobotRetire{Robot: p.moth}, 0)
}
