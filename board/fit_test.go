package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// fitted is the cast's robot with two fronts to choose from and a tail.
type fittedMoth struct {
	*pit
	wide, narrow, tail ModuleID
	spin, push         SetupID
}

func newFitted(t testing.TB) fittedMoth {
	m := fittedMoth{pit: newPit(t)}
	module := func(slot, name string, grams float64) ModuleID {
		return ModuleID(m.made(m.captain(ModuleAdd{ModuleFields{Robot: m.moth, Slot: slot, Name: name, MassGrams: grams, SwapSec: 240, SwapBadSec: 600, Lasts: 3}})))
	}
	m.wide, m.narrow, m.tail = module("front", "wide fork", 90), module("front", "narrow fork", 60), module("back", "tail", 20)
	setup := func(f SetupFields) SetupID {
		f.Robot = m.moth
		return SetupID(m.made(m.captain(SetupAdd{f})))
	}
	m.spin = setup(SetupFields{Name: "against spinners", Modules: []ModuleID{m.wide, m.tail}, Declared: true, Against: []string{"spinner"}})
	m.push = setup(SetupFields{Name: "against wedges", Modules: []ModuleID{m.narrow}, Declared: true})
	return m
}

func (m fittedMoth) fit() Fit { return m.s.Fits[m.moth] }

func TestASetupHasOneModuleASlot(t *testing.T) {
	m := newFitted(t)
	f := m.s.Setups[m.spin].SetupFields
	f.Modules = []ModuleID{m.wide, m.narrow}
	_, bad := m.try(m.as(m.ada), SetupChange{Setup: m.spin, SetupFields: f})
	require.Equal(t, "modules", bad.Field)
	sentenceHas(t, bad, "wide fork")
	_, bad = m.try(m.as(m.ben), RobotFit{Robot: m.moth, Modules: []ModuleID{m.wide, m.narrow}})
	require.Equal(t, "modules", bad.Field)
	_, bad = m.try(m.as(m.ada), ModuleRetire{Module: m.tail})
	sentenceHas(t, bad, "against spinners")
	moved := m.s.Modules[m.wide].ModuleFields
	moved.Slot = "back"
	_, bad = m.try(m.as(m.ada), ModuleChange{Module: m.wide, ModuleFields: moved})
	require.Equal(t, "slot", bad.Field, "in the setup it would meet the tail there")
}

func TestAChangeSinceTheWeighInMakesItStale(t *testing.T) {
	for name, c := range map[string]struct {
		do  func(fittedMoth)
		why string
	}{
		"nothing":        {func(fittedMoth) {}, ""},
		"the same setup": {func(m fittedMoth) { m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin}) }, ""},
		"other modules":  {func(m fittedMoth) { m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push}) }, "other modules"},
		"and back again": {func(m fittedMoth) {
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push})
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
		}, "work since"},
		"another pack of the same kind": {func(m fittedMoth) {
			m.ok(m.as(m.ben), PackMove{Pack: m.p1, Place: m.watch})
			m.ok(m.as(m.ben), PackMove{Pack: m.p2, Robot: m.moth, Found: true})
		}, ""},
		"another pack": {func(m fittedMoth) {
			f := m.s.Packs[m.p2].PackFields
			f.CapacityAh = 1.3
			m.captain(PackChange{Pack: m.p2, PackFields: f})
			m.ok(m.as(m.ben), PackMove{Pack: m.p1, Place: m.watch})
			m.ok(m.as(m.ben), PackMove{Pack: m.p2, Robot: m.moth, Found: true})
		}, "another pack"},
		"the pack out for work": {func(m fittedMoth) { m.ok(m.as(m.ben), PackMove{Pack: m.p1, Place: m.watch}) }, ""},
		"work on what it weighs": {func(m fittedMoth) {
			m.open()
			m.ok(m.as(m.ben), PackMove{Pack: m.p1, Robot: m.moth, Found: true})
			late := Ask{ID: newID(m.now, 1<<40), At: m.now - 20_000}
			_, bad := m.tryAsk(m.as(m.ben), JobStart{Job: m.job()}, late)
			require.Nil(m.t, bad)
		}, "work since"},
	} {
		t.Run(name, func(t *testing.T) {
			m := newFitted(t)
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
			require.Empty(t, m.s.WeighStale(m.moth), "nothing was weighed")
			m.ok(m.as(m.ben), RobotWeigh{Robot: m.moth, Grams: 1340, Scale: "event scale", StepGrams: 1})
			m.now += 60_000
			c.do(m)
			if c.why == "" {
				require.Empty(t, m.s.WeighStale(m.moth))
			} else {
				require.Contains(t, m.s.WeighStale(m.moth), c.why)
			}
		})
	}
}

