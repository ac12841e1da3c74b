package board_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Attacks by what people type, and by whose name it is, each with the nearest honest
// thing. Constructed by us.

// nothing are texts in which there is nothing to read.
var nothing = map[string]string{
	"a point": ".", "two points": "..", "a dash": "-", "a zero-width space": "\u200b\u200b\u200b\u200b\u200b\u200b", "a word joiner": "\u2060\u2060\u2060\u2060\u2060",
	"hangul fillers": "\u3164\u3164\u3164\u3164", "a braille blank": "\u2800\u2800\u2800\u2800", "a letter": "x", "symbols": "!!! ???",
}

func TestRule6AnOverridesAnswersHaveSomethingToRead(t *testing.T) {
	for name, text := range nothing {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			two := p.as(p.ada)
			two.Proved = []PersonID{p.dee}
			c := TagOverride{Tag: p.tagOf(p.ben), Second: p.dee, Override: p.answers()}
			for field, set := range map[string]func(o *Override){
				"lookedWhere": func(o *Override) { o.LookedWhere = text },
				"calledHow":   func(o *Override) { o.CalledHow = text },
				"reason":      func(o *Override) { o.Reason = text },
			} {
				empty := c
				set(&empty.Override)
				require.Equal(t, field, p.refused(two, empty, 6).Field)
			}
			c.LookedWhere, c.CalledHow, c.Reason = "the hall", "by phone", "家に帰った"
			p.ok(two, c)
		})
	}
}

func TestAReasonHasSomethingToRead(t *testing.T) {
	for name, c := range map[string]struct {
		there  func(p *pit)
		by     func(p *pit) Actor
		reason func(p *pit, why string) Command
	}{
		"an alarm put aside": {func(*pit) {}, func(p *pit) Actor { return p.as(p.ben) },
			func(_ *pit, why string) Command { return AlarmShelve{Alarm: "B-call-1", Minutes: 5, Reason: why} }},
		"an energy taken off": {func(*pit) {}, func(p *pit) Actor { return p.as(p.ada) },
			func(p *pit, why string) Command {
				return RobotEnergyOff{Robot: p.moth, Energy: EnergySpin, Reason: why}
			}},
		"a must dropped": {func(p *pit) { p.job() }, func(p *pit) Actor { return p.as(p.ada) },
			func(p *pit, why string) Command { return JobDrop{Job: p.onlyJob(), Reason: why} }},
		"a fault left off": {func(p *pit) { p.job() }, func(p *pit) Actor { return p.as(p.ada) },
			func(p *pit, why string) Command {
				return JobDefer{Job: p.onlyJob(), Acceptor: p.ada, Reason: why}
			}},
		"a damage graded down": {
			func(p *pit) {
				p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "rail", Grade: G3}})
			}, func(p *pit) Actor { return p.as(p.ada) },
			func(p *pit, why string) Command {
				return DamageRegrade{Damage: p.onlyDamage(), Grade: G1, Reason: why}
			}},
		"an emergency ended": {func(p *pit) { p.ok(p.as(p.gus), EmergencyRaise{What: "smoke"}) }, func(p *pit) Actor { return p.as(p.dee) },
			func(p *pit, how string) Command { return EmergencyEnd{Emergency: p.onlyEmergency(), How: how} }},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			c.there(p)
			for what, text := range nothing {
				_, bad := p.try(c.by(p), c.reason(p, text))
				require.NotNil(t, bad, what)
				require.Contains(t, []string{"reason", "how"}, bad.Field)
			}
			p.ok(c.by(p), c.reason(p, "seen by daylight"))
		})
	}
}

func (p *pit) onlyJob() JobID {
	for id := range p.s.Jobs {
		return id
	}
	return ""
}

func (p *pit) onlyDamage() DamageID {
	for id := range p.s.Damages {
		return id
	}
	return ""
}

func (p *pit) onlyEmergency() EmergencyID {
	for id := range p.s.Emergencies {
		return id
	}
	return ""
}

func TestADoubtThatSaysNothingIsADoubtAllTheSame(t *testing.T) {
	for name, text := range nothing {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.makeSafe()
			p.ok(p.as(p.gus), RobotDoubt{Robot: p.moth, Why: text})
			require.Equal(t, Unknown, p.state())
			require.Regexp(t, `\pL`, p.power().Why)
		})
	}
}

func TestRule6WhoDidSomethingJustNowIsAskedFirst(t *testing.T) {
	for name, c := range map[string]struct {
		ago   Moment
		asked bool
		ok    bool
	}{
		"a moment ago":                      {0, false, false},
		"a minute ago":                      {minute, false, false},
		"a minute ago, and asked for since": {minute, true, true},
		"two minutes ago and nothing since": {2 * minute, false, true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			p.now += 5 * minute
			o := p.answers()
			p.ok(p.as(p.ben), NoteAdd{Text: "back in a moment"})
			p.now += c.ago
			two := p.as(p.ada)
			two.Proved = []PersonID{p.dee}
			o.CalledAt = p.now
			o.Asked = c.asked
			_, bad := p.try(two, TagOverride{Tag: p.tagOf(p.ben), Second: p.dee, Override: o})
			require.Equal(t, c.ok, bad == nil, "%v", bad)
			if bad != nil {
				require.Equal(t, 6, bad.Rule)
				require.Equal(t, "asked", bad.Field)
				sentenceHas(t, bad, "Ben")
			}
		})
	}
}

