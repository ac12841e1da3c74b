package board_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func degrees(c float64) *float64 { return &c }

func even(volts float64) []float64 { return []float64{volts, volts, volts, volts} }

// channel is a new channel at the shelf, on a circuit or on none.
func (p *pit) channel(on CircuitID) ChannelID {
	name := "B" + strconv.Itoa(len(p.s.Channels)+1)
	return ChannelID(p.made(p.captain(ChannelAdd{ChannelFields{
		Name: name, Charger: "twin", AmpsMost: 5, WattsMost: 100, ChargerWatts: 200, CellsMost: 6, Circuit: on, Place: p.shelf,
	}})))
}

func TestWhatCannotBeIsRefusedWhateverIsSaid(t *testing.T) {
	p := newPit(t)
	for field, read := range map[string]PackRead{
		"cellVolts":  {CellVolts: []float64{3.7, 3.7, 3.7, 37}},
		"tempC":      {TempC: degrees(151)},
		"airC":       {TempC: degrees(30), AirC: degrees(70)},
		"milliOhm":   {MilliOhm: -1},
		"returnedAh": {ReturnedAh: 99},
		"chargeMin":  {CellVolts: even(4.2), ChargeMin: -1},
		"look":       {Look: "funny"},
	} {
		read.Pack, read.Sure = p.p2, true
		_, bad := p.try(p.as(p.ben), read)
		require.NotNil(t, bad, field)
		require.Equal(t, CodeBadField, bad.Code, field)
		require.Equal(t, field, bad.Field)
	}
	_, bad := p.try(p.as(p.ben), PackRead{Pack: p.p2})
	require.Equal(t, "cellVolts", bad.Field, "nothing was read")
}

func TestWhatIsHardlyEverSoIsAskedAgainAndTakenThen(t *testing.T) {
	for name, read := range map[string]PackRead{
		"above full":       {CellVolts: even(4.27)},
		"ended, not full":  {CellVolts: even(3.95), Charged: true},
		"other resistance": {MilliOhm: 70},
		"below freezing":   {TempC: degrees(-3)},
		"more than it has": {ReturnedAh: 0.9},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.8), MilliOhm: 20})
			read.Pack = p.p2
			before := p.s.Packs[p.p2]
			_, bad := p.try(p.as(p.ben), read)
			require.NotNil(t, bad)
			require.Equal(t, CodeUnlikely, bad.Code)
			require.Equal(t, "sure", bad.Field)
			require.Equal(t, before, p.s.Packs[p.p2])
			read.Sure = true
			p.ok(p.as(p.ben), read)
			require.NotEqual(t, before.Reading, p.s.Packs[p.p2].Reading)
		})
	}
}

// Doubt is resolved to the more locked state: what sets aside is never asked twice.
func TestAReadingThatSetsAsideIsNeverHeldUp(t *testing.T) {
	for name, read := range map[string]PackRead{
		"hot": {TempC: degrees(61)}, "flat": {CellVolts: []float64{3.7, 3.7, 2.5, 3.7}}, "swollen": {Look: LookSwollen},
		"torn": {Look: LookTorn}, "smells": {Look: LookSmells}, "hot and above full": {TempC: degrees(70), CellVolts: even(4.29)},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			read.Pack = p.p2
			p.ok(p.as(p.ben), read)
			require.Equal(t, PackSuspect, p.s.Packs[p.p2].State)
			for _, back := range []Command{
				PackRead{Pack: p.p2, CellVolts: even(4.2), Charged: true, Sure: true}, PackRead{Pack: p.p2, Look: LookFine},
				PackSet{Pack: p.p2, State: PackWaiting}, PackSet{Pack: p.p2, State: PackUnread}, PackMove{Pack: p.p2, Robot: p.moth},
			} {
				p.refused(p.as(p.ada), back, 13)
			}
		})
	}
}

