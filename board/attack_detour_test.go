package board_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Attacks that reach by a second way what the first refuses, each with the nearest
// honest thing. Constructed by us.

func TestRule20APlaceStaysWhatItIsWhileAnEmergencyStandsThere(t *testing.T) {
	change := func(p *pit, name string, kind PlaceKind) Command {
		return PlaceChange{Place: p.arena, PlaceFields: PlaceFields{Name: name, Kind: kind}, Reason: "as it is"}
	}
	for name, c := range map[string]func(p *pit) Command{
		"retired":      func(p *pit) Command { return PlaceRetire{Place: p.arena} },
		"renamed":      func(p *pit) Command { return change(p, "far corner", PlaceArena) },
		"another kind": func(p *pit) Command { return change(p, p.s.Places[p.arena].Name, PlaceBench) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.gus), EmergencyRaise{Place: p.arena, What: "smoke"})
			bad := p.refused(p.as(p.ada), c(p), 20)
			sentenceHas(t, bad, p.s.Places[p.arena].Name)
			sentenceHas(t, bad, "Ada or Dee")
			p.ok(p.as(p.dee), EmergencyEnd{Emergency: p.onlyEmergency(), How: "it was dust"})
			p.ok(p.as(p.ada), c(p))
		})
	}
	t.Run("one elsewhere", func(t *testing.T) {
		p := newPit(t)
		p.ok(p.as(p.gus), EmergencyRaise{Place: p.bench, What: "smoke"})
		p.ok(p.as(p.ada), change(p, "far corner", PlaceArena))
		p.ok(p.as(p.ada), PlaceRetire{Place: p.arena})
	})
	t.Run("an undo", func(t *testing.T) {
		p := newPit(t)
		added := p.captain(PlaceAdd{PlaceFields{Name: "second box", Kind: PlaceTestBox}})
		second := PlaceID(p.made(added))
		p.ok(p.as(p.gus), EmergencyRaise{Place: second, What: "smoke"})
		p.refused(p.as(p.ada), Undo{Command: added.Done.ID}, 20)
	})
}

func TestAPlaceEnteredAgainIsTheSame(t *testing.T) {
	p := newPit(t)
	f := p.s.Places[p.arena].PlaceFields
	p.captain(PlaceRetire{Place: p.arena})
	far := f
	far.Name = "far corner"
	bad := p.refused(p.as(p.ada), PlaceChange{Place: p.arena, PlaceFields: far}, 0)
	sentenceHas(t, bad, f.Name)
	p.ok(p.as(p.gus), EmergencyRaise{Place: p.arena, What: "smoke"})
	places := len(p.s.Places)
	p.captain(PlaceAdd{f})
	require.Len(t, p.s.Places, places)
	require.False(t, p.s.Places[p.arena].Retired)
	p.open()
	p.ready()
	p.refused(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena}, 20)
	p.captain(PlaceAdd{far})
	require.Len(t, p.s.Places, places+1)
}

func TestRule16ARetiredPlaceGivesNoPower(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.captain(PlaceRetire{Place: p.box})
	p.refused(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, 16)
	p.captain(PlaceAdd{PlaceFields{Name: "test box", Kind: PlaceTestBox}})
	p.ok(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5})
}

func TestRule5ALiveRobotsDriverIsNoMinorWhereThatIsNotEntered(t *testing.T) {
	driver := func(p *pit, who PersonID) Command { return p.with(func(f *RobotFields) { f.Driver = who }) }
	minor := func(p *pit) Command {
		return PersonChange{Person: p.ben, PersonFields: PersonFields{Name: "Ben", Role: RoleCrew, Minor: true}}
	}
	lets := func(p *pit, yes bool) Command {
		f := p.settings()
		f.MinorsDrive = yes
		return EventSet{EventFields: f, Reason: "the officials said so"}
	}
	for name, c := range map[string]struct {
		lets bool
		do   func(p *pit) Command
	}{
		"another driver":              {false, func(p *pit) Command { return driver(p, p.kit) }},
		"the driver entered as minor": {false, minor},
		"the event lets no minor any more": {true, func(p *pit) Command {
			p.captain(minor(p))
			return lets(p, false)
		}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.captain(driver(p, p.ben))
			p.captain(lets(p, c.lets))
			p.open()
			p.ready()
			p.ok(p.as(p.ben), RobotLive{Robot: p.moth, Place: p.arena})
			change := c.do(p)
			bad := p.refused(p.as(p.ada), change, 5)
			sentenceHas(t, bad, "Tin Moth")
			p.ok(p.as(p.ben), RobotDoubt{Robot: p.moth, Why: "back from the arena"})
			p.ok(p.as(p.ada), change)
		})
	}
	t.Run("where the event lets them", func(t *testing.T) {
		p := newPit(t)
		p.captain(driver(p, p.ben))
		p.captain(lets(p, true))
		p.open()
		p.ready()
		p.ok(p.as(p.ben), RobotLive{Robot: p.moth, Place: p.arena})
		p.captain(driver(p, p.kit))
	})
}

