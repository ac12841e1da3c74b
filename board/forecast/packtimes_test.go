package forecast_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// bench is a pit with one circuit and one charger of two channels.
type bench struct {
	*pit
	ann, bob board.PersonID
	sprat    board.RobotID
	circuit  board.CircuitID
	one, two board.ChannelID
}

func newBench(t testing.TB) *bench {
	b := &bench{pit: newPit(t)}
	e := b.s.Event().EventFields
	e.AttendantMost = 2
	b.captain(board.EventSet{EventFields: e, Reason: "the table is in sight"})
	b.ann, b.bob = b.person("Ann"), b.person("Bob")
	b.sprat = b.light("Sprat", 1, b.ann)
	b.circuit = board.CircuitID(b.made(board.KindCircuit, board.CircuitAdd{CircuitFields: board.CircuitFields{Name: "hall", Volts: 230, RatingAmps: 10, SaidBy: "the keeper"}}, captain))
	b.one, b.two = b.channel("C1"), b.channel("C2")
	return b
}

func (b *bench) channel(name string) board.ChannelID {
	return board.ChannelID(b.made(board.KindChannel, board.ChannelAdd{ChannelFields: board.ChannelFields{
		Name: name, Charger: "twin", AmpsMost: 10, WattsMost: 100, ChargerWatts: 200, CellsMost: 6, Circuit: b.circuit, Place: b.s.Event().ChargingPlaces[0],
	}}, captain))
}

func (b *bench) read(p board.PackID, volts, tempC float64, airC *float64) {
	b.t.Helper()
	b.by(b.ann, board.PackRead{Pack: p, CellVolts: []float64{volts, volts, volts, volts}, TempC: &tempC, AirC: airC})
}

func (b *bench) charge(p board.PackID, on board.ChannelID) {
	b.t.Helper()
	b.by(b.ann, board.PackCharge{Pack: p, Channel: on, Attendant: b.ann, Cells: 4, Amps: 0.85, Contained: true})
}

func (b *bench) view(p board.PackID) forecast.PackView {
	b.t.Helper()
	return find(b.t, b.make().Packs, func(v forecast.PackView) bool { return v.Pack == p })
}

// A pack of 0.85 Ah with the guessed 30 mΩ·Ah, from about 30 % at 1C: some 43 min, as
// worked packs of the same R·Q take (computed independently: 43.9 min).
func TestAPackOnChargeHasATimeAndABadCase(t *testing.T) {
	b := newBench(t)
	p := b.pack("P1", b.sprat)
	b.read(p, 3.733, 25, nil)
	require.InDelta(t, 44*60, b.view(p).TakesSec, 180)
	b.charge(p, b.one)
	v := b.view(p)
	require.Equal(t, "charging", v.Word)
	require.InDelta(t, 44, v.ReadyAt.Sub(noon).Minutes(), 3)
	require.Less(t, v.EarlyAt, v.ReadyAt)
	require.Greater(t, v.BadAt, v.ReadyAt)
	require.Empty(t, v.Again)
	b.wait(v.BadAt.Sub(noon) + time.Minute)
	require.Equal(t, "charging", b.view(p).Word, "elapsed time makes no pack charged")
	require.Contains(t, b.view(p).Again, "stop it")
}

// Air 22, 55 and 41 °C ten minutes apart, τ 18 min: 6.8 min are left to 35 °C, computed
// independently.
func TestAPackThatCoolsSaysWhenAndThenAsksToBeRead(t *testing.T) {
	b := newBench(t)
	p := b.pack("P1", b.sprat)
	air := 22.0
	b.read(p, 3.733, 55, nil)
	require.Contains(t, b.view(p).Again, "air")
	b.wait(10 * time.Minute)
	b.read(p, 3.733, 40.9, &air)
	v := b.view(p)
	require.Equal(t, "cooling", v.Word)
	require.Empty(t, v.Again)
	require.InDelta(t, 1.2*6.8, v.CoolAt.Sub(b.now).Minutes(), 1.1, "shown a fifth later")
	require.Greater(t, v.CoolBadAt, v.CoolAt)
	require.Greater(t, v.ReadyAt, v.CoolAt.Add(40*time.Minute))
	b.wait(15 * time.Minute)
	require.Contains(t, b.view(p).Again, "read it")
	require.Equal(t, "cooling", b.view(p).Word)
	b.wait(3 * time.Hour)
	require.NotEmpty(t, b.view(p).Again)
	require.Zero(t, b.view(p).ReadyAt, "an old reading foretells nothing")
}

