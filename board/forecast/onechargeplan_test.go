package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// The figures of these boards are constructed by us: a pack of 0.85 Ah from 3.733 V a
// cell takes some 43 min at 1C.

func TestAPackThatComesTooLateIsTheRobotsCause(t *testing.T) {
	b := newBench(t)
	b.calledAt(b.sprat, noon.Add(40*time.Minute))
	b.read(b.pack("P1", b.sprat), 3.733, 25, nil)

	c := b.call(b.sprat)

	require.Equal(t, forecast.FlagWontFinish, c.Flag)
	require.Equal(t, forecast.CauseOfCharge, c.Cause.Kind, c.Cause.Text)
	require.Regexp(t, `^Pack P1 is charged at 12:4\d, and must go in by 12:35\.$`, c.Cause.Text)
	require.Positive(t, c.ShortSec)
	require.Less(t, b.ready("Sprat"), 5)
	require.Equal(t, forecast.CauseOfCharge, b.chance("Sprat").Cause.Kind)
}

func TestAPackThatIsChargedInTimeLeavesTheRobotItsChance(t *testing.T) {
	b := newBench(t)
	b.calledAt(b.sprat, noon.Add(120*time.Minute))
	b.read(b.pack("P1", b.sprat), 3.733, 25, nil)
	b.open(b.sprat, b.ann)

	require.Equal(t, forecast.FlagNone, b.call(b.sprat).Flag, b.call(b.sprat).Cause.Text)
	require.Equal(t, 10, b.ready("Sprat"))
}

// With one channel for two packs, whichever is charged second misses its call. The
// robot that counts more cannot be mended in time whatever is charged: only a plan of
// charges and repairs together gives the channel to the other.
func TestTheChannelGoesToTheRobotThatCanMakeItsCall(t *testing.T) {
	b := newBench(t)
	b.captain(board.ChannelRetire{Channel: b.two})
	b.station("bench", board.StationBench, 2)
	tern := b.light("Tern", 2, b.bob)
	heavy := b.s.Robots[b.sprat]
	fields := heavy.RobotFields
	fields.Weight = 9
	b.captain(board.RobotChange{Robot: b.sprat, RobotFields: fields})
	b.calledAt(b.sprat, noon.Add(60*time.Minute))
	b.calledAt(tern, noon.Add(60*time.Minute))
	first, second := b.pack("P1", b.sprat), b.pack("P2", tern)
	b.read(first, 3.733, 25, nil)
	b.read(second, 3.733, 25, nil)
	apart := b.bar(first)
	require.Less(t, apart.StartAt, b.bar(second).StartAt, "with nothing to mend the one that counts more is charged first")

	b.open(b.sprat, b.ann)
	b.job(board.JobFields{Robot: b.sprat, Name: "Wind a new motor", Fixes: []board.Fix{fix(180, 240, board.SkillAny)}})

	require.Less(t, b.bar(second).StartAt, b.bar(first).StartAt)
	require.False(t, b.bar(second).EndAt > b.bar(second).NeededAt)
	require.Zero(t, b.call(tern).ShortSec, b.call(tern).Cause.Text)
	require.Equal(t, forecast.FlagWontFinish, b.call(b.sprat).Flag)
}

func TestNobodyAtAFightAttendsACharge(t *testing.T) {
	b := newBench(t)
	e := b.s.Event().EventFields
	e.AttendantMost = 1
	b.captain(board.EventSet{EventFields: e})
	b.captain(board.PersonRetire{Person: b.bob})
	// Ann drives Sprat, whose fight is in half an hour; Tern's pack is to be charged.
	b.charged(b.pack("S1", b.sprat))
	b.calledAt(b.sprat, noon.Add(30*time.Minute))
	tern := b.light("Tern", 2, b.ann)
	b.open(tern, b.ann)
	b.calledAt(tern, noon.Add(85*time.Minute))
	p := b.pack("P1", tern)
	b.read(p, 3.733, 25, nil)

	bar, away := b.bar(p), b.call(b.sprat)

	require.Less(t, b.ready("Tern"), 6, "begun at once it would be in time on 9 of 10 days; it is begun when she is back")
	require.True(t, bar.StartAt >= away.StartAt.Median || bar.EndAt <= away.CallAt.Median, "%s to %s, and the fight is called at %s", bar.StartAt, bar.EndAt, away.CallAt.Median)
}

// bar is the charge of a pack as it is planned.
func (b *bench) bar(p board.PackID) forecast.ChargeBar {
	b.t.Helper()
	for _, c := range b.make().Channels {
		for _, bar := range c.Bars {
			if bar.Pack == p {
				return bar
			}
		}
	}
	require.Fail(b.t, "no charge is planned")
	return forecast.ChargeBar{}
}
