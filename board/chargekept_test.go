package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestRule14NothingARunningChargeHangsOnLeavesTheBoard(t *testing.T) {
	for name, c := range map[string]func(p *pit) Command{
		"the pack":          func(p *pit) Command { return PackRetire{Pack: p.p2} },
		"its channel":       func(p *pit) Command { return ChannelRetire{Channel: p.cast.A1} },
		"its circuit":       func(p *pit) Command { return CircuitRetire{Circuit: p.cast.Wall} },
		"who stays with it": func(p *pit) Command { return PersonRetire{Person: p.ben} },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.onCharge(p.p2, p.ben)
			bad := p.refused(p.as(p.ada), c(p), 14)
			sentenceHas(t, bad, "P2")
			p.ok(p.as(p.ben), PackOff{Pack: p.p2})
			p.ok(p.as(p.ada), ChannelChange{Channel: p.cast.A1, ChannelFields: without(p.s.Channels[p.cast.A1].ChannelFields)})
			p.ok(p.as(p.ada), c(p))
		})
	}
}

func TestRule14NoRunningChargeIsMovedToACircuitThatIsOffTheBoard(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ada), CircuitAdd{CircuitFields: CircuitFields{Name: "far wall", Volts: 230, RatingAmps: 10, SaidBy: "the hall"}})
	fields := p.s.Channels[p.cast.A1].ChannelFields
	for id, circuit := range p.s.Circuits {
		if circuit.Name == "far wall" {
			fields.Circuit = id
		}
	}
	p.onCharge(p.p2, p.ben)
	move := ChannelChange{Channel: p.cast.A1, ChannelFields: fields}
	p.ok(p.as(p.ada), CircuitRetire{Circuit: fields.Circuit})
	sentenceHas(t, p.refused(p.as(p.ada), move, 14), "P2")
	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	p.ok(p.as(p.ada), move)
}

func TestNoChargeIsBegunFromACircuitThatIsOffTheBoard(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ada), CircuitRetire{Circuit: p.cast.Wall})
	p.read(p.p2)
	charge := PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
	_, bad := p.try(p.as(p.ben), charge)
	require.NotNil(t, bad)
	sentenceHas(t, bad, "off the board")
	p.ok(p.as(p.ada), ChannelChange{Channel: p.cast.A1, ChannelFields: without(p.s.Channels[p.cast.A1].ChannelFields)})
	p.ok(p.as(p.ben), charge)
}

// without is a channel that hangs on no circuit.
func without(f ChannelFields) ChannelFields { f.Circuit = ""; return f }

func TestTheEndsOfADayAreNotAnsweredAgainstWhatTheBoardKnows(t *testing.T) {
	for _, list := range []SheetList{ListOvernight, ListPackUp} {
		p := newPit(t)
		p.ok(p.as(p.ben), RobotList{Robot: p.moth, List: list})
		bad := p.refused(p.as(p.ben), p.said(list, "packs", SaidDone), 0)
		sentenceHas(t, bad, "P1")
		p.ok(p.as(p.ben), p.said(list, "packs", SaidNo))
		p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch})
		p.ok(p.as(p.ben), p.said(list, "packs", SaidDone))
	}
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.ben), RobotList{Robot: p.moth, List: ListOvernight})
	for _, paper := range []bool{false, true} {
		c := p.said(ListOvernight, "charge", SaidDone)
		if paper {
			c.Paper, c.At = true, p.now
		}
		bad := p.refused(p.as(p.ada), c, 0)
		sentenceHas(t, bad, "P2 on A1, with Ben")
	}
	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	p.ok(p.as(p.ada), p.said(ListOvernight, "charge", SaidDone))
}

func TestRule20NoChargeIsBegunWhereAnEmergencyStands(t *testing.T) {
	for name, c := range map[string]struct {
		raise   func(p *pit) EmergencyRaise
		refused bool
	}{
		"at the charging table":              {func(p *pit) EmergencyRaise { return EmergencyRaise{Place: p.shelf} }, true},
		"at a robot that stands there":       {func(p *pit) EmergencyRaise { return EmergencyRaise{Robot: p.moth} }, true},
		"in the arena, about that robot too": {func(p *pit) EmergencyRaise { return EmergencyRaise{Robot: p.moth, Place: p.arena} }, false},
		"in the arena":                       {func(p *pit) EmergencyRaise { return EmergencyRaise{Place: p.arena} }, false},
		"nobody says where":                  {func(p *pit) EmergencyRaise { return EmergencyRaise{What: "smoke"} }, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.shelf})
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7), TempC: degrees(21)})
			charge := PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
			id := EmergencyID(p.madeKind(KindEmergency, p.ok(p.as(p.gus), c.raise(p))))
			if c.refused {
				bad := p.refused(p.as(p.ben), charge, 20)
				sentenceHas(t, bad, "charging table")
				p.ok(p.as(p.dee), EmergencyEnd{Emergency: id, How: "a false alarm"})
			}
			p.ok(p.as(p.ben), charge)
			require.Equal(t, PackCharging, p.s.Packs[p.p2].State)
		})
	}
}

func TestRule14NoChannelIsMovedWhileAPackChargesOnIt(t *testing.T) {
	p := newPit(t)
	fields := p.s.Channels[p.cast.A1].ChannelFields
	fields.Place = p.bench
	move := ChannelChange{Channel: p.cast.A1, ChannelFields: fields}
	p.onCharge(p.p2, p.ben)
	sentenceHas(t, p.refused(p.as(p.ada), move, 14), "P2")
	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	p.ok(p.as(p.ada), move)
}
