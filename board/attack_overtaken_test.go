package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about words that what came later has overtaken.

func TestRule11AGradeRaisedAfterTheMendAsksForWorkAgain(t *testing.T) {
	for _, g := range []Grade{G3, G4, GX} {
		t.Run(string(g), func(t *testing.T) {
			p := newPit(t)
			p.open()
			d, _ := p.damage(G2)
			job := p.jobWith(p.as(p.ben), Should, swapBlade(p.blade), d)
			p.doJob(job)
			p.ready()
			p.now += minute
			p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: g})
			require.Equal(t, Unknown, p.state(), "it was signed over less")
			p.open()
			p.closeUpAgain()
			_, bad := p.sign(p.dee)
			require.NotNil(t, bad)
			require.Equal(t, 11, bad.Rule)
			p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
			p.walk(p.as(p.ben), ListReopen)
			p.ok(p.as(p.ben), TagOn{Robot: p.moth})
			p.walk(p.as(p.ben), ListFirstIn)
			p.ok(p.as(p.ben), JobReopen{Job: job, Reason: "it was worse"})
			p.doJob(job)
			if g == GX {
				p.ok(p.as(p.dee), DamageLook{Damage: d})
			}
			p.closeUpAgain()
			_, bad = p.sign(p.dee)
			require.Nil(t, bad)
		})
	}
	t.Run("raised to what may be left as it is, or lowered", func(t *testing.T) {
		p := newPit(t)
		p.open()
		d, _ := p.damage(G4)
		p.doJob(p.jobWith(p.as(p.ben), Should, swapBlade(p.blade), d))
		p.ready()
		p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: G1, Reason: "mended, a mark is left"})
		p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: G2})
		require.Equal(t, Ready, p.state())
	})
}

func TestRule11AGradeRaisedTakesUpAgainWhatWasLeftOffOverLess(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(G2)
	job := p.jobWith(p.as(p.ben), Could, swapBlade(p.blade), d)
	p.ok(p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "it holds one fight"})
	p.ready()
	p.ok(p.as(p.ben), DamageRegrade{Damage: d, Grade: G4})
	require.Equal(t, JobOpen, p.jobState(job))
	require.Equal(t, Unknown, p.state())
	p.open()
	p.closeUpAgain()
	p.ok(p.as(p.ada), JobDefer{Job: job, Acceptor: p.ada, Reason: "it holds one fight"})
	_, bad := p.sign(p.dee)
	require.Nil(t, bad)
}

func TestRule11WorkFromBeforeTheReportPutsNothingRight(t *testing.T) {
	for _, after := range []bool{false, true} {
		p := newPit(t)
		p.open()
		job := p.job()
		p.ok(p.as(p.ben), JobStart{Job: job})
		p.now += minute
		p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
		p.now += minute
		d, _ := p.damage(GX)
		p.ok(p.as(p.ben), p.less(job, func(f *JobFields) { f.Damages = []DamageID{d} }))
		p.now += minute
		if after {
			p.ok(p.as(p.ben), JobResume{Job: job})
		}
		p.ok(p.as(p.ben), JobFinish{Job: job})
		require.Equal(t, JobClosed, p.jobState(job))
		_, look := p.try(p.as(p.dee), DamageLook{Damage: d})
		require.Equal(t, after, look == nil, look)
		p.closeUpAgain()
		_, bad := p.sign(p.dee)
		require.Equal(t, after, bad == nil, bad)
	}
}

func TestRule11WorkOnThePartMakesItsBeingOffStale(t *testing.T) {
	test := func(p *pit) Command { return RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5} }
	for name, c := range map[string]struct {
		fix   func(p *pit) Fix
		names bool
		stale bool
	}{
		"for the damage":              {func(p *pit) Fix { return swapBlade(p.blade) }, true, true},
		"that touches the same":       {func(p *pit) Fix { return swapBlade(p.blade) }, false, true},
		"that touches something else": {func(p *pit) Fix { f := swapBlade(p.blade); f.Touches = []System{SysDrive}; return f }, false, false},
		"off the robot, for the damage": {func(p *pit) Fix {
			f := swapBlade(p.blade)
			f.Where, f.Lockout, f.PackOut = OffRobot, false, false
			return f
		}, true, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			d := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "blade", Grade: GX, Touches: []System{SysWeapon}}})))
			var of []DamageID
			if c.names {
				of = append(of, d)
			}
			fix := c.fix(p)
			fix.Way = WayCheck
			job := p.jobWith(p.as(p.ben), Must, fix, of...)
			p.ok(p.as(p.ada), DamageOff{Damage: d, What: "blade in the box"})
			p.now += minute
			p.doJob(job)
			p.closeUpAgain()
			if c.stale {
				p.refused(p.as(p.ada), test(p), 17)
				p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
				p.walk(p.as(p.ben), ListReopen)
				p.takenOff(d)
				p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
				p.walk(p.as(p.ben), ListCloseUp)
			}
			p.ok(p.as(p.ada), test(p))
		})
	}
}

