package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about a weapon of which "not fitted" is said.

// bladeHurt reports a damaged part of the robot, and what it is about.
func (p *pit) bladeHurt(g Grade, touches ...System) DamageID {
	p.t.Helper()
	return DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "blade", Grade: g, Touches: touches}})))
}

// takenOff has a part off the robot, at work, which then is as it was before.
func (p *pit) takenOff(d DamageID) {
	p.t.Helper()
	p.atWork(func() { p.ok(p.as(p.ada), DamageOff{Damage: d, What: "blade in the box"}) })
}

// atWork does something under Ben's tag, from whatever state the robot is in.
func (p *pit) atWork(do func()) {
	p.t.Helper()
	from := p.state()
	if from == Unknown {
		p.makeSafe()
	}
	if from != Work {
		p.ok(p.as(p.ben), TagOn{Robot: p.moth})
		if sheet, ok := p.s.Sheet(p.moth, ListFirstIn); ok && sheet.State == SheetOpen {
			p.walk(p.as(p.ben), ListFirstIn)
		}
	}
	do()
	if from != Work {
		_, bad := p.tagOff(p.as(p.ben), p.ben)
		require.Nil(p.t, bad)
	}
	if from == Unknown {
		p.ok(p.as(p.ben), RobotDoubt{Robot: p.moth})
	}
}

// ownWeaponLine gives a list a line of the team's own about the weapon, which takes "not
// fitted".
func (p *pit) ownWeaponLine(list SheetList, ids []string, part string, covers System) {
	p.t.Helper()
	own := WordedLine{ID: "own-tip", Part: part, Kind: LineDo, Ask: "Tip of the blade: no crack?", Say: "NO CRACK", Not: "cracked", NotFitted: true, Covers: []System{covers}}
	p.ok(p.as(p.dee), WordingSet{List: list, Lines: append(worded(ids...), own)})
}

func TestRule11NotFittedIsNoAnswerForAWeaponThatIsOn(t *testing.T) {
	lines := map[string]func(p *pit) SheetAnswer{
		"the lock, at the load-in": func(p *pit) SheetAnswer {
			p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
			return p.said(ListLoadIn, "lock", SaidNotFitted)
		},
		"the lock, for the night": func(p *pit) SheetAnswer {
			p.ok(p.as(p.dee), RobotList{Robot: p.moth, List: ListOvernight})
			return p.said(ListOvernight, "lock", SaidNotFitted)
		},
		"a crack line of the team's own": func(p *pit) SheetAnswer {
			p.ownWeaponLine(ListInspect, []string{"weapon", "frame", "drive", "electrics", "lock"}, "", SysWeapon)
			p.makeSafe()
			return p.said(ListInspect, "own-tip", SaidNotFitted)
		},
		"a lock line of the team's own": func(p *pit) SheetAnswer {
			p.ownWeaponLine(ListInspect, []string{"weapon", "frame", "drive", "electrics", "lock"}, "", SysLock)
			p.makeSafe()
			return p.said(ListInspect, "own-tip", SaidNotFitted)
		},
	}
	for where, to := range lines {
		for name, c := range map[string]struct {
			before func(p *pit)
			takes  bool
		}{
			"it is on":                        {func(*pit) {}, false},
			"a wheel is off":                  {func(p *pit) { p.takenOff(p.bladeHurt(G1, SysDrive)) }, false},
			"its part is off":                 {func(p *pit) { p.takenOff(p.bladeHurt(G1, SysWeapon)) }, true},
			"its lock is off":                 {func(p *pit) { p.takenOff(p.bladeHurt(G1, SysLock)) }, true},
			"a part is off, not said of what": {func(p *pit) { p.takenOff(p.bladeHurt(G1)) }, true},
			"off, and on again": {func(p *pit) {
				d := p.bladeHurt(G1, SysWeapon)
				p.takenOff(d)
				p.ok(p.as(p.gus), DamageOff{Damage: d, Back: true})
			}, false},
			"off, and said to be no damage": {func(p *pit) {
				d := p.bladeHurt(G1, SysWeapon)
				p.takenOff(d)
				p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: G1, Drop: true, Reason: "no damage"})
			}, false},
		} {
			t.Run(where+", "+name, func(t *testing.T) {
				p := newPit(t)
				c.before(p)
				say := to(p)
				if c.takes {
					p.ok(p.as(p.ben), say)
					return
				}
				bad := p.refused(p.as(p.ben), say, 11)
				sentenceHas(t, bad, "Ada")
				require.NotNil(t, p.lateAt(p.as(p.ben), say, 5*second))
				say.Said = SaidDone
				p.ok(p.as(p.ben), say)
			})
		}
	}
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number, f.Energies = "Tin Ram", 3, []Energy{{Kind: EnergyDrive, Isolator: "link", Reach: Outside}}
	ram := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: f})))
	p.ok(p.as(p.dee), RobotLoadIn{Robot: ram})
	sheet, _ := p.s.Sheet(ram, ListLoadIn)
	p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "lock", Said: SaidNotFitted})
	p.ok(p.as(p.ben), SheetAnswer{Sheet: sheet.ID, Line: "light", Said: SaidNotFitted})
}

