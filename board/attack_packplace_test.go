package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// What people found who attacked packs by where they are: two places, an older backup,
// sparks, and names.

func TestRule14NobodyStaysWithChargesAtTwoPlacesOutOfSightOfEachOther(t *testing.T) {
	for name, seen := range map[string]bool{"out of sight": false, "in sight": true} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			far := PlaceFields{Name: "far table", Kind: PlaceCharging}
			if seen {
				far.InSight = []PlaceID{p.shelf}
			}
			table := PlaceID(p.made(p.captain(PlaceAdd{PlaceFields: far})))
			f := p.settings()
			f.ChargingPlaces, f.AttendantMost = append(f.ChargingPlaces, table), 3
			p.ok(p.as(p.ada), EventSet{EventFields: f, Reason: "two tables"})
			there := p.s.Channels[p.cast.A1].ChannelFields
			there.Name, there.Place = "B1", table
			b1 := ChannelID(p.made(p.captain(ChannelAdd{there})))
			p3 := p.pack("P3")
			p.onCharge(p.p2, p.ben)
			p.ok(p.as(p.ben), PackRead{Pack: p3, CellVolts: even(3.7), TempC: degrees(21)})
			charge := PackCharge{Pack: p3, Channel: b1, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
			if seen {
				p.ok(p.as(p.ben), charge)
				return
			}
			bad := p.refused(p.as(p.ben), charge, 14)
			sentenceHas(t, bad, "P2")
			sentenceHas(t, bad, "far table")
			charge.Attendant = p.dee
			p.ok(p.as(p.dee), charge)
			p.refused(p.as(p.dee), PackAttend{Pack: p.p2}, 14)
			p.ok(p.as(p.ben), PackOff{Pack: p.p2})
			p.ok(p.as(p.ben), PackAttend{Pack: p3})
		})
	}
}

func TestRule18AChargeThatTheBackupKnowsNothingOfMayRunAfterARestore(t *testing.T) {
	for name, pack := range map[string]func(p *pit) PackID{
		"at the shelf": func(p *pit) PackID { return p.p2 },
		"in a robot":   func(p *pit) PackID { return p.p1 },
		"unknown":      func(p *pit) PackID { return "" },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			backup := p.s
			id := pack(p)
			if id == "" {
				id = p.pack("P7")
			}
			if p.s.Packs[id].Robot != "" {
				p.ok(p.as(p.ben), PackMove{Pack: id, Place: p.watch})
			}
			p.onCharge(id, p.ben)
			for range 2 {
				restore := p.s.Replaced(BoardRestore{Why: "restored"})
				p.s = backup
				p.ok(Itself(), restore)
				is := p.s.Packs[id]
				require.Equal(t, PackCharging, is.State)
				require.True(t, is.Unsure)
				require.Equal(t, []string{string(p.cast.A1), string(p.shelf), string(p.ben), ""}, []string{string(is.Channel), string(is.Place), string(is.Attendant), string(is.Robot)})
			}
			p.refused(p.as(p.ada), PackRetire{Pack: id}, 14)
			p.ok(p.as(p.ben), PackOff{Pack: id})
			p.onCharge(id, p.ben)
		})
	}
}

func TestRule15AStationStaysWhereSparksFly(t *testing.T) {
	for name, station := range map[string]func(p *pit) StationID{
		"by name": func(p *pit) StationID { return p.cast.Grinder }, "nobody said which": func(*pit) StationID { return "" },
	} {
		for what, place := range map[string]func(p *pit) PlaceID{
			"moved": func(p *pit) PlaceID { return p.box }, "taken away": func(*pit) PlaceID { return "" },
		} {
			t.Run(name+", "+what, func(t *testing.T) {
				p := newPit(t)
				job := p.grinding(OffRobot)
				p.ok(p.as(p.ben), JobStart{Job: job, Station: station(p)})
				f := p.s.Stations[p.cast.Grinder].StationFields
				f.Place = place(p)
				c := StationChange{Station: p.cast.Grinder, StationFields: f}
				sentenceHas(t, p.refused(p.as(p.ada), c, 15), "grinder")
				p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldStation})
				p.ok(p.as(p.ada), c)
			})
		}
	}
}