func TestRule11AFailsafeIsOwedOnlyWhileTheEventTakesIt(t *testing.T) {
	p := newPit(t)
	set := func(at ...FailsafePlace) {
		f := p.s.Event().EventFields
		f.FailsafeAt = at
		p.captain(EventSet{EventFields: f, Reason: "the officials check it"})
	}
	p.open()
	p.ready()
	set(FailsafeOfficials, FailsafeTestBox)
	require.Equal(t, Ready, p.state())
	set(FailsafeTestBox)
	require.Equal(t, Unknown, p.state())

	set(FailsafeOfficials)
	p.open()
	p.closeUpAgain()
	for p.openAt(ListReady) != "sign" {
		p.answer(p.as(p.ben), ListReady)
	}
	set(FailsafeTestBox)
	sentenceHas(t, p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 11), "Test its failsafe")
	set(FailsafeOfficials)
	p.ok(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
}

func TestRule11OnlyATestThatEndedOrAFightProvesAFailsafe(t *testing.T) {
	line := Line{Covers: []System{SysRadio, SysDrive, SysWeapon}}
	for name, c := range map[string]struct {
		end    func(p *pit)
		proves bool
	}{
		"doubt":        {func(p *pit) { p.ok(p.as(p.gus), RobotDoubt{Robot: p.moth, Why: "it twitched"}) }, false},
		"carried away": {func(p *pit) { p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench}) }, false},
		"a restart":    {func(p *pit) { p.ok(Itself(), BoardStart{Why: "restart"}) }, false},
		"its end":      {func(p *pit) { p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth}) }, true},
		"its time":     {func(p *pit) { p.now += 6 * minute; p.ok(Itself(), BoardTick{}) }, true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.closedUp()
			p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "failsafe", Place: p.box, Minutes: 5})
			p.now += minute
			c.end(p)
			require.Equal(t, Unknown, p.state())
			require.Equal(t, c.proves, p.s.ProvenFailsafe(p.moth, line))
		})
	}
}

func TestRule11WiringCountsByTheHandsThatItTakes(t *testing.T) {
	line := Line{Covers: []System{SysRadio, SysDrive, SysWeapon}}
	for skill, proven := range map[Skill]bool{SkillElectrical: false, SkillRadio: false, SkillMechanical: true} {
		p := newPit(t)
		p.closedUp()
		p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "failsafe", Place: p.box, Minutes: 5})
		p.now += minute
		p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
		p.open()
		fix := swapBlade(p.blade)
		fix.Name, fix.Touches, fix.Hands = "new connectors", nil, []Skill{skill}
		p.now += minute
		p.doJob(p.jobWith(p.as(p.ben), Should, fix))
		require.Equal(t, proven, p.s.ProvenFailsafe(p.moth, line), skill)
	}
}

