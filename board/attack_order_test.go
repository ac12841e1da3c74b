package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about lines that are answered before what they speak of,
// and refusals that name a step which leads nowhere.

func TestRule3CoversGoOnAndPeopleAreToldWhenTheRestIsDone(t *testing.T) {
	p := newPit(t)
	p.open()
	p.walk(p.as(p.ben), ListInspect)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	told := p.said(ListCloseUp, "told", SaidAlone)
	covers := p.said(ListCloseUp, "covers", SaidDone)
	sentenceHas(t, p.refused(p.as(p.ben), told, 3), "Inside")
	sentenceHas(t, p.refused(p.as(p.ben), covers, 3), "Inside")
	p.ok(p.as(p.ben), p.said(ListCloseUp, "covers", SaidNo))
	p.ok(p.as(p.ben), p.said(ListCloseUp, "inside", SaidDone))
	sentenceHas(t, p.refused(p.as(p.ben), covers, 3), "which one?")
	nameless := p.said(ListCloseUp, "pack", SaidDone)
	require.Equal(t, "pack", p.refused(p.as(p.ben), nameless, 0).Field)
	p.answer(p.as(p.ben), ListCloseUp)
	p.refused(p.as(p.ben), covers, 3)
	p.ok(p.as(p.ben), p.said(ListCloseUp, "bolts", SaidDone))
	p.ok(p.as(p.ben), covers)
	sentenceHas(t, p.refused(p.as(p.ben), told, 3), "Tools")
	p.walk(p.as(p.ben), ListCloseUp)
	sheet, _ := p.s.Sheet(p.moth, ListCloseUp)
	require.Equal(t, SheetComplete, sheet.State)
	sentenceHas(t, p.refused(p.as(p.ada), RobotCloseUp{Robot: p.moth}, 0), "Next: Failsafe")
}

func TestRule11APackThatWentInAsksForTheCoversAgain(t *testing.T) {
	for name, c := range map[string]func(p *pit) (Actor, Command){
		"for a test": func(p *pit) (Actor, Command) {
			return p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}
		},
		"for the signature": func(p *pit) (Actor, Command) { return p.as(p.dee), p.said(ListReady, "sign", SaidDone) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.toSign()
			p.read(p.p1)
			p.now += minute
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Robot: p.moth})
			say := p.said(ListCloseUp, "pack", SaidDone)
			say.Pack = p.p1
			p.ok(p.as(p.ben), say)
			by, do := c(p)
			bad := func() *Refusal { _, bad := p.try(by, do); return bad }()
			require.NotNil(t, bad)
			sentenceHas(t, bad, "Covers")
			p.strapped(p.p1)
			p.ok(by, do)
		})
	}
}

func TestRule23NoLineIsWordedInAnotherUnit(t *testing.T) {
	p := newPit(t)
	ask := func(ask string) WordingSet {
		lines := worded("failsafe", "mass", "strap", "sign")
		lines[1].Ask = ask
		return WordingSet{List: ListReady, Lines: lines}
	}
	for _, other := range []string{"How many pounds?", "What does it weigh, in kg?", "Weight (oz)?"} {
		require.Equal(t, "lines", p.refused(p.as(p.dee), ask(other), 0).Field, other)
	}
	p.ok(p.as(p.dee), ask("On the event's scale: how many grams?"))
	p.ok(p.as(p.dee), ask("On the event's scale: what does it read?"))
}

func TestAStopIsSaidBeforeWhatElseARobotLacks(t *testing.T) {
	p := newPit(t)
	job := p.job()
	p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "the lock does not hold"})
	for _, c := range []Command{
		RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, RobotLive{Robot: p.moth, Place: p.arena}, JobStart{Job: job},
	} {
		sentenceHas(t, p.refused(p.as(p.ada), c, 0), "The stop ends when")
	}
	p.makeSafe()
}

func TestAFightThatWasNotFoughtAsksForTheFailsafeAgain(t *testing.T) {
	p := newPit(t)
	f := p.fight(7)
	p.open()
	p.ready()
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	p.now += minute
	p.ok(p.as(p.ada), FightEnd{Fight: f, Result: Won})
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
	p.open()
	p.read(p.p1)
	p.closeUpAgain()
	p.ok(p.as(p.ben), p.said(ListReady, "failsafe", SaidDone))
	p.ok(p.as(p.ada), FightNotFought{Fight: f, Reason: "the bracket was drawn again"})
	sheet, _ := p.s.Sheet(p.moth, ListReady)
	_, proven := sheet.Answered("failsafe")
	require.False(t, proven)
	p.ok(p.as(p.ben), p.said(ListReady, "failsafe", SaidOwed))
}
