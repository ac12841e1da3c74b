package debrief_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/debrief"
)

func TestTheDebriefShowsWhatCreepsFromHitToHit(t *testing.T) {
	p := newPit(t)
	part := func(name string, limit float64) PartID {
		return PartID(p.as(p.Ada, PartAdd{PartFields: PartFields{Robot: p.Moth, Name: name, BendMmPer100: limit}}, KindPart))
	}
	measure := func(id PartID, gap float64) { p.do(p.Ben, PartBend{Part: id, GapMM: gap, OverMM: 200}) }
	keel, skid, once := part("keel", 0.3), part("skid", 0), part("once", 0)
	measure(keel, 0.2)
	measure(skid, 0.4)
	measure(once, 9)
	for n, gap := range []float64{0.5, 0.8} {
		p.fought(p.fight(n+1, "Ooze"), Won)
		measure(keel, gap)
	}
	measure(skid, 0.4)

	a := account(t, p.record())
	want := debrief.Creep{Name: "keel", Says: "0.10, 0.25 after north 1, 0.40 after north 2 mm per 100 mm; limit 0.30", Past: true}
	got := a.Robots[0].Creeps
	require.Len(t, got, 2, "what was measured once cannot creep")
	require.InDelta(t, 0.3, got[0].MMPer100, 1e-9)
	got[0].MMPer100 = 0
	require.Equal(t, want, got[0])
	require.Equal(t, "Tin Moth: skid", a.All.Creeps[1].Name)
	require.Zero(t, a.All.Creeps[1].MMPer100)
}
