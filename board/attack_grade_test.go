package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// What people found who attacked by who somebody is: a captain by the code alone, a minor
// who is one no more, a signer made in passing.

// joins is a new name that a device took with a code.
func (p *pit) joins(name string, role Role) PersonID {
	id := PersonID(NewID(newID(p.now, p.n+1<<41), KindPerson, name))
	p.ok(Itself(), PersonClaim{Person: id, Name: name, Role: role})
	return id
}

func TestRule12TheCaptainsCodeAloneMakesNoSigner(t *testing.T) {
	p := newPit(t)
	zed := p.joins("Zed", RoleCaptain)
	p.toSign()
	sheet, _ := p.s.Sheet(p.moth, ListReady)
	sign := SheetAnswer{Sheet: sheet.ID, Line: "sign", Said: SaidDone}
	_, bad := p.try(p.as(zed), sign)
	require.Equal(t, CodeForbidden, bad.Code)
	sentenceHas(t, bad, "Zed is not a signer")
	p.captain(PersonChange{Person: zed, PersonFields: PersonFields{Name: "Zed", Role: RoleCaptain, Signer: true}, Reason: "the club's second captain"})
	p.ok(p.as(zed), sign)
	require.Equal(t, Ready, p.state())
}

func TestRule12TheCaptainSignsWithAuthorityOrAsTheLead(t *testing.T) {
	for name, change := range map[string]func(p *pit){
		"with authority": func(p *pit) { p.captain(p.with(func(f *RobotFields) { f.Lead = p.ben })) },
		"as the lead": func(p *pit) {
			f := p.s.People[p.ada].PersonFields
			f.Authorised = nil
			p.captain(PersonChange{Person: p.ada, PersonFields: f})
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.toSign()
			change(p)
			p.answer(p.as(p.ada), ListReady)
			require.Equal(t, p.ada, p.s.Powers[p.moth].ReadyBy)
		})
	}
}

func TestRule5NobodyIsMadeMoreThanTheyWereWithoutAReason(t *testing.T) {
	for name, c := range map[string]struct {
		who  func(p *pit) PersonID
		more func(f *PersonFields)
		what string
	}{
		"a minor is none any more": {func(p *pit) PersonID { return p.kit }, func(f *PersonFields) { f.Minor = false }, "no minor any more"},
		"crew may sign":            {func(p *pit) PersonID { return p.ben }, func(f *PersonFields) { f.Signer = true }, "a signer now"},
		"both at once":             {func(p *pit) PersonID { return p.kit }, func(f *PersonFields) { f.Minor, f.Signer = false, true }, "no minor any more and a signer now"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			who := c.who(p)
			change := PersonChange{Person: who, PersonFields: p.s.People[who].PersonFields}
			c.more(&change.PersonFields)
			require.Equal(t, "reason", p.refused(p.as(p.ada), change, 5).Field)
			change.Reason = ".."
			p.refused(p.as(p.ada), change, 5)
			change.Reason = "her card says so"
			_, bad := p.try(p.as(p.ben), change)
			require.Equal(t, CodeForbidden, bad.Code)
			said := p.captain(change)
			require.Equal(t, []Loosened{{What: c.what, Reason: "her card says so", By: p.ada, At: p.now}}, p.s.People[who].Loosened)
			p.refused(p.as(p.ada), Undo{Command: said.Done.ID}, 21)

			p.captain(PersonRetire{Person: who})
			again := PersonAdd{PersonFields: change.PersonFields}
			p.captain(again)
			require.Len(t, p.s.People[who].Loosened, 1, "entered again as what they were")
		})
	}
}

func TestRule5EnteringSomeoneAgainTakesNoMinorOffThem(t *testing.T) {
	p := newPit(t)
	p.captain(PersonRetire{Person: p.kit})
	again := PersonAdd{PersonFields: PersonFields{Name: "Kit", Role: RoleCrew}}
	p.refused(p.as(p.ada), again, 5)
	again.Reason = "eighteen today"
	p.captain(again)
	require.False(t, p.s.People[p.kit].Minor)
	require.Len(t, p.s.People[p.kit].Loosened, 1)
}

