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
	require.Empty(t, p.s.Jobs[job].Loosened)
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
		return JobAdd{JobFields{Robot: p.moth, Name: "a quick one", Triage: Could, Fixes: fixes}}
	}
	for _, by := range []PersonID{p.ben, p.kit, p.gus} {
		sentenceHas(t, p.refused(p.as(by), add(open), 8), "needs it locked out")
		p.refused(p.as(by), add(swapBlade(p.blade), open), 8)
		p.ok(p.as(by), add(swapBlade(p.blade)))
	}
	p.ok(p.as(p.ada), add(open))
	p.ok(p.as(p.dee), add(open))
	off, outside := open, open
	off.Where, outside.Touches = OffRobot, nil
	p.ok(p.as(p.ben), add(off, outside))

	fields := TemplateFields{Name: "Tape the shell", Size: "light", Triage: Could, Fixes: []Fix{open}}
	template := TemplateID(p.madeKind(KindTemplate, p.captain(TemplateAdd{fields})))
	p.ok(p.as(p.ben), JobAdd{JobFields{Robot: p.moth, Template: template}})
}
