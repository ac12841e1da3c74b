package board_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// What a job asks is taken off it by authority alone, with a reason.

func (p *pit) less(job JobID, change func(f *JobFields)) JobChange {
	f := p.s.Jobs[job].JobFields
	f.Fixes = slices.Clone(f.Fixes)
	change(&f)
	return JobChange{Job: job, JobFields: f}
}

func TestRule8And11AJobAsksLessByAuthorityWithAReason(t *testing.T) {
	for name, c := range map[string]struct {
		rule   int
		change func(f *JobFields)
	}{
		"no must":           {11, func(f *JobFields) { f.Triage = Should }},
		"no lockout":        {8, func(f *JobFields) { f.Fixes[0].Lockout = false }},
		"packs in":          {8, func(f *JobFields) { f.Fixes[0].PackOut = false }},
		"a touch less":      {8, func(f *JobFields) { f.Fixes[0].Touches = f.Fixes[0].Touches[:1] }},
		"off the robot":     {8, func(f *JobFields) { f.Fixes[0].Where = OffRobot }},
		"another, less too": {8, func(f *JobFields) { more := f.Fixes[0]; more.Lockout = false; f.Fixes = append(f.Fixes, more) }},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			job := p.job()
			do := p.less(job, c.change)
			do.Reason = "quicker"
			for _, who := range []PersonID{p.gus, p.kit, p.ben} {
				sentenceHas(t, p.refused(p.as(who), do, c.rule), "That is for Ada")
			}
			do.Reason = ""
			require.Equal(t, "reason", p.refused(p.as(p.ada), do, c.rule).Field)
			do.Reason = "the part is off already"
			p.ok(p.as(p.dee), do)
			said := p.s.Jobs[job].Loosened
			require.Len(t, said, 1)
			require.Equal(t, p.dee, said[0].By)
			require.Equal(t, "the part is off already", said[0].Reason)
		})
	}
}

func TestAJobAsksMoreByAnyonesWord(t *testing.T) {
	p := newPit(t)
	job := p.loose(AtRobot)
	p.ok(p.as(p.gus), p.less(job, func(f *JobFields) {
		f.Triage, f.Fixes[0].Lockout, f.Fixes[0].Touches = Must, true, []System{SysWeapon}
	}))
	p.ok(p.as(p.ben), p.less(job, func(f *JobFields) { f.Name, f.Fixes[0].LikelySec = "another name", 60 }))
	require.Len(t, p.s.Jobs[job].Loosened, 1, "that it was entered without lockout")
}

func TestRule11AMustIsDroppedByAuthorityWithAReason(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Lead = p.ben
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	job := p.job()
	bad := p.refused(p.as(p.gus), JobDrop{Job: job, Reason: "no time"}, 0)
	require.Equal(t, CodeForbidden, bad.Code)
	p.refused(p.as(p.ben), JobDrop{Job: job}, 11)
	p.ok(p.as(p.ben), JobDrop{Job: job, Reason: "it is not bent after all"})
	require.Equal(t, "a must is dropped", p.s.Jobs[job].Loosened[0].What)
	p.ok(p.as(p.ben), JobDrop{Job: p.loose(AtRobot)})
}

func TestRule11NobodyLoosensTheJobThatTheyAreAtWorkOn(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.ok(p.as(p.ada), TagOn{Robot: p.moth})
	p.ok(p.as(p.ada), JobStart{Job: job})
	do := p.less(job, func(f *JobFields) { f.Triage = Could })
	do.Reason = "no time"
	sentenceHas(t, p.refused(p.as(p.ada), do, 11), "Leave it or hold it first")
	p.ok(p.as(p.dee), do)
}

