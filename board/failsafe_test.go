package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestRule11AFailsafeIsProvenOnlyUnderPower(t *testing.T) {
	proven := func(p *pit) SheetAnswer { return p.said(ListReady, "failsafe", SaidDone) }
	tested := func(p *pit) {
		p.closedUp()
		p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "failsafe", Place: p.box, Minutes: 5})
		p.now += minute
		p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
		p.makeSafe()
	}
	closeUp := func(p *pit) {
		p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
		p.walk(p.as(p.ben), ListCloseUp)
	}
	t.Run("a robot that never had power", func(t *testing.T) {
		p := newPit(t)
		p.closedUp()
		sentenceHas(t, p.refused(p.as(p.ben), proven(p), 11), "owed to the officials")
		p.ok(p.as(p.ben), p.said(ListReady, "failsafe", SaidOwed))
	})
	t.Run("one that was tested since", func(t *testing.T) {
		p := newPit(t)
		tested(p)
		closeUp(p)
		p.ok(p.as(p.ben), proven(p))
	})
	t.Run("one whose weapon was touched after the test", func(t *testing.T) {
		p := newPit(t)
		tested(p)
		p.ok(p.as(p.ben), TagOn{Robot: p.moth})
		p.walk(p.as(p.ben), ListFirstIn)
		fix := swapBlade(p.blade)
		fix.Touches = []System{SysWeapon}
		p.doJob(p.jobWith(p.as(p.ben), Must, fix))
		p.closeUpAgain()
		p.refused(p.as(p.ben), proven(p), 11)
	})
	for name, broken := range map[string]struct {
		off    func(p *pit)
		proves bool
	}{
		"hands near": {func(p *pit) {
			p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
			near, _ := p.s.HandsOf(p.moth, p.gus)
			p.ok(p.as(p.gus), HandsOff{Hands: near.ID})
		}, false},
		"a stop": {func(p *pit) {
			p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "a noise"})
			p.ok(p.as(p.dee), RobotGoOn{Robot: p.moth})
		}, false},
		"the lead's own end":      {func(p *pit) { p.now += 9 * second; p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth}) }, true},
		"its end after 9 seconds": {func(p *pit) { p.now += 8 * second; p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth}) }, false},
	} {
		t.Run("a test that ended by "+name, func(t *testing.T) {
			p := newPit(t)
			p.closedUp()
			p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "failsafe", Place: p.box, Minutes: 5})
			broken.off(p)
			p.makeSafe()
			closeUp(p)
			if !broken.proves {
				sentenceHas(t, p.refused(p.as(p.ben), proven(p), 11), "no test of 10 s that ended in order")
				return
			}
			p.ok(p.as(p.ben), proven(p))
		})
	}
	t.Run("where the event lets it be proven in the test box alone, it is not owed", func(t *testing.T) {
		p := newPit(t)
		f := p.s.Event().EventFields
		f.FailsafeAt = []FailsafePlace{FailsafeTestBox}
		p.captain(EventSet{EventFields: f})
		p.closedUp()
		sentenceHas(t, p.refused(p.as(p.ben), proven(p), 11), "Test its failsafe first")
		p.refused(p.as(p.ben), p.said(ListReady, "failsafe", SaidOwed), 0)
	})
	t.Run("a fight since counts", func(t *testing.T) {
		p := newPit(t)
		p.open()
		p.ready()
		fight := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
		next := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 8}})))
		p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
		short := *p
		p.now += 10 * second
		p.ok(p.as(p.ada), FightEnd{Fight: fight, Result: Won})
		sheet := Line{Covers: []System{SysRadio, SysDrive, SysWeapon}}
		require.True(t, p.s.ProvenFailsafe(p.moth, sheet))
		short.ok(p.as(p.ada), FightEnd{Fight: fight, Result: Won})
		require.False(t, short.s.ProvenFailsafe(p.moth, sheet), "a second or two show nothing")
		short.now += minute
		short.ok(p.as(p.ada), FightEnd{Fight: next, Result: Won})
		require.False(t, short.s.ProvenFailsafe(p.moth, sheet), "for that one it never was live")
	})
}