func TestRule5NobodyHasANameThatIsNobodys(t *testing.T) {
	p := newPit(t)
	for _, name := range []string{
		"Blue team", "Red team", "Team Blue", "pit phone", "phone 1", "Phones", "tablet", "The laptop", "Ben's phone", "guest", "Guest 2", "captain", "the captain",
		"Event safety", "driver", ".", "-", "12", "#3", "pit 3", "blue-crew", "Everyone here", "user 1",
		"Ann and Bea", "Ann & Bea", "Ann/Bea", "Ann + Bea", "Ann \uFF06 Bea", "Ben or Kit", "Ben, Kit", "Ann, Bea and Kit", "Both", "the two of us", "Tin Moth", "tin moth",
	} {
		_, bad := p.try(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: name, Role: RoleCrew}})
		require.NotNil(t, bad, name)
		require.Equal(t, 5, bad.Rule, name)
		require.Equal(t, "name", bad.Field)
		_, bad = p.try(Itself(), PersonClaim{Person: "0196b1f0-0000-7000-8000-000000000001", Name: name, Role: RoleCrew})
		require.NotNil(t, bad, name)
		p.refused(p.as(p.ada), PersonChange{Person: p.nia, PersonFields: PersonFields{Name: name, Role: RoleCrew}}, 5)
	}
	for _, name := range []string{"Petra Pitt", "Teamus", "Captain Sedge", "Pit Janse", "Ann Guest", "Zoë", "家", "O", "Tabletta", "Stu Allwe", "Guest Ann",
		"Ann Bothe", "Andy Orr", "Tal Or Levi", "Anders And", "Ben Or Levi", "Mothy", "Ortega, Ann", "Lo +1"} {
		p.person(PersonFields{Name: name, Role: RoleCrew})
	}
}

func TestRule3HandsThatComeNearWhileOneAloneIsInMakeTheRobotUnknown(t *testing.T) {
	in := func(t *testing.T) *pit {
		p := newPit(t)
		p.energies(Energy{Kind: EnergyDrive, Isolator: "inner plug", Reach: Inside}, Energy{Kind: EnergyGas, Isolator: "bleed screw", Reach: Inside})
		p.makeSafe()
		p.ok(p.as(p.ben), TagOn{Robot: p.moth})
		require.Equal(t, Work, p.state())
		return p
	}
	for _, name := range []string{"Gus", "Kit", "Dee"} {
		t.Run(name, func(t *testing.T) {
			p := in(t)
			who := map[string]PersonID{"Gus": p.gus, "Kit": p.kit, "Dee": p.dee}[name]
			p.ok(p.as(who), HandsOn{Robot: p.moth})
			require.Equal(t, Unknown, p.state())
			require.True(t, p.power().Conflict)
			require.Contains(t, p.power().Why, name)
		})
	}
	t.Run("a late tag of someone without authority", func(t *testing.T) {
		p := in(t)
		p.now += 10 * minute
		require.Nil(t, p.lateAt(p.as(p.kit), TagOn{Robot: p.moth}, 5*minute))
		require.Equal(t, Unknown, p.state())
		require.True(t, p.power().Conflict)
	})
	t.Run("a tag beside someone's hands", func(t *testing.T) {
		p := newPit(t)
		p.makeSafe()
		p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
		sentenceHas(t, p.refused(p.as(p.ben), TagOn{Robot: p.moth}, 3), "Gus")
		p.handsOff(p.moth, p.gus)
		p.ok(p.as(p.ben), TagOn{Robot: p.moth})
	})
	t.Run("their own, and others' once it is answered", func(t *testing.T) {
		p := in(t)
		p.ok(p.as(p.ben), HandsOn{Robot: p.moth})
		require.Equal(t, Work, p.state())
		p.walk(p.as(p.ben), ListFirstIn)
		p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
		require.Equal(t, Work, p.state())
	})
}

