package board_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestAnyNamedPersonOfTheTeamTakesAnAlarm(t *testing.T) {
	p := newPit(t)
	for _, id := range []PersonID{p.ada, p.ben, p.dee, p.nia} {
		p.ok(p.as(id), AlarmTake{Alarm: "A-people-1"})
		require.Equal(t, id, p.s.Marks["A-people-1"].TakenBy)
		require.Equal(t, p.now, p.s.Marks["A-people-1"].TakenAt)
	}
	p.refused(Actor{Role: RoleCrew}, AlarmTake{Alarm: "A-people-1"}, 5)
	_, bad := p.try(Actor{Role: RoleViewer}, AlarmTake{Alarm: "A-people-1"})
	require.Equal(t, CodeForbidden, bad.Code)
	for _, bad := range []AlarmID{"", "conflict-1", "D-x", "A-", "A-x y", AlarmID("B-" + strings.Repeat("x", 121))} {
		_, r := p.try(p.as(p.ben), AlarmTake{Alarm: bad})
		require.NotNil(t, r, "%q", bad)
		require.Equal(t, "alarm", r.Field)
	}
}

func TestRule24NoAlarmAboutPeopleIsShelved(t *testing.T) {
	for name, c := range map[string]struct {
		who    func(p *pit) PersonID
		change func(p *pit, c *AlarmShelve)
		rule   int
		field  string
		code   Code
	}{
		"class A":       {nil, func(_ *pit, c *AlarmShelve) { c.Alarm = "A-energised-tag-1" }, 24, "", CodeSafety},
		"no reason":     {nil, func(_ *pit, c *AlarmShelve) { c.Reason = "" }, 0, "reason", CodeBadField},
		"no time":       {nil, func(_ *pit, c *AlarmShelve) { c.Minutes = 0 }, 0, "minutes", CodeBadField},
		"too long":      {nil, func(_ *pit, c *AlarmShelve) { c.Minutes = 16 }, 0, "minutes", CodeBadField},
		"past the call": {nil, func(p *pit, c *AlarmShelve) { c.NextCall = p.now + 5*60_000 }, 0, "minutes", CodeBadField},
		"by a minor":    {func(p *pit) PersonID { return p.kit }, func(*pit, *AlarmShelve) {}, 0, "", CodeForbidden},
		"by a guest":    {func(p *pit) PersonID { return p.gus }, func(*pit, *AlarmShelve) {}, 0, "", CodeForbidden},
		"by nobody":     {func(*pit) PersonID { return "" }, func(*pit, *AlarmShelve) {}, 5, "", CodeSafety},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			good := AlarmShelve{Alarm: "B-call-1", Minutes: 15, Reason: "the officials know", NextCall: p.now + 16*60_000}
			bad, by := good, p.as(p.ben)
			c.change(p, &bad)
			if c.who != nil {
				by = Actor{Person: c.who(p), Role: RoleCrew}
			}
			_, r := p.try(by, bad)
			require.NotNil(t, r)
			require.Equal(t, c.rule, r.Rule)
			require.Equal(t, c.field, r.Field)
			require.Equal(t, c.code, r.Code)
			p.ok(p.as(p.ben), good)
			require.Equal(t, p.now+15*60_000, p.s.Marks["B-call-1"].ShelvedUntil)
		})
	}
}

func TestAnyoneRaisesAnEmergency(t *testing.T) {
	for name, who := range map[string]func(p *pit) PersonID{
		"captain": func(p *pit) PersonID { return p.ada }, "crew": func(p *pit) PersonID { return p.ben },
		"a minor": func(p *pit) PersonID { return p.kit }, "a guest": func(p *pit) PersonID { return p.gus },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			job := p.job()
			p.ok(p.as(p.ben), JobStart{Job: job})
			id := EmergencyID(p.madeKind(KindEmergency, p.ok(p.as(who(p)), EmergencyRaise{Robot: p.moth, Place: p.bench, What: " smoke "})))
			emergency := p.s.Emergencies[id]
			require.Equal(t, Emergency{ID: id, V: emergency.V, Robot: p.moth, Place: p.bench, What: "smoke", By: who(p), At: p.now}, emergency)
			require.Equal(t, Unknown, p.state())
			require.Equal(t, JobHeld, p.jobState(job))
		})
	}
	t.Run("whatever they say", func(t *testing.T) {
		p := newPit(t)
		for _, c := range []EmergencyRaise{{}, {Robot: "nothing", Place: "nowhere"}, {What: strings.Repeat("x", 3000)}, {What: "a\u202Eb"}} {
			p.ok(p.as(p.kit), c)
		}
		require.Len(t, p.s.Emergencies, 4)
		require.Equal(t, Unknown, p.state())
	})
}

func TestAnEmergencyIsEndedByNameAndBringsNothingBack(t *testing.T) {
	p := newPit(t)
	p.open()
	id := EmergencyID(p.madeKind(KindEmergency, p.ok(p.as(p.kit), EmergencyRaise{Robot: p.moth})))
	_, bad := p.try(p.as(p.ben), EmergencyEnd{Emergency: id, How: "a rag"})
	require.Equal(t, CodeForbidden, bad.Code)
	_, bad = p.try(p.as(p.dee), EmergencyEnd{Emergency: id})
	require.Equal(t, "how", bad.Field)
	_, bad = p.try(p.as(p.dee), EmergencyEnd{Emergency: "none", How: "a rag"})
	require.Equal(t, CodeUnknown, bad.Code)
	p.refused(Actor{Role: RoleSafety}, EmergencyEnd{Emergency: id, How: "a rag"}, 5)
	p.ok(p.as(p.dee), EmergencyEnd{Emergency: id, How: "a hot rag, taken out by the officials"})
	require.Equal(t, p.dee, p.s.Emergencies[id].EndedBy)
	require.Equal(t, Unknown, p.state())
	_, bad = p.try(p.as(p.ada), EmergencyEnd{Emergency: id, How: "again"})
	require.Equal(t, CodeNothingToDo, bad.Code)
}