func TestRule11OnePacksWeighInIsNotAnothers(t *testing.T) {
	for name, c := range map[string]struct {
		change func(f *PackFields)
		stale  bool
	}{
		"one of the same kind": {func(f *PackFields) {}, false},
		"a bigger one":         {func(f *PackFields) { f.CapacityAh = 1.3 }, true},
		"a heavier one":        {func(f *PackFields) { f.MassGrams = 90 }, true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f := p.s.Packs[p.p1].PackFields
			c.change(&f)
			p.captain(PackChange{Pack: p.p1, PackFields: f})
			p.toSign()
			p.ok(p.as(p.ada), RobotReopen{Robot: p.moth})
			p.walk(p.as(p.ben), ListReopen)
			p.ok(p.as(p.ben), TagOn{Robot: p.moth})
			p.walk(p.as(p.ben), ListFirstIn)
			_, bad := p.tagOff(p.as(p.ben), p.ben)
			require.Nil(t, bad)
			p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
			for {
				sheet, _ := p.s.Sheet(p.moth, ListCloseUp)
				l, open := sheet.OpenLine()
				if !open {
					break
				}
				if l.Kind == LinePack {
					p.read(p.p1)
					p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidDone, Pack: p.p1})
					continue
				}
				p.answer(p.as(p.ben), ListCloseUp)
			}
			sheet, _ := p.s.Sheet(p.moth, ListReady)
			_, stands := sheet.Answered("mass")
			require.Equal(t, c.stale, !stands)
			_, bad = p.sign(p.dee)
			require.Nil(t, bad)
		})
	}
	t.Run("its own, changed since", func(t *testing.T) {
		p := newPit(t)
		f := p.s.Packs[p.p2].PackFields
		f.MassGrams = 60
		p.captain(PackChange{Pack: p.p2, PackFields: f})
		p.toSign()
		f.MassGrams = 120
		p.captain(PackChange{Pack: p.p2, PackFields: f})
		sentenceHas(t, p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 11), "how many grams")
		p.answerAgain("mass")
		p.ok(p.as(p.dee), p.said(ListReady, "sign", SaidDone))
		f.MassGrams = 200
		p.captain(PackChange{Pack: p.p2, PackFields: f})
		require.Equal(t, Unknown, p.state())
	})
}

func (p *pit) openAt(list SheetList) string {
	sheet, _ := p.s.Sheet(p.moth, list)
	l, _ := sheet.OpenLine()
	return l.ID
}

// answerAgain gives a line of the signing sheet that takes a number a new answer.
func (p *pit) answerAgain(line string) {
	p.t.Helper()
	again, grams := p.said(ListReady, line, SaidDone), 1200.0
	again.Number = &grams
	p.ok(p.as(p.ben), again)
}

func TestRule8WhatWasWorkedWhileTheBoardWasAwayIsNotCovered(t *testing.T) {
	for name, c := range map[string]struct {
		ago    Moment // before the start of the board, which was away for 10 min
		closes bool
	}{
		"before it went": {15 * minute, true},
		"meanwhile":      {8 * minute, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			job := p.jobWith(p.as(p.ben), Must, Fix{
				Name: "tighten it", Way: WayMend, LikelySec: 60, BadSec: 120, Hands: []Skill{SkillAny}, Station: StationBench, Where: AtRobot, Lockout: true,
			})
			running := p.jobWith(p.as(p.ben), Must, swapBlade(p.blade))
			p.ok(p.as(p.ben), JobStart{Job: running})
			p.now += 10 * minute
			last := p.now
			p.now += 10 * minute
			p.ok(Itself(), BoardStart{Why: "the program has started", Last: last})
			st := p.s.Jobs[running].Stints[0]
			require.Equal(t, last, st.To, "nobody knows what was so since")
			require.Equal(t, JobHeld, p.jobState(running))
			p.now += minute
			require.Nil(t, p.lateAt(p.as(p.ben), JobStart{Job: job}, c.ago+minute))
			require.Nil(t, p.lateAt(p.as(p.ben), JobFinish{Job: job}, c.ago))
			p.ok(p.as(p.ben), JobFinish{Job: running})
			_, bad := p.tagOff(p.as(p.ben), p.ben)
			require.Nil(t, bad)
			p.makeSafe()
			require.Equal(t, JobClosed, p.jobState(running), "what was worked before counts")
			require.Equal(t, c.closes, p.jobState(job) == JobClosed)
			if !c.closes {
				p.ok(p.as(p.dee), JobReinspect{Job: job})
				require.Equal(t, JobClosed, p.jobState(job))
			}
		})
	}
}

func TestRule9AFinishDatedBackHidesNoPackThatWentIn(t *testing.T) {
	for name, packIn := range map[string]bool{"a pack went in": true, "none did": false} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			job := p.job()
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.now += 10 * minute
			p.read(p.p2)
			if packIn {
				p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
				p.now += minute / 2
				p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			}
			require.Nil(t, p.lateAt(p.as(p.ben), JobFinish{Job: job}, 90_000))
			require.Equal(t, !packIn, p.jobState(job) == JobClosed)
			if packIn {
				p.makeSafeAgain()
				p.walk(p.as(p.ben), ListFirstIn)
				require.Equal(t, JobFinished, p.jobState(job))
				p.ok(p.as(p.dee), JobReinspect{Job: job})
			}
			require.Equal(t, JobClosed, p.jobState(job))
		})
	}
}
