package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/charge"
)

// unfit are the packs that go into no robot and no fight, beside the one that does.
var unfit = map[string]struct {
	make func(p *pit, id PackID)
	says string
}{
	"one for it, read and charged": {func(p *pit, id PackID) { p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(4.18), Charged: true}) }, ""},
	"just above the floor":         {func(p *pit, id PackID) { p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(3.20)}) }, ""},
	"a weapon's pack": {func(p *pit, id PackID) {
		p.record(id, func(f *PackFields) { f.Use = UseWeapon })
		p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(4.1)})
	}, ""},
	"never read": {func(*pit, PackID) {}, "read"},
	"low":        {func(p *pit, id PackID) { p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(3.19)}) }, "3.20 V"},
	"listed for no robot": {func(p *pit, id PackID) {
		p.record(id, func(f *PackFields) { f.Fits = nil })
		p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(4.1)})
	}, "listed"},
	"a tool's pack": {func(p *pit, id PackID) {
		p.record(id, func(f *PackFields) { f.Use = UseTool })
		p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(4.1)})
	}, "tools"},
	"of another chemistry since it was read": {func(p *pit, id PackID) {
		p.ok(p.as(p.ben), PackRead{Pack: id, CellVolts: even(4.1)})
		p.record(id, func(f *PackFields) { f.Chemistry = charge.LiPoHV })
	}, "read"},
}

func (p *pit) record(id PackID, change func(*PackFields)) {
	f := p.s.Packs[id].PackFields
	change(&f)
	p.captain(PackChange{Pack: id, PackFields: f})
}

func TestRule11OnlyAPackForThisRobotThatIsReadAndNotLowGoesIn(t *testing.T) {
	for name, c := range unfit {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p3 := p.pack("P3")
			c.make(p, p3)
			in := PackMove{Pack: p3, Robot: p.moth}
			if c.says == "" {
				p.ok(p.as(p.ben), in)
				require.Equal(t, p.moth, p.s.Packs[p3].Robot)
				return
			}
			bad := p.refused(p.as(p.ben), in, 11)
			sentenceHas(t, bad, c.says)
			sentenceHas(t, bad, "found there")
			in.Found = true
			p.ok(p.as(p.ben), in)
			require.Equal(t, p.moth, p.s.Packs[p3].Robot, "what is there is never refused")
		})
	}
}

func TestRule11EachFittedPackIsLookedAtAtTheSignature(t *testing.T) {
	for name, c := range unfit {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p3 := p.pack("P3")
			c.make(p, p3)
			p.toSign()
			p.ok(p.as(p.ben), PackMove{Pack: p3, Robot: p.moth, Found: true})
			sign := p.said(ListReady, "sign", SaidDone)
			if c.says == "" {
				p.strapped(p3)
				p.ok(p.as(p.dee), sign)
				return
			}
			sentenceHas(t, p.refused(p.as(p.dee), sign, 11), c.says)
			p.ok(p.as(p.ben), PackMove{Pack: p3, Place: p.watch})
			p.ok(p.as(p.dee), sign)
		})
	}
}

func TestRule11AWeaponsPackAloneIsNoPackToFightOn(t *testing.T) {
	p := newPit(t)
	p.toSign()
	p.record(p.p2, func(f *PackFields) { f.Use = UseWeapon })
	sentenceHas(t, p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 11), "main pack")
	p.record(p.p2, func(f *PackFields) { f.Use = UseMain })
	p.ok(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
}

func TestAPackThatALatePhonePutInIsThere(t *testing.T) {
	p := newPit(t)
	p3 := p.pack("P3")
	p.now += 60_000
	require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: p3, Robot: p.moth}, 30_000))
	require.Equal(t, p.moth, p.s.Packs[p3].Robot)
}
