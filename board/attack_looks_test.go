package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about who was called, who looked again, and what is said
// not to be there.

func TestRule6ACallFromBeforeTheOwnersLastActDoesNotCover(t *testing.T) {
	for name, c := range map[string]struct {
		act func(p *pit)
		own bool
	}{
		"a note":           {func(p *pit) { p.ok(p.as(p.ben), NoteAdd{About: KeyOf(KindRobot, p.moth), Text: "back in ten"}) }, true},
		"a line":           {func(p *pit) { p.answer(p.as(p.ben), ListInspect) }, true},
		"another's note":   {func(p *pit) { p.ok(p.as(p.nia), NoteAdd{About: KeyOf(KindRobot, p.moth), Text: "Ben is gone"}) }, false},
		"nothing any more": {func(*pit) {}, false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.open()
			o := p.answers()
			p.now += minute
			c.act(p)
			p.now += 20 * minute
			two := p.as(p.ada)
			two.Proved = []PersonID{p.dee}
			over := TagOverride{Tag: p.tagOf(p.ben), Second: p.dee, Override: o}
			if c.own {
				bad := p.refused(two, over, 6)
				require.Equal(t, "calledAt", bad.Field)
				sentenceHas(t, bad, "Call again")
				over.CalledAt = p.now
			}
			p.ok(two, over)
		})
	}
}

func TestRule6ASecondCaptainIsNotTheLeadsStandIn(t *testing.T) {
	p := newPit(t)
	cas := p.person(PersonFields{Name: "Cas", Role: RoleCaptain})
	p.makeSafe()
	p.ok(p.as(p.ada), TagOn{Robot: p.moth})
	o := p.answers()
	o.CheckedBy = p.ben
	with := func(second PersonID) *Refusal {
		two := p.as(cas)
		two.Proved = []PersonID{second}
		_, bad := p.try(two, TagOverride{Tag: p.tagOf(p.ada), Second: second, Override: o})
		return bad
	}
	bad := with(p.ben)
	require.NotNil(t, bad)
	sentenceHas(t, bad, "a signer from outside")
	require.Nil(t, with(p.nia))
}

func TestRule8WhoLooksAgainHasAuthorityAndDidNoneOfTheWork(t *testing.T) {
	bareJob := func(p *pit) JobID {
		p.open()
		job := p.job()
		p.bare(job)
		p.ok(p.as(p.ben), JobFinish{Job: job})
		return job
	}
	p := newPit(t)
	cas := p.person(PersonFields{Name: "Cas", Role: RoleCaptain})
	job := bareJob(p)
	sentenceHas(t, p.refused(p.as(cas), JobReinspect{Job: job}, 0), "looks at the work again")
	p.captain(PersonChange{Person: cas, PersonFields: PersonFields{Name: "Cas", Role: RoleCaptain, Authorised: p.s.People[p.ben].Authorised}})
	p.ok(p.as(cas), JobReinspect{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))

	p = newPit(t)
	job = bareJob(p)
	p.now += 20 * minute
	p.ok(p.as(p.dee), JobReinspect{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
	require.Nil(t, p.lateAt(p.as(p.dee), JobJoin{Job: job}, 15*minute))
	require.Equal(t, JobFinished, p.jobState(job), "she looked at her own work")
	sentenceHas(t, p.refused(p.as(p.dee), JobReinspect{Job: job}, 0), "Ada")
	p.ok(p.as(p.ada), JobReinspect{Job: job})
	require.Equal(t, JobClosed, p.jobState(job))
}

func TestNoGuestReopensAJob(t *testing.T) {
	p := newPit(t)
	p.open()
	job := p.job()
	p.doJob(job)
	require.Equal(t, JobClosed, p.jobState(job))
	sentenceHas(t, p.refused(p.as(p.gus), JobReopen{Job: job}, 0), "one of the crew")
	p.ok(p.as(p.ben), JobReopen{Job: job})
}

func TestRule11NotFittedIsNoAnswerForWhatARobotHasByItsSettings(t *testing.T) {
	for name, c := range map[string]struct {
		list SheetList
		line string
		gas  bool
	}{
		"its link, at the load-in": {ListLoadIn, "link", false},
		"its link, packed up":      {ListPackUp, "link", false},
		"its link, for the night":  {ListOvernight, "keeper", false},
		"its gas, packed up":       {ListPackUp, "gas", true},
		"its gas, for the night":   {ListOvernight, "gas", true},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			if c.gas {
				p.captain(RobotChange{Robot: p.moth, RobotFields: p.cast.Gassed(Outside)})
			}
			if c.list == ListLoadIn {
				p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
			} else {
				p.ok(p.as(p.dee), RobotList{Robot: p.moth, List: c.list})
			}
			sentenceHas(t, p.refused(p.as(p.ben), p.said(c.list, c.line, SaidNotFitted), 11), "Ada says so on the page")
			var less []Energy
			if c.gas {
				less = p.s.Robots[p.moth].Energies[:3]
			} else {
				less = p.s.Robots[p.moth].Energies[2:]
			}
			p.ok(p.as(p.ada), p.withReason(func(f *RobotFields) { f.Energies = less }))
			p.ok(p.as(p.ben), p.said(c.list, c.line, SaidNotFitted))
		})
	}
}

