package board_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, by an edit, an undo or a late word instead of the
// honest path.

func TestRule14NoUndoTakesTheChannelFromUnderACharge(t *testing.T) {
	p := newPit(t)
	add := p.captain(ChannelAdd{ChannelFields{Name: "B1", Charger: "twin", AmpsMost: 5, WattsMost: 100, ChargerWatts: 200, CellsMost: 6, Place: p.shelf}})
	p.read(p.p2)
	p.ok(p.as(p.ben), PackCharge{Pack: p.p2, Channel: ChannelID(p.made(add)), Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
	sentenceHas(t, p.refused(p.as(p.ada), Undo{Command: add.Done.ID}, 14), "B1")
	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	p.ok(p.as(p.ada), Undo{Command: add.Done.ID})
}

func TestRule15SparksStayWhereTheyAreWhateverTheStationIsCalled(t *testing.T) {
	fields := StationFields{Name: "grinder", Kind: StationBench, Count: 1}
	for name, edit := range map[string]func(p *pit) Command{
		"a bench from now on": func(p *pit) Command {
			f := fields
			f.Place = p.cast.Corner
			return StationChange{Station: p.cast.Grinder, StationFields: f}
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			job := p.grinding(OffRobot)
			p.ok(p.as(p.ben), JobStart{Job: job, Station: p.cast.Grinder})
			p.ok(p.as(p.ada), edit(p))
			p.refused(p.as(p.ben), PackMove{Pack: p.p2, Place: p.cast.Corner}, 15)
			p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldStation})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.cast.Corner})
		})
	}
	t.Run("a bench where packs lie", func(t *testing.T) {
		p := newPit(t)
		p.ok(p.as(p.ben), JobStart{Job: p.grinding(OffRobot), Station: p.cast.Grinder})
		f := fields
		f.Place = p.watch
		p.refused(p.as(p.ada), StationChange{Station: p.cast.Grinder, StationFields: f}, 15)
	})
}

func TestRule19ALateWordEndsNoEmergency(t *testing.T) {
	p := newPit(t)
	e := EmergencyID(p.madeKind(KindEmergency, p.ok(p.as(p.gus), EmergencyRaise{Place: p.shelf, What: "smoke"})))
	p.now += 10 * minute
	over := EmergencyEnd{Emergency: e, How: "it was steam"}
	bad := p.lateAt(p.as(p.dee), over, 9*second)
	require.NotNil(t, bad)
	require.Equal(t, 19, bad.Rule)
	require.Nil(t, p.lateAt(p.as(p.dee), over, 7*second))
}

// under is moth with its rotor asked about under the covers only.
func (p *pit) under(reason string) RobotChange {
	f := p.s.Robots[p.moth].RobotFields
	f.Energies = slices.Clone(f.Energies)
	for i, energy := range f.Energies {
		if energy.Kind == EnergySpin {
			f.Energies[i].Reach = Inside
		}
	}
	return RobotChange{Robot: p.moth, RobotFields: f, Reason: reason}
}

func TestRule8AnEnergyIsAskedAboutUnderTheCoversByAuthorityWithAReason(t *testing.T) {
	p := newPit(t)
	require.Equal(t, "reason", p.refused(p.as(p.ada), p.under(""), 8).Field)
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	p.refused(p.as(p.ada), p.under("it is closed in"), 8)
	p.ok(p.as(p.gus), HandsOff{Hands: inOrderFirst(p)})
	p.ok(p.as(p.ada), p.under("it is closed in"))
	require.Contains(t, p.s.Robots[p.moth].Loosened[0].What, "spinning-mass")
	require.Contains(t, p.s.Relaxed(), "Tin Moth: spinning-mass asked about under the covers only.")
}

func inOrderFirst(p *pit) HandsID {
	for id := range p.s.Hands {
		return id
	}
	return ""
}

func TestRule3NobodyTriesWhileARotorUnderTheCoversMayTurn(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ada), p.under("it is closed in"))
	p.walkUntil(ListMakeSafe, "try")
	off := p.power().OffAt
	require.Less(t, p.now, off+50*second)
	sentenceHas(t, p.refused(p.as(p.ben), p.said(ListMakeSafe, "try", SaidDone), 3), "60 s")
	p.now = off + 60*second
	p.walk(p.as(p.ben), ListMakeSafe)
	require.Equal(t, Verified, p.state())
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	p.ok(p.as(p.ben), p.said(ListFirstIn, rotor, SaidDone))
}

func TestAPackWithACellOverFullIsNotCharged(t *testing.T) {
	p := newPit(t)
	charge := PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: []float64{4.27, 4.25, 4.25, 4.25}, TempC: degrees(21), Sure: true})
	_, bad := p.try(p.as(p.ben), charge)
	require.NotNil(t, bad)
	sentenceHas(t, bad, "above the 4.20 V")
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.2), TempC: degrees(21)})
	p.ok(p.as(p.ben), charge)
}

