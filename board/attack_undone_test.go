package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about what an undo or another place brings back.

func TestRule11AnUndoPutsNoPartOffAgainNorBringsALookBack(t *testing.T) {
	looked := func(p *pit) DamageID {
		p.open()
		d := p.bladeHurt(GX, SysWeapon)
		p.takenOff(d)
		p.ok(p.as(p.dee), DamageLook{Damage: d})
		require.Empty(t, p.s.DamageAsks(p.s.Damages[d]))
		return d
	}
	for name, between := range map[string]func(p *pit){
		"at once": func(*pit) {},
		"made safe, and worked on": func(p *pit) {
			_, bad := p.tagOff(p.as(p.ben), p.ben)
			require.Nil(p.t, bad)
			p.ok(p.as(p.ben), RobotDoubt{Robot: p.moth})
			p.makeSafe()
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			d := looked(p)
			back := p.ok(p.as(p.ben), DamageOff{Damage: d, Back: true})
			between(p)
			sentenceHas(t, p.refused(p.as(p.ben), Undo{Command: back.Done.ID}, 11), "say so again")
			require.Equal(t, AsksJob, p.s.DamageAsks(p.s.Damages[d]))
			p.takenOff(d)
			require.Equal(t, AsksLook, p.s.DamageAsks(p.s.Damages[d]), "and someone looks again")
		})
	}
	p := newPit(t)
	d := looked(p)
	less := p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: G4, Reason: "a crack in the paint"})
	p.ok(p.as(p.ada), Undo{Command: less.Done.ID})
	require.Equal(t, AsksLook, p.s.DamageAsks(p.s.Damages[d]))
	what := p.ok(p.as(p.dee), DamageLook{Damage: d})
	require.NotZero(t, what)
	stuck := p.ok(p.as(p.ben), DamageOutcome{Damage: d, Stuck: true})
	p.ok(p.as(p.ben), Undo{Command: stuck.Done.ID})
	require.Empty(t, p.s.DamageAsks(p.s.Damages[d]), "the look is as it was")
}

func TestRule11NobodyLooksAtDamageOnARobotThatMayHavePower(t *testing.T) {
	p := newPit(t)
	d := p.bladeHurt(GX, SysWeapon)
	p.takenOff(d)
	sentenceHas(t, p.refused(p.as(p.dee), DamageLook{Damage: d}, 11), "verify it")
	p.closedUp()
	p.tests()
	sentenceHas(t, p.refused(p.as(p.dee), DamageLook{Damage: d}, 11), "until that has ended")
	p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
	p.makeSafe()
	p.ok(p.as(p.dee), DamageLook{Damage: d})
}

func TestNoPartOfADroppedDamageIsOff(t *testing.T) {
	p := newPit(t)
	p.open()
	d := p.bladeHurt(G3)
	p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: G3, Drop: true, Reason: "it is the other robot's"})
	p.refused(p.as(p.ada), DamageOff{Damage: d, What: "in the box"}, 0)
	p.refused(p.as(p.gus), DamageOff{Damage: d, Back: true}, 0)
}

func TestRule2AReadyRobotInTheTestBoxIsUnknown(t *testing.T) {
	for name, place := range map[string]func(p *pit) PlaceID{
		"the test box": func(p *pit) PlaceID { return p.box },
		"the arena":    func(p *pit) PlaceID { return p.arena },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			p.ready()
			_, bad := p.try(p.as(p.ben), RobotPlace{Robot: p.moth, Place: place(p)})
			require.NotNil(t, bad)
			require.Equal(t, "sure", bad.Field)
			require.Equal(t, Ready, p.state())
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: place(p), Sure: true})
			require.Equal(t, Unknown, p.state())
		})
	}
	p := newPit(t)
	p.open()
	p.ready()
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
	require.Equal(t, Ready, p.state())
	p = newPit(t)
	p.closedUp()
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.box})
	require.Equal(t, ClosingUp, p.state(), "it is there for its test")
	p.tests()
}
