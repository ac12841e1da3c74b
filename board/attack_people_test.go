package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Each test below is what a minor, a guest or someone in their name once could do,
// with the nearest honest thing beside it. Constructed by us.

// with changes what is said of the robot.
func (p *pit) with(change func(f *RobotFields)) RobotChange {
	f := p.s.Robots[p.moth].RobotFields
	change(&f)
	return RobotChange{Robot: p.moth, RobotFields: f}
}

func TestRule5NoMinorOrGuestLeadsARobot(t *testing.T) {
	p := newPit(t)
	for _, who := range []PersonID{p.kit, p.gus} {
		lead := p.with(func(f *RobotFields) { f.Lead = who })
		bad := p.refused(p.as(p.ada), lead, 5)
		sentenceHas(t, bad, p.s.People[who].Name)
		sentenceHas(t, bad, "Tin Moth")
		f := lead.RobotFields
		f.Name, f.Number = "Clay Wasp", 2
		p.refused(p.as(p.ada), RobotAdd{RobotFields: f}, 5)
	}
	p.captain(p.with(func(f *RobotFields) { f.Lead, f.Driver = p.ben, p.kit }))
	require.Equal(t, p.kit, p.s.Robots[p.moth].Driver, "a minor may drive")
	p.refused(p.as(p.ada), PersonChange{Person: p.ben, PersonFields: PersonFields{Name: "Ben", Role: RoleCrew, Guest: true}}, 5)
	p.refused(p.as(p.ada), PersonRetire{Person: p.ben}, 5)
	p.captain(p.with(func(f *RobotFields) { f.Lead = p.ada }))
	p.captain(PersonChange{Person: p.ben, PersonFields: PersonFields{Name: "Ben", Role: RoleCrew, Guest: true}})
	p.captain(PersonRetire{Person: p.ben})
	p.refused(p.as(p.ada), p.with(func(f *RobotFields) { f.Lead = p.ben }), 5)
}

func TestNoUndoMakesAMinorALead(t *testing.T) {
	p := newPit(t)
	grown := p.captain(PersonChange{Person: p.kit, PersonFields: PersonFields{Name: "Kit", Role: RoleCrew}, Reason: "eighteen today"})
	p.captain(p.with(func(f *RobotFields) { f.Lead = p.kit }))
	p.refused(p.as(p.ada), Undo{Command: grown.Done.ID}, 5)
	p.captain(p.with(func(f *RobotFields) { f.Lead = p.ada }))
	p.refused(p.as(p.ada), Undo{Command: grown.Done.ID}, 21)
	p.captain(PersonChange{Person: p.kit, PersonFields: PersonFields{Name: "Kit", Role: RoleCrew, Minor: true}})
}

func TestAMinorOrGuestWhoDrivesDeclaresNothingLive(t *testing.T) {
	for _, name := range []string{"Kit", "Gus"} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			who := map[string]PersonID{"Kit": p.kit, "Gus": p.gus}[name]
			p.captain(p.with(func(f *RobotFields) { f.Driver = who }))
			allowed := p.settings()
			allowed.MinorsDrive = true
			p.captain(EventSet{EventFields: allowed, Reason: "the event says so"})
			p.open()
			p.ready()
			bad := p.refused(p.as(who), RobotLive{Robot: p.moth, Place: p.arena}, 5)
			sentenceHas(t, bad, name)
			sentenceHas(t, bad, "Ada")
			p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
		})
	}
	t.Run("an adult who drives may", func(t *testing.T) {
		p := newPit(t)
		p.captain(p.with(func(f *RobotFields) { f.Driver = p.ben }))
		p.open()
		p.ready()
		p.ok(p.as(p.ben), RobotLive{Robot: p.moth, Place: p.arena})
	})
}

// A board of an earlier program may hold a minor as lead: it opens, and the powers
// of a lead are simply not there.
func TestAMinorWhoLeadsOnAnOldBoardHasNoneOfALeadsPowers(t *testing.T) {
	p := newPit(t)
	p.old(func(r *Robot) { r.Lead, r.Driver = p.kit, p.kit })
	p.open()
	job := p.job()
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	sentenceHas(t, p.refused(p.as(p.kit), RobotCloseUp{Robot: p.moth}, 0), "the captain")
	p.ok(p.as(p.ada), JobDrop{Job: job, Reason: "not needed"})
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	p.walk(p.as(p.ben), ListCloseUp)
	p.refused(p.as(p.kit), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, 0)
	p.ok(p.as(p.ada), p.with(func(f *RobotFields) { f.Hands = 3 }))
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
}

