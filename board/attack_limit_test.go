package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/charge"
)

// Sequences as in attack_test.go, about limits of a charge that runs.

func TestRule14NoLimitGoesBelowARunningCharge(t *testing.T) {
	channel := func(change func(f *ChannelFields)) func(p *pit) Command {
		return func(p *pit) Command {
			f := p.s.Channels[p.cast.A1].ChannelFields
			change(&f)
			return ChannelChange{Channel: p.cast.A1, ChannelFields: f}
		}
	}
	pack := func(change func(f *PackFields)) func(p *pit) Command {
		return func(p *pit) Command {
			f := p.s.Packs[p.p2].PackFields
			change(&f)
			return PackChange{Pack: p.p2, PackFields: f}
		}
	}
	for name, c := range map[string]struct {
		do    func(p *pit) Command
		takes bool
	}{
		"the channel's current":         {channel(func(f *ChannelFields) { f.AmpsMost = 0.5 }), false},
		"the channel's cells":           {channel(func(f *ChannelFields) { f.CellsMost = 3 }), false},
		"the channel's, and still room": {channel(func(f *ChannelFields) { f.AmpsMost, f.CellsMost = 0.6, 4 }), true},
		"the pack's current":            {pack(func(f *PackFields) { f.ChargeAmpsMost = 0.5 }), false},
		"the pack's, and still room":    {pack(func(f *PackFields) { f.ChargeAmpsMost = 0.62 }), true},
		"its capacity":                  {pack(func(f *PackFields) { f.CapacityAh = 0.5 }), false},
		"its cells":                     {pack(func(f *PackFields) { f.Cells = 3 }), false},
		"in parallel":                   {pack(func(f *PackFields) { f.Parallel = 2 }), false},
		"its chemistry":                 {pack(func(f *PackFields) { f.Chemistry = charge.LiFe }), false},
		"its mass":                      {pack(func(f *PackFields) { f.MassGrams = 90 }), true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.onCharge(p.p2, p.ben)
			if c.takes {
				p.captain(c.do(p))
				return
			}
			_, bad := p.try(p.as(p.ada), c.do(p))
			require.NotNil(t, bad)
			sentenceHas(t, bad, "off")
			sentenceHas(t, bad, "A1")
			require.Equal(t, PackCharging, p.s.Packs[p.p2].State)
			p.ok(p.as(p.ben), PackOff{Pack: p.p2})
			p.captain(c.do(p))
		})
	}
	p := newPit(t)
	f := p.s.Packs[p.p2].PackFields
	f.ChargeAmpsMost, f.FasterBy = 2, "Ada from the label"
	p.captain(PackChange{Pack: p.p2, PackFields: f})
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7), TempC: degrees(21)})
	p.ok(p.as(p.ben), PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 1.3, Contained: true})
	f.FasterBy = ""
	p.refused(p.as(p.ada), PackChange{Pack: p.p2, PackFields: f}, 14)
}