func TestWhoIsMadeLessOfTakesNoReason(t *testing.T) {
	p := newPit(t)
	f := p.s.People[p.nia].PersonFields
	f.Signer = false
	struck := p.captain(PersonChange{Person: p.nia, PersonFields: f})
	p.refused(p.as(p.ada), Undo{Command: struck.Done.ID}, 5)
	p.captain(PersonChange{Person: p.ben, PersonFields: PersonFields{Name: "Ben", Role: RoleCrew, Minor: true}})
}

func TestRule11OneSignatureIsNoLookAtAnyDamage(t *testing.T) {
	p := newPit(t)
	p.open()
	one, _ := p.damage(GX)
	two := DamageID(p.made(p.ok(p.as(p.ben), DamageReport{DamageFields: DamageFields{Robot: p.moth, Part: "hub", Grade: GX}})))
	p.doJob(p.jobWith(p.as(p.ben), Must, swapBlade(p.blade), one))
	p.ok(p.as(p.ada), DamageOff{Damage: two, What: "hub in the box"})
	p.closeUpAgain()
	for _, d := range []DamageID{one, two} {
		_, bad := p.sign(p.dee)
		require.NotNil(t, bad)
		require.Equal(t, 11, bad.Rule)
		sentenceHas(t, bad, p.s.Damages[d].Part)
		p.ok(p.as(p.dee), DamageLook{Damage: d})
	}
	_, bad := p.sign(p.dee)
	require.Nil(t, bad)
	require.Equal(t, Ready, p.state())
}

func TestRule12ASignatureGoesWithItsSignerUntilTheRobotHasGone(t *testing.T) {
	as := func(change func(f *PersonFields)) func(p *pit) {
		return func(p *pit) {
			f := p.s.People[p.dee].PersonFields
			change(&f)
			p.captain(PersonChange{Person: p.dee, PersonFields: f})
		}
	}
	for name, c := range map[string]struct {
		struck func(p *pit)
		gone   bool
		is     PowerState
	}{
		"struck from the signers": {as(func(f *PersonFields) { f.Signer = false }), false, Unknown},
		"off the roster":          {func(p *pit) { p.captain(PersonRetire{Person: p.dee}) }, false, Unknown},
		"a guest": {as(func(f *PersonFields) {
			*f = PersonFields{Name: "Dee", Role: RoleCrew, Guest: true}
		}), false, Unknown},
		"struck when it has gone live": {as(func(f *PersonFields) { f.Signer = false }), true, Live},
		"another skill":                {as(func(f *PersonFields) { f.Skills = []Skill{SkillWeld} }), false, Ready},
		"another signer struck":        {func(p *pit) { p.captain(PersonRetire{Person: p.nia}) }, false, Ready},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			p.ready()
			if c.gone {
				p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
			}
			c.struck(p)
			require.Equal(t, c.is, p.state())
			if c.is == Unknown {
				require.Equal(t, "signed by Dee, who was taken off those who sign before it fought", p.power().Why)
			}
		})
	}
}

func TestRule12ALeadsSignatureGoesWithTheLead(t *testing.T) {
	led := func(p *pit, by PersonID) Command { return p.with(func(f *RobotFields) { f.Lead = by }) }
	for name, c := range map[string]struct {
		signs  func(p *pit) PersonID
		change func(p *pit)
		is     PowerState
	}{
		"another leads": {func(p *pit) PersonID { return p.ben }, func(p *pit) { p.captain(led(p, p.dee)) }, Unknown},
		"nobody leads":  {func(p *pit) PersonID { return p.ben }, func(p *pit) { p.captain(led(p, "")) }, Unknown},
		"another leads when it has gone live": {func(p *pit) PersonID { return p.ben }, func(p *pit) {
			p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
			p.captain(led(p, p.dee))
		}, Live},
		"another leads, and a signer signed": {func(p *pit) PersonID { return p.dee }, func(p *pit) { p.captain(led(p, p.dee)) }, Ready},
		"the same leads, who has a new driver": {func(p *pit) PersonID { return p.ben }, func(p *pit) {
			p.captain(p.with(func(f *RobotFields) { f.Driver = p.nia }))
		}, Ready},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.captain(led(p, p.ben))
			p.toSign()
			_, bad := p.sign(c.signs(p))
			require.Nil(t, bad)
			c.change(p)
			require.Equal(t, c.is, p.state())
			if c.is == Unknown {
				require.Contains(t, p.power().Why, "signed by Ben")
			}
		})
	}
}