func TestRule11NotFittedFallsWhenTheWeaponIsOnAgain(t *testing.T) {
	for name, c := range map[string]struct {
		back  func(p *pit, d DamageID)
		falls bool
	}{
		"nothing":    {func(*pit, DamageID) {}, false},
		"it is back": {func(p *pit, d DamageID) { p.ok(p.as(p.gus), DamageOff{Damage: d, Back: true}) }, true},
		"no damage": {func(p *pit, d DamageID) {
			p.ok(p.as(p.ada), DamageRegrade{Damage: d, Grade: G1, Drop: true, Reason: "no damage"})
		}, true},
		"other modules": {func(p *pit, _ DamageID) { p.ok(p.as(p.ben), RobotFit{Robot: p.moth, Modules: []ModuleID{p.cast.Fork}}) }, true},
		"work on it": {func(p *pit, _ DamageID) {
			p.ok(p.as(p.ben), TagOn{Robot: p.moth})
			p.walk(p.as(p.ben), ListFirstIn)
			p.doJob(p.job())
		}, true},
		"another lock": {func(p *pit, _ DamageID) {
			f := p.s.Robots[p.moth].RobotFields
			f.Locks = []Lock{LockPlain, LockProp}
			p.captain(RobotChange{Robot: p.moth, RobotFields: f})
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ownWeaponLine(ListInspect, []string{"weapon", "frame", "drive", "electrics", "lock"}, "", SysWeapon)
			d := p.bladeHurt(G1, SysWeapon)
			p.takenOff(d)
			p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
			p.ok(p.as(p.ben), p.said(ListLoadIn, "lock", SaidNotFitted))
			p.walk(p.as(p.ben), ListLoadIn)
			p.makeSafe()
			p.ok(p.as(p.ben), p.said(ListInspect, "own-tip", SaidNotFitted))
			p.walk(p.as(p.ben), ListInspect)
			c.back(p, d)
			loadIn, _ := p.s.Sheet(p.moth, ListLoadIn)
			_, stands := loadIn.Answered("lock")
			require.Equal(t, c.falls, !stands)
			_, stands = loadIn.Answered("edges")
			require.True(t, stands, "what was said of the rest stands")
			if name != "another lock" {
				inspect, _ := p.s.Sheet(p.moth, ListInspect)
				_, stands = inspect.Answered("own-tip")
				require.Equal(t, c.falls, !stands)
			}
		})
	}
}

func TestRule11APartThatIsOnAgainAfterTheSignatureTakesItBack(t *testing.T) {
	for name, c := range map[string]struct {
		grade Grade
		to    func(p *pit)
		live  bool
	}{
		"small, ready":     {G1, func(p *pit) { p.open(); p.ready() }, false},
		"small, live":      {G1, func(p *pit) { p.open(); p.ready(); p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena}) }, true},
		"small, in a test": {G1, func(p *pit) { p.closedUp(); p.tests() }, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			d := p.bladeHurt(c.grade, SysWeapon)
			p.takenOff(d)
			c.to(p)
			p.ok(p.as(p.gus), DamageOff{Damage: d, Back: true})
			require.Equal(t, Unknown, p.state())
			require.Contains(t, p.power().Why, "blade")
		})
	}
	p := newPit(t)
	d := p.bladeHurt(G1)
	p.open()
	p.ok(p.as(p.ada), DamageAccept{Damage: d})
	p.ready()
	p.refused(p.as(p.gus), DamageOff{Damage: d, Back: true}, 0)
	require.Equal(t, Ready, p.state(), "it was never off")
}

