package board_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about packs that are where the board has them not.

func TestRule3APackThatTurnsUpInAVerifiedRobotMakesItUnknown(t *testing.T) {
	at := map[string]func(p *pit){
		"powered down": func(p *pit) { p.walkUntil(ListMakeSafe, "spinning-mass-3") },
		"isolated":     func(p *pit) { p.walkUntil(ListMakeSafe, "try") },
		"verified":     func(p *pit) { p.makeSafe() },
		"work":         func(p *pit) { p.open() },
	}
	says := map[string]func(p *pit) (Change, *Refusal){
		"fitted": func(p *pit) (Change, *Refusal) { return p.try(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth}) },
		"found by a guest": func(p *pit) (Change, *Refusal) {
			return p.try(p.as(p.gus), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
		},
		"said late": func(p *pit) (Change, *Refusal) {
			return Change{}, p.lateAt(p.as(p.kit), PackMove{Pack: p.p2, Robot: p.moth}, 5*minute)
		},
	}
	for where, walk := range at {
		for how, say := range says {
			t.Run(where+", "+how, func(t *testing.T) {
				p := newPit(t)
				p.now += 10 * minute
				p.read(p.p2)
				walk(p)
				_, bad := say(p)
				require.Nil(t, bad)
				require.Equal(t, Unknown, p.state())
				require.Equal(t, where == "work", p.power().Conflict, "it is an alarm about people where hands are on it")
				require.Contains(t, p.power().Why, "pack P2")
				_, looked := p.s.Sheets[p.sheet(ListMakeSafe)].Answered("look-" + string(p.p2))
				require.False(t, looked)
			})
		}
	}
	p := newPit(t)
	p.open()
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.shelf})
	p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.bench})
	require.Equal(t, Work, p.state(), "packs beside it change nothing")
}

func TestRule13APackThatWasSetAsideAndIsFoundInARobotIsHeardOf(t *testing.T) {
	for _, aside := range []PackState{PackSuspect, PackQuarantined, PackGone} {
		for name, walk := range map[string]func(p *pit){
			"unknown": func(*pit) {}, "verified": (*pit).makeSafe, "closing up": (*pit).closedUp, "ready": func(p *pit) { p.open(); p.ready() },
			"test": func(p *pit) { p.closedUp(); p.tests() },
		} {
			t.Run(string(aside)+", "+name, func(t *testing.T) {
				p := newPit(t)
				p9 := p.pack("P9")
				p.ok(p.as(p.ben), PackMove{Pack: p9, Place: p.watch})
				walk(p)
				p.ok(p.as(p.ben), PackSet{Pack: p9, State: aside})
				p.refused(p.as(p.ben), PackMove{Pack: p9, Robot: p.moth}, 13)
				p.ok(p.as(p.gus), PackMove{Pack: p9, Robot: p.moth, Found: true})
				require.Equal(t, aside, p.s.Packs[p9].State, "it is not for use any more")
				require.Equal(t, p.moth, p.s.Packs[p9].Robot)
				require.Equal(t, Unknown, p.state())
				require.True(t, p.power().Conflict, "an alarm about people")
				p.ok(p.as(p.dee), PackMove{Pack: p9, Place: p.watch})
				require.Empty(t, p.s.Packs[p9].Robot)
			})
		}
	}
	p := newPit(t)
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect})
	require.Nil(t, p.lateAt(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth}, 5*minute), "what was seen and comes late is heard too")
}

func TestRule3NoPowerOnAPackThatTheClosingUpDoesNotName(t *testing.T) {
	test := func(p *pit) RobotTest { return RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5} }
	for name, c := range map[string]struct {
		then  func(p *pit)
		names []string
	}{
		"another found beside it": {func(p *pit) { p.ok(p.as(p.gus), PackMove{Pack: p.p1, Robot: p.moth, Found: true}) }, []string{"pack P1 is in it", "the closing-up says P2"}},
		"another in its place": {func(p *pit) {
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Robot: p.moth})
		}, []string{"pack P1 is in it", "the closing-up says P2"}},
		"out, and in again": {func(p *pit) {
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth})
		}, []string{"pack P2"}},
		"nothing":              {func(*pit) {}, nil},
		"the same, said again": {func(p *pit) { p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth}) }, nil},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.closedUp()
			p.read(p.p1)
			p.now += minute
			c.then(p)
			if c.names == nil {
				p.ok(p.as(p.ada), test(p))
				return
			}
			bad := p.refused(p.as(p.ada), test(p), 3)
			for _, words := range c.names {
				sentenceHas(t, bad, words)
			}
			for _, in := range []PackID{p.p1, p.p2} {
				if p.s.Packs[in].Robot == p.moth {
					p.strapped(in)
				}
			}
			p.ok(p.as(p.ada), test(p))
		})
	}
}

