package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about the packs in a robot that is closed up.

// strapped is the answer, when a robot is closed up, that a pack is in and strapped. It is
// weighed again where that changes what it weighs.
func (p *pit) strapped(id PackID) {
	p.t.Helper()
	say := p.said(ListCloseUp, "pack", SaidDone)
	say.Pack = id
	p.ok(p.as(p.ben), say)
	p.ok(p.as(p.ben), p.said(ListCloseUp, "covers", SaidDone))
	if p.s.WeighStale(p.moth) != "" {
		p.answerAgain("mass")
	}
}

func TestRule11APackThatWentInAfterTheAnswerIsAskedFor(t *testing.T) {
	swap := func(p *pit, by PersonID) {
		p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
		p.ok(p.as(by), PackMove{Pack: p.p1, Robot: p.moth})
	}
	for name, c := range map[string]struct {
		then  func(p *pit)
		asked bool
	}{
		"another in its place":    {func(p *pit) { swap(p, p.ben) }, true},
		"another, says a guest":   {func(p *pit) { swap(p, p.gus) }, true},
		"another beside it":       {func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p1, Robot: p.moth}) }, true},
		"another found beside it": {func(p *pit) { p.ok(p.as(p.gus), PackMove{Pack: p.p1, Robot: p.moth, Found: true}) }, true},
		"out and in again": {func(p *pit) {
			swap(p, p.ben)
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth})
		}, true},
		"the same, said again":     {func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth}) }, false},
		"its cells read once more": {func(p *pit) { p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.17)}) }, false},
		"nothing":                  {func(*pit) {}, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.toSign()
			p.read(p.p1)
			p.now += 60_000
			c.then(p)
			if !c.asked {
				p.ok(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
				return
			}
			bad := p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 11)
			sentenceHas(t, bad, "which one?")
			if in := p.p1; p.s.Packs[in].Robot == p.moth {
				p.strapped(in)
			} else {
				p.strapped(p.p2)
			}
			p.ok(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
			require.Equal(t, Ready, p.state())
		})
	}
}