func TestRule8AJobInTheRobotIsNotEnteredWithoutLockoutByTheCrew(t *testing.T) {
	p := newPit(t)
	p.open()
	open := swapBlade(p.blade)
	open.Lockout, open.PackOut = false, false
	add := func(fixes ...Fix) JobAdd {
		return JobAdd{JobFields: JobFields{Robot: p.moth, Name: "a quick one", Triage: Could, Fixes: fixes}}
	}
	outside, whole, off := open, open, open
	outside.Touches, whole.Where, off.Where = nil, AllRobot, OffRobot
	for _, by := range []PersonID{p.ben, p.kit, p.gus} {
		sentenceHas(t, p.refused(p.as(by), add(open), 8), "needs it locked out")
		sentenceHas(t, p.refused(p.as(by), add(outside), 8), "for Ada, the captain or event safety")
		p.refused(p.as(by), add(whole), 8)
		p.refused(p.as(by), add(swapBlade(p.blade), open), 8)
		p.ok(p.as(by), add(swapBlade(p.blade), off))
		job := JobID(p.madeKind(KindJob, p.ok(p.as(by), add(off))))
		p.refused(p.as(by), p.less(job, func(f *JobFields) { f.Fixes[0].Where = AtRobot }), 8)
		p.refused(p.as(by), p.less(job, func(f *JobFields) { f.Fixes = append(f.Fixes, outside) }), 8)
		p.ok(p.as(by), p.less(job, func(f *JobFields) { f.Fixes = append(f.Fixes, swapBlade(p.blade)) }))
	}
	for _, by := range []PersonID{p.ada, p.dee} {
		lead := add(outside)
		require.Equal(t, "reason", p.refused(p.as(by), lead, 8).Field)
		lead.Reason = noLockout
		job := JobID(p.madeKind(KindJob, p.ok(p.as(by), lead)))
		said := p.s.Jobs[job].Loosened
		require.Len(t, said, 1)
		require.Equal(t, by, said[0].By)
		p.refused(p.as(p.ben), p.less(job, func(f *JobFields) { f.Fixes[0].Touches = []System{SysWeapon} }), 8)
		p.ok(p.as(p.ben), p.less(job, func(f *JobFields) { f.Name = "another name" }))
	}

	fields := TemplateFields{Name: "Tape the shell", Size: "light", Triage: Could, Fixes: []Fix{open}}
	template := TemplateID(p.madeKind(KindTemplate, p.captain(TemplateAdd{TemplateFields: fields})))
	p.ok(p.as(p.ben), JobAdd{JobFields: JobFields{Robot: p.moth, Template: template}})
	more := open
	more.Touches = append(slices.Clone(open.Touches), SysDrive)
	p.refused(p.as(p.ben), JobAdd{JobFields: JobFields{Robot: p.moth, Template: template, Fixes: []Fix{more}}}, 8)
}

func TestRule8AKindOfJobAsksForNoLockoutAnyMoreWithAReason(t *testing.T) {
	p := newPit(t)
	locked := TemplateFields{Name: "Tape the shell", Size: Light, Triage: Could, Fixes: []Fix{swapBlade(p.blade)}}
	bare := locked
	bare.Fixes = []Fix{swapBlade(p.blade)}
	bare.Fixes[0].Lockout = false
	captain := p.as(p.ada)
	id := TemplateID(p.made(p.ok(captain, TemplateAdd{TemplateFields: locked})))
	require.Equal(t, "reason", p.refused(captain, TemplateChange{Template: id, TemplateFields: bare}, 8).Field)
	require.Equal(t, "reason", p.refused(captain, TemplateChange{Template: id, TemplateFields: bare, Reason: "."}, 8).Field)
	p.ok(captain, TemplateRetire{Template: id})
	p.refused(captain, TemplateAdd{TemplateFields: bare}, 8)
	id = TemplateID(p.made(p.ok(captain, TemplateAdd{TemplateFields: locked})))
	p.ok(captain, TemplateChange{Template: id, TemplateFields: bare, Reason: "outside only"})
	said := p.s.Templates[id].Loosened
	require.Len(t, said, 1)
	require.Equal(t, p.ada, said[0].By)
	bare.Triage = Should
	p.ok(captain, TemplateChange{Template: id, TemplateFields: bare})
	p.ok(captain, TemplateChange{Template: id, TemplateFields: locked})
	require.Len(t, p.s.Templates[id].Loosened, 1)
}

