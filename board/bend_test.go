package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Computed independently: the two halves of the kinked part as lines in the plane, and
// the angle between them.
func TestAGapUnderAStraightedgeIsABendAndAnAngle(t *testing.T) {
	for _, c := range []struct{ gap, over, per100, degrees float64 }{
		{0, 300, 0, 0},
		{0.5, 300, 0.16666666666666666, 0.3819704487193749},
		{2, 300, 0.6666666666666666, 1.52779692185999},
		{3, 150, 2, 4.581220085277059},
		{25, 100, 25, 53.13010235415598},
		{50, 100, 50, 90},
	} {
		b := Bend{GapMM: c.gap, OverMM: c.over}
		require.InDelta(t, c.per100, b.MMPer100(), 1e-9)
		require.InDelta(t, c.degrees, b.Degrees(), 1e-9)
	}
}

func TestAMeasurementThatCannotBeIsRefusedByItsField(t *testing.T) {
	m := newMothMap(t)
	for field, c := range map[string]PartBend{
		"overMm": {Part: m.railL, GapMM: 1, OverMM: 9},
		"gapMm":  {Part: m.railL, GapMM: 51, OverMM: 100},
		"part":   {Part: "x", GapMM: 1, OverMM: 100},
	} {
		_, bad := m.try(m.as(m.ben), c)
		require.NotNil(t, bad, field)
		require.Equal(t, field, bad.Field, bad.Sentence)
	}
	_, bad := m.try(m.as(m.ben), PartBend{Part: m.railL, GapMM: -0.1, OverMM: 100})
	require.Equal(t, "gapMm", bad.Field)
	m.ok(m.as(m.ben), PartBend{Part: m.railL, GapMM: 50, OverMM: 100})
}

func TestABendPastThePartsLimitProposesToMendItFirst(t *testing.T) {
	m := newMothMap(t)
	bent := func(gap float64) Part {
		m.ok(m.as(m.ben), PartBend{Part: m.railL, GapMM: gap, OverMM: 200})
		return m.s.Parts[m.railL]
	}
	grade := func(p Part) Grade { return p.BendGrade(p.Bends[len(p.Bends)-1]) }
	require.Empty(t, grade(bent(90)), "nobody said how much it may be")

	f := m.s.Parts[m.railL].PartFields
	f.BendMmPer100 = 0.5
	m.captain(PartChange{Part: m.railL, PartFields: f})
	require.Len(t, m.s.Parts[m.railL].Bends, 1, "what was measured stays with the part")
	require.Empty(t, grade(bent(1)), "just at the limit")
	require.Equal(t, G3, grade(bent(1.02)))
}

func TestAMeasurementIsOfTheFightThatHadBegunByThen(t *testing.T) {
	m := newMothMap(t)
	m.ok(m.as(m.ben), PartBend{Part: m.railL, GapMM: 0, OverMM: 200})
	fight := FightID(m.made(m.captain(FightAdd{FightFields: FightFields{Robot: m.moth, Arena: "north", Number: 4}})))
	m.captain(FightNow{Arena: "north", Number: 4})
	m.ok(m.as(m.ben), PartBend{Part: m.railL, GapMM: 1, OverMM: 200})
	bends := m.s.Parts[m.railL].Bends
	require.Empty(t, bends[0].Fight)
	require.Equal(t, fight, bends[1].Fight)
	require.Equal(t, m.ben, bends[1].By)
}

func TestOfManyMeasurementsTheNewestAreKept(t *testing.T) {
	m := newMothMap(t)
	for i := range 45 {
		m.ok(m.as(m.ben), PartBend{Part: m.railL, GapMM: float64(i), OverMM: 200})
	}
	bends := m.s.Parts[m.railL].Bends
	require.Len(t, bends, 40)
	require.Equal(t, 44., bends[39].GapMM)
}
