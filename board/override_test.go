package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// answers are given once the one who has gone did nothing for a minute.
func (p *pit) answers() Override {
	p.now += minute
	return Override{LookedWhere: "bench, hall, car park", CalledHow: "phone, twice", CalledAt: p.now, CheckedBy: p.dee, Reason: "went home", Asked: true}
}

func TestRule6AnOverrideTakesTwoNamedPeopleAndLeavesANotice(t *testing.T) {
	p := newPit(t)
	p.open()
	c := TagOverride{Tag: p.tagOf(p.ben), Second: p.dee, Override: p.answers()}
	two := p.as(p.ada)
	two.Proved = []PersonID{p.dee}

	p.refused(p.as(p.ada), c, 6) // the second has typed no PIN
	alone := c
	alone.Second = p.ada
	p.refused(p.as(p.ada), alone, 6)
	noLead := p.as(p.nia)
	noLead.Proved = []PersonID{p.dee}
	p.refused(noLead, c, 6)
	child := two
	child.Proved = []PersonID{p.kit}
	withChild := c
	withChild.Second = p.kit
	p.refused(child, withChild, 6)
	for _, leave := range []func(o *Override){
		func(o *Override) { o.LookedWhere = "" }, func(o *Override) { o.CalledHow = "" }, func(o *Override) { o.CalledAt = 0 },
		func(o *Override) { o.CheckedBy = "" }, func(o *Override) { o.Reason = "" },
	} {
		short := c
		leave(&short.Override)
		p.refused(two, short, 6)
	}

	own := p.as(p.ben)
	own.Proved = []PersonID{p.ada}
	mine := c
	mine.Second = p.ada
	p.refused(own, mine, 6) // nobody overrides their own: they take it off

	p.ok(two, c)
	require.Empty(t, p.tagOf(p.ben))
	notice := openNotice(p, p.ben)
	require.Equal(t, Verified, p.state())

	p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 6)
	p.refused(p.as(p.ada), NoticeTake{Notice: notice}, 6)
	p.ok(p.as(p.ben), NoticeTake{Notice: notice})
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
}

// openNotice is the one notice that waits for a person.
func openNotice(p *pit, person PersonID) NoticeID {
	var open []NoticeID
	for id, n := range p.s.Notices {
		if n.Person == person && n.Taken == 0 {
			open = append(open, id)
		}
	}
	require.Len(p.t, open, 1)
	return open[0]
}

func TestRule6ADepartedGuestsHandsAreLiftedTheSameWay(t *testing.T) {
	p := newPit(t)
	near := HandsID(p.made(p.ok(p.as(p.gus), HandsOn{Robot: p.moth})))
	two := p.as(p.dee)
	two.Proved = []PersonID{p.ada}
	p.refused(p.as(p.ada), HandsOff{Hands: near}, 5)
	p.ok(two, HandsOverride{Hands: near, Second: p.ada, Override: p.answers()})
	require.Empty(t, p.s.Hands)
}