func TestAGaugeThatReadsWhatItMustNotIsHeardWhileTheRobotRestsOnIt(t *testing.T) {
	reads := func(p *pit, bar float64) SheetAnswer {
		a := p.said(ListMakeSafe, "gas-2", SaidDone)
		a.Number = &bar
		return a
	}
	gas := func(t *testing.T) *pit {
		p := newPit(t)
		p.energies(Energy{Kind: EnergyDrive, Isolator: "link", Reach: Outside}, Energy{Kind: EnergyGas, Isolator: "bleed screw", Reach: Outside})
		return p
	}
	t.Run("with hands on", func(t *testing.T) {
		p := gas(t)
		p.open()
		p.refused(p.as(p.ben), reads(p, -1), 0)
		require.Equal(t, Work, p.state())
		p.ok(p.as(p.ben), reads(p, 0))
		require.Equal(t, Work, p.state())
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		p.ok(p.as(p.ben), reads(p, 3))
		require.Equal(t, Unknown, p.state())
		require.True(t, p.power().Conflict)
		require.Contains(t, p.power().Why, "3 bar")
		answers := p.s.Sheets[sheet.ID].Answers
		last := answers[len(answers)-1]
		require.Equal(t, SaidNo, last.Said)
		require.Equal(t, 3.0, last.Number)
	})
	t.Run("before anything rests on it", func(t *testing.T) {
		p := gas(t)
		for p.state() != PoweredDown {
			p.answer(p.as(p.ben), ListMakeSafe)
		}
		sentenceHas(t, p.refused(p.as(p.ben), reads(p, 3), 0), "Bleed")
		p.ok(p.as(p.ben), reads(p, 0))
	})
}

func TestRule6WhoPutHandsOnSecondsAgoIsNotGone(t *testing.T) {
	p := newPit(t)
	o := p.answers()
	p.ok(p.as(p.gus), HandsOn{Robot: p.moth})
	near, _ := p.s.HandsOf(p.moth, p.gus)
	two := p.as(p.ada)
	two.Proved = []PersonID{p.dee}
	o.CalledAt = p.now
	o.CheckedBy, o.Asked = p.ben, true
	c := HandsOverride{Hands: near.ID, Second: p.dee, Override: o}
	p.now += 2000
	bad := p.refused(two, c, 6)
	sentenceHas(t, bad, "Gus")
	sentenceHas(t, bad, "minute")
	p.now += minute
	p.ok(two, c)
}

func TestRule8ARobotEnteredAgainWithLessTakesAReason(t *testing.T) {
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	p.captain(RobotRetire{Robot: p.moth})
	less := f
	less.Energies = f.Energies[:1]
	require.Equal(t, "reason", p.refused(p.as(p.ada), RobotAdd{RobotFields: less}, 8).Field)
	p.ok(p.as(p.ada), RobotAdd{RobotFields: less, Reason: "the rotor stays at home"})
	require.Equal(t, "the rotor stays at home", p.s.Robots[p.moth].Loosened[0].Reason)
	p.captain(RobotRetire{Robot: p.moth})
	p.ok(p.as(p.ada), RobotAdd{RobotFields: f})
}

func TestRule11FewerPacksThanARobotTookTakeAReason(t *testing.T) {
	for name, set := range map[string]func(f *RobotFields, n int){
		"main":   func(f *RobotFields, n int) { f.MainPacks = n },
		"weapon": func(f *RobotFields, n int) { f.WeaponPacks = n },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.captain(p.with(func(f *RobotFields) { set(f, 2) }))
			one := p.with(func(f *RobotFields) { set(f, 1) })
			require.Equal(t, "reason", p.refused(p.as(p.ada), one, 11).Field)
			one.Reason = "the second bay is empty now"
			p.ok(p.as(p.ada), one)
			require.Len(t, p.s.Robots[p.moth].Loosened, 1)
			p.captain(p.with(func(f *RobotFields) { set(f, 2) }))
			require.NotZero(t, p.s.Robots[p.moth].Loosened[0].Until)
		})
	}
}

