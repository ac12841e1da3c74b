package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
)

// venting are the ways in which a pack comes to be one that nobody handles.
var venting = map[string]func(*pit, PackID){
	"hot":            func(p *pit, id PackID) { p.ok(p.as(p.ben), PackRead{Pack: id, TempC: degrees(60)}) },
	"swollen":        func(p *pit, id PackID) { p.ok(p.as(p.ben), PackRead{Pack: id, Look: LookSwollen}) },
	"smells":         func(p *pit, id PackID) { p.ok(p.as(p.ben), PackRead{Pack: id, Look: LookSmells}) },
	"smokes":         func(p *pit, id PackID) { p.ok(p.as(p.ben), PackRead{Pack: id, Look: "smokes"}) },
	"set aside":      func(p *pit, id PackID) { p.ok(p.as(p.ben), PackSet{Pack: id, State: PackSuspect, Why: "it hisses"}) },
	"quarantined":    func(p *pit, id PackID) { p.ok(p.as(p.ben), PackSet{Pack: id, State: PackQuarantined}) },
	"with low cells": func(p *pit, id PackID) { p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(2.9)}) },
}

// aboutPack lists what people may try with a pack, the robot it may be in, and the
// places and circuits round it.
func (p *pit) aboutPack(id PackID) []Command {
	fits := p.s.Packs[id].PackFields
	fits.Name = "another name"
	job := p.job()
	list := []Command{
		PackMove{Pack: id, Robot: p.moth, Found: true}, PackMove{Pack: id, Place: p.cast.Corner}, PackChoose{Pack: id, Robot: p.moth}, PackChange{Pack: id, PackFields: fits},
		PackRead{Pack: id, CellVolts: even(4.1), Charged: true}, PackRead{Pack: id, Look: LookFine}, PackRead{Pack: id, TempC: degrees(20)},
		PackCharge{Pack: id, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}, PackOff{Pack: id}, PackRetire{Pack: id},
		PackAdd{PackFields: p.s.Packs[id].PackFields}, JobStart{Job: job}, JobFinish{Job: job}, RobotCloseUp{Robot: p.moth}, TagOn{Robot: p.moth},
		RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, RobotRetire{Robot: p.moth}, ChannelRetire{Channel: p.cast.A1}, CircuitRetire{Circuit: p.cast.Wall},
	}
	for place := range p.s.Places {
		list = append(list, PlaceRetire{Place: place})
	}
	for state := range map[PackState]bool{PackUnread: true, PackWaiting: true, PackStorage: true, PackCooling: true, PackCharged: true} {
		list = append(list, PackSet{Pack: id, State: state})
	}
	return list
}

func (p *pit) noDeed(t *testing.T, id PackID) {
	t.Helper()
	for _, c := range p.aboutPack(id) {
		for _, who := range []PersonID{p.ada, p.ben, p.dee, p.kit} {
			if _, bad := Apply(p.s, c, Ask{ID: newID(p.now, 1), Seen: p.seen(c)}, p.as(who), p.now); bad != nil {
				require.Empty(t, boardtest.Deed(p.s, bad.Sentence), "%s: %s", Name(c), bad.Sentence)
			}
		}
	}
	for _, sheet := range p.s.Sheets {
		for _, l := range sheet.Lines {
			if _, done := sheet.Answered(l.ID); sheet.State == SheetOpen && !done {
				require.Empty(t, boardtest.Deed(p.s, l.Ask, l.Touch, l.Say), "%s: %s", sheet.List, l.Ask)
			}
		}
	}
	for _, sheet := range p.s.Printed(p.moth) {
		for _, l := range sheet.Lines {
			require.Empty(t, boardtest.Deed(p.s, l.Ask, l.Touch, l.Say), "printed %s: %s", sheet.List, l.Ask)
		}
	}
}

func TestNobodyIsToldToHandleAPackThatMayVent(t *testing.T) {
	for name, vents := range venting {
		for where, there := range map[string]func(*pit) PackID{
			"in a robot nobody has looked at": func(p *pit) PackID { return p.p1 },
			"in a robot with first in open": func(p *pit) PackID {
				p.makeSafe()
				p.ok(p.as(p.ben), TagOn{Robot: p.moth})
				return p.p1
			},
			"in a robot closed up":    func(p *pit) PackID { p.closedUp(); return p.p2 },
			"in a robot to be signed": func(p *pit) PackID { p.toSign(); return p.p2 },
			"at the bench":            func(p *pit) PackID { p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.bench}); return p.p2 },
			"on a charger": func(p *pit) PackID {
				p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7)})
				p.ok(p.as(p.ben), PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
				return p.p2
			},
		} {
			t.Run(name+", "+where, func(t *testing.T) {
				p := newPit(t)
				id := there(p)
				vents(p, id)
				p.noDeed(t, id)
				if sheet, ok := p.s.Sheet(p.moth, ListFirstIn); ok && sheet.State == SheetOpen {
					p.walk(p.as(p.ben), ListFirstIn)
					require.Equal(t, p.watch, p.s.Packs[id].Place, "where it is can still be said")
				}
			})
		}
	}
}

func TestWhatIsSeenOfASuspectPackIsTakenEvenThen(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(2.9)})
	require.False(t, p.s.Packs[p.p2].MayVent(), "its cells are low, and no more is known")
	p.refused(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.9)}, 13)
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, Look: LookSmokes})
	require.Equal(t, PackSuspect, p.s.Packs[p.p2].State)
	require.True(t, p.s.Packs[p.p2].MayVent())
}

func TestAPackIsSuspectFromSixtyDegreesOn(t *testing.T) {
	for c, want := range map[float64]PackState{60: PackSuspect, 59.9: PackCooling} {
		p := newPit(t)
		p.ok(p.as(p.ben), PackRead{Pack: p.p2, TempC: degrees(c)})
		require.Equal(t, want, p.s.Packs[p.p2].State, "%g °C", c)
	}
}

func TestALineAboutAPackThatWasMovedAndThenSetAsideIsWordedAnew(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.bench})
	p.ok(p.as(p.ben), PackSet{Pack: p.p1, State: PackSuspect})
	p.noDeed(t, p.p1)
}
