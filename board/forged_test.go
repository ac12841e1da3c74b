package board_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
	"mendline/board/boardtest"
)

// forgery is a change that goes past every command: the rule of its number alone
// stands in its way, and the invariant of the same number, which shares no code
// with the rule, tells that it is wrong.
type forgery struct {
	rule  int
	name  string
	bring func(p *pit) // to the state it starts from
	forge func(p *pit) (Forged, Actor)
}

func (p *pit) power() Power { return p.s.Powers[p.moth] }

// moved is the robot's power in another state, with the path that leads there.
func (p *pit) moved(to PowerState, path []PowerState, change func(w *Power)) Forged {
	power := p.power()
	power.State, power.By, power.Day = to, p.ben, p.now.Day(0)
	if change != nil {
		change(&power)
	}
	return Forged{Put: []Noun{power}, Path: map[RobotID][]PowerState{p.moth: path}}
}

func (p *pit) forgedJob(state JobState, fix Fix, st Span) Job {
	if !fix.Lockout {
		fix.Where = OffRobot
	}
	return Job{
		ID: JobID(NewID(newID(p.now, 1<<40), KindJob, "forged")), Number: 9, State: state,
		JobFields: JobFields{Robot: p.moth, Name: "forged", Triage: Could, Fixes: []Fix{fix}}, Stints: []Stint{{Span: st, By: p.ben}},
	}
}

// toSign brings the robot to where only the signature is missing.
func (p *pit) toSign() {
	p.closedUp()
	for range 3 {
		p.answer(p.as(p.ben), ListReady)
	}
}

// signed is the last line of the ready sheet answered, and the robot ready.
func (p *pit) signed(by PersonID) Forged {
	f := p.moved(Ready, []PowerState{Ready}, func(w *Power) { w.ReadyBy = by })
	sheet, _ := p.s.Sheet(p.moth, ListReady)
	open, _ := sheet.OpenLine()
	sheet.Answers = append(slices.Clone(sheet.Answers), Answer{Line: open.ID, Said: SaidDone, By: by, At: p.now})
	sheet.State, sheet.EndedAt = SheetComplete, p.now
	f.Put = append(f.Put, sheet)
	return f
}

func (p *pit) tested(change func(w *Power)) Forged {
	return p.moved(Test, []PowerState{Test}, func(w *Power) {
		w.Place, w.Test = p.box, TestRun{What: "drive", Place: p.box, Until: p.now + 60_000, By: p.ada}
		if change != nil {
			change(w)
		}
	})
}