// old gives the robot what no command gives it any more.
func (p *pit) old(change func(r *Robot)) {
	r := p.s.Robots[p.moth]
	change(&r)
	p.s = p.s.With(Change{Rev: p.s.Rev + 1, Put: []Noun{r}, Done: Done{Rev: p.s.Rev + 1, At: p.now, Do: "robot.change"}})
}

func TestRule20NoPowerWhereAnEmergencyStands(t *testing.T) {
	fields := func(p *pit) RobotFields {
		f := p.s.Robots[p.moth].RobotFields
		f.Name, f.Number = "Clay Wasp", 2
		return f
	}
	test := func(p *pit) RobotTest {
		return RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}
	}
	over := func(p *pit) {
		for id := range p.s.Emergencies {
			p.ok(p.as(p.dee), EmergencyEnd{Emergency: id, How: "a hot rag, taken out"})
		}
	}
	t.Run("a test there, and elsewhere", func(t *testing.T) {
		p := newPit(t)
		p.closedUp()
		p.ok(p.as(p.gus), EmergencyRaise{Place: p.box})
		sentenceHas(t, p.refused(p.as(p.ada), test(p), 20), "test box")
		over(p)
		p.ok(p.as(p.gus), EmergencyRaise{Place: p.shelf})
		p.ok(p.as(p.ada), test(p))
	})
	t.Run("one that names no place is at its robot", func(t *testing.T) {
		p := newPit(t)
		wasp := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: fields(p)})))
		p.ok(p.as(p.ben), RobotPlace{Robot: wasp, Place: p.box})
		p.closedUp()
		p.ok(p.as(p.kit), EmergencyRaise{Robot: wasp})
		p.refused(p.as(p.ada), test(p), 20)
		over(p)
		p.ok(p.as(p.ada), test(p))
	})
	t.Run("one that names nothing bars nothing", func(t *testing.T) {
		p := newPit(t)
		p.closedUp()
		p.ok(p.as(p.kit), EmergencyRaise{What: "smoke"})
		p.ok(p.as(p.ada), test(p))
	})
	t.Run("going live", func(t *testing.T) {
		p := newPit(t)
		p.open()
		p.ready()
		p.ok(p.as(p.gus), EmergencyRaise{Place: p.arena})
		p.refused(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena}, 20)
		over(p)
		p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	})
	t.Run("a robot that one is about, wherever it goes", func(t *testing.T) {
		p := newPit(t)
		p.ok(p.as(p.gus), EmergencyRaise{Robot: p.moth, Place: p.bench})
		p.closedUp()
		p.refused(p.as(p.ada), test(p), 20)
		over(p)
		p.ok(p.as(p.ada), test(p))
	})
}

func TestRule24AMinorOrGuestRaisesAndNeitherTakesNorEnds(t *testing.T) {
	p := newPit(t)
	for _, who := range []PersonID{p.kit, p.gus} {
		id := EmergencyID(p.madeKind(KindEmergency, p.ok(p.as(who), EmergencyRaise{What: "smoke"})))
		take := AlarmTake{Alarm: AlarmID("A-emergency-" + string(id))}
		bad := p.refused(p.as(who), take, 24)
		sentenceHas(t, bad, "Ada or Dee")
		p.ok(p.as(who), AlarmTake{Alarm: "B-call-1"})
		p.refused(Actor{Person: who, Role: RoleSafety}, EmergencyEnd{Emergency: id, How: "it is out"}, 24)
		p.ok(p.as(p.ben), take)
		p.ok(p.as(p.dee), EmergencyEnd{Emergency: id, How: "it is out"})
	}
}

