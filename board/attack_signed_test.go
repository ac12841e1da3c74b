package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about what a signature rests on and who gives it.

func TestRule11NoRobotIsSignedThatTheScaleLastReadAsTooHeavy(t *testing.T) {
	p := newPit(t)
	p.toSign()
	p.ok(p.as(p.ben), p.scaleReads(1500, true))
	bad := p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 11)
	sentenceHas(t, bad, "Lighten it and weigh it again")
	p.ok(p.as(p.ben), p.scaleReads(1340, false))
	p.ok(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
	p.ok(p.as(p.ben), p.scaleReads(1350, false))
	require.Equal(t, Ready, p.state(), "a lighter reading takes nothing back")
	p.ok(p.as(p.ben), p.scaleReads(1500, true))
	require.Equal(t, Unknown, p.state(), "what happens after the signature takes it back")
}

func TestRule11AModuleRenewedAfterTheSignatureTakesItBack(t *testing.T) {
	m := newFitted(t)
	for _, on := range []bool{true, false} {
		m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push})
		for range 2 {
			f := FightID(m.madeKind(KindFight, m.captain(FightAdd{FightFields{Robot: m.moth, Arena: "north", Number: 7 + len(m.s.Fights)}})))
			m.ok(m.as(m.ada), FightEnd{Fight: f, Result: Won})
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
		}
		if on {
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push})
		}
		m.open()
		m.ready()
		m.ok(m.as(m.ben), ModuleRenew{Module: m.narrow})
		require.Equal(t, on, m.state() == Unknown, "one in the box is not on the robot")
	}
}

func TestRule11APartThatCameOffIsWeighedAgain(t *testing.T) {
	p := newPit(t)
	p.toSign()
	d, _ := p.damage(GX)
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	p.takenOff(d)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	ready, _ := p.s.Sheet(p.moth, ListReady)
	_, weighed := ready.Answered("mass")
	require.False(t, weighed)
	p.ok(p.as(p.dee), DamageLook{Damage: d})
	_, bad := p.sign(p.dee)
	require.Nil(t, bad)
}

func TestRule12DroppingAJobThatWasBegunFreesNobodyToSign(t *testing.T) {
	for name, end := range map[string]func(p *pit, job JobID) Command{
		"dropped":  func(_ *pit, job JobID) Command { return JobDrop{Job: job, Reason: "it holds"} },
		"left off": func(p *pit, job JobID) Command { return JobDefer{Job: job, Acceptor: p.ada, Reason: "it holds"} },
	} {
		for _, begun := range []bool{true, false} {
			t.Run(name, func(t *testing.T) {
				p := newPit(t)
				p.open()
				p.ok(p.as(p.dee), TagOn{Robot: p.moth})
				job := p.job()
				if begun {
					p.ok(p.as(p.dee), JobStart{Job: job})
					p.ok(p.as(p.dee), JobHold{Job: job, Why: HoldPart})
				}
				p.ok(p.as(p.ada), end(p, job))
				_, bad := p.tagOff(p.as(p.dee), p.dee)
				require.Nil(t, bad)
				p.closeUpAgain()
				_, bad = p.sign(p.dee)
				if !begun {
					require.Nil(t, bad)
					return
				}
				require.NotNil(t, bad)
				require.Equal(t, 12, bad.Rule)
				p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
			})
		}
	}
}

func TestRule12AFightThatWasNoneFreesNobodyToSign(t *testing.T) {
	for name, c := range map[string]struct {
		fight func(p *pit, f FightID)
		bars  bool
	}{
		"on by mistake": {func(p *pit, f FightID) { p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7, Sure: true}) }, true},
		"a result taken back": {func(p *pit, f FightID) {
			p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7, Sure: true})
			p.ok(p.as(p.ben), Undo{Command: p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Won}).Done.ID})
		}, true},
		"a result put right": {func(p *pit, f FightID) {
			p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Won})
			p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Forfeited})
		}, true},
		"never declared live": {func(p *pit, f FightID) { p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Lost}) }, true},
		"fought": {func(p *pit, f FightID) {
			p.walk(p.as(p.ben), ListInspect)
			p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
			p.walk(p.as(p.ben), ListCloseUp)
			_, bad := p.sign(p.nia)
			require.Nil(p.t, bad)
			p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
			p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Lost})
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
			p.open()
			p.ok(p.as(p.dee), TagOn{Robot: p.moth})
			job := p.job()
			p.ok(p.as(p.dee), JobStart{Job: job})
			p.ok(p.as(p.dee), JobFinish{Job: job})
			p.allOff()
			c.fight(p, f)
			require.Equal(t, Unknown, p.state())
			p.open()
			p.read(p.p1)
			p.closeUpAgain()
			_, bad := p.sign(p.dee)
			require.Equal(t, c.bars, bad != nil, bad)
			if c.bars {
				require.Equal(t, 12, bad.Rule)
				p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
			}
			require.Equal(t, Ready, p.state())
		})
	}
}

func TestRule12AFinishedJobTakenUpAgainAndDroppedHidesNoEarlierRepair(t *testing.T) {
	for name, end := range map[string]func(p *pit, job JobID) Command{
		"dropped":  func(_ *pit, job JobID) Command { return JobDrop{Job: job, Reason: "it holds"} },
		"left off": func(p *pit, job JobID) Command { return JobDefer{Job: job, Acceptor: p.ada, Reason: "it holds"} },
		"done":     nil,
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			p.ok(p.as(p.dee), TagOn{Robot: p.moth})
			first, second := p.job(), p.job()
			p.ok(p.as(p.dee), JobStart{Job: first})
			p.ok(p.as(p.dee), JobFinish{Job: first})
			_, bad := p.tagOff(p.as(p.dee), p.dee)
			require.Nil(t, bad)
			p.doJob(second)
			if end != nil {
				p.ok(p.as(p.ben), JobReopen{Job: second, Reason: "not needed"})
				p.ok(p.as(p.ada), end(p, second))
			}
			p.closeUpAgain()
			_, bad = p.sign(p.dee)
			require.Equal(t, end != nil, bad != nil, "the last repair that stands is hers")
			if end != nil {
				require.Equal(t, 12, bad.Rule)
				p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
			}
		})
	}
}