func TestRule11ThatAPartIsOffFallsWithTheWorkOnIt(t *testing.T) {
	other := func(p *pit) JobID { return p.jobWith(p.as(p.ada), Must, swapBlade(p.blade)) } // names no damage
	for name, c := range map[string]struct {
		touches []System
		job     func(p *pit, d DamageID) JobID
		off     bool
	}{
		"the job for it":                            {[]System{SysWeapon}, func(p *pit, d DamageID) JobID { return p.jobWith(p.as(p.ada), Must, swapBlade(p.blade), d) }, false},
		"another that touches the same":             {[]System{SysWeapon}, func(p *pit, _ DamageID) JobID { return other(p) }, false},
		"another, and nobody said what it is about": {nil, func(p *pit, _ DamageID) JobID { return other(p) }, false},
		"another, and it is about something else":   {[]System{SysDrive}, func(p *pit, _ DamageID) JobID { return other(p) }, true},
	} {
		t.Run(name, func(t *testing.T) {
			off := func(p *pit, d DamageID) bool {
				return p.s.DamageAsks(p.s.Damages[d]) != AsksJob && p.s.DamageAsks(p.s.Damages[d]) != AsksMend
			}
			p := newPit(t)
			d := p.bladeHurt(GX, c.touches...)
			p.open()
			p.takenOff(d)
			require.True(t, off(p, d))
			job := c.job(p, d)
			p.ok(p.as(p.ben), JobStart{Job: job})
			require.Equal(t, c.off, off(p, d))
			if !c.off {
				bad := p.refused(p.as(p.ada), DamageOff{Damage: d, What: "in the box"}, 11)
				require.Equal(t, job, bad.Job, "it is said once the hands are done")
			}
			p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
			require.Equal(t, c.off, off(p, d))
			p.takenOff(d)
			require.True(t, off(p, d), "the work ended with it off")
		})
	}
}

func TestRule11WhoWorkedOnADamageInAJobThatWasDroppedDoesNotLookAtIt(t *testing.T) {
	p := newPit(t)
	p.open()
	d := p.bladeHurt(GX, SysWeapon)
	job := p.jobWith(p.as(p.ada), Must, swapBlade(p.blade), d)
	p.ok(p.as(p.ben), JobStart{Job: job})
	p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
	p.ok(p.as(p.ada), JobDrop{Job: job, Reason: "another way"})
	p.takenOff(d)
	p.refused(p.as(p.ben), DamageLook{Damage: d}, 11)
	p.ok(p.as(p.dee), DamageLook{Damage: d})
}

func TestRule11WorkThatEndedBeforeTheReportPutsNothingRight(t *testing.T) {
	for name, end := range map[string]func(p *pit, job JobID){
		"finished": func(p *pit, job JobID) { p.ok(p.as(p.ben), JobFinish{Job: job}) },
		"held":     func(p *pit, job JobID) { p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			job := p.job()
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.now += 5 * minute
			end(p, job)
			d := p.bladeHurt(GX, SysWeapon)
			if p.jobState(job) == JobClosed {
				p.ok(p.as(p.ben), JobReopen{Job: job})
				p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldPart})
			}
			p.ok(p.as(p.ada), p.less(job, func(f *JobFields) { f.Damages = []DamageID{d} }))
			p.ok(p.as(p.ben), JobFinish{Job: job})
			require.Equal(t, JobClosed, p.jobState(job))
			sentenceHas(t, p.refused(p.as(p.dee), DamageLook{Damage: d}, 11), "not put right")
			p.ok(p.as(p.ben), JobReopen{Job: job})
			p.doJob(job)
			p.ok(p.as(p.dee), DamageLook{Damage: d})
		})
	}
}
