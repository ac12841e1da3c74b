package board_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about an older backup that knows less than the board
// whose place it takes.

func TestRule18WhatTheReplacedBoardKeptFromUseIsKeptFromItStill(t *testing.T) {
	for _, twice := range []bool{false, true} {
		p := newPit(t)
		backup := p.s
		p.read(p.p2)
		p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect})
		d, _ := p.damage(GX)
		p.ok(p.as(p.dee), RobotStop{Robot: p.moth, Why: "a crack"})
		p.ok(p.as(p.gus), EmergencyRaise{Place: p.shelf, What: "smoke"})
		for range map[bool]int{false: 1, true: 2}[twice] {
			restore := p.s.Replaced(BoardRestore{Why: "restored"})
			p.s = backup
			p.ok(Itself(), restore)
			require.Subset(t, p.s.HeldBack(), restore.Held, "a second restore forgets none of it")
		}
		p.refused(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7), TempC: degrees(21)}, 13)
		p.refused(p.as(p.ben), PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}, 13)
		require.Equal(t, GX, p.s.Damages[d].Grade)
		require.NotZero(t, p.power().Stop.At)
		p.ok(p.as(p.dee), RobotGoOn{Robot: p.moth})
		free := p.pack("P3")
		p.read(free)
		charge := PackCharge{Pack: free, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
		p.ok(p.as(p.ben), PackRead{Pack: free, CellVolts: even(3.7), TempC: degrees(21)})
		p.refused(p.as(p.ben), charge, 20)
		for id := range p.s.Emergencies {
			p.ok(p.as(p.dee), EmergencyEnd{Emergency: id, How: "a kettle"})
		}
		p.ok(p.as(p.ben), charge)
	}
}

func TestDamageThatWasPutRightBeforeTheRestoreIsNotOpenAgain(t *testing.T) {
	p := newPit(t)
	backup := p.s
	p.open()
	d, _ := p.damage(GX)
	p.doJob(p.jobWith(p.as(p.ada), Must, swapBlade(p.blade), d))
	p.ok(p.as(p.dee), DamageLook{Damage: d})
	restore := p.s.Replaced(BoardRestore{Why: "restored"})
	require.Empty(t, restore.Hurts)
	p.s = backup
	p.ok(Itself(), restore)
	require.Empty(t, p.s.StandingDamage(p.moth))
}

func TestRule13APackThatTheBackupNeverKnewStaysSetAside(t *testing.T) {
	for _, taken := range []bool{false, true} {
		p := newPit(t)
		backup := p.s
		torn := p.pack("P9")
		p.ok(p.as(p.ben), PackSet{Pack: torn, State: PackSuspect})
		restore := p.s.Replaced(BoardRestore{Why: "restored"})
		p.s = backup
		if taken {
			p.now += 1000
			p.pack("p9")
		}
		p.ok(Itself(), restore)
		require.Equal(t, taken, p.s.Packs[torn].State != PackSuspect, "where the name is another's, the list says it")
		p.refused(p.as(p.ada), PackAdd{PackFields: p.s.Packs[p.p2].PackFields}, 0)
		f := p.s.Packs[p.p2].PackFields
		f.Name = "P9"
		if !taken {
			p.refused(p.as(p.ada), PackAdd{PackFields: f}, 13)
		}
	}
}

func TestARestoreListsAChargeThatTheBackupKnowsNothingOf(t *testing.T) {
	p := newPit(t)
	backup := p.s
	p.onCharge(p.p2, p.nia)
	restore := p.s.Replaced(BoardRestore{Why: "restored"})
	p.s = backup
	p.ok(Itself(), restore)
	require.Len(t, p.s.Notes, 1)
	for _, n := range p.s.Notes {
		require.Equal(t, "Before the restore: Pack P2 was charging on A1, with Nia.", n.Text)
	}
}