func TestRule24NoMinorOrGuestEndsTheAlarmOverAPack(t *testing.T) {
	for name, said := range map[string]func(p *pit) Command{
		"gone":              func(p *pit) Command { return PackSet{Pack: p.p2, State: PackGone} },
		"in the bucket":     func(p *pit) Command { return PackMove{Pack: p.p2, Place: p.watch} },
		"still quarantined": nil,
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.gus), PackMove{Pack: p.p2, Place: p.bench})
			p.ok(p.as(p.gus), PackSet{Pack: p.p2, State: PackSuspect, Why: "a smell"})
			for _, who := range []PersonID{p.kit, p.gus} {
				if said == nil {
					p.ok(p.as(who), PackSet{Pack: p.p2, State: PackQuarantined})
					p.ok(p.as(who), PackMove{Pack: p.p2, Place: p.box})
					continue
				}
				bad := p.refused(p.as(who), said(p), map[bool]int{true: 13, false: 24}[name == "gone"])
				sentenceHas(t, bad, "Call Ada or Dee")
			}
			if said != nil {
				p.ok(p.as(p.dee), said(p))
				p.ok(p.as(p.gus), PackMove{Pack: p.p2, Place: p.bench})
			}
		})
	}
}

func TestRule5ANewPINTakesNothingOffThatWasPutOnBefore(t *testing.T) {
	p := newPit(t)
	p.open()
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	p.ok(Itself(), PersonForget{Person: p.ben, By: p.ada})
	p.ok(Itself(), PersonForget{Person: p.gus, By: p.ada})
	until := p.s.Rev
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.NotNil(t, bad)
	require.Equal(t, 5, bad.Rule)
	sentenceHas(t, bad, "override")
	near, _ := p.s.HandsOf(p.moth, p.gus)
	p.refused(p.as(p.gus), HandsOff{Hands: near.ID}, 5)
	other := p.as(p.dee)
	other.Before = []BeforePIN{{Person: p.ben, Until: 1}}
	_, bad = p.tagOff(other, p.ben)
	require.NotNil(t, bad, "a PIN from before another was forgotten")
	other.Before[0].Until = until
	_, bad = p.tryAsk(other, TagOn{Robot: p.moth, Person: p.ben}, Ask{ID: newID(p.now, 1<<41)})
	require.NotNil(t, bad, "the old PIN puts nothing on")
	_, bad = p.tagOff(other, p.ben)
	require.Nil(t, bad, "the old PIN takes off what it put on")
	p.makeSafeTag()
	_, bad = p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad, "the new one takes off what it put on")
	two := p.as(p.ada)
	two.Proved = []PersonID{p.dee}
	p.ok(two, HandsOverride{Hands: near.ID, Second: p.dee, Override: p.answers()})
}

// makeSafeTag puts Ben's tag on a verified robot.
func (p *pit) makeSafeTag() { p.t.Helper(); p.ok(p.as(p.ben), TagOn{Robot: p.moth}) }

func TestRule6WhoIsEnteredAgainShedsNoNotice(t *testing.T) {
	p := newPit(t)
	p.open()
	two := p.as(p.ada)
	two.Proved = []PersonID{p.dee}
	p.ok(two, TagOverride{Tag: p.tagOf(p.ben), Second: p.dee, Override: p.answers()})
	was := p.s.People[p.ben].PersonFields
	p.captain(PersonRetire{Person: p.ben})
	_, bad := p.try(Itself(), PersonClaim{Person: "0196b1f0-0000-7000-8000-000000000001", Name: "ben", Role: RoleCrew})
	require.NotNil(t, bad, "a guest of the same name")
	p.captain(PersonAdd{PersonFields: was})
	require.False(t, p.s.People[p.ben].Retired, "the same person came back")
	p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 6)
	for id := range p.s.Notices {
		p.ok(p.as(p.ben), NoticeTake{Notice: id})
	}
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
}

func TestRule6SafetyOrAnOutsiderStandsInWhereTheTagIsTheLeadsOwn(t *testing.T) {
	for name, c := range map[string]struct {
		by, second string
		ok         bool
	}{
		"safety": {"Ben", "Dee", true}, "a signer from the next bench": {"Ben", "Nia", true}, "two of the crew": {"Ben", "Eve", false},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			eve := p.person(PersonFields{Name: "Eve", Role: RoleCrew})
			who := map[string]PersonID{"Ben": p.ben, "Dee": p.dee, "Nia": p.nia, "Eve": eve}
			p.makeSafe()
			p.ok(p.as(p.ada), TagOn{Robot: p.moth})
			two := p.as(who[c.by])
			two.Proved = []PersonID{who[c.second]}
			o := p.answers()
			o.CheckedBy = p.ben
			_, bad := p.try(two, TagOverride{Tag: p.tagOf(p.ada), Second: who[c.second], Override: o})
			require.Equal(t, c.ok, bad == nil, "%v", bad)
		})
	}
}