func TestTheSheetsReadingIsKeptWithWhatWasOn(t *testing.T) {
	m := newFitted(t)
	m.ok(m.as(m.ben), RobotWeigh{Robot: m.moth, Grams: 1400, Scale: "event scale", StepGrams: 2, Sure: true})
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push})
	m.open()
	m.ready()
	w := m.fit().Weighed
	require.InDelta(t, 1360.777, w.Grams, 0.001, "the sheet's answer gives the limit itself")
	require.Equal(t, "event scale", w.Scale)
	require.Equal(t, []ModuleID{m.narrow}, w.Modules)
	require.Equal(t, []PackID{m.p2}, w.Packs)
	require.Empty(t, m.s.WeighStale(m.moth))
}

func TestAModuleChangedAfterTheSignatureTakesItBack(t *testing.T) {
	m := newFitted(t)
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push})
	m.open()
	m.ready()
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push})
	require.Equal(t, Ready, m.state(), "the same setup said again changes nothing")
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
	require.Equal(t, Unknown, m.state())
	require.Contains(t, m.s.Powers[m.moth].Why, "module")
}

func TestNotFittedIsVoidWhenTheSetupChanges(t *testing.T) {
	m := newFitted(t)
	say := func() {
		sheet, _ := m.s.Sheet(m.moth, ListMakeSafe)
		m.ok(m.as(m.ben), SheetAnswer{Sheet: sheet.ID, Line: "light", Said: SaidNotFitted})
	}
	m.walkUntil(ListMakeSafe, "light")
	say()
	doubt := func() bool {
		m.ok(m.as(m.ben), RobotDoubt{Robot: m.moth, Why: "not sure"})
		sheet, _ := m.s.Sheet(m.moth, ListMakeSafe)
		_, stands := sheet.Answered("light")
		return stands
	}
	require.True(t, doubt(), "it holds for the day")
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push})
	require.False(t, doubt())
}

func TestOtherModulesAskForTheCoversAgain(t *testing.T) {
	reopened := func(m fittedMoth) {
		m.closedUp()
		m.ok(m.as(m.ada), RobotReopen{Robot: m.moth})
		m.walk(m.as(m.ben), ListReopen)
		require.Equal(t, Verified, m.state(), "nobody puts a tag on")
	}
	for name, c := range map[string]struct {
		before func(fittedMoth)
		setup  func(fittedMoth) SetupID
		after  func(fittedMoth)
		open   []string
	}{
		"closed up, other modules": {func(m fittedMoth) { m.closedUp() }, other, asItIs, []string{"inside", "bolts", "tools", "covers", "lock", "link-1", "told"}},
		"closed up, the same":      {func(m fittedMoth) { m.closedUp() }, same, asItIs, nil},
		"the mass read":            {func(m fittedMoth) { m.closedUp(); m.answer(m.as(m.ben), ListReady); m.answer(m.as(m.ben), ListReady) }, other, asItIs, []string{"inside", "bolts", "tools", "covers", "lock", "link-1", "told"}},
		"open again, other":        {reopened, other, closingUp, []string{"inside", "bolts", "tools", "covers", "lock", "link-1", "told"}},
		"open again, the same":     {reopened, same, closingUp, []string{"lock", "link-1", "told"}},
		"about to open again": {func(m fittedMoth) {
			m.closedUp()
			m.ok(m.as(m.ada), RobotReopen{Robot: m.moth})
		}, other, asItIs, nil},
	} {
		t.Run(name, func(t *testing.T) {
			m := newFitted(t)
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
			c.before(m)
			m.now += 60_000
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: c.setup(m)})
			c.after(m)
			require.Equal(t, ClosingUp, m.state())
			sheet, _ := m.s.Sheet(m.moth, ListCloseUp)
			require.Equal(t, c.open, m.unanswered(sheet))
			if ready, begun := m.s.Sheet(m.moth, ListReady); len(c.open) > 0 && begun {
				require.Equal(t, SheetUnanswered, ready.State, "what was weighed and proven is asked after the covers")
			}
		})
	}
}