func TestRule14AChargeHasAnAttendantAPlaceAndALimit(t *testing.T) {
	p := newPit(t)
	shelf := p.shelf
	ch := func(name string, at PlaceID) ChannelID {
		return ChannelID(p.made(p.captain(ChannelAdd{ChannelFields{Name: name, Charger: "twin", AmpsMost: 5, WattsMost: 100, ChargerWatts: 200, CellsMost: 6, Place: at}})))
	}
	listed, other, elsewhere := ch("C1", shelf), ch("C2", shelf), ch("C3", p.bench)
	good := PackCharge{Pack: p.p2, Channel: listed, Attendant: p.ben, Cells: 4, Amps: 0.65, Contained: true}

	_, bad := p.try(p.as(p.ben), good)
	require.Equal(t, CodeNotYet, bad.Code, "nobody has read it")
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: []float64{3.7, 3.7, 3.7, 3.7}})

	for name, bad := range map[string]func(c *PackCharge){
		"no attendant":    func(c *PackCharge) { c.Attendant = "" },
		"a minor attends": func(c *PackCharge) { c.Attendant = p.kit },
		"a guest attends": func(c *PackCharge) { c.Attendant = p.gus },
		"place not listed": func(c *PackCharge) {
			c.Channel = elsewhere
		},
		"not contained": func(c *PackCharge) { c.Contained = false },
	} {
		c := good
		bad(&c)
		_, r := p.try(p.as(p.ben), c)
		require.NotNil(t, r, name)
		require.Equal(t, 14, r.Rule, name)
	}
	for field, bad := range map[string]func(c *PackCharge){
		"cells": func(c *PackCharge) { c.Cells = 3 },
		"amps":  func(c *PackCharge) { c.Amps = 0.66 },
	} {
		c := good
		bad(&c)
		_, r := p.try(p.as(p.ben), c)
		require.NotNil(t, r, field)
		require.Equal(t, field, r.Field)
	}
	p.ok(p.as(p.ben), good)
	require.Equal(t, shelf, p.s.Packs[p.p2].Place)

	p3 := p.pack("P3")
	p.ok(p.as(p.ben), PackRead{Pack: p3, CellVolts: []float64{3.7, 3.7, 3.7, 3.7}})
	second := good
	second.Pack = p3
	_, bad = p.try(p.as(p.ben), second)
	require.Equal(t, CodeTaken, bad.Code, "the channel is in use")
	second.Channel = other
	p.refused(p.as(p.ben), second, 14) // one person, one charge
	second.Attendant = p.dee
	p.ok(p.as(p.ben), second)

	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	require.Equal(t, PackUnread, p.s.Packs[p.p2].State, "elapsed time charges nothing")
	require.Empty(t, p.s.Packs[p.p2].Channel)
	p.ok(Itself(), BoardStart{Why: "restart"})
	require.True(t, p.s.Packs[p3].Unsure, "it may be charging, and nobody has said so")
	p.ok(p.as(p.ben), PackOff{Pack: p3})
	require.Equal(t, PackUnread, p.s.Packs[p3].State)
}

func TestNoPackIsChargedHotColdOrInARobot(t *testing.T) {
	p := newPit(t)
	shelf := p.shelf
	ch := ChannelID(p.made(p.captain(ChannelAdd{ChannelFields{Name: "C1", Charger: "twin", AmpsMost: 5, WattsMost: 100, ChargerWatts: 200, CellsMost: 6, Place: shelf}})))
	for _, c := range []struct {
		tempC float64
		ok    bool
	}{{45.1, false}, {45, true}, {5, true}, {4.9, false}} {
		p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: []float64{3.7, 3.7, 3.7, 3.7}, TempC: &c.tempC})
		_, bad := p.try(p.as(p.ben), PackCharge{Pack: p.p2, Channel: ch, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
		require.Equal(t, c.ok, bad == nil, "%v °C", c.tempC)
		if bad == nil {
			p.ok(p.as(p.ben), PackOff{Pack: p.p2})
		}
	}
	p.refused(p.as(p.ben), PackCharge{Pack: p.p1, Channel: ch, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}, 14)
}

func TestRule20NothingIsPoweredOrChargedBeforeTheEventsOwnSettings(t *testing.T) {
	for what, leave := range map[string]func(f *EventFields){
		"switched on and off": func(f *EventFields) { f.ActivationOrder = nil },
		"switched on":         func(f *EventFields) { f.DeactivationOrder = nil },
		"spin down":           func(f *EventFields) { f.SpinDownSec = 0 },
		"charged":             func(f *EventFields) { f.ChargingPlaces = nil },
		"emergency":           func(f *EventFields) { f.EmergencyContact = "" },
	} {
		p := newPit(t)
		p.closedUp()
		f := p.settings()
		leave(&f)
		p.captain(EventSet{EventFields: f, Reason: "the event says so"})
		bad := p.refused(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, 20)
		sentenceHas(t, bad, what)
		p.captain(EventSet{EventFields: p.settings()})
		p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
	}
}
