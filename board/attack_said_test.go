package board_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// What a refusal says first, and what is taken for something that says nothing.

func TestARefusalSaysFirstWhoseDeedItIs(t *testing.T) {
	p := newPit(t)
	p.open()
	sentenceHas(t, p.refused(p.as(p.gus), RobotEnergyOff{Robot: p.moth, Energy: EnergySpin, Reason: "the rotor is off"}, 8), "That is for Ada")
	sentenceHas(t, p.refused(p.as(p.ada), RobotEnergyOff{Robot: p.moth, Energy: EnergySpin, Reason: "the rotor is off"}, 8), "Ben is still on")
	d, _ := p.damage(GX)
	sentenceHas(t, p.refused(p.as(p.gus), DamageLook{Damage: d}, 11), "Gus is a guest on the roster")
	sentenceHas(t, p.refused(p.as(p.dee), DamageLook{Damage: d}, 11), "not put right yet")
	crew := p.person(PersonFields{Name: "Cal", Role: RoleCrew})
	two := p.as(crew)
	two.Proved = []PersonID{p.nia}
	sentenceHas(t, p.refused(two, TagOverride{Tag: p.tagOf(p.ben), Second: p.nia, Override: p.answers()}, 6), "must be the lead")
}

func TestAPermitThatSaysNothingIsNone(t *testing.T) {
	for text, holds := range map[string]bool{".": false, "—": false, "screens round the table": true} {
		p := newPit(t)
		f := p.s.Event().EventFields
		f.HotWork = HotWork{Needed: true, Text: text, By: "the hall steward", Until: p.now + Moment(time.Hour/time.Millisecond)}
		p.captain(EventSet{EventFields: f})
		grind := swapBlade(p.blade)
		grind.Station, grind.Where, grind.Lockout, grind.PackOut = StationGrind, OffRobot, false, false
		job := p.jobWith(p.as(p.ada), Could, grind)
		_, bad := p.try(p.as(p.ben), JobStart{Job: job})
		require.Equal(t, holds, bad == nil, text)
	}
}

func TestNoAlarmIsTakenThatIsAboutNothing(t *testing.T) {
	for _, alarm := range []AlarmID{"A-conflict", "A-pack", "A-emergency"} {
		p := newPit(t)
		require.Equal(t, CodeNothingToDo, p.refused(p.as(p.ben), AlarmTake{Alarm: alarm}, 0).Code)
		p.ok(p.as(p.ben), AlarmTake{Alarm: "B-call"})
	}
}

func TestAKindOfJobInTheRobotWithoutLockoutPrintsWhereverItCameFrom(t *testing.T) {
	p := newPit(t)
	bare := swapBlade("")
	bare.Stock, bare.Lockout = nil, false
	p.captain(TemplateAdd{TemplateFields: TemplateFields{Name: "Tape the shell", Size: Light, Triage: Could, Fixes: []Fix{bare}}})
	require.Equal(t, []string{"Tape the shell (light): " + bare.Name + " in the robot without lockout."}, p.s.Relaxed())
	bare.Where = OffRobot
	p.captain(TemplateAdd{TemplateFields: TemplateFields{Name: "Tape the lid", Size: Light, Triage: Could, Fixes: []Fix{bare}}})
	require.Len(t, p.s.Relaxed(), 1)
}