func TestRule5APersonHasANameOfTheirOwn(t *testing.T) {
	p := newPit(t)
	for _, name := range []string{"team", "The Team", "everyone", "Everybody", "crew", "Pit crew", "all", "All of us", "us", "crew 2", "team!"} {
		bad := p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: name, Role: RoleCrew}}, 5)
		require.Equal(t, "name", bad.Field)
		_, bad = p.try(Itself(), PersonClaim{Person: "0196b1f0-0000-7000-8000-000000000001", Name: name, Role: RoleCrew})
		require.NotNil(t, bad, name)
		p.refused(p.as(p.ada), PersonChange{Person: p.nia, PersonFields: PersonFields{Name: name, Role: RoleCrew}}, 5)
	}
	for _, name := range []string{"Alla", "Allen", "Usha", "Mo Crewe", "Pit", "Ty Teamer"} {
		p.person(PersonFields{Name: name, Role: RoleCrew})
	}
}

func TestRule5ANameStaysWhileItStandsOnARobot(t *testing.T) {
	renamed := func(p *pit, who PersonID, name string) Command {
		f := p.s.People[who].PersonFields
		f.Name = name
		return PersonChange{Person: who, PersonFields: f}
	}
	t.Run("a tag", func(t *testing.T) {
		p := newPit(t)
		p.open()
		bad := p.refused(p.as(p.ada), renamed(p, p.ben, "Bertram"), 5)
		sentenceHas(t, bad, "Ben's tag is on Tin Moth")
		p.captain(renamed(p, p.ben, "BEN"))
		_, off := p.tagOff(p.as(p.ben), p.ben)
		require.Nil(t, off)
		p.captain(renamed(p, p.ben, "Bertram"))
	})
	t.Run("hands near", func(t *testing.T) {
		p := newPit(t)
		p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
		sentenceHas(t, p.refused(p.as(p.ada), renamed(p, p.gus, "Gustav"), 5), "Gus's hands are near Tin Moth")
		p.handsOff(p.moth, p.gus)
		p.captain(renamed(p, p.gus, "Gustav"))
	})
	t.Run("a notice", func(t *testing.T) {
		p := newPit(t)
		p.open()
		p.overridden()
		sentenceHas(t, p.refused(p.as(p.ada), renamed(p, p.ben, "Bertram"), 5), "notice")
		p.ok(p.as(p.ben), NoticeTake{Notice: openNotice(p, p.ben)})
		p.captain(renamed(p, p.ben, "Bertram"))
	})
	t.Run("given to another", func(t *testing.T) {
		p := newPit(t)
		p.open()
		p.overridden()
		p.captain(PersonRetire{Person: p.ben})
		sentenceHas(t, p.refused(p.as(p.ada), renamed(p, p.nia, "ben"), 5), "notice")
		p.captain(renamed(p, p.nia, "Nina"))
	})
}

// A job says what is done, and "clear" is that too; what is called clear is not.
func TestRule23AJobClearsSomethingAndIsNotCalledClear(t *testing.T) {
	for name, honest := range map[string]bool{
		"clear the swarf": true, "Clear jam": true, "CLEAR  swarf from the drum": true, "clear out the left bay": true, "Look for cracks": true,
		"failsafe: prove it": true, "unclear noise": true,
		"clear": false, "Clear!": false, "all clear": false, "it is clear": false, "is clear of people": false, "clear of people": false, "clear to start": false,
		"clear now": false, "clear and closed": false, "clear for power": false, "cleared the jam": false, "clear swarf, then all clear": false,
		"clear jam: safe": false, "safe": false, "made safe": false, "swap the blade, safe": false, "all ok": false,
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			fixes := []Fix{swapBlade(p.blade)}
			for _, c := range []Command{
				JobAdd{JobFields: JobFields{Robot: p.moth, Name: name, Triage: Must, Fixes: fixes}},
				TemplateAdd{TemplateFields: TemplateFields{Name: name, Size: Light, Triage: Must, Fixes: fixes}},
			} {
				if honest {
					p.ok(p.as(p.ada), c)
				} else {
					p.refused(p.as(p.ada), c, 23)
				}
			}
			if honest && goesByVerb.MatchString(name) {
				p.refused(p.as(p.ada), PlaceAdd{PlaceFields: PlaceFields{Name: name, Kind: PlaceBench}}, 23)
			}
		})
	}
}

// goesByVerb is a name that only a job may have.
var goesByVerb = regexp.MustCompile(`(?i)^clear\b`)
