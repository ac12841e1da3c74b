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
