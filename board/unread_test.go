package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/charge"
)

func TestRule11NoSignatureOnAPackThatNobodyHasReadSinceItWasUsed(t *testing.T) {
	cells := []float64{4.18, 4.18, 4.19, 4.18}
	for _, c := range []struct {
		name  string
		make  func(p *pit)
		signs bool
	}{
		{"read before it went in", func(p *pit) {}, true},
		{"another as well, read in the robot", func(p *pit) {
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Robot: p.moth, Found: true})
			p.ok(p.as(p.ben), PackRead{Pack: p.p1, CellVolts: cells})
		}, true},
		{"another as well, that was in and out with no power on", func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p1, Robot: p.moth, Found: true}) }, true},
		{"another as well, never read", func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.pack("P3"), Robot: p.moth, Found: true}) }, false},
		{"another as well, of which only the temperature was read", func(p *pit) {
			warm := 30.0
			p3 := p.pack("P3")
			p.ok(p.as(p.ben), PackMove{Pack: p3, Robot: p.moth, Found: true})
			p.ok(p.as(p.ben), PackRead{Pack: p3, TempC: &warm})
		}, false},
		{"another as well, with other cells by its record since it was read", func(p *pit) {
			f := p.s.Packs[p.p1].PackFields
			f.Chemistry = charge.LiPoHV
			p.captain(PackChange{Pack: p.p1, PackFields: f})
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Robot: p.moth, Found: true})
		}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newPit(t)
			p.toSign()
			p.ok(p.as(p.ben), PackRead{Pack: p.p1, CellVolts: cells})
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Robot: p.moth, Found: true})
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch})
			c.make(p)
			sign := p.said(ListReady, "sign", SaidDone)
			if c.signs {
				for _, in := range []PackID{p.p1, p.p2} {
					if p.s.Packs[in].Robot == p.moth {
						p.strapped(in)
					}
				}
				p.ok(p.as(p.dee), sign)
				require.Equal(t, Ready, p.state())
				return
			}
			p.refused(p.as(p.dee), sign, 11)
		})
	}
}

func TestRule11APackThatWasInAFightIsReadBeforeTheNext(t *testing.T) {
	p := newPit(t)
	p.toSign()
	p.ok(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
	require.False(t, p.s.Packs[p.p2].Unread)
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	require.True(t, p.s.Packs[p.p2].Unread)
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: []float64{3.8, 3.8, 3.8, 3.8}})
	require.False(t, p.s.Packs[p.p2].Unread)
}