func TestRule15WorkInARobotThrowsSparksWhereTheRobotStands(t *testing.T) {
	for _, where := range []Where{AtRobot, AllRobot, OffRobot} {
		t.Run(string(where), func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.ben), RobotPlace{Robot: p.moth, Place: p.bench})
			p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.watch})
			f := p.s.Stations[p.cast.Grinder].StationFields
			f.Place = ""
			p.ok(p.as(p.ada), StationChange{Station: p.cast.Grinder, StationFields: f})
			job := p.grinding(where)
			if where != OffRobot {
				p.open()
			}
			p.ok(p.as(p.ben), JobStart{Job: job, Station: p.cast.Grinder})
			move := PackMove{Pack: p.p2, Place: p.bench}
			if where == OffRobot {
				p.ok(p.as(p.dee), move)
				return
			}
			p.refused(p.as(p.dee), move, 15)
			p.ok(p.as(p.ben), JobHold{Job: job, Why: HoldStation})
			p.ok(p.as(p.dee), move)
			p.refused(p.as(p.ben), JobResume{Job: job, Station: p.cast.Grinder}, 15)
		})
	}
}

func TestRule13APackThatIsGoneAndTurnsUp(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.gus), PackSet{Pack: p.p2, State: PackSuspect})
	p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackGone})
	for _, to := range []PackState{PackUnread, PackWaiting, PackStorage} {
		sentenceHas(t, p.refused(p.as(p.ada), PackSet{Pack: p.p2, State: to}, 13), "sets it aside again")
	}
	p.ok(p.as(p.gus), PackSet{Pack: p.p2, State: PackSuspect})
	require.Equal(t, PackSuspect, p.s.Packs[p.p2].State)
	p.refused(p.as(p.ada), PackSet{Pack: p.p2, State: PackUnread}, 13)
	p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackGone})
	p.refused(p.as(p.ada), PackSet{Pack: p.p2, State: PackUnread}, 13)

	p = newPit(t)
	p.read(p.p2)
	for _, who := range []PersonID{p.gus, p.kit} {
		p.refused(p.as(who), PackSet{Pack: p.p2, State: PackGone}, 13)
	}
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackGone})
	sentenceHas(t, p.refused(p.as(p.ben), PackSet{Pack: p.p2, State: PackUnread}, 13), "the captain")
	p.refused(p.as(p.ada), PackSet{Pack: p.p2, State: PackWaiting}, 13)
	p.ok(p.as(p.ada), PackSet{Pack: p.p2, State: PackUnread})
	p.refused(p.as(p.ben), PackMove{Pack: p.p2, Robot: p.moth}, 11)
	p.read(p.p2)
	p.ok(p.as(p.ben), PackMove{Pack: p.p2, Place: p.watch})
	p.onCharge(p.p2, p.ben)
}

func TestRule13ANameThatPeopleReadAsAnothersIsTheSame(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ada), PackSet{Pack: p.pack("V1"), State: PackGone})
	p.ok(p.as(p.ben), PackSet{Pack: p.p2, State: PackSuspect})
	f := p.s.Packs[p.p1].PackFields
	for _, name := range []string{"v1", "V 1", "V-1", "V.1", "V#1", "V01", "V-001", "pack V1", "Pack V 1", "P 2", "P–2", "P02", "#P2"} {
		f.Name = name
		_, bad := p.try(p.as(p.ada), PackAdd{PackFields: f})
		require.NotNil(t, bad, name)
		p.refused(p.as(p.ada), PackChange{Pack: p.p1, PackFields: f}, 13)
	}
	for _, name := range []string{"V10", "V11", "W1", "V1b", "P20", "Packer"} {
		f.Name = name
		p.captain(PackAdd{PackFields: f})
	}
}

func TestAPackThatIsFoundWhereSomeoneGrindsIsHeardOf(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), JobStart{Job: p.grinding(OffRobot), Station: p.cast.Grinder})
	p.refused(p.as(p.gus), PackMove{Pack: p.p2, Place: p.cast.Corner}, 15)
	p.ok(p.as(p.gus), PackMove{Pack: p.p2, Place: p.cast.Corner, Found: true})
	require.Equal(t, p.cast.Corner, p.s.Packs[p.p2].Place)
	require.Len(t, p.s.InSparks(), 1)
}

func TestRule11ASignatureOverOnePackTooManySaysWhichAreIn(t *testing.T) {
	p := newPit(t)
	p.toSign()
	p.read(p.p1)
	p.now += minute
	p.ok(p.as(p.gus), PackMove{Pack: p.p1, Robot: p.moth, Found: true})
	sentenceHas(t, p.refused(p.as(p.dee), p.said(ListReady, "sign", SaidDone), 11), "Packs P1 and P2 are in Tin Moth by the board. Say where the one is")
}