func TestRule4LockAndLinkAreTheWordOfThoseWithAuthority(t *testing.T) {
	at := func(t *testing.T, list SheetList, line string) (*pit, PersonID, SheetAnswer) {
		p := newPit(t)
		eve := p.person(PersonFields{Name: "Eve", Role: RoleCrew})
		p.captain(p.with(func(f *RobotFields) { f.Lead = eve }))
		p.closedUp()
		return p, eve, p.said(list, line, SaidDone)
	}
	for line, list := range map[string]SheetList{"strap": ListReady, "lock": ListCloseUp, "link-1": ListCloseUp} {
		t.Run(line, func(t *testing.T) {
			p, eve, c := at(t, list, line)
			bad := p.refused(p.as(eve), c, 4)
			sentenceHas(t, bad, "Eve")
			p.ok(p.as(p.ben), c)
		})
	}
	t.Run("what holds nothing still", func(t *testing.T) {
		p, eve, _ := at(t, ListReady, "strap")
		p.ok(p.as(eve), p.said(ListCloseUp, "tools", SaidDone))
	})
	t.Run("that it is out", func(t *testing.T) {
		p, eve, _ := at(t, ListReady, "strap")
		p.ok(p.as(eve), RobotDoubt{Robot: p.moth, Why: "the lock is out"})
		require.Equal(t, Unknown, p.state())
	})
}

func TestRule5PowerTakesAuthorityForItsEnergies(t *testing.T) {
	p := newPit(t)
	eve := p.person(PersonFields{Name: "Eve", Role: RoleCrew})
	p.captain(p.with(func(f *RobotFields) { f.Lead, f.Driver = eve, eve }))
	p.closedUp()
	test := RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}
	bad := p.refused(p.as(eve), test, 5)
	sentenceHas(t, bad, "Eve")
	f := p.s.People[eve].PersonFields
	f.Authorised = []EnergyKind{EnergyWeapon, EnergyDrive, EnergySpin}
	p.captain(PersonChange{Person: eve, PersonFields: f})
	p.ok(p.as(eve), test)
}

func TestRule4ASecondVerifierIsNamedOrTheWayToOne(t *testing.T) {
	isolated := func(t *testing.T, turns ...func(p *pit) PersonID) *pit {
		p := newPit(t)
		p.captain(p.with(func(f *RobotFields) { f.SecondVerifier = true }))
		for i := 0; p.state() != Isolated; i++ {
			p.answer(p.as(turns[i%len(turns)](p)), ListMakeSafe)
		}
		return p
	}
	ben := func(p *pit) PersonID { return p.ben }
	dee := func(p *pit) PersonID { return p.dee }
	without := func(p *pit, who PersonID) {
		f := p.s.People[who].PersonFields
		f.Authorised = nil
		p.captain(PersonChange{Person: who, PersonFields: f})
	}
	t.Run("others may", func(t *testing.T) {
		p := isolated(t, ben)
		sentenceHas(t, p.refused(p.as(p.ben), p.said(ListMakeSafe, "try", SaidDone), 4), "Ask Ada or Dee.")
		p.ok(p.as(p.dee), p.said(ListMakeSafe, "try", SaidDone))
	})
	t.Run("both have isolated, and nobody else may", func(t *testing.T) {
		p := isolated(t, ben, dee)
		without(p, p.ada)
		last, other := p.power().IsolatedBy, p.ben
		if last == p.ben {
			other = p.dee
		}
		for _, who := range []PersonID{p.ben, p.dee} {
			sentenceHas(t, p.refused(p.as(who), p.said(ListMakeSafe, "try", SaidDone), 4), p.s.People[last].Name+" answers again")
		}
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		for _, l := range sheet.Lines {
			if a, ok := sheet.Answered(l.ID); ok && a.By == other {
				p.ok(p.as(last), p.said(ListMakeSafe, l.ID, SaidDone))
			}
		}
		p.ok(p.as(other), p.said(ListMakeSafe, "try", SaidDone))
	})
	t.Run("both have isolated some of it, and not all is isolated yet", func(t *testing.T) {
		p := newPit(t)
		p.captain(p.with(func(f *RobotFields) { f.SecondVerifier = true }))
		without(p, p.ada)
		p.answer(p.as(p.ben), ListMakeSafe)
		p.answer(p.as(p.dee), ListMakeSafe)
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		try := sheet.Lines[slices.IndexFunc(sheet.Lines, func(l Line) bool { return l.ID == "try" })]
		sentenceHas(t, p.s.MayEverAnswer(p.as(p.ben), p.s.People[p.ben], sheet, try), "isolated some of it: the captain gives authority to someone else")
	})
	t.Run("one alone has authority", func(t *testing.T) {
		p := isolated(t, ben)
		without(p, p.ada)
		without(p, p.dee)
		sentenceHas(t, p.refused(p.as(p.ben), p.said(ListMakeSafe, "try", SaidDone), 4), "the captain gives it")
	})
}
