package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/charge"
	"mendline/board/forecast"
)

// takesTwo makes Sprat a robot that two packs drive.
func (b *bench) takesTwo() {
	b.t.Helper()
	f := b.s.Robots[b.sprat].RobotFields
	f.MainPacks = 2
	b.captain(board.RobotChange{Robot: b.sprat, RobotFields: f})
}

// kind makes a pack one of another kind, or for another use.
func (b *bench) kind(p board.PackID, change func(*board.PackFields)) {
	b.t.Helper()
	f := b.s.Packs[p].PackFields
	change(&f)
	b.captain(board.PackChange{Pack: p, PackFields: f})
}

func TestARobotThatTakesTwoPacksHasNoneWithOne(t *testing.T) {
	for name, c := range map[string]struct {
		more func(b *bench)
		says string
		flag forecast.Flag
	}{
		"one alone": {func(*bench) {}, "Sprat takes 2 packs of one kind and has 1.", forecast.FlagWontFinish},
		"the second of another kind": {func(b *bench) {
			p := b.pack("P2", b.sprat)
			b.kind(p, func(f *board.PackFields) { f.CapacityAh = 2 })
			b.charged(p)
		}, "Sprat takes 2 packs of one kind. Ready: 1; P2 is ready.", forecast.FlagWontFinish},
		"the second set aside": {func(b *bench) {
			b.captain(board.PackSet{Pack: b.pack("P2", b.sprat), State: board.PackSuspect})
		}, "Sprat takes 2 packs of one kind. Ready: 1; P2 is SET ASIDE.", forecast.FlagWontFinish},
		"the second unread": {func(b *bench) { b.pack("P2", b.sprat) }, "Sprat takes 2 packs of one kind. Ready: 1; P2 is unread.", forecast.FlagTight},
		"two ready":         {func(b *bench) { b.charged(b.pack("P2", b.sprat)) }, "", forecast.FlagNone},
		"the second is to be charged": {func(b *bench) {
			b.read(b.pack("P2", b.sprat), 3.733, 25, nil)
		}, "", forecast.FlagNone},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			b.takesTwo()
			b.calledAt(b.sprat, noon.Add(120*time.Minute))
			b.open(b.sprat, b.ann)
			b.charged(b.pack("P1", b.sprat))
			c.more(b)
			call := b.call(b.sprat)
			require.Equal(t, c.says, call.Cause.Text)
			require.Equal(t, c.flag, call.Flag)
			if c.flag == forecast.FlagWontFinish {
				require.Zero(t, b.ready("Sprat"), "no reading and no charge makes a pack of one that is not there")
				require.Zero(t, call.ReadyAt)
			}
		})
	}
}

func TestBothPacksOfASetAreChargedAndTheLaterOneIsTheCause(t *testing.T) {
	b := newBench(t)
	b.takesTwo()
	b.captain(board.ChannelRetire{Channel: b.two})
	b.calledAt(b.sprat, noon.Add(80*time.Minute))
	b.open(b.sprat, b.ann)
	first, second := b.pack("P1", b.sprat), b.pack("P2", b.sprat)
	b.read(first, 3.733, 25, nil)
	b.read(second, 3.733, 25, nil)

	require.Equal(t, b.sprat, b.view(first).For)
	require.Equal(t, b.sprat, b.view(second).For)
	call := b.call(b.sprat)
	require.Equal(t, forecast.FlagWontFinish, call.Flag, "one channel charges one after the other, 43 min each")
	require.Regexp(t, `^Pack P[12] is charged at 13:2\d, and must go in by 13:15\. Until 12:4\d it waits for a channel`, call.Cause.Text)
	require.Less(t, b.ready("Sprat"), 5)
}

