package forecast_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

func (b *bench) chargeAlarms() (list []forecast.Alarm) {
	for _, a := range b.make().Alarms {
		if strings.HasPrefix(a.Slug, "B-charge-") {
			list = append(list, a)
		}
	}
	return list
}

func TestAChargeThatNobodyStaysWithIsAnAlarmByName(t *testing.T) {
	for name, c := range map[string]struct {
		happens func(b *bench, p board.PackID)
		what    string
	}{
		"all is well": {func(b *bench, p board.PackID) { b.wait(11 * time.Minute) }, ""},
		"another named Ann, nine minutes ago": {func(b *bench, p board.PackID) {
			b.renamed(p)
			b.wait(9 * time.Minute)
		}, ""},
		"another named Ann, ten minutes ago": {func(b *bench, p board.PackID) {
			b.renamed(p)
			b.wait(10 * time.Minute)
		}, "has not said so"},
		"her fight is on": {func(b *bench, p board.PackID) {
			b.fight(board.FightFields{Robot: b.sprat, Number: 3})
			b.captain(board.FightNow{Arena: "A", Number: 3})
		}, "is called for"},
		"her fight is called": {func(b *bench, p board.PackID) {
			b.fight(board.FightFields{Robot: b.sprat, Number: 3})
			b.captain(board.FightNow{Arena: "A", Number: 1})
		}, "is called for"},
		"she is seen at a robot elsewhere": {func(b *bench, p board.PackID) {
			b.by(b.ann, board.RobotPlace{Robot: b.sprat, Place: b.place("box", board.PlaceTestBox)})
		}, "out of its sight"},
		"she is made a guest": {func(b *bench, p board.PackID) {
			f := b.s.Robots[b.sprat].RobotFields
			f.Lead = ""
			b.captain(board.RobotChange{Robot: b.sprat, RobotFields: f})
			b.captain(board.PersonChange{Person: b.ann, PersonFields: board.PersonFields{Name: "Ann", Role: board.RoleCrew, Guest: true}})
		}, "is a minor or guest now"},
		"the board was off": {func(b *bench, p board.PackID) {
			b.made("", board.BoardStart{Why: "restart"}, board.Itself())
		}, "has not said since 12:00 whether it still charges"},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			p := b.pack("P1", b.sprat)
			b.read(p, 3.7, 21, nil)
			b.charge(p, b.one)
			c.happens(b, p)
			list := b.chargeAlarms()
			if c.what == "" {
				require.Empty(t, list)
				return
			}
			require.Len(t, list, 1)
			require.Contains(t, list[0].What, "Ann")
			require.Contains(t, list[0].What, "P1 on C1")
			require.Contains(t, list[0].What, c.what)
			b.by(b.bob, board.PackAttend{Pack: p})
			require.Empty(t, b.chargeAlarms(), "Bob took it over")
		})
	}
}

// renamed puts the pack on charge again, in Ann's name and by Bob.
func (b *bench) renamed(p board.PackID) {
	b.by(b.ann, board.PackOff{Pack: p})
	b.wait(time.Second)
	b.read(p, 3.7, 21, nil)
	b.by(b.bob, board.PackCharge{Pack: p, Channel: b.one, Attendant: b.ann, Cells: 4, Amps: 0.85, Contained: true})
}

func TestAfterARestartThereIsOneLineAnAttendant(t *testing.T) {
	b := newBench(t)
	for i, name := range []string{"P1", "P2"} {
		p := b.pack(name, b.sprat)
		b.read(p, 3.7, 21, nil)
		b.charge(p, []board.ChannelID{b.one, b.two}[i])
	}
	b.made("", board.BoardStart{Why: "restart"}, board.Itself())
	list := b.chargeAlarms()
	require.Len(t, list, 1)
	require.Contains(t, list[0].What, "P1 on C1 and P2 on C2")
}

func TestWhoStaysWithAChargeIsSentToNoWorkOutOfItsSight(t *testing.T) {
	b := newBench(t)
	p := b.pack("P1", b.sprat)
	b.read(p, 3.7, 21, nil)
	wire := fix(9, 20, board.SkillAny)
	wire.Where, wire.Station, wire.Lockout, wire.PackOut = board.OffRobot, board.StationNone, false, false
	job := b.job(board.JobFields{Robot: b.sprat, Name: "Wire", Fixes: []board.Fix{wire}})
	b.captain(board.JobAssign{Job: job, People: []board.PersonID{b.bob}})
	require.Equal(t, forecast.ActStart, b.todo(b.bob).Act)
	b.charge(p, b.one)
	b.by(b.bob, board.PackAttend{Pack: p})
	require.Equal(t, forecast.ActWait, b.todo(b.bob).Act)
	require.Contains(t, b.todo(b.bob).Why, "not in sight from there")
	b.by(b.ann, board.PackAttend{Pack: p})
	require.Equal(t, forecast.ActStart, b.todo(b.bob).Act)
}