func TestASettingIsWeakerWithAReasonAndWhatRestedOnItGoesWhenItIsPutBack(t *testing.T) {
	event := func(p *pit, change func(f *EventFields)) EventSet {
		f := p.s.Event().EventFields
		change(&f)
		return EventSet{EventFields: f}
	}
	repairer := func(may bool) func(f *EventFields) { return func(f *EventFields) { f.RepairerMaySign = may } }
	t.Run("a repairer may sign", func(t *testing.T) {
		for _, signer := range []func(p *pit) PersonID{func(p *pit) PersonID { return p.dee }, func(p *pit) PersonID { return p.nia }} {
			p := newPit(t)
			p.open()
			p.ok(p.as(p.dee), TagOn{Robot: p.moth})
			job := p.job()
			p.ok(p.as(p.dee), JobStart{Job: job})
			p.ok(p.as(p.dee), JobFinish{Job: job})
			_, bad := p.tagOff(p.as(p.dee), p.dee)
			require.Nil(t, bad)
			set := event(p, repairer(true))
			require.Equal(t, "reason", p.refused(p.as(p.ada), set, 12).Field)
			set.Reason = "we are two"
			change := p.ok(p.as(p.ada), set)
			p.refused(p.as(p.ada), Undo{Command: change.Done.ID}, 21)
			p.closeUpAgain()
			_, bad = p.sign(signer(p))
			require.Nil(t, bad)
			p.ok(p.as(p.ada), event(p, repairer(false)))
			require.Equal(t, signer(p) == p.dee, p.state() == Unknown)
			said := p.s.Event().Loosened
			require.Len(t, said, 1)
			require.Equal(t, "we are two", said[0].Reason)
			require.Equal(t, p.now, said[0].Until)
		}
	})
	t.Run("whoever isolated it may verify it", func(t *testing.T) {
		p := newPit(t)
		p.ok(p.as(p.ada), p.with(func(f *RobotFields) { f.SecondVerifier = true }))
		set := p.with(func(f *RobotFields) { f.SecondVerifier = false })
		require.Equal(t, "reason", p.refused(p.as(p.ada), set, 4).Field)
		set.Reason = "we are two"
		p.ok(p.as(p.ada), set)
		p.makeSafe()
		p.ok(p.as(p.ada), p.with(func(f *RobotFields) { f.SecondVerifier = true }))
		require.Equal(t, Unknown, p.state())
		require.NotZero(t, p.s.Robots[p.moth].Loosened[0].Until)
		for {
			sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
			l, open := sheet.OpenLine()
			if !open {
				break
			}
			by := p.ben
			if l.Part == "verify" {
				by = p.dee
			}
			p.answer(p.as(by), ListMakeSafe)
		}
		require.Equal(t, Verified, p.state())
		p.ok(p.as(p.ada), p.with(func(f *RobotFields) { f.Weight = 2 }))
		require.Equal(t, Verified, p.state())
	})
	t.Run("a rotor is at rest sooner", func(t *testing.T) {
		for _, waits := range []bool{false, true} {
			p := newPit(t)
			set := event(p, func(f *EventFields) { f.SpinDownSec = 1 })
			require.Equal(t, "reason", p.refused(p.as(p.ada), set, 3).Field)
			set.Reason = "a slow rotor"
			p.ok(p.as(p.ada), set)
			if waits {
				p.down()
				p.now += 2 * minute
			}
			p.makeSafe()
			p.ok(p.as(p.ada), event(p, func(f *EventFields) { f.SpinDownSec = 60 }))
			require.Equal(t, !waits, p.state() == Unknown)
		}
	})
}

func TestAnEventAsksLessWithAReasonThatStandsInTheReview(t *testing.T) {
	for name, c := range map[string]struct {
		was, less func(f *EventFields)
		rule      int
		says      string
	}{
		"gas and capacitors": {func(*EventFields) {}, func(f *EventFields) { f.RecheckSec = 1200 }, 3,
			"Gas and capacitors are looked at again after 20 min, not 15 min."},
		"gas and capacitors, less than once": {func(f *EventFields) { f.RecheckSec = 300 }, func(f *EventFields) { f.RecheckSec = 0 }, 3,
			"Gas and capacitors are looked at again after 15 min, not 5 min."},
		"gas and capacitors, by a second": {func(*EventFields) {}, func(f *EventFields) { f.RecheckSec = 901 }, 3,
			"Gas and capacitors are looked at again after 15 min 1 s, not 15 min."},
		"charges for one person": {func(*EventFields) {}, func(f *EventFields) { f.AttendantMost = 3 }, 14, "One person may stay with 3 charges, not 1."},
		"charges for one person, by way of none": {func(f *EventFields) { f.AttendantMost = 0 }, func(f *EventFields) { f.AttendantMost = 3 }, 14,
			"One person may stay with 3 charges, not 1."},
		"minors drive": {func(*EventFields) {}, func(f *EventFields) { f.MinorsDrive = true }, 5, "Minors may drive."},
		"no load-in": {func(f *EventFields) { f.LoadIn = true }, func(f *EventFields) { f.LoadIn = false }, 0,
			"No load-in inspection before a test or signature."},
		"no permit": {func(f *EventFields) { f.HotWork.Needed = true }, func(f *EventFields) { f.HotWork.Needed = false }, 0, "No permit to grind and weld."},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			f := p.settings()
			c.was(&f)
			p.ok(p.as(p.ada), EventSet{EventFields: f})
			require.Empty(t, p.s.Event().Loosened, "what asks as much or more takes no reason")
			c.less(&f)
			_, bad := p.try(p.as(p.ada), EventSet{EventFields: f})
			require.NotNil(t, bad)
			require.Equal(t, "reason", bad.Field)
			require.Equal(t, c.rule, bad.Rule)
			sentenceHas(t, bad, c.says+" Say in a few words why")
			change := p.ok(p.as(p.ada), EventSet{EventFields: f, Reason: "the event says so"})
			require.Len(t, p.s.Event().Loosened, 1)
			p.refused(p.as(p.ada), Undo{Command: change.Done.ID}, 21)
			p.ok(p.as(p.ada), EventSet{EventFields: f})
			back := p.settings()
			c.was(&back)
			change = p.ok(p.as(p.ada), EventSet{EventFields: back})
			require.Equal(t, p.now, p.s.Event().Loosened[0].Until)
			_, bad = p.try(p.as(p.ada), Undo{Command: change.Done.ID})
			require.NotNil(t, bad, "to take that back is to weaken it again")
			require.Len(t, p.s.Event().Loosened, 1)
		})
	}
}