func TestTheKindThatHasEnoughPacksIsTaken(t *testing.T) {
	b := newBench(t)
	b.takesTwo()
	b.calledAt(b.sprat, noon.Add(120*time.Minute))
	odd := b.pack("A1", b.sprat)
	b.kind(odd, func(f *board.PackFields) { f.CapacityAh = 2 })
	b.charged(odd)
	one, two := b.pack("P1", b.sprat), b.pack("P2", b.sprat)
	b.charged(one)
	b.read(two, 3.733, 25, nil)
	tern := b.light("Tern", 2, b.bob)
	b.kind(odd, func(f *board.PackFields) { f.Fits = append(f.Fits, tern) })
	b.calledAt(tern, noon.Add(150*time.Minute))

	require.Equal(t, b.sprat, b.view(one).For)
	require.Equal(t, b.sprat, b.view(two).For)
	require.Equal(t, tern, b.view(odd).For, "what is left is for the robot called next")
}

func TestAWeaponOrTransmitterPackThatIsNotReadyStopsAFightToo(t *testing.T) {
	for use, says := range map[board.PackUse]string{
		board.UseWeapon:      "No weapon pack for Sprat is ready: W1 is unread.",
		board.UseTransmitter: "No transmitter pack for Sprat is ready: W1 is unread.",
		board.UseTool:        "",
	} {
		b := newBench(t)
		b.calledAt(b.sprat, noon.Add(120*time.Minute))
		b.open(b.sprat, b.ann)
		b.charged(b.pack("P1", b.sprat))
		p := b.pack("W1", b.sprat)
		b.kind(p, func(f *board.PackFields) { f.Use = use })
		require.Equal(t, says, b.call(b.sprat).Cause.Text, string(use))

		b.charged(p)
		require.Equal(t, forecast.FlagNone, b.call(b.sprat).Flag, string(use))
	}
}

func TestARobotWhosePacksAreAllSetAsideWillNotFight(t *testing.T) {
	b := newBench(t)
	b.calledAt(b.sprat, noon.Add(120*time.Minute))
	b.open(b.sprat, b.ann)
	for _, name := range []string{"P1", "P2"} {
		b.captain(board.PackSet{Pack: b.pack(name, b.sprat), State: board.PackSuspect})
	}
	call := b.call(b.sprat)
	require.Equal(t, forecast.FlagWontFinish, call.Flag)
	require.Equal(t, "No pack for Sprat is ready: P1 is SET ASIDE, P2 is SET ASIDE.", call.Cause.Text)
	require.Zero(t, b.ready("Sprat"))
	alarm := find(t, b.make().Alarms, func(a forecast.Alarm) bool { return a.Class == forecast.ClassB })
	require.Contains(t, alarm.Act, "see to its packs")
}

func TestOneTransmitterPackServesBothRobots(t *testing.T) {
	b := newBench(t)
	tern := b.light("Tern", 2, b.bob)
	for i, r := range []board.RobotID{b.sprat, tern} {
		b.calledAt(r, noon.Add(120*time.Minute))
		b.open(r, b.ann)
		b.charged(b.pack([]string{"P1", "P2"}[i], r))
	}
	p := b.pack("T1", b.sprat)
	b.kind(p, func(f *board.PackFields) { f.Use, f.Fits = board.UseTransmitter, []board.RobotID{b.sprat, tern} })
	b.charged(p)
	require.Equal(t, forecast.FlagNone, b.call(b.sprat).Flag, b.call(b.sprat).Cause.Text)
	require.Equal(t, forecast.FlagNone, b.call(tern).Flag, b.call(tern).Cause.Text)
}

func TestToolAndTransmitterPacksOfNoRobotAreMissedWhenNoneIsCharged(t *testing.T) {
	for use, says := range map[board.PackUse]string{
		board.UseTool:        "No tool pack is charged: D1 is waiting, D2 is unread",
		board.UseTransmitter: "No transmitter pack is charged: D1 is waiting, D2 is unread",
	} {
		b := newBench(t)
		one, two := b.pack("D1", b.sprat), b.pack("D2", b.sprat)
		for _, p := range []board.PackID{one, two} {
			b.kind(p, func(f *board.PackFields) { f.Use, f.Fits = use, nil })
		}
		b.read(one, 3.733, 25, nil)
		var said []string
		for _, a := range b.make().Alarms {
			said = append(said, a.What)
		}
		require.Equal(t, []string{says}, said)
		b.charged(two)
		require.Empty(t, b.make().Alarms)
	}
}