func other(m fittedMoth) SetupID { return m.push }
func same(m fittedMoth) SetupID  { return m.spin }
func asItIs(fittedMoth)          {}
func closingUp(m fittedMoth)     { m.ok(m.as(m.ada), RobotCloseUp{Robot: m.moth}) }

// unanswered lists the lines of a sheet that wait for an answer.
func (p *pit) unanswered(sheet Sheet) []string {
	var open []string
	for _, l := range sheet.Lines {
		if _, ok := sheet.Answered(l.ID); !ok {
			open = append(open, l.ID)
		}
	}
	return open
}

func TestNotFittedAtTheLoadInIsVoidWhenTheSetupChanges(t *testing.T) {
	for name, c := range map[string]struct {
		said  Said
		whole bool // all of the sheet is answered
		setup func(fittedMoth) SetupID
		open  []string
	}{
		"not fitted, another setup":          {SaidNotFitted, true, other, []string{"light"}},
		"not fitted, the same":               {SaidNotFitted, true, same, nil},
		"fitted, another setup":              {SaidDone, true, other, nil},
		"not fitted, another, half way":      {SaidNotFitted, false, other, []string{"light", "edges", "blocks", "packs"}},
		"not fitted, the same one, half way": {SaidNotFitted, false, same, []string{"edges", "blocks", "packs"}},
	} {
		t.Run(name, func(t *testing.T) {
			m := newFitted(t)
			f := m.settings()
			f.LoadIn = true
			m.captain(EventSet{EventFields: f})
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
			m.ok(m.as(m.dee), RobotLoadIn{Robot: m.moth})
			m.walkUntil(ListLoadIn, "light")
			m.ok(m.as(m.ben), m.said(ListLoadIn, "light", c.said))
			if c.whole {
				m.walk(m.as(m.ben), ListLoadIn)
			}
			m.now += 60_000
			m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: c.setup(m)})
			sheet, _ := m.s.Sheet(m.moth, ListLoadIn)
			require.Equal(t, c.open, m.unanswered(sheet))
			m.closedUp()
			test := RobotTest{Robot: m.moth, What: "drive", Place: m.box, Minutes: 5}
			if len(c.open) > 0 {
				sentenceHas(t, m.refused(m.as(m.ada), test, 3), "load-in")
			}
			m.walk(m.as(m.ben), ListLoadIn)
			m.ok(m.as(m.ada), test)
		})
	}
}

func TestAFightWearsWhatIsOn(t *testing.T) {
	m := newFitted(t)
	m.ok(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.spin})
	fight := func(n int, r Result) FightID {
		id := FightID(m.made(m.captain(FightAdd{FightFields{Robot: m.moth, Arena: "north", Number: n, OpponentKind: "spinner"}})))
		m.ok(m.as(m.ben), FightEnd{Fight: id, Result: r})
		return id
	}
	fought := fight(3, Won)
	m.ok(m.as(m.ben), FightEnd{Fight: fought, Result: Lost})
	fight(4, Forfeited)
	require.Equal(t, 1, m.s.Modules[m.wide].Worn, "one fight, its result corrected once, and one not fought")
	require.Zero(t, m.s.Modules[m.narrow].Worn)
	require.Equal(t, m.spin, m.s.Fights[fought].Setup)
	m.ok(m.as(m.ben), ModuleRenew{Module: m.wide})
	require.Zero(t, m.s.Modules[m.wide].Worn)
	_, bad := m.try(m.as(m.ben), ModuleRenew{Module: m.wide})
	require.Equal(t, CodeNothingToDo, bad.Code)
}

func TestNoModuleIsSaidToGoOnARobotWithPower(t *testing.T) {
	m := newFitted(t)
	m.open()
	m.ready()
	m.ok(m.as(m.ada), RobotLive{Robot: m.moth, Place: m.arena})
	m.refused(m.as(m.ben), RobotFit{Robot: m.moth, Setup: m.push}, 7)
}