func TestAHotPackComesBackIsReadTwiceAndMayBeChargedWhenCool(t *testing.T) {
	p := newPit(t)
	ch := p.channel("")
	charge := PackCharge{Pack: p.p1, Channel: ch, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
	p.ok(p.as(p.ben), PackMove{Pack: p.p1, Place: p.shelf})
	require.Equal(t, p.moth, p.s.Packs[p.p1].Fought)
	p.ok(p.as(p.ben), PackRead{Pack: p.p1, CellVolts: even(3.7)})
	_, bad := p.try(p.as(p.ben), charge)
	require.Equal(t, CodeNotYet, bad.Code, "nobody has read how warm it is")
	sentenceHas(t, bad, "temperature")

	p.ok(p.as(p.ben), PackRead{Pack: p.p1, TempC: degrees(52), AirC: degrees(22)})
	require.Equal(t, PackCooling, p.s.Packs[p.p1].State)
	require.Equal(t, even(3.7), p.s.Packs[p.p1].Reading.CellVolts, "the cells were read before, and it was not used since")
	_, bad = p.try(p.as(p.ben), charge)
	sentenceHas(t, bad, "cool")

	p.ok(p.as(p.ben), PackRead{Pack: p.p1, TempC: degrees(34)})
	require.Equal(t, PackWaiting, p.s.Packs[p.p1].State)
	p.ok(p.as(p.ben), charge)
	require.Len(t, p.s.PackLogs[p.p1].Readings, 3)
	require.Equal(t, p.moth, p.s.PackLogs[p.p1].Readings[0].Fought)
	p.ok(p.as(p.ben), PackRead{Pack: p.p1, CellVolts: even(4.19), ReturnedAh: 0.4, ChargeMin: 44, Charged: true})
	is := p.s.Packs[p.p1]
	require.Equal(t, PackCharged, is.State)
	require.Empty(t, is.Fought)
	require.Zero(t, is.Amps)
	last := p.s.PackLogs[p.p1].Readings[3]
	require.Equal(t, 0.6, last.Amps)
	require.Equal(t, p.moth, last.Fought)
}

func TestACellReadingIsNotKeptPastAUse(t *testing.T) {
	p := newPit(t)
	ch := p.channel("")
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7)})
	p.ok(p.as(p.ben), PackCharge{Pack: p.p2, Channel: ch, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true})
	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, TempC: degrees(30)})
	require.Empty(t, p.s.Packs[p.p2].Reading.CellVolts)
	require.Equal(t, PackUnread, p.s.Packs[p.p2].State, "only its cells make it more than unread")
}

func TestFasterThanOneCNeedsAName(t *testing.T) {
	p := newPit(t)
	ch := p.channel("")
	f := p.s.Packs[p.p2].PackFields
	f.ChargeAmpsMost = 2
	p.captain(PackChange{Pack: p.p2, PackFields: f})
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.7)})
	fast := PackCharge{Pack: p.p2, Channel: ch, Attendant: p.ben, Cells: 4, Amps: 1.3, Contained: true}
	_, bad := p.try(p.as(p.ben), fast)
	require.Equal(t, "amps", bad.Field)
	sentenceHas(t, bad, "1C")
	f.FasterBy = "Ada, from the label"
	p.captain(PackChange{Pack: p.p2, PackFields: f})
	p.ok(p.as(p.ben), fast)
}

func TestABreakerTripsAndItsChargesAreUnknownUntilLookedAt(t *testing.T) {
	p := newPit(t)
	k := CircuitID(p.made(p.captain(CircuitAdd{CircuitFields{Name: "K1", Volts: 230, RatingAmps: 10, SaidBy: "the venue"}})))
	ch, other := p.channel(k), p.channel("")
	p3 := p.pack("P3")
	for pack, on := range map[PackID]ChannelID{p.p2: ch, p3: other} {
		p.ok(p.as(p.ben), PackRead{Pack: pack, CellVolts: even(3.7)})
		who := p.ben
		if pack == p3 {
			who = p.dee
		}
		p.ok(p.as(p.ben), PackCharge{Pack: pack, Channel: on, Attendant: who, Cells: 4, Amps: 0.6, Contained: true})
	}
	p.ok(p.as(p.ben), CircuitOff{Circuit: k})
	is := p.s.Packs[p.p2]
	require.Equal(t, PackCharging, is.State, "it may run, for all anyone has looked")
	require.True(t, is.Unsure)
	require.Equal(t, k, is.Stopped)
	require.False(t, p.s.Packs[p3].Unsure)
	require.Equal(t, PackCharging, p.s.Packs[p3].State, "another circuit's charge goes on")
	_, bad := p.try(p.as(p.ben), CircuitOff{Circuit: k})
	require.Equal(t, CodeNothingToDo, bad.Code)

	p.ok(p.as(p.ben), PackOff{Pack: p.p2})
	again := PackCharge{Pack: p.p2, Channel: ch, Attendant: p.ben, Cells: 4, Amps: 0.6, Contained: true}
	p.ok(p.as(p.ben), PackRead{Pack: p.p2, CellVolts: even(3.9)})
	require.Empty(t, p.s.Packs[p.p2].Stopped, "somebody has looked")
	_, bad = p.try(p.as(p.ben), again)
	sentenceHas(t, bad, "K1 is off")
	_, bad = p.try(p.as(p.ada), CircuitOn{Circuit: k})
	require.Equal(t, "saidBy", bad.Field, "whoever answers for the wiring says so")
	p.ok(p.as(p.ada), CircuitOn{Circuit: k, SaidBy: "Noor of the venue"})
	p.ok(p.as(p.ben), again)
	_, bad = p.try(p.as(p.ada), CircuitOn{Circuit: k, SaidBy: "Noor"})
	require.Equal(t, CodeNothingToDo, bad.Code)
}

func TestALogKeepsItsLastSixtyReadings(t *testing.T) {
	p := newPit(t)
	for k := range 61 {
		p.ok(p.as(p.ben), PackRead{Pack: p.p2, TempC: degrees(float64(k))})
	}
	log := p.s.PackLogs[p.p2].Readings
	require.Len(t, log, 60)
	require.Equal(t, 1.0, *log[0].TempC)
	require.Equal(t, 60.0, *log[59].TempC)
}