var forgeries = []forgery{
	{1, "a state that nobody declared today", (*pit).makeSafe, func(p *pit) (Forged, Actor) {
		p.now += 24 * 3600_000
		return Forged{Put: []Noun{Note{ID: "n", Text: "morning"}}}, p.as(p.ben)
	}},
	{2, "live in another place", func(p *pit) {
		p.open()
		p.ready()
		p.ok(p.as(p.ada), RobotLive{Robot: p.moth, Place: p.arena})
	}, func(p *pit) (Forged, Actor) {
		return p.moved(Live, nil, func(w *Power) { w.Place = p.box }), p.as(p.ben)
	}},
	{3, "ready from nowhere", func(*pit) {}, func(p *pit) (Forged, Actor) {
		return p.moved(PoweredDown, []PowerState{PoweredDown, Isolated, PoweredDown}, func(w *Power) { w.State = Work }), p.as(p.ben)
	}},
	{3, "ready with the sheet not answered", (*pit).toSign, func(p *pit) (Forged, Actor) {
		f := p.signed(p.dee)
		f.Put = f.Put[:1]
		return f, p.as(p.dee)
	}},
	{3, "a rotor at rest the moment the link is out", (*pit).down, func(p *pit) (Forged, Actor) {
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		sheet.Answers = append(sheet.Answers[:len(sheet.Answers):len(sheet.Answers)], Answer{Line: rotor, Said: SaidDone, By: p.ben, At: p.now + hour})
		return Forged{Put: []Noun{sheet}}, p.as(p.ben)
	}},
	{3, "a test of a robot that is not closed up", func(p *pit) {
		p.open()
		p.walk(p.as(p.ben), ListInspect)
		p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	}, func(p *pit) (Forged, Actor) {
		return p.tested(nil), p.as(p.ada)
	}},
	{4, "verified by a minor", func(p *pit) {
		for p.state() != Isolated {
			p.answer(p.as(p.ben), ListMakeSafe)
		}
	}, func(p *pit) (Forged, Actor) {
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		sheet.Answers = append(slices.Clone(sheet.Answers), Answer{Line: "try", Said: SaidDone, By: p.kit, At: p.now})
		return Forged{Put: []Noun{sheet}}, p.as(p.kit)
	}},
	{5, "a minor who is none any more, and nobody said why", func(*pit) {}, func(p *pit) (Forged, Actor) {
		kit := p.s.People[p.kit]
		kit.Minor = false
		return Forged{Put: []Noun{kit}}, p.as(p.ada)
	}},
	{12, "signed by crew who is no signer", (*pit).toSign, func(p *pit) (Forged, Actor) {
		pam := p.person(PersonFields{Name: "Pam", Role: RoleCrew, Authorised: p.s.People[p.ben].Authorised})
		return p.signed(pam), p.as(pam)
	}},
	{21, "a fight that never was, by crew", func(p *pit) {
		p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.arena})
	}, func(p *pit) (Forged, Actor) {
		power := p.power()
		power.FoughtAt = 0
		return Forged{Put: []Noun{power}}, p.as(p.ben)
	}},
	{5, "a test by crew with no authority", (*pit).closedUp, func(p *pit) (Forged, Actor) {
		return p.tested(nil), p.as(p.person(PersonFields{Name: "Pam", Role: RoleCrew}))
	}},
	{4, "a lock in by crew with no authority", func(*pit) {}, func(p *pit) (Forged, Actor) {
		pam := p.person(PersonFields{Name: "Pam", Role: RoleCrew})
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		sheet.Answers = []Answer{{Line: "lock", Said: SaidDone, By: pam, At: p.now}}
		return Forged{Put: []Noun{sheet}}, p.as(pam)
	}},
	{13, "gone, by crew", func(p *pit) { p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect}) }, func(p *pit) (Forged, Actor) {
		k := p.s.Packs[p.p2]
		k.State = PackGone
		return Forged{Put: []Noun{k}}, p.as(p.ben)
	}},
	{13, "a name of one that is gone", func(p *pit) {
		id := p.pack("P9")
		p.ok(p.as(p.ada), PackSet{Pack: id, State: PackGone})
		p.captain(PackRetire{Pack: id})
	}, func(p *pit) (Forged, Actor) {
		k := p.s.Packs[p.p2]
		k.Name = "P9"
		return Forged{Put: []Noun{k}}, p.as(p.ada)
	}},
	{3, "a test on a pack that nobody named", func(p *pit) { p.closedUp(); p.ok(p.as(p.gus), PackMove{Pack: p.p1, Robot: p.moth, Found: true}) }, func(p *pit) (Forged, Actor) {
		return p.tested(nil), p.as(p.ada)
	}},
	{5, "a tag in another's name", (*pit).makeSafe, func(p *pit) (Forged, Actor) {
		return Forged{Put: []Noun{Tag{ID: "t", Robot: p.moth, Person: p.dee, At: p.now}}}, p.as(p.ben)
	}},
	{5, "a tag from before a new PIN taken off with it", func(p *pit) {
		p.open()
		p.ok(Itself(), PersonForget{Person: p.ben, By: p.ada})
	}, func(p *pit) (Forged, Actor) {
		return Forged{Del: []Key{KeyOf(KindTag, p.tagOf(p.ben))}}, p.as(p.ben)
	}},
	{5, "a robot declared live by a minor", func(p *pit) { p.open(); p.ready() }, func(p *pit) (Forged, Actor) {
		return p.moved(Live, []PowerState{Live}, func(w *Power) { w.Place = p.arena }), p.as(p.kit)
	}},
	{5, "a guest made a lead", func(*pit) {}, func(p *pit) (Forged, Actor) {
		r := p.s.Robots[p.moth]
		r.Lead = p.gus
		return Forged{Put: []Noun{r}}, p.as(p.ada)
	}},
	{6, "an override by one", (*pit).open, func(p *pit) (Forged, Actor) {
		return Forged{
			Put: []Noun{Notice{ID: "n", Person: p.ben, Robot: p.moth, Override: p.answers(), By: p.ada, Second: p.dee, At: p.now}},
			Del: []Key{KeyOf(KindTag, p.tagOf(p.ben))},
		}, p.as(p.ada)
	}},
	{7, "signed with hands near", func(p *pit) { p.toSign(); p.ok(p.as(p.kit), HandsOn{Robot: p.moth}) }, func(p *pit) (Forged, Actor) {
		return p.signed(p.dee), p.as(p.dee)
	}},
	{7, "a test while someone is on a job at the robot", func(p *pit) { p.closedUp(); p.ok(p.as(p.kit), JobStart{Job: p.loose(AtRobot)}) }, func(p *pit) (Forged, Actor) {
		return p.tested(nil), p.as(p.ada)
	}},
	{7, "told by oneself", func(p *pit) { p.makeSafe(); p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth}) }, func(p *pit) (Forged, Actor) {
		sheet, _ := p.s.Sheet(p.moth, ListCloseUp)
		sheet.Answers = append(slices.Clone(sheet.Answers), Answer{Line: "told", Said: SaidDone, Told: p.ben, By: p.ben, At: p.now})
		return Forged{Put: []Noun{sheet}}, p.as(p.ben)
	}},
	{8, "closed, worked on while unknown", func(p *pit) {
		p.makeSafe()
		p.ok(p.as(p.ben), TagOn{Robot: p.moth})
		p.walk(p.as(p.ben), ListFirstIn)
	}, func(p *pit) (Forged, Actor) {
		return Forged{Put: []Noun{p.forgedJob(JobClosed, Fix{Lockout: true}, Span{From: morning, To: morning + 2000})}}, p.as(p.ben)
	}},
	{8, "an energy taken off under a tag", (*pit).open, func(p *pit) (Forged, Actor) {
		r := p.s.Robots[p.moth]
		r.Energies = r.Energies[:1]
		r.Loosened = []Loosened{{What: "less", Reason: "none", By: p.ada, At: p.now}}
		return Forged{Put: []Noun{r}}, p.as(p.ada)
	}},
	{9, "closed, worked on with a pack in", (*pit).open, func(p *pit) (Forged, Actor) {
		return Forged{Put: []Noun{p.forgedJob(JobClosed, Fix{PackOut: true}, Span{From: morning + 20_000, To: morning + 22_000})}}, p.as(p.ben)
	}},
	{10, "closed on an unknown robot", func(*pit) {}, func(p *pit) (Forged, Actor) {
		return Forged{Put: []Noun{p.forgedJob(JobClosed, Fix{}, Span{From: morning, To: morning + 1})}}, p.as(p.ben)
	}},
	{11, "one gram read by a minor", func(*pit) {}, func(p *pit) (Forged, Actor) {
		return Forged{Put: []Noun{Fit{Robot: p.moth, Weighed: Weighing{Grams: 1, By: p.kit, At: p.now}}}, Command: RobotWeigh{}}, p.as(p.kit)
	}},
	{11, "one gram said once", func(*pit) {}, func(p *pit) (Forged, Actor) {
		return Forged{Put: []Noun{Fit{Robot: p.moth, Weighed: Weighing{Grams: 1, By: p.ben, At: p.now}}}, Command: RobotWeigh{}}, p.as(p.ben)
	}},
	{11, "signed with a must open", (*pit).toSign, func(p *pit) (Forged, Actor) {
		f, j := p.signed(p.dee), p.forgedJob(JobOpen, Fix{}, Span{})
		j.Triage, j.Stints = Must, nil
		f.Put = append(f.Put, j)
		return f, p.as(p.dee)
	}},
	{11, "signed on an answer that work has overtaken", (*pit).toSign, func(p *pit) (Forged, Actor) {
		f := p.signed(p.dee)
		f.Put = append(f.Put, p.forgedJob(JobDropped, Fix{Touches: []System{SysMass}}, Span{From: p.now, To: p.now + 1}))
		return f, p.as(p.dee)
	}},
	{11, "signed on a pack that nobody has read", (*pit).toSign, func(p *pit) (Forged, Actor) {
		f, k := p.signed(p.dee), p.s.Packs[p.p2]
		k.Unread, k.Reading = true, Reading{}
		f.Put = append(f.Put, k)
		return f, p.as(p.dee)
	}},
	{11, "signed with damage that has no job", (*pit).toSign, func(p *pit) (Forged, Actor) {
		f := p.signed(p.dee)
		f.Put = append(f.Put, Damage{ID: "d", Number: 1, DamageFields: DamageFields{Robot: p.moth, Part: "rail", Grade: G3}})
		return f, p.as(p.dee)
	}},
	{11, "signed with damage that nobody has accepted", (*pit).toSign, func(p *pit) (Forged, Actor) {
		f := p.signed(p.dee)
		f.Put = append(f.Put, Damage{ID: "d", Number: 1, DamageFields: DamageFields{Robot: p.moth, Part: "rail", Grade: G1}})
		return f, p.as(p.dee)
	}},
	{11, "damage graded down by the crew", func(p *pit) { p.damage(G3) }, func(p *pit) (Forged, Actor) {
		d := Sorted(p.s.Damages, func(d Damage) string { return string(d.ID) })[0]
		d.Grade = G0
		return Forged{Put: []Noun{d}}, p.as(p.ben)
	}},
	{11, "signed with a failsafe that nothing has shown", (*pit).toSign, func(p *pit) (Forged, Actor) {
		f := p.signed(p.dee)
		sheet := f.Put[1].(Sheet)
		sheet.Answers = append(sheet.Answers, Answer{Line: "failsafe", Said: SaidDone, By: p.ben, At: p.now, Standing: true})
		f.Put[1] = sheet
		return f, p.as(p.dee)
	}},
	{17, "a test with damage that can hurt", (*pit).closedUp, func(p *pit) (Forged, Actor) {
		f := p.tested(nil)
		f.Put = append(f.Put, Damage{ID: "d", Number: 1, DamageFields: DamageFields{Robot: p.moth, Part: "blade", Grade: GX}})
		return f, p.as(p.ada)
	}},
	{12, "signed by the last repairer", func(p *pit) {
		p.open()
		job := p.job()
		p.ok(p.as(p.ben), JobStart{Job: job})
		p.ok(p.as(p.ben), JobFinish{Job: job})
		p.walk(p.as(p.ben), ListInspect)
		_, _ = p.tagOff(p.as(p.ben), p.ben)
		p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
		p.walk(p.as(p.ben), ListCloseUp)
		for range 3 {
			p.answer(p.as(p.ben), ListReady)
		}
	}, func(p *pit) (Forged, Actor) {
		return p.signed(p.ben), p.as(p.ben)
	}},
	{13, "a suspect pack that waits again", func(p *pit) { p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect}) }, func(p *pit) (Forged, Actor) {
		k := p.s.Packs[p.p2]
		k.State = PackWaiting
		return Forged{Put: []Noun{k}}, p.as(p.ada)
	}},
	{14, "a charge that nobody stays with", func(*pit) {}, func(p *pit) (Forged, Actor) {
		k := p.s.Packs[p.p2]
		k.State, k.Place = PackCharging, p.shelf
		return Forged{Put: []Noun{k}}, p.as(p.ada)
	}},
	{14, "one who stays with charges at two places", func(p *pit) {
		f := p.settings()
		f.ChargingPlaces, f.AttendantMost = append(f.ChargingPlaces, p.bench), 3
		p.ok(p.as(p.ada), EventSet{EventFields: f, Reason: "two tables"})
		p.onCharge(p.p2, p.ben)
	}, func(p *pit) (Forged, Actor) {
		k := p.s.Packs[p.pack("P3")]
		k.State, k.Place, k.Attendant = PackCharging, p.bench, p.ben
		return Forged{Put: []Noun{k}}, p.as(p.ben)
	}},
	{15, "a pack beside the grinder", func(p *pit) {
		p.ok(p.as(p.ben), JobStart{Job: p.grinding(OffRobot), Station: p.cast.Grinder})
	}, func(p *pit) (Forged, Actor) {
		k := p.s.Packs[p.p2]
		k.Place = p.cast.Corner
		return Forged{Put: []Noun{k}}, p.as(p.ben)
	}},
	{16, "a test at the bench", (*pit).closedUp, func(p *pit) (Forged, Actor) {
		return p.tested(func(w *Power) { w.Place = p.bench }), p.as(p.ada)
	}},
	{17, "a test without an end", (*pit).closedUp, func(p *pit) (Forged, Actor) {
		return p.tested(func(w *Power) { w.Test.Until = 0 }), p.as(p.ada)
	}},
	{18, "a test that the board began by itself", (*pit).closedUp, func(p *pit) (Forged, Actor) {
		return p.tested(nil), Itself()
	}},
	{18, "a pack that a restart made full", func(*pit) {}, func(p *pit) (Forged, Actor) {
		k := p.s.Packs[p.p2]
		k.State = PackCharged
		return Forged{Put: []Noun{k}}, Itself()
	}},
	{19, "a tag off on an old look", (*pit).open, func(p *pit) (Forged, Actor) {
		key := KeyOf(KindTag, p.tagOf(p.ben))
		return Forged{Del: []Key{key}, Command: TagOff{Tag: p.tagOf(p.ben)}, Seen: map[Key]Rev{key: 1}}, p.as(p.ben)
	}},
	{20, "a test before the event's settings", (*pit).closedUp, func(p *pit) (Forged, Actor) {
		e := p.s.Event()
		e.EventFields, e.Entered = EventFields{Name: "Shed Meet"}, Entered{}
		f := p.tested(nil)
		f.Put = append(f.Put, e)
		return f, p.as(p.ada)
	}},
	{20, "a test where an emergency stands", func(p *pit) { p.closedUp(); p.ok(p.as(p.gus), EmergencyRaise{Place: p.box}) }, func(p *pit) (Forged, Actor) {
		return p.tested(nil), p.as(p.ada)
	}},
	{21, "an answer that is gone", (*pit).makeSafe, func(p *pit) (Forged, Actor) {
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		sheet.Answers = sheet.Answers[:len(sheet.Answers)-1]
		return Forged{Put: []Noun{sheet}}, p.as(p.ben)
	}},
	{22, "two lines at once", func(*pit) {}, func(p *pit) (Forged, Actor) {
		sheet, _ := p.s.Sheet(p.moth, ListMakeSafe)
		sheet.Answers = []Answer{{Line: "lock", Said: SaidDone, By: p.ben, At: p.now}, {Line: "link-1", Said: SaidDone, By: p.ben, At: p.now}}
		return Forged{Put: []Noun{sheet}}, p.as(p.ben)
	}},
	{23, "a bench that is called safe", func(*pit) {}, func(p *pit) (Forged, Actor) {
		place := p.s.Places[p.bench]
		place.Name = "safe corner"
		return Forged{Put: []Noun{place}}, p.as(p.ada)
	}},
	{24, "an alarm about people shelved", func(*pit) {}, func(p *pit) (Forged, Actor) {
		return Forged{Put: []Noun{Mark{ID: "A-conflict-1", ShelvedBy: p.ben, ShelvedAt: p.now, ShelvedUntil: p.now + 60_000, Reason: "loud"}}}, p.as(p.ben)
	}},
	{24, "an alarm about people taken by a guest", func(*pit) {}, func(p *pit) (Forged, Actor) {
		return Forged{Put: []Noun{Mark{ID: "A-conflict-1", TakenBy: p.gus, TakenAt: p.now}}}, p.as(p.gus)
	}},
	{25, "a fight moved, and the robot with it", (*pit).makeSafe, func(p *pit) (Forged, Actor) {
		f := p.moved(ClosingUp, []PowerState{ClosingUp}, nil)
		f.Command = FightMove{Arena: "north", Number: 2}
		return f, p.as(p.ada)
	}},
	{0, "a test of a robot that was stopped", func(p *pit) {
		p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "a crack"})
		p.closedUp()
	}, func(p *pit) (Forged, Actor) { return p.tested(nil), p.as(p.ada) }},
}