// withReason is with, and says why.
func (p *pit) withReason(change func(f *RobotFields)) RobotChange {
	c := p.with(change)
	c.Reason = "it is off the robot for good"
	return c
}

func TestRule11NotFittedIsNoAnswerForALightThatSomeoneSaw(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.dee), RobotLoadIn{Robot: p.moth})
	p.ok(p.as(p.ben), p.said(ListLoadIn, "light", SaidDone))
	p.walkUntil(ListMakeSafe, "light")
	sentenceHas(t, p.refused(p.as(p.ben), p.said(ListMakeSafe, "light", SaidNotFitted), 11), "Ben saw the power light")
	blade := p.bladeHurt(G1, SysWeapon)
	p.refused(p.as(p.ada), DamageOff{Damage: blade, What: "in the box"}, 11)
	p.ok(p.as(p.ada), DamageOff{Damage: p.bladeHurt(G1, SysLight), What: "torn off in the fight"})
	p.ok(p.as(p.ben), p.said(ListMakeSafe, "light", SaidNotFitted))

	never := newPit(t)
	never.walkUntil(ListMakeSafe, "light")
	never.ok(never.as(never.ben), never.said(ListMakeSafe, "light", SaidNotFitted))
}

func TestAWorseReadingIsHeardWhateverItsSenderSaw(t *testing.T) {
	p := newPit(t)
	stale := map[Key]Rev{KeyOf(KindPack, p.p2): p.s.Packs[p.p2].V - 1}
	read := func(c PackRead) *Refusal {
		p.n++
		p.now += 1000
		_, bad := p.tryAsk(p.as(p.ben), c, Ask{ID: newID(p.now, p.n), Seen: stale})
		return bad
	}
	require.Equal(t, CodeStale, read(PackRead{Pack: p.p2, CellVolts: even(3.8)}).Code)
	require.Nil(t, read(PackRead{Pack: p.p2, TempC: degrees(61)}))
	require.Equal(t, PackSuspect, p.s.Packs[p.p2].State)

	g := newPit(t)
	g.captain(RobotChange{Robot: g.moth, RobotFields: g.cast.Gassed(Outside)})
	g.bareGas()
	sheet, _ := g.s.Sheet(g.moth, ListMakeSafe)
	three := 3.0
	c := SheetAnswer{Sheet: sheet.ID, Line: "gas-4", Said: SaidDone, Number: &three}
	g.n++
	_, bad := g.tryAsk(g.as(g.ben), c, Ask{ID: newID(g.now, g.n), Seen: map[Key]Rev{sheet.Key(): sheet.V - 1}})
	require.Nil(t, bad)
	require.Equal(t, Unknown, g.state())
}

// bareGas makes a robot with gas safe, its gauge at zero.
func (p *pit) bareGas() {
	p.t.Helper()
	p.makeSafe()
	require.Equal(p.t, Verified, p.state())
}

func TestNamesThatLookAlikeByHandAreOne(t *testing.T) {
	p := newPit(t)
	f := p.s.Packs[p.p2].PackFields
	for _, pair := range [][2]string{{"V1", "Vl"}, {"W1", "WI"}, {"O2", "02"}, {"B|", "bl"}} {
		f.Name = pair[0]
		p.captain(PackAdd{PackFields: f})
		f.Name = pair[1]
		_, bad := p.try(p.as(p.ada), PackAdd{PackFields: f})
		require.NotNil(t, bad, pair[1])
		require.Equal(t, "name", bad.Field)
	}
	f.Name = "V2"
	p.captain(PackAdd{PackFields: f})
	r := p.s.Robots[p.moth].RobotFields
	r.Number = 2
	for _, name := range []string{"Tin M0th", "T1n Moth"} {
		r.Name = name
		_, bad := p.try(p.as(p.ada), RobotAdd{RobotFields: r})
		require.NotNil(t, bad, name)
	}
	r.Name = "Tin Mothy"
	p.captain(RobotAdd{RobotFields: r})
}