func TestInWarmAirItIsSaidThatItWillNotGetThere(t *testing.T) {
	b := newBench(t)
	p := b.pack("P1", b.sprat)
	air := 34.8
	b.read(p, 3.733, 55, &air)
	b.wait(5 * time.Minute)
	b.read(p, 3.733, 50, &air)
	require.Contains(t, b.view(p).Again, "will not get to 35")
}

func TestCellsApartAndLowAreSaid(t *testing.T) {
	b := newBench(t)
	p, q := b.pack("P1", b.sprat), b.pack("P2", b.sprat)
	b.by(b.ann, board.PackRead{Pack: p, CellVolts: []float64{3.70, 3.70, 3.76, 3.70}})
	b.by(b.ann, board.PackRead{Pack: q, CellVolts: []float64{3.19, 3.19, 3.19, 3.19}})
	require.Contains(t, b.view(p).Caution, "0.06 V apart")
	require.Contains(t, b.view(q).Caution, "below 3.20")
}

func TestATrippedBreakerIsOneAlarmUntilEveryPackIsLookedAt(t *testing.T) {
	b := newBench(t)
	p, q := b.pack("P1", b.sprat), b.pack("P2", b.sprat)
	for pack, on := range map[board.PackID]board.ChannelID{p: b.one, q: b.two} {
		b.read(pack, 3.8, 25, nil)
		b.charge(pack, on)
	}
	before := len(b.make().Alarms)
	b.by(b.bob, board.CircuitOff{Circuit: b.circuit})
	f := b.make()
	require.Len(t, f.Alarms, before+1)
	alarm := find(t, f.Alarms, func(a forecast.Alarm) bool {
		return a.Slug == "b-circuit-"+string(b.circuit) || a.Slug == "B-circuit-"+string(b.circuit)
	})
	require.Contains(t, alarm.What, "P1 and P2")
	require.Contains(t, b.view(p).Again, "whether it still charges")
	require.Equal(t, "may be charging", b.view(p).Word)
	b.captain(board.CircuitOn{Circuit: b.circuit, SaidBy: "the keeper"})
	f = b.make()
	require.Len(t, f.Alarms, before+1, "on again, and nobody has looked")
	on := find(t, f.Alarms, func(a forecast.Alarm) bool { return strings.Contains(a.Slug, "circuit-on-") })
	require.Contains(t, on.What, "the charger of P1 and P2 may have started by itself")
	require.Equal(t, forecast.ClassB, on.Class)
	for _, pack := range []board.PackID{p, q} {
		b.by(b.bob, board.PackOff{Pack: pack})
		b.wait(time.Second)
		b.read(pack, 3.9, 25, nil)
	}
	require.Len(t, b.make().Alarms, before)
}

func TestChargesAreLaidOnChannelsUnderTheLoadLine(t *testing.T) {
	b := newBench(t)
	b.calledAt(b.sprat, noon.Add(3*time.Hour))
	p, q, r := b.pack("P1", b.sprat), b.pack("P2", b.sprat), b.pack("P3", b.sprat)
	for _, pack := range []board.PackID{p, q, r} {
		b.read(pack, 3.733, 25, nil)
	}
	b.charge(p, b.one)
	f := b.make()
	seen := map[board.PackID]bool{}
	for _, c := range f.Channels {
		end := board.Moment(0)
		for _, bar := range c.Bars {
			require.GreaterOrEqual(t, bar.StartAt, end, "one pack at a time on a channel")
			end = bar.EndAt
			seen[bar.Pack] = true
			require.Equal(t, bar.Pack == p, bar.Running)
		}
	}
	require.Len(t, seen, 3)
	load := find(t, f.Circuits, func(c forecast.CircuitView) bool { return c.Circuit == b.circuit })
	require.Equal(t, 1840, load.BudgetVA, "80 % of 230 V and 10 A")
	require.NotEmpty(t, load.Load)
	require.False(t, load.Over)
}

// 14.3 W into a pack draw 28 VA: a circuit of 32 VA carries one charge at a time, one
// of 40 VA two at two thirds of the current.
func TestACircuitThatIsSmallMakesChargesWaitOrGoSlower(t *testing.T) {
	for volts, together := range map[float64]bool{80: false, 100: true} {
		require.Equal(t, together, twoAtOnce(t, volts), "%g V", volts)
	}
}

