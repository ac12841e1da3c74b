package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// foretold is a robot with a fight called in 30 minutes and a chance kept for it.
func foretold(t *testing.T, ready int) (p *pit, ada board.PersonID, r board.RobotID, f board.FightID) {
	p = newPit(t)
	p.place("bench", board.PlaceBench)
	ada = p.person("Ada", board.SkillMechanical)
	r = p.light("Alder", 1, ada)
	f = p.calledAt(r, p.now.Add(30*time.Minute))
	p.made("", board.ChanceSay{Fight: f, Ready: ready, CallAt: p.now.Add(30 * time.Minute)}, board.Itself())
	return p, ada, r, f
}

func TestTheChanceIsKeptOnceThirtyMinutesBeforeTheCall(t *testing.T) {
	p := newPit(t)
	p.place("bench", board.PlaceBench)
	r := p.light("Alder", 1, p.person("Ada", board.SkillMechanical))
	f := p.calledAt(r, p.now.Add(50*time.Minute))
	require.Empty(t, p.make().Say, "50 minutes before")
	p.wait(21 * time.Minute)
	made := p.make()
	require.Len(t, made.Say, 1)
	shown := find(t, made.Chances, func(c forecast.Chance) bool { return c.Robot == r })
	require.Equal(t, board.ChanceSay{Fight: f, Ready: *shown.Ready, CallAt: p.now.Add(29 * time.Minute)}, made.Say[0])
	p.made("", made.Say[0], board.Itself())
	require.Empty(t, p.make().Say, "once")

	p.calledAt(p.light("Birch", 2, p.person("Bo", board.SkillMechanical)), p.now.Add(time.Minute))
	p.wait(3 * time.Minute)
	require.Empty(t, p.make().Say, "too late to do anything about it")
}

func TestACallIsJudgedWhenItHasCome(t *testing.T) {
	p, _, _, f := foretold(t, 8)
	require.Empty(t, p.make().Judge, "the call is still to come")
	p.wait(40 * time.Minute)
	e := p.s.Event().EventFields
	e.LeadFights = 1
	p.captain(board.EventSet{EventFields: e})
	p.captain(board.FightNow{Arena: p.s.Fights[f].Arena, Number: 1})
	judge := p.make().Judge
	require.Equal(t, []board.ChanceJudge{{Fight: f}}, judge, "nobody has signed for it")
	p.made("", judge[0], board.Itself())
	require.Empty(t, p.make().Judge, "once")
	require.Nil(t, p.make().Calibration)
}

func TestAPostponementOrAForfeitIsACallThatWasMissed(t *testing.T) {
	p, _, _, f := foretold(t, 8)
	e := p.s.Event().EventFields
	e.PostponeSec = 600
	p.captain(board.EventSet{EventFields: e})
	p.captain(board.FightPostpone{Fight: f})
	require.Equal(t, []board.ChanceJudge{{Fight: f}}, p.make().Judge)

	p, _, _, f = foretold(t, 8)
	p.captain(board.FightEnd{Fight: f, Result: board.Forfeited})
	require.Equal(t, []board.ChanceJudge{{Fight: f}}, p.make().Judge)

	p, _, _, f = foretold(t, 8)
	p.captain(board.FightEnd{Fight: f, Result: board.Lost})
	require.Equal(t, []board.ChanceJudge{{Fight: f, Met: true}}, p.make().Judge, "it was there to fight")
}
