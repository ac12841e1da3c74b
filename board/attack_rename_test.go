package board_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestARobotShedsNothingByAnotherName(t *testing.T) {
	called := func(p *pit, name string) RobotChange { return p.with(func(f *RobotFields) { f.Name = name }) }
	for name, c := range map[string]struct {
		put func(p *pit)
		has string
	}{
		"grave damage": {func(p *pit) { p.damage(G3) }, "damage 1"},
		"a stop":       {func(p *pit) { p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "a noise"}) }, "Dee's stop"},
		"hands":        {func(p *pit) { p.ok(p.as(p.gus), HandsOn{Robot: p.moth}) }, "hands on it"},
		"a must":       {func(p *pit) { p.job() }, "job 1"},
		"a signature":  {func(p *pit) { p.open(); p.ready() }, "it is signed ready"},
		"power":        {func(p *pit) { p.open(); p.ready(); p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena}) }, "it is live"},
		"a test":       {func(p *pit) { p.closedUp(); p.tests() }, "it is in a test"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.ada), called(p, "Iron Moth"))
			c.put(p)
			_, bad := p.try(p.as(p.ada), called(p, "Owl"))
			require.NotNil(t, bad)
			sentenceHas(t, bad, c.has)
			other := p.s.Robots[p.moth].RobotFields
			other.Name, other.Number = "Tin Moth", 9
			_, bad = p.try(p.as(p.ada), RobotAdd{RobotFields: other})
			require.NotNil(t, bad, "people know it by that name")
			sentenceHas(t, bad, c.has)
			other.Name = "Owl"
			p.ok(p.as(p.ada), RobotAdd{RobotFields: other})
		})
	}
	p := newPit(t)
	p.ok(p.as(p.ada), called(p, "Iron Moth"))
	d, _ := p.damage(GX)
	p.ok(p.as(p.ada), RobotRetire{Robot: p.moth})
	again := p.s.Robots[p.moth].RobotFields
	again.Name = "Tin Moth"
	p.ok(p.as(p.ada), RobotAdd{RobotFields: again})
	require.False(t, p.s.Robots[p.moth].Retired, "it is the same robot, with its damage")
	require.Equal(t, p.moth, p.s.Damages[d].Robot)
}

func TestASlipInARobotsNameIsMendedWithAReasonAndItsMustsStay(t *testing.T) {
	p := newPit(t)
	slip := p.with(func(f *RobotFields) { f.Name = "Tin Motth" })
	p.ok(p.as(p.ada), slip)
	job := p.job()
	d, _ := p.damage(GX)
	mend := p.with(func(f *RobotFields) { f.Name = "Tin Moth" })
	for _, none := range []string{"", "..", "\u200b\u200b\u200b"} {
		mend.Reason = none
		require.Equal(t, "reason", p.refused(p.as(p.ada), mend, 0).Field)
	}
	mend.Reason = "a slip of the thumb"
	_, bad := p.try(p.as(p.ben), mend)
	require.Equal(t, CodeForbidden, bad.Code)
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	_, bad = p.try(p.as(p.ada), mend)
	sentenceHas(t, bad, "hands on it")
	p.handsOff(p.moth, p.gus)
	p.ok(p.as(p.ada), mend)
	is := p.s.Robots[p.moth]
	require.Equal(t, "Tin Moth", is.Name)
	require.Equal(t, Loosened{What: "called Tin Moth, not Tin Motth", Reason: "a slip of the thumb", By: p.ada, At: p.now}, is.Loosened[len(is.Loosened)-1])
	require.Equal(t, p.moth, p.s.Jobs[job].Robot)
	require.Equal(t, AsksJob, p.s.DamageAsks(p.s.Damages[d]))
	other := is.RobotFields
	other.Name, other.Number = "Tin Motth", 9
	_, bad = p.try(p.as(p.ada), RobotAdd{RobotFields: other})
	require.Equal(t, CodeTaken, bad.Code, "people may know it by that")
}

func TestARobotOffTheBoardIsNotChanged(t *testing.T) {
	p := newPit(t)
	p.damage(GX)
	p.captain(RobotRetire{Robot: p.moth})
	owl := p.with(func(f *RobotFields) { f.Name = "Owl" })
	sentenceHas(t, p.refused(p.as(p.ada), owl, 0), "Enter it again first")
	p.captain(RobotAdd{RobotFields: p.s.Robots[p.moth].RobotFields})
	owl.Reason = "a slip of the thumb"
	p.captain(owl)
	require.Equal(t, "Owl", p.s.Robots[p.moth].Name)
}

func TestARefusalSaysOnceWhatAJobOwes(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.bare(job)
	p.ok(p.as(p.ben), JobFinish{Job: job})
	_, bad := p.try(p.as(p.kit), JobReinspect{Job: job})
	require.NotNil(t, bad)
	require.Equal(t, 1, strings.Count(bad.Sentence, "looks at the work again"), bad.Sentence)
}

func TestATagOnASignedRobotSaysTheStepThatIsTaken(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ready()
	sentenceHas(t, p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 7), "set it unknown")
}

func TestDamageThatOnlyACheckWasDoneForAsksForANewJob(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(GX)
	fix := swapBlade(p.blade)
	fix.Way = WayCheck
	p.doJob(p.jobWith(p.as(p.ben), Must, fix, d))
	sentenceHas(t, p.refused(p.as(p.dee), DamageLook{Damage: d}, 11), "Make a new job of it")
	p.doJob(p.jobWith(p.as(p.ben), Must, swapBlade(p.blade), d))
	p.ok(p.as(p.dee), DamageLook{Damage: d})
}