// follow gives people the plan that the forecast has for them.
func (b *bench) follow() {
	b.t.Helper()
	replace := b.make().Replace
	require.NotNil(b.t, replace)
	b.made("", *replace, board.Itself())
}

func TestPeopleAreToldWhichPackGoesOnWhichChannelAndKeepThat(t *testing.T) {
	b := newBench(t)
	b.calledAt(b.sprat, noon.Add(120*time.Minute))
	first, second := b.pack("P1", b.sprat), b.pack("P2", b.sprat)
	b.read(first, 3.73, 25, nil)
	b.follow()
	told, ok := b.s.Follow().Charge(first)
	require.True(t, ok)
	require.Equal(t, board.ToldCharge{Robot: b.sprat, Channel: b.one, Amps: 0.85, StartAt: noon}, told.ToldCharge)
	require.Nil(t, b.make().Replace)

	b.read(second, 3.745, 25, nil)
	require.Nil(t, b.make().Replace, "a pack that is sooner by less than five minutes changes nothing")
	b.wait(3 * time.Minute)
	require.Nil(t, b.make().Replace, "nor does the time that goes by")

	b.read(second, 3.95, 25, nil)
	b.follow()
	_, ok = b.s.Follow().Charge(first)
	require.False(t, ok)
	_, ok = b.s.Follow().Charge(second)
	require.True(t, ok, "one that is sooner by a quarter of an hour is told instead")
}

func TestAPackThatAPersonChoseIsPlannedForTheRobot(t *testing.T) {
	b := newBench(t)
	b.calledAt(b.sprat, noon.Add(120*time.Minute))
	first, second := b.pack("P1", b.sprat), b.pack("P2", b.sprat)
	b.read(first, 3.95, 25, nil)
	b.read(second, 3.73, 25, nil)
	b.follow()
	b.captain(board.PackChoose{Pack: second, Robot: b.sprat})
	b.follow()
	_, ok := b.s.Follow().Charge(second)
	require.True(t, ok)
	require.Nil(t, b.make().Replace)
	b.captain(board.PackChoose{Pack: second})
	require.Equal(t, b.sprat, b.view(first).For)
}

// The charged pack was chosen for Tern, which is called hours later; Sprat's is not
// charged in time.
func TestAPackThatWasChosenForALaterRobotIsOfferedToTheEarlier(t *testing.T) {
	b := newBench(t)
	tern := b.light("Tern", 2, b.bob)
	b.calledAt(b.sprat, noon.Add(40*time.Minute))
	b.calledAt(tern, noon.Add(300*time.Minute))
	b.open(b.sprat, b.ann)
	late, full := b.pack("P1", b.sprat), b.pack("P2", tern)
	b.kind(full, func(f *board.PackFields) { f.Fits = []board.RobotID{b.sprat, tern} })
	b.kind(late, func(f *board.PackFields) { f.Fits = []board.RobotID{b.sprat, tern} })
	b.read(late, 3.733, 25, nil)
	b.charged(full)
	b.captain(board.PackChoose{Pack: full, Robot: tern})
	require.Less(t, b.ready("Sprat"), 3)

	best := onlyList(t, b.pit).List[0]
	require.Equal(t, "Give Sprat pack P2, which is charged, instead of P1", best.Text)
	require.Equal(t, 10, best.Then)

	for _, w := range best.Do {
		command, refusal := board.Decode(w.Do, w.With)
		require.Nil(t, refusal)
		b.captain(command)
	}
	require.Equal(t, 10, b.ready("Sprat"))
	require.Equal(t, tern, b.view(late).For)
}