// watched is a pit with a witness who saw all of its day.
func watched(t *testing.T, bring func(p *pit)) (*pit, *boardtest.Witness) {
	p, wit := newPit(t), &boardtest.Witness{}
	wit.Look(p.s, morning)
	p.saw = func() { wit.Look(p.s, p.now) }
	bring(p)
	return p, wit
}

func TestEachRuleAloneRefusesWhatIsForged(t *testing.T) {
	for _, c := range forgeries {
		t.Run(c.name, func(t *testing.T) {
			p, _ := watched(t, c.bring)
			f, by := c.forge(p)
			_, bad := Force(p.s, f, by, p.now)
			require.NotNil(t, bad)
			require.Equal(t, c.rule, bad.Rule, bad.Sentence)
		})
	}
}

// Here only the invariants speak: what the rules let through must break none, and
// what they refuse is looked at as if they had not been there.
func TestNothingForgedThatTheRulesLetThroughBreaksAnInvariant(t *testing.T) {
	for _, c := range forgeries {
		t.Run(c.name, func(t *testing.T) {
			p, wit := watched(t, c.bring)
			f, by := c.forge(p)
			after, bad := Force(p.s, f, by, p.now)
			broken := map[int]string{}
			for _, inv := range wit.AllBroken(boardtest.Step{Before: p.s, After: after, Command: f.Command, By: by, Now: p.now, Seen: f.Seen}) {
				broken[inv.Rule] = inv.Name
			}
			if bad == nil {
				require.Empty(t, broken)
				return
			}
			require.Contains(t, broken, c.rule, "no invariant of this number sees it")
		})
	}
}