func TestRule3NoPowerOnAPackThatIsNotListedForTheRobot(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	f := p.s.Packs[p.p2].PackFields
	listed := f.Fits
	f.Fits = nil
	p.captain(PackChange{Pack: p.p2, PackFields: f})
	sentenceHas(t, p.refused(p.as(p.ada), RobotTest{Robot: p.moth, What: "drive", Place: p.box, Minutes: 5}, 11), "P2 is not listed for Tin Moth")
	f.Fits = listed
	p.captain(PackChange{Pack: p.p2, PackFields: f})
	p.tests()
}

func TestRule14APackThatIsSetAsideOnAChargerStaysThereUntilSomeoneSaysWhereItIs(t *testing.T) {
	for name, aside := range map[string]func(p *pit){
		"by its look":  func(p *pit) { p.ok(p.as(p.gus), PackRead{Pack: p.p2, Look: LookSmokes}) },
		"by its cells": func(p *pit) { p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(2.5)}) },
		"by someone":   func(p *pit) { p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackQuarantined}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.onCharge(p.p2, p.ben)
			aside(p)
			require.Equal(t, p.cast.A1, p.s.Packs[p.p2].Channel)
			require.Equal(t, p.shelf, p.s.Packs[p.p2].Place)
			p3 := p.pack("P3")
			p.ok(p.as(p.ben), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
			charge := PackCharge{Pack: p3, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
			_, bad := p.try(p.as(p.ben), charge)
			require.NotNil(t, bad)
			sentenceHas(t, bad, "P2")
			p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackQuarantined})
			require.Equal(t, p.cast.A1, p.s.Packs[p.p2].Channel, "nobody has said where it went")
			p.ok(p.as(p.dee), PackMove{Pack: p.p2, Place: p.watch})
			require.Empty(t, p.s.Packs[p.p2].Channel)
			p.ok(p.as(p.ben), charge)
		})
	}
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect})
	p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackGone})
	require.Empty(t, p.s.Packs[p.p2].Channel)
}

func TestRule14NoChargeIsBegunBesideAPackThatMayVentOnItsCharger(t *testing.T) {
	p := newPit(t)
	f := p.s.Channels[p.cast.A1].ChannelFields
	f.Name = "A2"
	a2 := ChannelID(p.made(p.captain(ChannelAdd{f})))
	p3 := p.pack("P3")
	p.ok(p.as(p.nia), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
	charge := PackCharge{Pack: p3, Channel: a2, Attendant: p.nia, Cells: 4, Amps: 0.6, Contained: true}
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(2.5)})
	p.ok(p.as(p.nia), charge)
	p.ok(p.as(p.nia), PackOff{Pack: p3})
	p.ok(p.as(p.nia), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
	p.ok(p.as(p.gus), PackRead{Pack: p.p2, Look: LookSmells})
	sentenceHas(t, p.refused(p.as(p.nia), charge, 14), "P2")
	p.ok(p.as(p.dee), PackMove{Pack: p.p2, Place: p.watch})
	p.ok(p.as(p.nia), charge)
}

func TestRule13ThatASetAsidePackIsGoneIsForThoseWhoAnswerForIt(t *testing.T) {
	for _, aside := range []PackState{PackSuspect, PackQuarantined} {
		p := newPit(t)
		p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: aside})
		p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
		for _, who := range []PersonID{p.gus, p.kit, p.ben} {
			sentenceHas(t, p.refused(p.as(who), PackSet{Pack: p.p2, State: PackGone}, 13), "P2")
		}
		p.ok(p.as(p.dee), PackSet{Pack: p.p2, State: PackGone})
	}
	p := newPit(t)
	f := p.s.Robots[p.moth].RobotFields
	f.Lead = p.ben
	p.captain(RobotChange{Robot: p.moth, RobotFields: f})
	p.ok(p.as(p.gus), PackSet{Pack: p.p2, State: PackSuspect})
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackGone})
}

func TestRule13NoPackTakesTheNameOfOneThatWasSetAsideOrIsOffTheBoard(t *testing.T) {
	for name, off := range map[string]func(p *pit, id PackID){
		"suspect": func(p *pit, id PackID) { p.ok(p.as(p.ben), PackSet{Pack: id, State: PackSuspect}) },
		"gone":    func(p *pit, id PackID) { p.ok(p.as(p.ada), PackSet{Pack: id, State: PackGone}) },
		"gone and off the board": func(p *pit, id PackID) {
			p.ok(p.as(p.ada), PackSet{Pack: id, State: PackGone})
			p.captain(PackRetire{Pack: id})
		},
		"off the board": func(p *pit, id PackID) { p.captain(PackRetire{Pack: id}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			off(p, p.pack("P9"))
			f := p.s.Packs[p.p2].PackFields
			f.Name = "p9"
			p.refused(p.as(p.ada), PackChange{Pack: p.p2, PackFields: f}, 13)
			f.Name = "P10"
			p.captain(PackChange{Pack: p.p2, PackFields: f})
		})
	}
}