func TestRule8And11NoUndoHasAJobAskLessButForASlip(t *testing.T) {
	for name, c := range map[string]struct {
		rule int
		made func(p *pit, by Actor) CommandID
	}{
		"a must is gone": {11, func(p *pit, by Actor) CommandID {
			return p.ok(by, JobAdd{JobFields: JobFields{Robot: p.moth, Name: "hub", Triage: Must, Fixes: []Fix{p.s.Jobs[p.job()].Fixes[0]}}}).Done.ID
		}},
		"no must any more": {11, func(p *pit, by Actor) CommandID {
			return p.ok(by, p.less(p.loose(AtRobot), func(f *JobFields) { f.Triage = Must })).Done.ID
		}},
		"no lockout any more": {8, func(p *pit, by Actor) CommandID {
			return p.ok(by, p.less(p.loose(AtRobot), func(f *JobFields) { f.Fixes[0].Lockout = true })).Done.ID
		}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.ben), Undo{Command: c.made(p, p.as(p.ben))})
			id := c.made(p, p.as(p.ben))
			p.now += 2 * minute
			sentenceHas(t, p.refused(p.as(p.ben), Undo{Command: id}, c.rule), "by hand, with a reason")
		})
	}
}

func TestRule8And11AJobTouchesWhatItsDamageIsAbout(t *testing.T) {
	p := newPit(t)
	p.toSign()
	belt := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{
		Robot: p.moth, Part: "belt", Grade: G3, Touches: []System{SysWeapon},
	}})))
	by := JobFields{Robot: p.moth, Name: "belt", Triage: Could, Damages: []DamageID{belt}, Fixes: []Fix{{
		Name: "by hand", Way: WaySwap, LikelySec: 60, BadSec: 90, Hands: []Skill{SkillAny}, Station: StationBench, Where: AtRobot,
	}}}
	p.refused(p.as(p.gus), JobAdd{JobFields: by}, 8)
	other := by
	other.Damages = nil
	tidy := JobID(p.madeKind(KindJob, p.ok(p.as(p.ada), JobAdd{JobFields: other, Reason: noLockout})))
	p.refused(p.as(p.gus), JobChange{Job: tidy, JobFields: by}, 8)
	p.refused(p.as(p.ada), JobChange{Job: tidy, JobFields: by}, 8)
	p.ok(p.as(p.ben), JobStart{Job: tidy})
	p.ok(p.as(p.ben), JobFinish{Job: tidy})
	require.False(t, p.stale(), "it touched nothing that anyone was asked about")

	job := JobID(p.madeKind(KindJob, p.ok(p.as(p.ada), JobAdd{JobFields: by, Reason: noLockout})))
	p.now += minute
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobFinish{Job: job})
	require.True(t, p.stale(), "the failsafe is from before work on the weapon")
}

// stale tells whether the signature waits for an answer that work has overtaken.
func (p *pit) stale() bool {
	_, bad := p.try(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
	return bad != nil && bad.Rule == 11 && strings.Contains(bad.Sentence, "Work was done since")
}

func TestRule23AKindOfJobThatAsksLessPrints(t *testing.T) {
	p := newPit(t)
	fix := p.s.Jobs[p.job()].Fixes[0]
	fix.Name, fix.Lockout, fix.PackOut, fix.Touches = "swap", true, true, []System{SysWeapon}
	f := TemplateFields{Name: "belt", Size: Light, Triage: Must, Fixes: []Fix{fix}}
	id := TemplateID(p.made(p.captain(TemplateAdd{TemplateFields: f})))
	less := f
	less.Triage, less.Fixes = Could, slices.Clone(f.Fixes)
	less.Fixes[0].Lockout, less.Fixes[0].Touches = false, nil
	p.captain(TemplateChange{Template: id, TemplateFields: less, Reason: noLockout})
	want := []string{"belt (light) is no must any more.", "belt (light): swap without lockout and touching weapon."}
	require.Equal(t, want, p.s.Relaxed())
	less.Fixes = slices.Clone(less.Fixes)
	less.Fixes[0].Name = "by hand"
	for range 2 {
		p.captain(TemplateChange{Template: id, TemplateFields: less, Reason: noLockout})
		require.Equal(t, "belt (light): by hand without lockout and touching weapon.", p.s.Relaxed()[1], "by another name too")
	}
	p.captain(TemplateChange{Template: id, TemplateFields: f})
	require.Empty(t, p.s.Relaxed())
}

func TestAPackOnAChargerIsNotSaidToBeGone(t *testing.T) {
	p := newPit(t)
	p.read(p.p2)
	p.ok(p.as(p.ben), PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
	for _, by := range []PersonID{p.gus, p.ben, p.ada} {
		_, bad := p.try(p.as(by), PackSet{Pack: p.p2, State: PackGone})
		require.NotNil(t, bad)
		sentenceHas(t, bad, "Say first that it is off")
		require.Equal(t, PackCharging, p.s.Packs[p.p2].State)
	}
	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackGone})
}

func TestRule11WhoTookThePartOffIsNotTheOtherEyes(t *testing.T) {
	p := newPit(t)
	d, _ := p.damage(GX)
	p.takenOff(d)
	bad := p.refused(p.as(p.ada), DamageLook{Damage: d}, 11)
	sentenceHas(t, bad, "Dee")
	sentenceHas(t, p.refused(p.as(p.dee), DamageLook{Damage: d}, 11), "verify it; then look")
	p.makeSafe()
	p.ok(p.as(p.dee), DamageLook{Damage: d})
}
