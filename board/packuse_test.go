package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/charge"
)

func TestAPackFittedAndTakenOutWithNoPowerOnStaysRead(t *testing.T) {
	for name, c := range map[string]struct {
		between func(p *pit)
		want    PackState
	}{
		"nothing":              {func(*pit) {}, PackWaiting}, // read before it went in, to a figure
		"a restart":            {func(p *pit) { p.ok(Itself(), BoardStart{Why: "restart"}) }, PackUnread},
		"a doubt":              {func(p *pit) { p.ok(p.as(p.ben), RobotDoubt{Robot: p.moth, Why: "not sure"}) }, PackUnread},
		"a test":               {func(p *pit) { p.tests(); p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth}) }, PackUnread},
		"a test that still is": {func(p *pit) { p.tests() }, PackUnread},
		"a test, and the pack named again at closing up": {func(p *pit) {
			p.tests()
			p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
			p.makeSafe()
			p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
			p.refused(p.as(p.ben), SheetAnswer{Sheet: p.sheet(ListCloseUp), Line: "pack", Said: SaidDone, Pack: p.p2}, 11)
		}, PackUnread},
		"a test, and its cells read after that": {func(p *pit) {
			p.tests()
			p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
			p.makeSafe()
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.9)})
		}, PackWaiting},
		"a fight": {func(p *pit) {
			p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})
			p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7})
		}, PackUnread},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.18), Charged: true})
			p.closedUp()
			c.between(p)
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			require.Equal(t, c.want, p.s.Packs[p.p2].State)
		})
	}
}

func (p *pit) sheet(list SheetList) SheetID {
	sheet, _ := p.s.Sheet(p.moth, list)
	return sheet.ID
}

func (p *pit) tests() {
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
}

func TestFromOneRobotToAnotherThroughAFightAPackIsUnread(t *testing.T) {
	for name, c := range map[string]struct {
		fights bool
		unread bool
	}{"through a fight": {true, true}, "from a robot without power": {false, false}} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			other := p.s.Robots[p.moth].RobotFields
			other.Name, other.Number = "Spare Moth", 2
			two := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: other})))
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.18), Charged: true})
			p.closedUp()
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.18)})
			if c.fights {
				p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})
				p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7})
			}
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: two, Found: true})
			require.Equal(t, c.unread, p.s.Packs[p.p2].Unread)
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.9)})
			require.False(t, p.s.Packs[p.p2].Unread)
		})
	}
}

func TestAReadingFromBeforeAFightThatComesLateIsKeptAsRecord(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.18), Charged: true})
	p.closedUp()
	p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})
	p.now += 600_000
	p.ok(p.as(p.ben), FightNow{Arena: "north", Number: 7})
	p.now += 60_000
	require.Nil(t, p.lateAt(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.17), Charged: true}, 300_000))
	require.True(t, p.s.Packs[p.p2].Unread)
	require.Len(t, p.s.PackLogs[p.p2].Readings, 3)
	require.Nil(t, p.lateAt(p.as(p.ben), PackRead{Pack: p.p2, Look: LookSwollen}, 300_000), "but what sets it aside is never too late")
	require.Equal(t, PackSuspect, p.s.Packs[p.p2].State)
}

func TestAnotherChemistryCellsOrLimitsVoidTheReading(t *testing.T) {
	for name, change := range map[string]func(f *PackFields){
		"chemistry": func(f *PackFields) { f.Chemistry = charge.LiPoHV }, "cells": func(f *PackFields) { f.Cells = 3 }, "in parallel": func(f *PackFields) { f.Parallel = 2 },
		"capacity": func(f *PackFields) { f.CapacityAh = 1.3 }, "the label's limit": func(f *PackFields) { f.ChargeAmpsMost = 3 },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f := p.s.Packs[p.p2].PackFields
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.18), Charged: true})
			f.MassGrams = 70
			p.captain(PackChange{Pack: p.p2, PackFields: f})
			require.Equal(t, PackCharged, p.s.Packs[p.p2].State, "its mass says nothing of its cells")
			change(&f)
			p.captain(PackChange{Pack: p.p2, PackFields: f})
			require.Equal(t, PackUnread, p.s.Packs[p.p2].State)
			_, bad := p.try(p.as(p.ben), PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: f.Cells, Amps: 0.6, Contained: true})
			require.Equal(t, CodeNotYet, bad.Code)
		})
	}
}

func TestNoRecordIsChangedUnderARunningCharge(t *testing.T) {
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	f := p.s.Packs[p.p2].PackFields
	f.Chemistry = charge.LiPoHV
	_, bad := p.try(p.as(p.ada), PackChange{Pack: p.p2, PackFields: f})
	require.Equal(t, CodeState, bad.Code)
	sentenceHas(t, bad, "A1")
	_, bad = p.try(p.as(p.ben), PackSet{Pack: p.p2, State: PackWaiting})
	require.Equal(t, CodeState, bad.Code, "what came off a charger is unread")
	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	p.captain(PackChange{Pack: p.p2, PackFields: f})
}

// onCharge reads a pack and puts it on the wall's channel, with who attends.
func (p *pit) onCharge(id PackID, who PersonID) {
	p.t.Helper()
	p.ok(p.as(who), PackRead{Pack: id, CellVolts: even(3.7), TempC: degrees(21)})
	p.ok(p.as(who), PackCharge{Pack: id, Channel: p.cast.A1, Attendant: who, Cells: 4, Amps: 0.6, Contained: true})
}

func TestRule13ACellOnceBelowItsFloorIsSuspectUnderAnyChemistry(t *testing.T) {
	p := newPit(t)
	f := p.s.Packs[p.p2].PackFields
	f.Chemistry = charge.LiFe
	p.captain(PackChange{Pack: p.p2, PackFields: f})
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(2.9)})
	require.Equal(t, PackWaiting, p.s.Packs[p.p2].State)
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.2)})
	f.Chemistry = charge.LiPo
	p.captain(PackChange{Pack: p.p2, PackFields: f})
	require.Equal(t, PackSuspect, p.s.Packs[p.p2].State, "as a LiPo it was below 3.00 V")
	f.Chemistry = charge.LiFe
	p.captain(PackChange{Pack: p.p2, PackFields: f})
	require.Equal(t, PackSuspect, p.s.Packs[p.p2].State)
	p.refused(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.2)}, 13)
}