// P1 is hot and nearly full, P2 cool and half empty: by the likely times P2 is ready a
// little sooner, and on more days P1 is.
func TestAnotherPackIsTriedThoughTheFirstSeemsSooner(t *testing.T) {
	b := newBench(t)
	air := 22.0
	b.calledAt(b.sprat, noon.Add(60*time.Minute))
	b.open(b.sprat, b.ann)
	hot, cool := b.pack("P1", b.sprat), b.pack("P2", b.sprat)
	b.read(hot, 3.98, 55, &air)
	b.captain(board.PackSet{Pack: hot, State: board.PackCooling})
	b.wait(8 * time.Minute)
	b.read(hot, 3.98, 46, &air)
	b.captain(board.PackSet{Pack: hot, State: board.PackCooling})
	b.read(cool, 3.77, 25, nil)
	b.follow()
	_, told := b.s.Follow().Charge(cool)
	require.True(t, told)

	best := onlyList(t, b.pit).List[0]
	require.Equal(t, "Charge pack P1 for Sprat instead of P2", best.Text)
	require.Positive(t, best.Gain)
	b.captain(board.PackChoose{Pack: hot, Robot: b.sprat})
	b.follow()
	_, told = b.s.Follow().Charge(hot)
	require.True(t, told)
}

// Three robots wait for six packs on two channels; nobody does anything for a quarter of
// an hour.
func TestPacksAreNotMovedAboutWhileNothingHappens(t *testing.T) {
	b := newBench(t)
	b.takesTwo()
	robots := []board.RobotID{b.sprat, b.light("Tern", 2, b.bob), b.light("Wren", 3, b.bob)}
	for i, r := range robots {
		b.calledAt(r, noon.Add(time.Duration(150+10*i)*time.Minute))
		for k := range 3 {
			b.read(b.pack(string(rune('A'+i))+string(rune('1'+k)), r), 3.72+0.01*float64(k), 25, nil)
		}
	}
	b.follow()
	told := b.s.Follow().Charges
	require.Len(t, told, 4)
	for range 30 {
		b.wait(30 * time.Second)
		require.Nil(t, b.make().Replace, "%s after noon", b.now.Sub(noon))
	}
	require.Equal(t, told, b.s.Follow().Charges)
}

// One channel is taken for most of an hour and Sprat misses its call whatever is charged;
// when the channel comes free the pack goes on at once all the same.
func TestAPackThatWasToldToWaitGoesOnWhatComesFree(t *testing.T) {
	b := newBench(t)
	b.captain(board.ChannelRetire{Channel: b.two})
	other := b.pack("P0", b.light("Tern", 2, b.bob))
	b.read(other, 3.733, 25, nil)
	b.charge(other, b.one)
	b.calledAt(b.sprat, noon.Add(20*time.Minute))
	p := b.pack("P1", b.sprat)
	b.read(p, 3.733, 25, nil)
	b.follow()
	told, _ := b.s.Follow().Charge(p)
	require.Greater(t, told.StartAt, noon.Add(30*time.Minute))

	b.wait(2 * time.Minute)
	b.by(b.ann, board.PackOff{Pack: other})
	b.follow()
	told, _ = b.s.Follow().Charge(p)
	require.Equal(t, b.now, told.StartAt)
}

// A nickel pack is on the only channel: its volts foretell no time.
func TestAChannelWhoseChargeNobodyCanForetellIsNotFree(t *testing.T) {
	b := newBench(t)
	b.captain(board.ChannelRetire{Channel: b.two})
	other := b.pack("P0", b.light("Tern", 2, b.bob))
	b.kind(other, func(f *board.PackFields) { f.Chemistry = charge.NiMH })
	b.read(other, 1.2, 25, nil)
	b.charge(other, b.one)
	b.calledAt(b.sprat, noon.Add(120*time.Minute))
	b.read(b.pack("P1", b.sprat), 3.733, 25, nil)
	for _, c := range b.make().Channels {
		require.Empty(t, c.Bars)
	}
	require.Contains(t, b.call(b.sprat).Cause.Text, "P1")
	require.NotEqual(t, forecast.FlagNone, b.call(b.sprat).Flag)
}
