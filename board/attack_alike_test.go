package board_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Names that are meant to be taken for another's.

func TestNoPersonIsAnotherByWhatLooksTheSameByHand(t *testing.T) {
	for _, c := range []struct{ is, like, twin string }{
		{"Ottoline", "0ttoline", "Ottilie"}, {"Wim", "Vvim", "Vim"}, {"Gus", "Gu5", "Gustl"}, {"Lil", "1il", "Lila"},
	} {
		p := newPit(t)
		if c.is != "Gus" {
			p.person(PersonFields{Name: c.is, Role: RoleCrew})
		}
		require.Equal(t, CodeTaken, p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: c.like, Role: RoleCrew}}, 0).Code)
		p.captain(PersonAdd{PersonFields: PersonFields{Name: c.twin, Role: RoleCrew}})
	}
}

func TestRule5NobodyIsCalledAsAThingOfTheTeams(t *testing.T) {
	p := newPit(t)
	fields := p.s.Event().EventFields
	fields.Name = "Harbour Clash"
	p.captain(EventSet{EventFields: fields})
	p.captain(PlaceAdd{PlaceFields{Name: "Blue corner", Kind: PlaceBench}})
	p.captain(StationAdd{StationFields{Name: "Big vice", Kind: StationBench, Place: p.bench, Count: 1}})
	for _, name := range []string{"harbour clash", "Blue Corner", "Big Vice", "Tin Moth", "Pit screen", "The monitor"} {
		p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: name, Role: RoleCrew}}, 5)
	}
	for _, name := range []string{"Harbo", "Blue", "Vic Bigg"} {
		p.captain(PersonAdd{PersonFields: PersonFields{Name: name, Role: RoleCrew}})
	}
}

func TestRule8ALinkLeavesTheMakeSafeSheetOnlyWithAReasonAndUnderNobodysHands(t *testing.T) {
	reach := func(kind EnergyKind) func(f *RobotFields) {
		return func(f *RobotFields) {
			for i := range f.Energies {
				if f.Energies[i].Kind == kind {
					f.Energies[i].Reach = Inside
				}
			}
		}
	}
	for name, change := range map[string]func(f *RobotFields){
		"weapon power inside": reach(EnergyWeapon),
		"drive power inside":  reach(EnergyDrive),
		"one isolator for both": func(f *RobotFields) {
			for i := range f.Energies {
				if f.Energies[i].Kind == EnergyWeapon || f.Energies[i].Kind == EnergyDrive {
					f.Energies[i].Isolator = "the one link"
				}
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.ada), p.with(func(f *RobotFields) {
				for i := range f.Energies {
					f.Energies[i].Isolator = "link " + string(f.Energies[i].Kind)
				}
			}))
			less := p.with(func(f *RobotFields) { f.Energies = slices.Clone(f.Energies); change(f) })
			require.Equal(t, "reason", p.refused(p.as(p.ada), less, 8).Field)
			p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
			less.Reason = "rewired last night"
			sentenceHas(t, p.refused(p.as(p.ada), less, 8), "Gus")
			near, _ := p.s.HandsOf(p.moth, p.gus)
			p.ok(p.as(p.gus), HandsOff{Hands: near.ID})
			p.ok(p.as(p.ada), less)
			require.Len(t, p.s.Robots[p.moth].Loosened, 1)
			require.NotEmpty(t, p.s.RelaxedFor(p.moth))
			p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
			p.ok(p.as(p.ada), p.with(func(f *RobotFields) {
				f.Energies = slices.Clone(f.Energies)
				for i := range f.Energies {
					f.Energies[i].Isolator = "the " + f.Energies[i].Isolator
				}
			}))
		})
	}
}

func TestRule8AKindOfJobAsksLessOnlyWithAReasonAsAJobDoes(t *testing.T) {
	whole := TemplateFields{Name: "Tape the shell", Size: Light, Triage: Must, Fixes: []Fix{swapBlade("")}}
	whole.Fixes[0].Stock = nil
	for name, change := range map[string]func(f *TemplateFields){
		"no must":       func(f *TemplateFields) { f.Triage = Could },
		"packs in":      func(f *TemplateFields) { f.Fixes[0].PackOut = false },
		"touching less": func(f *TemplateFields) { f.Fixes[0].Touches = nil },
		"off the robot": func(f *TemplateFields) { f.Fixes[0].Where, f.Fixes[0].Lockout = OffRobot, false },
		"one more, bare": func(f *TemplateFields) {
			more := f.Fixes[0]
			more.Name, more.Lockout = "another", false
			f.Fixes = append(f.Fixes, more)
		},
		"another name": func(f *TemplateFields) { f.Fixes[0].Name, f.Fixes[0].PackOut = "another", false },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			less := whole
			less.Fixes = slices.Clone(whole.Fixes)
			change(&less)
			id := TemplateID(p.made(p.captain(TemplateAdd{TemplateFields: whole})))
			require.Equal(t, "reason", p.refused(p.as(p.ada), TemplateChange{Template: id, TemplateFields: less}, 8).Field)
			p.captain(TemplateRetire{Template: id})
			require.Equal(t, "reason", p.refused(p.as(p.ada), TemplateAdd{TemplateFields: less}, 8).Field)
			id = TemplateID(p.made(p.captain(TemplateAdd{TemplateFields: whole, Reason: "as it was"})))
			p.captain(TemplateChange{Template: id, TemplateFields: less, Reason: "the shell is off by then"})
			require.Len(t, p.s.Templates[id].Loosened, 1)
			require.NotEmpty(t, p.s.Relaxed())
			more := whole
			more.Fixes = slices.Clone(whole.Fixes)
			more.Fixes[0].LikelySec, more.Fixes[0].Touches = 60, append(slices.Clone(more.Fixes[0].Touches), SysDrive)
			p.captain(TemplateChange{Template: id, TemplateFields: more})
		})
	}
}
