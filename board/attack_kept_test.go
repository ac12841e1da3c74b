package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about what stays while something rests on it.

func TestAStationStaysWhileSomeoneIsAtWorkThereOrAPackCharges(t *testing.T) {
	t.Run("work", func(t *testing.T) {
		p := newPit(t)
		job := p.grinding(OffRobot)
		p.ok(p.as(p.ben), JobStart{Job: job, Station: p.cast.Grinder})
		sentenceHas(t, p.refused(p.as(p.ada), StationRetire{Station: p.cast.Grinder}, 0), "Ben is at work")
		p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldStation})
		p.ok(p.as(p.ada), StationRetire{Station: p.cast.Grinder})
	})
	t.Run("a charge", func(t *testing.T) {
		p := newPit(t)
		table := StationID(p.made(p.captain(StationAdd{StationFields{Name: "charging", Kind: StationCharge, Count: 2, Place: p.shelf}})))
		p.onCharge(p.p2, p.ben)
		sentenceHas(t, p.refused(p.as(p.ada), StationRetire{Station: table}, 14), "P2")
		p.ok(p.as(p.ada), StationRetire{Station: p.cast.Grinder})
		p.ok(p.as(p.ben), PackOff{Pack: p.p2})
		p.ok(p.as(p.ada), StationRetire{Station: table})
	})
}

func TestRule14AChannelKeepsItsCircuitAndItsWattsUnderACharge(t *testing.T) {
	for name, c := range map[string]struct {
		change func(p *pit, f *ChannelFields)
		takes  bool
	}{
		"another circuit": {func(p *pit, f *ChannelFields) {
			f.Circuit = CircuitID(p.made(p.captain(CircuitAdd{CircuitFields{Name: "far wall", Volts: 230, RatingAmps: 10, SaidBy: "the hall"}})))
		}, false},
		"no circuit":         {func(_ *pit, f *ChannelFields) { f.Circuit = "" }, false},
		"fewer watts":        {func(_ *pit, f *ChannelFields) { f.WattsMost = 50 }, false},
		"a smaller charger":  {func(_ *pit, f *ChannelFields) { f.ChargerWatts = 100 }, false},
		"it takes more":      {func(_ *pit, f *ChannelFields) { f.WattsMost, f.ChargerWatts = 120, 240 }, true},
		"another name alone": {func(_ *pit, f *ChannelFields) { f.Name = "left" }, true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f := p.s.Channels[p.cast.A1].ChannelFields
			c.change(p, &f)
			p.onCharge(p.p2, p.ben)
			change := ChannelChange{Channel: p.cast.A1, ChannelFields: f}
			if !c.takes {
				sentenceHas(t, p.refused(p.as(p.ada), change, 14), "P2")
				p.ok(p.as(p.ben), PackOff{Pack: p.p2})
			}
			p.ok(p.as(p.ada), change)
		})
	}
}

func TestRule14AChannelStaysUnderAPackThatWasSetAsideOnIt(t *testing.T) {
	retire := func(p *pit) Command { return ChannelRetire{Channel: p.cast.A1} }
	away := func(p *pit) Command {
		f := p.s.Channels[p.cast.A1].ChannelFields
		f.Place = p.bench
		return ChannelChange{Channel: p.cast.A1, ChannelFields: f}
	}
	for name, change := range map[string]func(p *pit) Command{"off the board": retire, "elsewhere": away} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.onCharge(p.p2, p.ben)
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, Look: LookSwollen})
			require.True(t, p.s.Packs[p.p2].State == PackSuspect && p.s.Packs[p.p2].Channel == p.cast.A1)
			sentenceHas(t, p.refused(p.as(p.ada), change(p), 14), "before someone says where pack P2 is now")
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			p.ok(p.as(p.ada), change(p))
		})
	}
}

func TestRule20ARobotThatComesWhereAnEmergencyStandsIsUnknown(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ada), RobotPlace{Robot: p.moth, Place: p.bench})
	p.makeSafe()
	e := EmergencyID(p.madeKind(KindEmergency, p.ok(p.as(p.gus), EmergencyRaise{Place: p.box, What: "smoke"})))
	require.Equal(t, Verified, p.state())
	sentenceHas(t, p.refused(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.box}, 0), "There is an emergency at test box")
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.watch})
	require.Equal(t, Verified, p.state(), "elsewhere it may go")
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.box, Sure: true})
	require.Equal(t, Unknown, p.state())
	require.Contains(t, p.power().Why, "emergency")
	p.ok(p.as(p.ada), EmergencyEnd{Emergency: e, How: "it was steam"})
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.box})

	late := newPit(t)
	late.ok(late.as(late.gus), EmergencyRaise{Place: late.box})
	require.Nil(t, late.lateAt(late.as(late.ben), RobotPlace{Robot: late.moth, Place: late.box}, minute), "where it was is a fact")
}

func TestRule11AClassLimitIsRaisedWithAReasonThatPrints(t *testing.T) {
	p := newPit(t)
	raise := p.with(func(f *RobotFields) { f.Class.Limit = 3.3 })
	require.Equal(t, "reason", p.refused(p.as(p.ada), raise, 11).Field)
	require.Empty(t, p.s.Robots[p.moth].Loosened)
	p.ok(p.as(p.ada), p.with(func(f *RobotFields) { f.Class.Limit = 2.9 }))
	raise.Reason = "the organisers said so"
	p.ok(p.as(p.ada), raise)
	said := p.s.Robots[p.moth].Loosened
	require.Len(t, said, 1)
	require.Equal(t, Loosened{What: "its class limit is 1496.9 g, not 1315.4 g", Reason: raise.Reason, By: p.ada, At: p.now, Setting: "class"}, said[0])
	require.Contains(t, p.s.RelaxedFor(p.moth), "Tin Moth: its class limit was raised: 1496.9 g, once 1315.4 g.")
}
