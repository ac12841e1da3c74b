package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about what a fight and a part that is off prove.

// fight enters a fight of the robot's.
func (p *pit) fight(number int) FightID {
	p.t.Helper()
	return FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: number}})))
}

// wasOff tells whether a part of the robot's may be said to be off, at its state now.
func (p *pit) wasOff(d DamageID) *Refusal {
	_, bad := p.try(p.as(p.ada), DamageOff{Damage: d, What: "in the box"})
	return bad
}

func TestRule11And12AFightThatTheBoardNeverSawLiveProvesNothing(t *testing.T) {
	line := Line{Covers: []System{SysRadio, SysDrive, SysWeapon}}
	for name, c := range map[string]struct {
		by     func(p *pit) PersonID
		live   bool
		proves bool
	}{
		"a guest's word":     {func(p *pit) PersonID { return p.gus }, false, false},
		"a no-show, tapped":  {func(p *pit) PersonID { return p.ben }, false, false},
		"declared live, won": {func(p *pit) PersonID { return p.ben }, true, true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f := p.fight(7)
			p.open()
			p.ok(p.as(p.dee), TagOn{Robot: p.moth})
			job := p.job()
			p.ok(p.as(p.dee), JobStart{Job: job})
			p.ok(p.as(p.dee), JobFinish{Job: job})
			_, bad := p.tagOff(p.as(p.dee), p.dee)
			require.Nil(t, bad)
			p.closeUpAgain()
			if c.live {
				_, bad := p.sign(p.nia)
				require.Nil(t, bad)
				p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
				p.now += minute
			}
			p.ok(p.as(c.by(p)), FightEnd{Fight: f, Result: Won})
			require.Equal(t, Unknown, p.state())
			require.Equal(t, c.proves, p.s.ProvenFailsafe(p.moth, line))
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
			p.open()
			p.read(p.p1)
			p.closeUpAgain()
			_, bad = p.sign(p.dee)
			require.Equal(t, c.proves, bad == nil, bad)
			if bad != nil {
				require.Equal(t, 12, bad.Rule)
				p.ok(p.as(p.nia), p.said(ListReady, "sign", SaidDone))
			}
		})
	}
}

func TestRule12AResultThatComesAfterTheRepairFreesNobodyToSign(t *testing.T) {
	p := newPit(t)
	f := p.fight(7)
	p.open()
	p.ready()
	p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
	p.open()
	p.ok(p.as(p.dee), TagOn{Robot: p.moth})
	job := p.job()
	p.ok(p.as(p.dee), JobStart{Job: job})
	p.ok(p.as(p.dee), JobFinish{Job: job})
	p.allOff()
	p.ok(p.as(p.ben), FightEnd{Fight: f, Result: Won})
	require.False(t, p.s.ProvenFailsafe(p.moth, Line{Covers: []System{SysWeapon}}), "the blade came after the fight")
	p.open()
	p.read(p.p1)
	p.closeUpAgain()
	_, bad := p.sign(p.dee)
	require.NotNil(t, bad)
	require.Equal(t, 12, bad.Rule)
}

func TestRule11APartComesOffAtWorkAndNotFromAClosedUpRobot(t *testing.T) {
	closing := func(p *pit) { p.closedUp() }
	for name, c := range map[string]struct {
		to  func(p *pit)
		has string
	}{
		"closing up": {closing, "reopens"},
		"in a test": {func(p *pit) {
			p.closedUp()
			p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
		}, "at work"},
		"ready": {func(p *pit) { p.open(); p.ready() }, "set it unknown"},
		"live": {func(p *pit) {
			p.open()
			p.ready()
			p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
		}, "at work"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			d, _ := p.damage(G1)
			p.ok(p.as(p.ada), DamageAccept{Damage: d})
			c.to(p)
			was := p.state()
			bad := p.wasOff(d)
			require.NotNil(t, bad)
			require.Equal(t, 11, bad.Rule)
			sentenceHas(t, bad, c.has)
			require.Equal(t, was, p.state())
		})
	}
	p := newPit(t)
	d, _ := p.damage(GX)
	p.closedUp()
	require.NotNil(t, p.wasOff(d))
	p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
	p.walk(p.as(p.ben), ListReopen)
	require.Equal(t, Verified, p.state())
	sentenceHas(t, p.wasOff(d), "Put a tag on")
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	sentenceHas(t, p.wasOff(d), "First in")
	p.walk(p.as(p.ben), ListFirstIn)
	require.Nil(t, p.wasOff(d))
	p = newPit(t)
	d, _ = p.damage(GX)
	sentenceHas(t, p.wasOff(d), "torn off")
	p.takenOff(d)
}

