package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Who was at work when their phone had no network is on the robot, whatever the job and the
// robot are by the time the board hears of it.

func TestRule7ALateWordOfWorkIsHandsNearUntilTheyAreLifted(t *testing.T) {
	for name, do := range map[string]func(job JobID) Command{
		"started": func(job JobID) Command { return JobStart{Job: job} },
		"resumed": func(job JobID) Command { return JobResume{Job: job} },
		"joined":  func(job JobID) Command { return JobJoin{Job: job} },
	} {
		for _, closing := range []bool{true, false} {
			t.Run(name, func(t *testing.T) {
				p := newPit(t)
				p.open()
				job := p.jobWith(p.as(p.ben), Could, swapBlade(p.blade))
				_, bad := p.tagOff(p.as(p.ben), p.ben)
				require.Nil(t, bad)
				if closing {
					p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
				}
				p.now += minute
				require.NotNil(t, p.at(p.as(p.gus), do(job), p.now), "at once it is refused")
				require.Nil(t, p.at(p.as(p.gus), do(job), p.now-30*second))
				hands, near := p.s.HandsOf(p.moth, p.gus)
				require.True(t, near)
				if closing {
					require.Equal(t, Unknown, p.state())
					require.True(t, p.power().Conflict)
				}
				_, bad = p.try(p.as(p.ada), HandsOff{Hands: hands.ID})
				require.NotNil(t, bad, "nobody says it for him")
				p.ok(p.as(p.gus), HandsOff{Hands: hands.ID})
			})
		}
	}
}

func TestRule3ALateWordOfWorkBesideTheFirstInMakesTheRobotUnknown(t *testing.T) {
	p := newPit(t)
	job := p.job()
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	require.Equal(t, Work, p.state())
	p.now += minute
	require.Nil(t, p.at(p.as(p.gus), JobStart{Job: job}, p.now-30*second))
	require.Equal(t, Unknown, p.state())
	require.True(t, p.power().Conflict)
}

func TestRule7ALateWorkerStaysOnWhenTheLastTagComesOff(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.now += minute
	require.Nil(t, p.at(p.as(p.gus), JobStart{Job: job}, p.now-30*second))
	require.Equal(t, Work, p.state())
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	_, near := p.s.HandsOf(p.moth, p.gus)
	require.True(t, near, "he never said that he left")
}

func TestALineWithNothingToChooseTakesNoChoice(t *testing.T) {
	p := newPit(t)
	p.open()
	look := p.said(ListInspect, "weapon", SaidDone)
	look.Choice = "owed"
	_, bad := p.try(p.as(p.ben), look)
	require.NotNil(t, bad)
	require.Equal(t, "choice", bad.Field)
	look.Choice = ""
	p.ok(p.as(p.ben), look)
}

func TestRule3ALateWordOfWorkOnAnIsolatedRobotMakesItUnknown(t *testing.T) {
	for _, off := range []bool{false, true} {
		p := newPit(t)
		job := p.job()
		if off {
			job = p.loose(OffRobot)
		}
		for p.state() != Isolated {
			p.answer(p.as(p.ben), ListMakeSafe)
		}
		p.now += minute
		require.Nil(t, p.at(p.as(p.gus), JobStart{Job: job}, p.now-30*second))
		require.Equal(t, !off, p.state() == Unknown, "nobody tries a start with hands in it")
	}
}

func TestRule7WhoWasOnAJobThatAsksForNoLockoutIsOnTheRobotWhileTheirJobDoesNotSaySo(t *testing.T) {
	for name, c := range map[string]struct {
		before func(p *pit) JobID
		near   bool
	}{
		"on a robot that is unknown": {func(p *pit) JobID { return p.loose(AtRobot) }, true},
		"on a job that is finished": {func(p *pit) JobID {
			p.makeSafe()
			job := p.loose(AtRobot)
			p.ok(p.as(p.kit), JobStart{Job: job})
			p.now += minute
			p.ok(p.as(p.kit), JobFinish{Job: job})
			return job
		}, true},
		"on one that runs by it": {func(p *pit) JobID { p.makeSafe(); return p.loose(AtRobot) }, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			job := c.before(p)
			p.now += minute
			require.Nil(t, p.at(p.as(p.gus), JobStart{Job: job}, p.now-30*second))
			_, near := p.s.HandsOf(p.moth, p.gus)
			require.Equal(t, c.near, near)
			require.NotEmpty(t, p.s.HandsOn(p.moth), "either way they are on it")
		})
	}
}

func TestALateWordOfWorkIsHeardOnceAndOfAFifthPersonToo(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	job := p.loose(AtRobot)
	p.ok(p.as(p.kit), JobStart{Job: job})
	p.now += minute
	bad := p.at(p.as(p.kit), JobStart{Job: job}, p.now-30*second)
	require.NotNil(t, bad)
	require.Equal(t, CodeNothingToDo, bad.Code)
	for _, who := range []PersonID{p.ben, p.dee, p.nia} {
		p.ok(p.as(who), JobJoin{Job: job})
	}
	p.refused(p.as(p.gus), JobJoin{Job: job}, 0)
	p.now += minute
	require.Nil(t, p.at(p.as(p.gus), JobJoin{Job: job}, p.now-30*second))
	_, near := p.s.HandsOf(p.moth, p.gus)
	require.True(t, near)
}

func TestRule7AFinishIsNotTakenBackUnderPower(t *testing.T) {
	for name, end := range map[string]func(job JobID) Command{
		"finished": func(job JobID) Command { return JobFinish{Job: job} },
		"held":     func(job JobID) Command { return JobHold{Job: job, Why: HoldClock} },
	} {
		for _, where := range []Where{AtRobot, OffRobot} {
			for _, power := range []bool{true, false} {
				t.Run(name, func(t *testing.T) {
					p := newPit(t)
					p.closedUp()
					job := p.loose(where)
					p.ok(p.as(p.kit), JobStart{Job: job})
					ended := p.ok(p.as(p.kit), end(job)).Done.ID
					if power {
						p.tests()
						if where == AtRobot {
							sentenceHas(t, p.refused(p.as(p.kit), Undo{Command: ended}, 7), "mark hands near")
							p.ok(p.as(p.kit), HandsOn{Robot: p.moth})
							require.Equal(t, Unknown, p.state())
							return
						}
					}
					p.ok(p.as(p.kit), Undo{Command: ended})
				})
			}
		}
	}
}

func TestRule7ALateWordOfWorkOnAnotherRobotThereEndsATest(t *testing.T) {
	for _, there := range []bool{true, false} {
		p := newPit(t)
		at := p.box
		if !there {
			at = p.bench
		}
		wren := p.wren(at)
		fix := swapBlade("")
		fix.Name, fix.Stock, fix.Where, fix.Lockout, fix.PackOut, fix.Touches = "tape the antenna", nil, AtRobot, false, false, nil
		job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ben), JobAdd{
			JobFields: JobFields{Robot: wren, Name: "a job", Triage: Could, Fixes: []Fix{fix}}, Reason: noLockout,
		})))
		p.closedUp()
		p.tests()
		p.now += minute
		require.Nil(t, p.at(p.as(p.kit), JobStart{Job: job}, p.now-30*second))
		require.Equal(t, there, p.state() == Unknown)
	}
}
