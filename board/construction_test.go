package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// boltedRails is a construction of the cast's robot, constructed by us.
func boltedRails(p *pit) ConstructionFields {
	return ConstructionFields{Robot: p.moth, Name: "bolted rails", Built: true, ListCents: 7100, Mends: []PartMend{
		{Group: "rails", Parts: []string{"rail, left", "rail, right"}, AccessSec: 480, AccessBadSec: 960, Joints: 12, Name: "swap", From: 1, Each: true, LikelySec: 720, BadSec: 1800, CostCents: 2500},
		{Group: "rails", Name: "all new", From: 2, LikelySec: 3600, BadSec: 5400, CostCents: 7100},
	}}
}

func TestAConstructionThatCannotBeIsRefusedByItsField(t *testing.T) {
	p := newPit(t)
	for name, c := range map[string]struct {
		change func(*ConstructionFields)
		field  string
	}{
		"no way to mend it":     {func(f *ConstructionFields) { f.Mends = nil }, "mends"},
		"a group without parts": {func(f *ConstructionFields) { f.Mends[0].Parts = nil }, "mends"},
		"a group begins at two": {func(f *ConstructionFields) { f.Mends[0].From = 2 }, "mends"},
		"rows that do not rise": {func(f *ConstructionFields) { f.Mends[1].From = 1 }, "mends"},
		"parts named twice":     {func(f *ConstructionFields) { f.Mends[1].Parts = []string{"rail, rear"} }, "mends"},
		"a part in two groups": {func(f *ConstructionFields) {
			f.Mends[1].Group, f.Mends[1].From, f.Mends[1].Parts = "other", 1, []string{"rail, left"}
		}, "mends"},
		"a bad case that is better": {func(f *ConstructionFields) { f.Mends[0].BadSec = 60 }, "mends"},
		"a price below nothing":     {func(f *ConstructionFields) { f.Mends[0].CostCents = -1 }, "mends"},
		"a mass below nothing":      {func(f *ConstructionFields) { f.MassGrams = -1 }, "massGrams"},
		"nobody's robot":            {func(f *ConstructionFields) { f.Robot = "" }, "robot"},
	} {
		f := boltedRails(p)
		c.change(&f)
		_, bad := p.try(Actor{Role: RoleCaptain}, ConstructionAdd{f})
		require.NotNil(t, bad, name)
		require.Equal(t, c.field, bad.Field, name)
	}
}

func TestARobotIsBuiltOneWay(t *testing.T) {
	p := newPit(t)
	id := ConstructionID(p.made(p.captain(ConstructionAdd{boltedRails(p)})))
	other := boltedRails(p)
	_, bad := p.try(Actor{Role: RoleCaptain}, ConstructionAdd{other})
	require.NotNil(t, bad, "its name is taken")
	other.Name = "one frame"
	_, bad = p.try(Actor{Role: RoleCaptain}, ConstructionAdd{other})
	require.Equal(t, "built", bad.Field)
	f := boltedRails(p)
	f.Built = false
	p.captain(ConstructionChange{Construction: id, ConstructionFields: f})
	p.captain(ConstructionAdd{other})
	p.captain(ConstructionRetire{Construction: id})
	require.True(t, p.s.Constructions[id].Retired)
}

func TestADamageFoundLaterIsPutToItsHit(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	d := DamageID(p.madeKind(KindDamage, p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "rail", Grade: G3}})))
	_, bad := p.try(p.as(p.ben), DamageHit{Damage: d, Hit: 2})
	require.Equal(t, "fight", bad.Field)
	p.ok(p.as(p.ben), DamageHit{Damage: d, Fight: f, Hit: 2, Severity: Hard})
	require.Equal(t, f, p.s.Damages[d].Fight)
	require.Equal(t, 2, p.s.Damages[d].Hit)
	p.ok(p.as(p.ben), DamageHit{Damage: d})
	require.Empty(t, p.s.Damages[d].Fight)
	require.Equal(t, Hard, p.s.Damages[d].Severity)
}
