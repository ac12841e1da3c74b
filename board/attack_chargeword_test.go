package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// What people found who attacked charges: words that came late, and words of guests.

func TestRule14AWordFromBeforeAChargeLeavesItAsItIs(t *testing.T) {
	for name, say := range map[string]func(p *pit) (PersonID, Command){
		"off":           func(p *pit) (PersonID, Command) { return p.dee, PackOff{Pack: p.p2} },
		"off, a guest":  func(p *pit) (PersonID, Command) { return p.gus, PackOff{Pack: p.p2} },
		"elsewhere":     func(p *pit) (PersonID, Command) { return p.dee, PackMove{Pack: p.p2, Place: p.watch} },
		"in a robot":    func(p *pit) (PersonID, Command) { return p.dee, PackMove{Pack: p.p2, Robot: p.moth, Found: true} },
		"circuit off":   func(p *pit) (PersonID, Command) { return p.dee, CircuitOff{Circuit: p.cast.Wall} },
		"someone stays": func(p *pit) (PersonID, Command) { return p.dee, PackAttend{Pack: p.p2} },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.now += 20 * minute
			p.onCharge(p.p2, p.ben)
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.0), TempC: degrees(55)})
			was := p.s.Packs[p.p2]
			who, c := say(p)
			require.Nil(t, p.lateAt(p.as(who), c, 15*minute))
			is := p.s.Packs[p.p2]
			_, hot := is.HotOnCharge()
			require.Equal(t, PackCharging, is.State)
			require.Equal(t, was.Attendant, is.Attendant)
			require.Equal(t, was.AttendAt, is.AttendAt)
			require.Equal(t, was.Channel, is.Channel)
			require.Equal(t, was.UsedAt, is.UsedAt)
			require.False(t, is.Unsure)
			require.True(t, hot)
			p.ok(p.as(p.dee), PackOff{Pack: p.p2})
			require.Equal(t, PackUnread, p.s.Packs[p.p2].State)
		})
	}
}

func TestRule14OffIsTakenLateWhereItIsOfThisCharge(t *testing.T) {
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p.now += 10 * minute
	require.Nil(t, p.lateAt(p.as(p.ben), PackOff{Pack: p.p2}, 5*minute))
	require.Equal(t, PackUnread, p.s.Packs[p.p2].State)
}

func TestRule14WhoStaysWithAChargeIsTheNewestWord(t *testing.T) {
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p.now += 10 * minute
	p.ok(p.as(p.dee), PackAttend{Pack: p.p2})
	p.now += minute
	require.Nil(t, p.lateAt(p.as(p.nia), PackAttend{Pack: p.p2}, 5*minute))
	require.Equal(t, p.dee, p.s.Packs[p.p2].Attendant)
	require.Nil(t, p.lateAt(p.as(p.ben), PackOff{Pack: p.p2}, 5*minute))
	require.Equal(t, PackCharging, p.s.Packs[p.p2].State, "Dee stayed with it after that")
	require.True(t, p.s.Packs[p.p2].Unsure)
	p.ok(p.as(p.nia), PackAttend{Pack: p.p2})
	require.Equal(t, p.nia, p.s.Packs[p.p2].Attendant)
	require.False(t, p.s.Packs[p.p2].Unsure)
	p.now += minute
	require.Nil(t, p.lateAt(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.2), TempC: degrees(22), Charged: true}, 5*minute))
	require.Equal(t, PackCharging, p.s.Packs[p.p2].State, "full is a word that it is off, and Nia stayed with it after that")
	require.True(t, p.s.Packs[p.p2].Unsure)
}

func TestRule14NoWordFromBeforeARestartSaysThatAChargeStillRuns(t *testing.T) {
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p.now += 10 * minute
	p.ok(Itself(), BoardStart{Why: "started again"})
	require.Nil(t, p.lateAt(p.as(p.ben), PackAttend{Pack: p.p2}, 5*minute))
	require.True(t, p.s.Packs[p.p2].Unsure)
	p.ok(p.as(p.ben), PackAttend{Pack: p.p2})
	require.False(t, p.s.Packs[p.p2].Unsure)
}

func TestRule11WhatWasReadOnAChargerIsNoReadingOfThePackThatCameOff(t *testing.T) {
	for _, ago := range []Moment{0, 5 * minute} {
		p := newPit(t)
		p.onCharge(p.p2, p.ben)
		p.now += 10 * minute
		p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.1), TempC: degrees(25)})
		require.Nil(t, p.lateAt(p.as(p.ben), PackOff{Pack: p.p2}, ago))
		require.Equal(t, PackUnread, p.s.Packs[p.p2].State)
		p.refusedAs(p.as(p.ben), PackCharge{Pack: p.p2, Channel: p.cast.A1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}, CodeNotYet)
		p.refused(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth}, 11)
		p.onCharge(p.p2, p.ben)
	}
}