func TestRule8AnEnergyComesOffWithAReasonAndUnderNobodysHands(t *testing.T) {
	p := newPit(t)
	less := p.with(func(f *RobotFields) { f.Energies = f.Energies[:2] })
	bad := p.refused(p.as(p.ada), less, 8)
	require.Equal(t, "reason", bad.Field)
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	less.Reason = "the rotor is off for the day"
	sentenceHas(t, p.refused(p.as(p.ada), less, 8), "Gus")
	near, _ := p.s.HandsOf(p.moth, p.gus)
	p.ok(p.as(p.gus), HandsOff{Hands: near.ID})
	p.ok(p.as(p.ada), less)
	said := p.s.Robots[p.moth].Loosened
	require.Len(t, said, 1)
	require.Equal(t, Loosened{What: "no spinning-mass any more", Reason: less.Reason, By: p.ada, At: p.now}, said[0])
	p.ok(p.as(p.ada), p.with(func(f *RobotFields) {
		f.Energies = append(f.Energies, Energy{Kind: EnergyGas, Isolator: "valve", Reach: Outside})
	}))
}

func TestRule8APlaceWhereARobotStandsBecomesAnotherKindOnlyWithAReason(t *testing.T) {
	p := newPit(t)
	change := PlaceChange{Place: p.bench, PlaceFields: PlaceFields{Name: "bench 1", Kind: PlaceTestBox}}
	p.ok(p.as(p.ada), change)
	change.Kind = PlaceBench
	p.ok(p.as(p.ada), change)
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
	change.Kind = PlaceArena
	require.Equal(t, "reason", p.refused(p.as(p.ada), change, 8).Field)
	change.Reason = "the arena was set up here"
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	p.refused(p.as(p.ada), change, 8)
	near, _ := p.s.HandsOf(p.moth, p.gus)
	p.ok(p.as(p.gus), HandsOff{Hands: near.ID})
	changed := p.ok(p.as(p.ada), change)
	p.refused(p.as(p.ada), Undo{Command: changed.Done.ID}, 8)
	p.ok(p.as(p.ada), PlaceChange{Place: p.bench, PlaceFields: PlaceFields{Name: "bench one", Kind: PlaceArena}})
}

func TestRule8NoPlaceBecomesAnotherKindUnderHandsOnAnyRobotThere(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Name, f.Number, f.Lead = "Pewter Wren", 2, p.ben
	wren := RobotID(p.made(p.captain(RobotAdd{RobotFields: f})))
	for _, robot := range []RobotID{p.moth, wren} {
		p.ok(p.as(p.dee), RobotPlace{Robot: robot, Place: p.bench})
	}
	arena := PlaceChange{Place: p.bench, PlaceFields: PlaceFields{Name: "bench 1", Kind: PlaceArena}, Reason: "set up here"}
	for _, robot := range []RobotID{p.moth, wren} {
		p.ok(p.as(p.gus), HandsOn{Robot: robot})
		sentenceHas(t, p.refused(p.as(p.ada), arena, 8), p.s.Robots[robot].Name)
		near, _ := p.s.HandsOf(robot, p.gus)
		p.ok(p.as(p.gus), HandsOff{Hands: near.ID})
	}
	p.ok(p.as(p.ada), arena)
}