func TestRule18ABackupFromBeforeTheTimeWasSetIsDatedByItAsTheReplacedBoardWas(t *testing.T) {
	for _, by := range []time.Duration{-24 * time.Hour, -20 * time.Minute, 20 * time.Minute, 24 * time.Hour} {
		for _, back := range []bool{false, true} { // the backup knows of a set time that the replaced board does not
			p := newPit(t)
			p.open()
			older, then := p.s, p.now
			p.setTime(by)
			stranger := p.person(PersonFields{Name: "Zed", Role: RoleCaptain})
			p.ok(p.as(stranger), TimeSet{BySec: 1})
			p.now += 1000
			newer, at := p.s, p.now
			replaced, backup, ahead := newer, older, Moment(p.s.TimeOf().ShiftSec)*1000
			if back {
				replaced, backup, at, ahead = older, newer, then, -ahead
			}
			clock := replaced.TimeOf()
			p.now = at
			for range 2 { // the second restore finds the first unserved
				p.s = backup
				restore := replaced.Replaced(BoardRestore{Why: "restored", Last: then, Clock: &clock})
				p.ok(Itself(), restore)
				require.Equal(t, replaced.Tags[p.tagOf(p.ben)].At, p.s.Tags[p.tagOf(p.ben)].At)
				require.Equal(t, backup.Tags[p.tagOf(p.ben)].V, p.s.Tags[p.tagOf(p.ben)].V, "and the tag is no new one")
				require.Equal(t, backup.Event().Entered.SpinDown+ahead, p.s.Event().Entered.SpinDown)
				if !back {
					require.Equal(t, then+ahead, p.power().Covered[0].To, "the board was away from then on")
				}
				require.Equal(t, clock.ShiftSec, p.s.TimeOf().ShiftSec)
				require.Empty(t, p.s.TimeOf().By, "the backup does not know Zed")
				require.Equal(t, Unknown, p.state())
			}
		}
	}
}

func TestASecondRestoreDatesWhatTheFirstHeldBackOnce(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.gus), EmergencyRaise{Place: p.box})
	backup := p.s
	p.setTime(-time.Hour)
	clock := p.s.TimeOf()
	restore := backup.Replaced(BoardRestore{Why: "restored", Clock: &clock})
	require.Len(t, restore.Emergencies, 1)
	for id, e := range p.s.Emergencies {
		require.Equal(t, id, restore.Emergencies[0].ID)
		require.Equal(t, e.At, restore.Emergencies[0].At)
	}
}

func TestRule7HandsOfSomebodyWhomTheBackupDoesNotKnowKeepPowerOff(t *testing.T) {
	for name, then := range map[string]func(p *pit, ned PersonID){
		"unknown": func(*pit, PersonID) {},
		"a namesake": func(p *pit, _ PersonID) {
			p.now += 1000
			p.person(PersonFields{Name: "Ned", Role: RoleCrew, Guest: true})
		},
		"taken off": func(p *pit, _ PersonID) {
			p.now += 1000
			ned := p.person(PersonFields{Name: "Ned", Role: RoleSafety, Signer: true})
			p.captain(PersonRetire{Person: ned})
		},
		"a place's name here": func(p *pit, _ PersonID) {
			p.captain(PlaceAdd{PlaceFields{Name: "Ned", Kind: PlaceBench}})
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			backup, at := p.s, p.now
			ned := p.person(PersonFields{Name: "Ned", Role: RoleCrew, Authorised: []EnergyKind{EnergyDrive}})
			p.ok(p.as(ned), HandsOn{Robot: p.moth})
			restore := p.s.Replaced(BoardRestore{Why: "restored"})
			p.s, p.now = backup, at
			then(p, ned)
			p.ok(Itself(), restore)
			on := p.s.HandsOn(p.moth)
			require.Len(t, on, 1)
			who := p.s.People[on[0].Person]
			require.Equal(t, "ned", FoldedPerson(who.Name))
			require.Empty(t, who.Authorised, "and they may do no more")
			require.False(t, who.Signer || who.Retired)
			require.Empty(t, p.s.Notes)
			neds := 0
			for _, one := range p.s.People {
				if FoldedPerson(one.Name) == "ned" {
					neds++
				}
			}
			require.Equal(t, 1, neds, "whoever was taken off and is there again is one person")
			p.refused(p.as(p.ada), HandsOff{Hands: on[0].Near}, 5)
			p.ok(p.as(who.ID), HandsOff{Hands: on[0].Near})
			p.makeSafe()
		})
	}
}