func twoAtOnce(t *testing.T, volts float64) bool {
	b := newBench(t)
	b.captain(board.CircuitChange{Circuit: b.circuit, CircuitFields: board.CircuitFields{Name: "hall", Volts: volts, RatingAmps: 0.5, SaidBy: "the keeper"}})
	for _, name := range []string{"P1", "P2"} {
		b.read(b.pack(name, b.sprat), 3.733, 25, nil)
	}
	f := b.make()
	load := find(t, f.Circuits, func(c forecast.CircuitView) bool { return c.Circuit == b.circuit })
	require.False(t, load.Over)
	var bars []forecast.ChargeBar
	for _, c := range f.Channels {
		bars = append(bars, c.Bars...)
	}
	require.Len(t, bars, 2)
	return bars[0].StartAt < bars[1].EndAt && bars[1].StartAt < bars[0].EndAt
}

func TestAChargeThatComesTooLateForItsRobotSaysSo(t *testing.T) {
	b := newBench(t)
	b.calledAt(b.sprat, noon.Add(40*time.Minute))
	p := b.pack("P1", b.sprat)
	b.read(p, 3.733, 25, nil)
	for _, c := range b.make().Channels {
		for _, bar := range c.Bars {
			require.Equal(t, b.sprat, bar.For)
			require.True(t, bar.Late)
			return
		}
	}
	t.Fatal("no charge is planned")
}

// A charge of 0.6 Ah at 0.85 A that the charger's clock gives 46 minutes teaches a
// resistance above the guess or below it, never silently: both stand there.
func TestWhatIsLearnedStandsBesideWhatWasBelieved(t *testing.T) {
	b := newBench(t)
	p := b.pack("P1", b.sprat)
	health := func() forecast.PackHealth {
		return find(t, b.make().Health, func(h forecast.PackHealth) bool { return h.Pack == p })
	}
	require.Zero(t, health().ChargeOhm.N)
	require.InDelta(t, 30/0.85, health().ChargeOhm.Before, 0.1)
	b.captain(board.PackMove{Pack: p, Robot: b.sprat, Found: true})
	b.captain(board.PackMove{Pack: p, Place: b.s.Event().ChargingPlaces[0]})
	b.read(p, 3.70, 30, nil)
	b.charge(p, b.one)
	b.wait(50 * time.Minute)
	b.by(b.ann, board.PackRead{Pack: p, CellVolts: []float64{4.19, 4.19, 4.19, 4.19}, ReturnedAh: 0.6, ChargeMin: 46, Charged: true, MilliOhm: 6, TempC: new(float64)})
	h := health()
	require.Equal(t, 1, h.ChargeOhm.N)
	require.Greater(t, h.ChargeOhm.Value, 5.0)
	require.InDelta(t, 30/0.85, h.ChargeOhm.Before, 0.1)
	require.Len(t, h.Share, 1)
	require.InDelta(t, 0.71, h.Share[0].Value, 0.01)
	e := find(t, b.make().Energies, func(e forecast.FightEnergy) bool { return e.Robot == b.sprat })
	require.Equal(t, 1, e.N)
	require.InDelta(t, 0.6*4*3.7, e.Wh, 0.1)
	require.Equal(t, 5.0, e.GuessLowWh)
	require.Equal(t, 12.0, e.GuessHighWh)
}

// A day of thirty packs on twelve channels of one circuit, beside no repairs: what the
// packs' times, their health and the plan of their charges add to a forecast.
func BenchmarkThirtyPacksOnTwelveChannels(b *testing.B) {
	pit := newBench(b)
	for k := range 10 {
		pit.channel(fmt.Sprintf("D%d", k))
	}
	for k := range 30 {
		pack := pit.pack(fmt.Sprintf("P%d", k), pit.sprat)
		pit.read(pack, 3.733, 25, nil)
	}
	b.ResetTimer()
	for b.Loop() {
		pit.make()
	}
}

func TestANewPackIsNotSaidToHaveBeenUsed(t *testing.T) {
	b := newBench(t)
	p := b.pack("P1", b.sprat)
	require.Equal(t, "nobody has read it yet", b.view(p).Again)

	b.read(p, 3.733, 25, nil)
	b.captain(board.PackMove{Pack: p, Robot: b.sprat, Found: true})
	b.captain(board.PackMove{Pack: p, Place: b.s.Event().ChargingPlaces[0]})

	require.Equal(t, "nobody has read it since it was used", b.view(p).Again)
}
