package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// What people found who attacked chargers and emergencies by what moves away from them,
// each beside the nearest honest act.

// smokesOnCharge has P2 set aside on its charger, and P3 read for a charge.
func (p *pit) smokesOnCharge() (begin PackCharge) {
	p.t.Helper()
	p3 := p.pack("P3")
	p.ok(p.as(p.ben), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.gus), PackRead{Pack: p.p2, Look: LookSmokes})
	return PackCharge{Pack: p3, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
}

func TestRule14APackThatSmokesOnItsChargerIsOffItByNoWordThatItIsThere(t *testing.T) {
	p := newPit(t)
	begin := p.smokesOnCharge()
	for _, who := range []PersonID{p.gus, p.kit, p.ben} {
		p.refused(p.as(who), PackMove{Pack: p.p2, Place: p.shelf}, 0)
	}
	p.refused(p.as(p.ben), begin, 14)
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
	p.ok(p.as(p.ben), begin)
}

func TestRule24NoGuestSaysThatAPackWhichSmokesIsOffItsCharger(t *testing.T) {
	for name, said := range map[string]func(*pit) PackMove{
		"at the bench": func(p *pit) PackMove { return PackMove{Pack: p.p2, Place: p.bench} },
		"in a robot":   func(p *pit) PackMove { return PackMove{Pack: p.p2, Robot: p.moth, Found: true} },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			begin := p.smokesOnCharge()
			p.ok(p.as(p.gus), said(p))
			require.Equal(t, p.cast.A1, p.s.Packs[p.p2].Channel)
			p.refused(p.as(p.ben), begin, 14)
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.bench})
			p.ok(p.as(p.ben), begin)
		})
	}
}

func TestRule14NoChargeIsBegunWhereAPackLiesThatMayVent(t *testing.T) {
	for name, c := range map[string]struct {
		at   func(p *pit) PlaceID
		read PackRead
		bars bool
	}{
		"it smells there":          {func(p *pit) PlaceID { return p.shelf }, PackRead{Look: LookSmells}, true},
		"it is hot there":          {func(p *pit) PlaceID { return p.shelf }, PackRead{TempC: degrees(61)}, true},
		"only its cells are low":   {func(p *pit) PlaceID { return p.shelf }, PackRead{CellVolts: even(2.9)}, false},
		"it smells somewhere else": {func(p *pit) PlaceID { return p.watch }, PackRead{Look: LookSmells}, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p3 := p.pack("P3")
			p.ok(p.as(p.ben), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: c.at(p)})
			c.read.Pack = p.p2
			p.ok(p.as(p.gus), c.read)
			begin := PackCharge{Pack: p3, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
			if c.bars {
				p.refused(p.as(p.ben), begin, 14)
				p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			}
			p.ok(p.as(p.ben), begin)
		})
	}
}

func TestRule20AnEmergencyStaysWhereTheRobotStoodWhenItWasRaised(t *testing.T) {
	p := newPit(t)
	wren := p.wren(p.box)
	p.closedUp()
	p.ok(p.as(p.gus), EmergencyRaise{Robot: wren, What: "smoke"})
	p.ok(p.as(p.gus), RobotPlace{Robot: wren, Place: p.bench})
	p.refused(p.as(p.ada), driven(p), 20)
	for id := range p.s.Emergencies {
		p.ok(p.as(p.ada), EmergencyEnd{Emergency: id, How: "it was steam"})
	}
	p.ok(p.as(p.ada), driven(p))
}