func TestRule11APartThatComesOffTouchesWhatItIsAbout(t *testing.T) {
	for name, touches := range map[string][]System{"weapon": {SysWeapon}, "not said": nil, "armour": {SysStructure}} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.closedUp()
			p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "failsafe", Place: p.box, Minutes: 5})
			p.now += minute
			p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
			d := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "blade", Grade: G3, Touches: touches}})))
			p.open()
			p.closeUpAgain()
			p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
			p.walk(p.as(p.ben), ListReopen)
			covers, _ := p.s.Sheet(p.moth, ListCloseUp)
			a, ok := covers.Answered("covers")
			require.True(t, ok)
			p.takenOff(d)
			p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
			again, _ := p.s.Sheet(p.moth, ListCloseUp)
			b, ok := again.Answered("covers")
			require.False(t, ok && b.At == a.At, "the covers were off for it")
			_, ok = again.Answered("inside")
			require.False(t, ok)
			require.Equal(t, name == "armour", p.s.ProvenFailsafe(p.moth, Line{Covers: []System{SysRadio, SysDrive, SysWeapon}}))
		})
	}
}

func TestRule11GraveDamageWithoutAJobIsNotClosedByAWordThatItsPartIsOff(t *testing.T) {
	for _, g := range []Grade{G3, G4} {
		p := newPit(t)
		p.open()
		d, _ := p.damage(g)
		p.ok(p.as(p.ada), DamageOff{Damage: d, What: "blade in the box"})
		require.Equal(t, AsksLook, p.s.DamageAsks(p.s.Damages[d]))
		p.refused(p.as(p.ada), DamageLook{Damage: d}, 11)
		p.closeUpAgain()
		_, bad := p.sign(p.ada)
		require.NotNil(t, bad, "who said that it is off")
		require.Equal(t, 12, bad.Rule)
		_, bad = p.sign(p.dee)
		require.NotNil(t, bad, "her signature is no look")
		require.Equal(t, 11, bad.Rule)
		p.ok(p.as(p.dee), DamageLook{Damage: d})
		_, bad = p.sign(p.dee)
		require.Nil(t, bad)
	}
	p := newPit(t)
	p.open()
	d, _ := p.damage(G3)
	p.doJob(p.jobWith(p.as(p.ben), Must, swapBlade(p.blade), d))
	require.Empty(t, p.s.DamageAsks(p.s.Damages[d]), "a job that put it right asks for no look")
}

func TestRule11FailsafeIsOwedWhereItWasProvenOnlyWithAReasonThatPrints(t *testing.T) {
	set := func(p *pit, reason string, at ...FailsafePlace) EventSet {
		f := p.s.Event().EventFields
		f.FailsafeAt = at
		return EventSet{EventFields: f, Reason: reason}
	}
	for _, less := range [][]FailsafePlace{nil, {FailsafeTestBox, FailsafeOfficials}} {
		p := newPit(t)
		p.captain(set(p, "", FailsafeTestBox))
		require.Len(t, p.s.Relaxed(), 0)
		for _, reason := range []string{"", "."} {
			bad := p.refused(p.as(p.ada), set(p, reason, less...), 11)
			require.Equal(t, "reason", bad.Field)
		}
		p.captain(set(p, "the officials have a box", less...))
		require.Len(t, p.s.Event().Loosened, 1)
		require.Len(t, p.s.Relaxed(), 1)
		p.captain(set(p, "", FailsafeTestBox))
		require.NotZero(t, p.s.Event().Loosened[0].Until)
		require.Len(t, p.s.Relaxed(), 0)
	}
}

func TestASettingIsNotMadeWeakerForAReasonThatNobodyCanRead(t *testing.T) {
	p := newPit(t)
	f := p.s.Event().EventFields
	f.SpinDownSec--
	require.Equal(t, "reason", p.refused(p.as(p.ada), EventSet{EventFields: f, Reason: "."}, 3).Field)
	p.captain(EventSet{EventFields: f, Reason: "a small blade"})
}

func TestRule11TheCrewTakesNoDamageOffItsMustAndNoMendOutOfIt(t *testing.T) {
	for name, change := range map[string]func(f *JobFields){
		"its damage":  func(f *JobFields) { f.Damages = nil },
		"a check":     func(f *JobFields) { f.Fixes[0].Way = WayCheck },
		"its lockout": func(f *JobFields) { f.Fixes[0].Way, f.Fixes[0].Lockout = WayCheck, false },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			d, _ := p.damage(GX)
			job := p.jobWith(p.as(p.ben), Must, swapBlade(p.blade), d)
			do := p.less(job, change)
			_, bad := p.try(p.as(p.ben), do)
			require.NotNil(t, bad)
			require.Contains(t, []int{8, 11}, bad.Rule)
			require.Equal(t, "reason", func() string { _, bad := p.try(p.as(p.ada), do); return bad.Field }())
			do.Reason = "it was the wrong job for it"
			p.ok(p.as(p.ada), do)
			require.Len(t, p.s.Jobs[job].Loosened, 1)
		})
	}
	p := newPit(t)
	d, _ := p.damage(GX)
	job := p.jobWith(p.as(p.ben), Must, swapBlade(p.blade), d)
	p.ok(p.as(p.ben), p.less(job, func(f *JobFields) {
		check := f.Fixes[0]
		check.Name, check.Way = "look at it", WayCheck
		f.Fixes = append(f.Fixes, check)
	}))
}
