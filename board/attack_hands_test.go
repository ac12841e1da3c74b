package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about hands on a robot that carry no tag.

// loose is a job in the robot that asks for no lockout, by its lead's word.
func (p *pit) loose(where Where) JobID {
	p.t.Helper()
	fix := swapBlade(p.blade)
	fix.Name, fix.Where, fix.Lockout, fix.PackOut, fix.Touches = "tape the antenna", where, false, false, nil
	return p.jobWith(p.as(p.ada), Could, fix)
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

// twoOn is a job that Ben and Dee are both at work on.
func (p *pit) twoOn() JobID {
	p.t.Helper()
	p.open()
	job := p.job()
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	p.ok(p.as(p.dee), JobJoin{Job: job})
	return job
}

func TestSeveralPeopleAreOnOneJobEachWithTheirOwnTime(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.refused(p.as(p.ada), JobJoin{Job: job}, 0)
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.refused(p.as(p.ben), JobJoin{Job: job}, 0)
	p.refused(p.as(p.ada), JobJoin{Job: job}, 3) // no tag
	p.ok(p.as(p.ada), TagOn{Robot: p.moth})
	p.now += 60_000
	p.ok(p.as(p.ada), JobJoin{Job: job})
	p.now += 60_000
	require.Len(t, p.s.Jobs[job].AtWork(), 2)
	require.Equal(t, int((p.now-p.s.Jobs[job].Started)/1000), p.s.Jobs[job].WorkedSec(p.now), "by the clock, not twice")
	p.ok(p.as(p.ben), JobLeave{Job: job})
	require.Equal(t, JobRunning, p.jobState(job), "Ada goes on")
	p.refused(p.as(p.ben), JobLeave{Job: job}, 0)
	p.ok(p.as(p.ada), JobLeave{Job: job})
	require.Equal(t, JobHeld, p.jobState(job))
	require.Equal(t, HoldPerson, p.s.Jobs[job].HeldFor)
	p.ok(p.as(p.ben), JobResume{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
}

func TestRule7NobodyTakesAnothersHandsOffByAHold(t *testing.T) {
	p := newPit(t)
	job := p.twoOn()
	for _, who := range []PersonID{p.gus, p.kit, p.nia} {
		bad := p.refused(p.as(who), JobHold{Job: job, Why: HoldPart}, 7)
		sentenceHas(t, bad, "Ben is on job 1")
		bad = p.refused(p.as(who), JobFinish{Job: job}, 7)
		sentenceHas(t, bad, "Ben and Dee")
	}
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	require.Equal(t, JobRunning, p.jobState(job), "Dee goes on")
	p.refused(p.as(p.ben), JobHold{Job: job, Why: HoldPart}, 7)
	p.ok(p.as(p.ada), JobHold{Job: job, Why: HoldPart})
	require.Equal(t, JobHeld, p.jobState(job))
	st := p.s.Jobs[job].Stints[1]
	require.Equal(t, p.ada, st.EndedBy, "Dee is told who held it")
	require.Empty(t, p.s.Jobs[job].Stints[0].EndedBy)
}

func TestRule7NobodyFinishesAJobThatAnotherIsOn(t *testing.T) {
	p := newPit(t)
	p.captain(PersonChange{Person: p.dee, PersonFields: PersonFields{Name: "Dee", Role: RoleCrew, Authorised: p.s.People[p.dee].Authorised}})
	job := p.twoOn()
	sentenceHas(t, p.refused(p.as(p.ben), JobFinish{Job: job}, 7), "Dee is on job 1 too: Dee leaves it first, or Ada finishes it for all")
	p.ok(p.as(p.dee), JobLeave{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))

	q := newPit(t)
	job = q.twoOn()
	q.ok(q.as(q.ada), JobFinish{Job: job})
	require.Equal(t, JobClosed, q.jobState(job), "the lead finishes it for all")
	require.Equal(t, q.ada, q.s.Jobs[job].Stints[1].EndedBy)
}

func TestTheBoardHoldsAJobForAllWhoAreOnIt(t *testing.T) {
	p := newPit(t)
	job := p.twoOn()
	p.ok(p.as(p.gus), RobotDoubt{Robot: p.moth, Why: "a click"})
	require.Equal(t, JobHeld, p.jobState(job))
	for _, st := range p.s.Jobs[job].Stints {
		require.NotZero(t, st.To)
		require.Empty(t, st.EndedBy, "the board did")
	}
}

func TestWhoeverWorkedOnAJobDoesNotLookAtItAgain(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.bare(job)
	p.ok(p.as(p.dee), JobJoin{Job: job})
	p.ok(p.as(p.dee), JobLeave{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.refused(p.as(p.dee), JobReinspect{Job: job}, 0)
	p.ok(p.as(p.ada), JobReinspect{Job: job})
}

// closedBy has Ben and Dee at work on the last repair, Ben done with it, and the robot
// brought to where only the signature is missing.
func (p *pit) closedBy() {
	p.t.Helper()
	job := p.twoOn()
	p.ok(p.as(p.dee), JobLeave{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	p.walk(p.as(p.ben), ListInspect)
	for _, who := range []PersonID{p.ben, p.dee} {
		_, bad := p.tagOff(p.as(who), who)
		require.Nil(p.t, bad)
	}
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	for range 3 {
		p.answer(p.as(p.ben), ListReady)
	}
}

func TestRule12NobodyWhoWorkedOnTheLastRepairSigns(t *testing.T) {
	p := newPit(t)
	p.closedBy()
	bad := p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 12)
	sentenceHas(t, bad, "Ada and Nia can")
	p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
	require.Equal(t, Ready, p.state())
}

func TestRule12WhereEveryoneWorkedBothWaysOutAreNamedAndOpen(t *testing.T) {
	alone := func(t *testing.T) *pit {
		p := newPit(t)
		p.captain(PersonRetire{Person: p.nia})
		p.captain(PersonChange{Person: p.ben, PersonFields: PersonFields{Name: "Ben", Role: RoleCrew}})
		p.captain(PersonChange{Person: p.dee, PersonFields: PersonFields{Name: "Dee", Role: RoleSafety}})
		for p.state() != Verified {
			p.answer(p.as(p.ada), ListMakeSafe)
		}
		p.ok(p.as(p.ada), TagOn{Robot: p.moth})
		p.walk(p.as(p.ada), ListFirstIn)
		job := p.job()
		p.ok(p.as(p.ada), JobStart{Job: job})
		p.ok(p.as(p.ada), JobFinish{Job: job})
		p.walk(p.as(p.ada), ListInspect)
		_, bad := p.tagOff(p.as(p.ada), p.ada)
		require.Nil(t, bad)
		p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
		p.walk(p.as(p.ada), ListCloseUp)
		for range 3 {
			p.answer(p.as(p.ada), ListReady)
		}
		refused := p.refused(p.as(p.ada), p.said(ListReady, "sign", SaidDone), 12)
		sentenceHas(t, refused, "on the captain's device")
		sentenceHas(t, refused, "which is printed")
		return p
	}
	p := alone(t)
	official := p.person(PersonFields{Name: "Olu", Role: RoleCrew, Signer: true, From: "the officials"})
	on := p.as(p.ada)
	on.Proved = []PersonID{official}
	sign := p.said(ListReady, "sign", SaidDone)
	sign.Person = official
	p.ok(on, sign)
	require.Equal(t, Ready, p.state())

	p = alone(t)
	relaxed := p.settings()
	relaxed.RepairerMaySign = true
	p.captain(EventSet{EventFields: relaxed, Reason: "the event says so"})
	p.ok(p.as(p.ada), p.said(ListReady, "sign", SaidDone))
	require.Equal(t, Ready, p.state())
}

func TestRule7APackMovedUnderPowerMakesTheRobotUnknown(t *testing.T) {
	for name, c := range map[string]struct {
		power func(p *pit) Command
		move  func(p *pit) PackMove
		still bool
	}{
		"out, in a test":         {driven, func(p *pit) PackMove { return PackMove{Pack: p.p2, Place: p.shelf} }, false},
		"out, live":              {fighting, func(p *pit) PackMove { return PackMove{Pack: p.p2, Place: p.shelf} }, false},
		"another found in, live": {fighting, func(p *pit) PackMove { return PackMove{Pack: p.p1, Robot: p.moth, Found: true} }, false},
		"from shelf to box":      {fighting, func(p *pit) PackMove { return PackMove{Pack: p.p1, Place: p.box} }, true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			if name == "out, in a test" {
				p.closedUp()
			} else {
				p.open()
				p.ready()
			}
			require.Equal(t, p.moth, p.s.Packs[p.p2].Robot)
			p.ok(p.as(p.ada), c.power(p))
			p.ok(p.as(p.ben), c.move(p))
			require.Equal(t, c.still, p.state() != Unknown)
			require.Equal(t, !c.still, p.power().Conflict, "an alarm about people")
		})
	}
}

func driven(p *pit) Command {
	return RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}
}

func fighting(p *pit) Command { return RobotLive{Robot: p.moth, Place: p.arena} }