func TestRule18ACircuitThatWasOffAndAChannelThatWasTakenAwayStaySoAfterARestore(t *testing.T) {
	for name, off := range map[string]func(p *pit){
		"off":             func(p *pit) { p.ok(p.as(p.ben), CircuitOff{Circuit: p.cast.Wall}) },
		"channel retired": func(p *pit) { p.captain(ChannelRetire{Channel: p.cast.A1}) },
		"circuit retired": func(p *pit) { p.captain(CircuitRetire{Circuit: p.cast.Wall}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p3 := p.pack("P3")
			p.onCharge(p3, p.nia)
			backup := p.s
			p.ok(p.as(p.nia), PackOff{Pack: p3})
			off(p)
			restore := p.s.Replaced(BoardRestore{Why: "restored"})
			p.s = backup
			p.ok(Itself(), restore)
			if name == "off" {
				require.True(t, p.s.Packs[p3].Unsure, "nobody knows what became of the charge")
				p.ok(p.as(p.ben), PackOff{Pack: p3})
			}
			require.Equal(t, PackUnread, p.s.Packs[p3].State)
			p.ok(p.as(p.ben), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
			_, bad := p.try(p.as(p.ben), PackCharge{Pack: p3, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
			require.NotNil(t, bad)
			require.Len(t, p.s.Notes, 1, "and the captain reads it")
			if name == "off" {
				p.ok(p.as(p.ada), CircuitOn{Circuit: p.cast.Wall, SaidBy: "the hall"})
				p.ok(p.as(p.ben), PackCharge{Pack: p3, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
			}
		})
	}
}

func TestRule23NothingThatHasANameIsCalledSafe(t *testing.T) {
	p := newPit(t)
	robot := p.s.Robots[p.moth].RobotFields
	robot.Name, robot.Number = "All Clear", 7
	isolator := p.s.Robots[p.moth].RobotFields
	isolator.Energies = slices.Clone(isolator.Energies)
	isolator.Energies[2].Isolator = "rotor, safe"
	person := p.s.People[p.gus].PersonFields
	person.Name = "Gus, safe"
	circuit := p.s.Circuits[p.cast.Wall].CircuitFields
	circuit.Name = "safe"
	channel := p.s.Channels[p.cast.A1].ChannelFields
	channel.Charger = "the safe one"
	setup := p.s.Setups[p.cast.Wedge].SetupFields
	setup.Name = "all ok"
	for name, c := range map[string]Command{
		"robot": RobotAdd{RobotFields: robot}, "isolator": RobotChange{Robot: p.moth, RobotFields: isolator}, "person": PersonChange{Person: p.gus, PersonFields: person},
		"circuit": CircuitChange{Circuit: p.cast.Wall, CircuitFields: circuit}, "channel": ChannelChange{Channel: p.cast.A1, ChannelFields: channel},
		"setup": SetupChange{Setup: p.cast.Wedge, SetupFields: setup},
		"job":   JobAdd{JobFields: JobFields{Robot: p.moth, Name: "weapon safe", Triage: Must, Fixes: []Fix{swapBlade(p.blade)}}},
	} {
		_, bad := p.try(p.as(p.ada), c)
		require.NotNil(t, bad, name)
		require.Equal(t, 23, bad.Rule, "%s: %s", name, bad.Sentence)
	}
	robot.Name = "Failsafe Fred"
	p.captain(RobotAdd{RobotFields: robot})
}

func TestAnAlarmIsTakenOnceItStands(t *testing.T) {
	p := newPit(t)
	for _, id := range []AlarmID{AlarmID("A-pack-" + p.p2), AlarmID("A-conflict-" + p.moth), "A-emergency-1"} {
		p.refusedAs(p.as(p.ben), AlarmTake{Alarm: id}, CodeNothingToDo)
	}
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.bench})
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect})
	p.ok(p.as(p.ben), AlarmTake{Alarm: AlarmID("A-pack-" + p.p2)})
	p.ok(p.as(p.gus), EmergencyRaise{Robot: p.moth})
	p.ok(p.as(p.ben), AlarmTake{Alarm: AlarmID("A-conflict-" + p.moth)})
}

// Nobody knows since when a pack that is found was in: the work before it was found is
// looked at again.
func TestRule9WorkBeforeAPackIsFoundInTheRobotWasBesideIt(t *testing.T) {
	for name, c := range map[string]struct {
		found bool
		owes  bool
	}{"found there": {true, true}, "put in just now": {false, false}} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.read(p.p2)
			p.open()
			job := p.job()
			p.ok(p.as(p.ben), JobStart{Job: job})
			p.now += 3 * minute
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth, Found: c.found})
			p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.shelf})
			p.ok(p.as(p.ben), JobFinish{Job: job})
			_, bad := p.tagOff(p.as(p.ben), p.ben)
			require.Nil(t, bad)
			p.open()
			if !c.owes {
				require.Equal(t, JobClosed, p.jobState(job))
				return
			}
			require.Equal(t, JobFinished, p.jobState(job), "a look is owed")
			p.ok(p.as(p.ada), JobReinspect{Job: job})
			require.Equal(t, JobClosed, p.jobState(job))
		})
	}
}