func TestRule8TheLeadAndEventSafetySayThatARobotOrItsPlaceIsLess(t *testing.T) {
	p := newPit(t)
	p.captain(p.with(func(f *RobotFields) { f.Lead = p.ben }))
	p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
	rotor := RobotEnergyOff{Robot: p.moth, Energy: EnergySpin, Reason: "the rotor is off for the day"}
	staging := PlaceTurn{Place: p.bench, Kind: PlaceStaging, Reason: "the queue moved"}
	for _, c := range []Command{rotor, staging} {
		for _, who := range []Actor{p.as(p.gus), p.as(p.kit), p.as(p.nia), {Role: RoleCrew}, {Role: RoleSafety}} {
			p.refused(who, c, 8)
		}
	}
	why := rotor
	why.Reason = " "
	require.Equal(t, "reason", p.refused(p.as(p.ben), why, 8).Field)
	p.makeSafe()
	p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	for _, c := range []Command{rotor, staging} {
		sentenceHas(t, p.refused(p.as(p.dee), c, 8), "Ben")
	}
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)

	p.ok(p.as(p.ben), rotor)
	require.Equal(t, Unknown, p.state(), "the answers were about another list")
	require.Equal(t, Loosened{What: "no spinning-mass any more", Reason: rotor.Reason, By: p.ben, At: p.now}, p.s.Robots[p.moth].Loosened[0])
	_, bad = p.try(p.as(p.ben), rotor)
	require.Equal(t, CodeNothingToDo, bad.Code)
	p.ok(p.as(p.dee), staging)
	require.Equal(t, PlaceStaging, p.s.Places[p.bench].Kind)
	require.Equal(t, "bench 1", p.s.Places[p.bench].Name)
	require.Equal(t, p.dee, p.s.Places[p.bench].Loosened[0].By)
	_, bad = p.try(p.as(p.dee), PlaceTurn{Place: p.shelf, Kind: PlaceArena, Reason: "no robot is there"})
	require.Equal(t, CodeForbidden, bad.Code)
}

func TestRule8NoEnergyComesOffARobotThatHasPower(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	rotor := RobotEnergyOff{Robot: p.moth, Energy: EnergySpin, Reason: "the rotor is off"}
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
	sentenceHas(t, p.refused(p.as(p.ada), rotor, 8), "test")
	p.ok(p.as(p.ada), RobotTestEnd{Robot: p.moth})
	p.ok(p.as(p.ada), rotor)
}

func TestTheLastCaptainIsNeitherRetiredNorDemoted(t *testing.T) {
	p := newPit(t)
	f := p.s.People[p.ada].PersonFields
	f.Role = RoleCrew
	p.captain(p.with(func(f *RobotFields) { f.Lead = p.ben }))
	for _, c := range []Command{PersonRetire{Person: p.ada}, PersonChange{Person: p.ada, PersonFields: f}} {
		sentenceHas(t, p.refused(p.as(p.ada), c, 0), "only captain")
	}
	p.person(PersonFields{Name: "Zoe", Role: RoleCaptain})
	p.captain(PersonChange{Person: p.ada, PersonFields: f})
	require.Equal(t, RoleCrew, p.s.People[p.ada].Role)
}

func TestRule6ACallBeforeTheTagWasPutOnIsNone(t *testing.T) {
	p := newPit(t)
	p.open()
	p.now += 10 * minute
	on := p.s.Tags[p.tagOf(p.ben)].At
	two := p.as(p.ada)
	two.Proved = []PersonID{p.dee}
	c := TagOverride{Tag: p.tagOf(p.ben), Second: p.dee, Override: p.answers()}
	c.CalledAt = on - minute
	sentenceHas(t, p.refused(two, c, 6), "after that call")
	require.NotEmpty(t, p.tagOf(p.ben))
	c.CalledAt = on + minute
	p.ok(two, c)
}

func TestARobotEnteredAgainIsTheSame(t *testing.T) {
	p := newPit(t)
	p.open()
	d, _ := p.damage(GX)
	_, bad := p.tagOff(p.as(p.ben), p.ben)
	require.Nil(t, bad)
	fields := p.s.Robots[p.moth].RobotFields
	p.captain(RobotRetire{Robot: p.moth})
	fields.Name = "TIN MOTH"
	p.captain(RobotAdd{RobotFields: fields})
	require.Len(t, p.s.Robots, 1)
	require.False(t, p.s.Robots[p.moth].Retired)
	require.Equal(t, p.moth, p.s.Damages[d].Robot, "the damage stands")
	require.Equal(t, Unknown, p.state())
	require.Empty(t, p.s.Robots[p.moth].Loosened)

	p.captain(RobotRetire{Robot: p.moth})
	fields.Energies = fields.Energies[:1]
	p.captain(RobotAdd{RobotFields: fields, Reason: "the rotor stays at home"})
	require.Len(t, p.s.Robots[p.moth].Loosened, 1, "with less to make safe it stands in the review")

	fields.Name, fields.Number = "Clay Wasp", 2
	p.captain(RobotAdd{RobotFields: fields})
	require.Len(t, p.s.Robots, 2)
}