func TestRule14AChargeOnACircuitThatWentOffMayRunUntilSomeoneSaysThatItIsOff(t *testing.T) {
	p := newPit(t)
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.gus), CircuitOff{Circuit: p.cast.Wall})
	is := p.s.Packs[p.p2]
	require.Equal(t, PackCharging, is.State)
	require.True(t, is.Unsure)
	require.Equal(t, p.ben, is.Attendant)
	require.Equal(t, p.cast.A1, is.Channel)
	for _, c := range []Command{PackRetire{Pack: p.p2}, ChannelRetire{Channel: p.cast.A1}, CircuitRetire{Circuit: p.cast.Wall}, PersonRetire{Person: p.ben}} {
		p.refused(p.as(p.ada), c, 14)
	}
	p.ok(p.as(p.ben), PackAttend{Pack: p.p2})
	p.ok(p.as(p.ada), CircuitOn{Circuit: p.cast.Wall, SaidBy: "the hall"})
	require.True(t, p.s.Packs[p.p2].Unsure, "with power again it is asked anew who stays")
	p.ok(p.as(p.dee), PackAttend{Pack: p.p2})
	p.ok(p.as(p.dee), PackOff{Pack: p.p2})
	p.captain(PackRetire{Pack: p.p2})
	p.captain(ChannelRetire{Channel: p.cast.A1})
}

func TestRule24NoGuestEndsAChargeOrItsAlarm(t *testing.T) {
	for name, say := range map[string]func(p *pit) Command{
		"off":        func(p *pit) Command { return PackOff{Pack: p.p2} },
		"elsewhere":  func(p *pit) Command { return PackMove{Pack: p.p2, Place: p.watch} },
		"in a robot": func(p *pit) Command { return PackMove{Pack: p.p2, Robot: p.moth, Found: true} },
		"full": func(p *pit) Command {
			return PackRead{Pack: p.p2, CellVolts: even(4.2), TempC: degrees(22), Charged: true}
		},
		"cool again": func(p *pit) Command { return PackRead{Pack: p.p2, CellVolts: even(4.0), TempC: degrees(22)} },
	} {
		for _, who := range []string{"guest", "minor", "nobody"} {
			for _, before := range []string{"hot", "unsure"} {
				t.Run(name+", "+who+", "+before, func(t *testing.T) {
					p := newPit(t)
					p.onCharge(p.p2, p.ben)
					if before == "hot" {
						p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.0), TempC: degrees(55)})
					} else {
						p.ok(Itself(), BoardStart{Why: "started again"})
					}
					by := map[string]Actor{"guest": p.as(p.gus), "minor": p.as(p.kit), "nobody": {Role: RoleCrew}}[who]
					if _, bad := p.try(by, say(p)); bad != nil {
						require.Equal(t, "nobody", who)
					}
					is := p.s.Packs[p.p2]
					_, hot := is.HotOnCharge()
					require.Equal(t, PackCharging, is.State)
					require.Equal(t, p.ben, is.Attendant)
					require.True(t, is.Unsure || who == "nobody")
					require.Equal(t, before == "hot", hot)
					p.ok(p.as(p.dee), say(p))
					require.False(t, p.s.Packs[p.p2].State == PackCharging && name != "cool again")
				})
			}
		}
	}
	p := newPit(t)
	p.makeSafe()
	p.onCharge(p.p2, p.ben)
	p.ok(p.as(p.gus), PackMove{Pack: p.p2, Robot: p.moth, Found: true})
	require.Equal(t, Unknown, p.state(), "that it may be in a robot is heard")
	p.ok(p.as(p.dee), PackOff{Pack: p.p2})
}

func TestALateChargeThatTheBoardCannotHaveMakesThePackUnread(t *testing.T) {
	for name, meanwhile := range map[string]func(p *pit){
		"another pack is on the channel": func(p *pit) {
			p3 := p.pack("P3")
			p.read(p3)
			p.ok(p.as(p.dee), PackCharge{Pack: p3, Channel: p.cast.A1, Attendant: p.dee, Cells: 4, Amps: 0.6, Contained: true})
		},
		"its circuit is off":        func(p *pit) { p.ok(p.as(p.ada), CircuitOff{Circuit: p.cast.Wall}) },
		"there is an emergency now": func(p *pit) { p.ok(p.as(p.gus), EmergencyRaise{Place: p.shelf}) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			charge := p.charges(p.ben)
			p.now += 90 * minute
			meanwhile(p)
			_, bad := p.try(p.as(p.ben), charge)
			require.NotNil(t, bad, "now it is refused")
			require.Nil(t, p.lateAt(p.as(p.ben), charge, 60*minute))
			is := p.s.Packs[p.p2]
			require.Equal(t, PackUnread, is.State)
			require.Equal(t, p.ben, is.HeardLate.By)
			require.Contains(t, is.HeardLate.What, "charged on A1")
			p.refused(p.as(p.ben), PackOff{Pack: p.p2}, 0)
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(4.2), Charged: true})
			require.Equal(t, PackCharged, p.s.Packs[p.p2].State)
		})
	}
	p := newPit(t)
	charge := p.charges(p.ben)
	p.now += 90 * minute
	require.Nil(t, p.lateAt(p.as(p.ben), charge, 60*minute))
	require.Equal(t, PackCharging, p.s.Packs[p.p2].State, "it may run still")
	require.Nil(t, p.lateAt(p.as(p.ben), PackOff{Pack: p.p2}, 10*minute))
	require.Equal(t, PackUnread, p.s.Packs[p.p2].State)
}
