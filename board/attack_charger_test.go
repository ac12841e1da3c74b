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

func TestRule13APackSetAsideInARobotUnderPowerEndsThat(t *testing.T) {
	for name, there := range map[string]func(p *pit){
		"a test": func(p *pit) { p.closedUp(); p.ok(p.as(p.ada), driven(p)) },
		"live":   func(p *pit) { p.open(); p.ready(); p.ok(p.as(p.ada), fighting(p)) },
	} {
		for look, ends := range map[Look]bool{LookSmells: true, LookFine: false} {
			t.Run(name+", "+string(look), func(t *testing.T) {
				p := newPit(t)
				there(p)
				is := p.state()
				for _, id := range p.in(p.moth) {
					p.ok(p.as(p.gus), PackRead{Pack: id, Look: look})
				}
				if ends {
					is = Unknown
				}
				require.Equal(t, is, p.state())
			})
		}
	}
}

// in lists the packs in a robot.
func (p *pit) in(robot RobotID) (list []PackID) {
	for id, pack := range p.s.Packs {
		if pack.Robot == robot {
			list = append(list, id)
		}
	}
	require.NotEmpty(p.t, list)
	return list
}

func TestRule14NoPlaceLosesSightOfAChargeThatItsAttendantStaysWith(t *testing.T) {
	p := newPit(t)
	seen := PlaceFields{Name: "far table", Kind: PlaceCharging, InSight: []PlaceID{p.shelf}}
	blind := PlaceFields{Name: "far table", Kind: PlaceCharging}
	table := PlaceID(p.made(p.captain(PlaceAdd{PlaceFields: blind})))
	f := p.settings()
	f.ChargingPlaces, f.AttendantMost = append(f.ChargingPlaces, table), 3
	p.ok(p.as(p.ada), EventSet{EventFields: f, Reason: "two tables"})
	there := p.s.Channels[p.cast.A1].ChannelFields
	there.Name, there.Place = "B1", table
	b1 := ChannelID(p.made(p.captain(ChannelAdd{there})))
	p3 := p.pack("P3")
	change := p.ok(p.as(p.ada), PlaceChange{Place: table, PlaceFields: seen})
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.ben), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
	p.ok(p.as(p.ben), PackCharge{Pack: p3, Channel: b1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
	sentenceHas(t, p.refused(p.as(p.ada), PlaceChange{Place: table, PlaceFields: blind}, 14), "Ben stays with packs")
	p.refused(p.as(p.ada), Undo{Command: change.Done.ID}, 14)
	p.ok(p.as(p.dee), PackAttend{Pack: p3})
	p.ok(p.as(p.ada), PlaceChange{Place: table, PlaceFields: blind})
}

func TestRule15NoChargeIsBegunWhereAPackLiesInSparks(t *testing.T) {
	for name, held := range map[string]bool{"while it is ground": false, "with the job on hold": true} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			job := p.grinding(OffRobot)
			p.captain(StationChange{Station: p.cast.Grinder, StationFields: StationFields{Name: "grinder", Kind: StationGrind, Count: 1, Place: p.shelf}})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.bench})
			p.ok(p.as(p.ben), JobStart{Job: job, Station: p.cast.Grinder})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.shelf, Found: true})
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7), TempC: degrees(21)})
			begin := PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.dee, Cells: 4, Amps: 0.6, Contained: true}
			if !held {
				p.refused(p.as(p.dee), begin, 15)
				return
			}
			p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPerson})
			p.ok(p.as(p.dee), begin)
		})
	}
}

func TestRule13APackThatWasGoneIsSetAsideAgainWhereItIsFound(t *testing.T) {
	for name, found := range map[string]func(p *pit) PackMove{
		"at the bench": func(p *pit) PackMove { return PackMove{Pack: p.p2, Place: p.bench, Found: true} },
		"in a robot":   func(p *pit) PackMove { return PackMove{Pack: p.p2, Robot: p.moth, Found: true} },
	} {
		for _, aside := range []bool{true, false} {
			p := newPit(t)
			if aside {
				p.ok(p.as(p.ben), PackRead{Pack: p.p2, Look: LookSmells})
			}
			p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackGone})
			p.ok(p.as(p.gus), found(p))
			require.Equal(t, aside, p.s.AsideHere(p.s.Packs[p.p2]), "%s; the captain alone takes back one that was for use", name)
		}
	}
}
