package forecast_test

import (
	"math"
	"slices"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mendline/board"
	"mendline/board/charge"
	"mendline/board/forecast"
)

// supply is what the packs of a random day are charged with.
type supply struct {
	channels []board.ChannelID
	circuits []board.CircuitID
}

// supplied gives the day packs of several kinds and uses, and three channels on two
// circuits, one of which carries hardly a charge.
func (d *day) supplied() {
	e := d.s.Event().EventFields
	e.AttendantMost = 2
	d.captain(board.EventSet{EventFields: e, Reason: "the table is in sight"})
	two := d.s.Robots[d.robots[1]].RobotFields
	two.MainPacks = 2
	d.captain(board.RobotChange{Robot: d.robots[1], RobotFields: two})
	for _, f := range []board.PackFields{
		{Name: "big", Cells: 6, CapacityAh: 5, ChargeAmpsMost: 5, Use: board.UseMain, Fits: d.robots},
		{Name: "third", Cells: 4, CapacityAh: 0.85, ChargeAmpsMost: 4, Use: board.UseMain, Fits: d.robots},
		{Name: "fast", Cells: 4, CapacityAh: 0.85, ChargeAmpsMost: 4, Use: board.UseMain, FasterBy: "the maker", Fits: d.robots},
		{Name: "weapon", Cells: 4, CapacityAh: 1.3, ChargeAmpsMost: 2, Use: board.UseWeapon, Fits: d.robots},
		{Name: "sender", Cells: 2, CapacityAh: 2, ChargeAmpsMost: 2, Use: board.UseTransmitter, Fits: d.robots},
		{Name: "drill", Cells: 5, CapacityAh: 2, ChargeAmpsMost: 2, Use: board.UseTool},
		{Name: "tiny", Cells: 1, CapacityAh: 0.01, ChargeAmpsMost: 0.01, Use: board.UseTransmitter, Fits: d.robots[:1]},
	} {
		f.Chemistry, f.Parallel = charge.LiPo, 1
		d.packs = append(d.packs, board.PackID(d.made(board.KindPack, board.PackAdd{PackFields: f}, captain)))
	}
	for i, name := range []string{"hall", "wall"} {
		amps := []float64{10, 0.5}[i]
		d.circuits = append(d.circuits, board.CircuitID(d.made(board.KindCircuit, board.CircuitAdd{CircuitFields: board.CircuitFields{Name: name, Volts: 230, RatingAmps: amps, SaidBy: "the keeper"}}, captain)))
	}
	for i, name := range []string{"C1", "C2", "C3"} {
		d.channels = append(d.channels, board.ChannelID(d.made(board.KindChannel, board.ChannelAdd{ChannelFields: board.ChannelFields{
			Name: name, Charger: "charger", AmpsMost: 5, WattsMost: 100, ChargerWatts: 150, CellsMost: 6, Circuit: d.circuits[i/2], Place: d.s.Event().ChargingPlaces[0],
		}}, captain)))
	}
}

// onPacks gives one command about a pack.
func (d *day) onPacks(who board.PersonID, r board.RobotID) {
	id := pick(d, "pack", d.packs)
	p := d.s.Packs[id]
	switch pick(d, "packs", []string{"read", "read", "read", "choose", "choose", "charge", "charge", "off", "move", "set", "retire", "change"}) {
	case "read":
		volts := rapid.Float64Range(3.3, 4.2).Draw(d.rt, "volts")
		temp := rapid.Float64Range(15, 58).Draw(d.rt, "temp")
		read := board.PackRead{Pack: id, CellVolts: slices.Repeat([]float64{volts}, p.Cells), TempC: &temp, Sure: true}
		if rapid.Bool().Draw(d.rt, "air") {
			air := rapid.Float64Range(5, 35).Draw(d.rt, "airC")
			read.AirC = &air
		}
		d.try(read, as(who))
	case "choose":
		d.try(board.PackChoose{Pack: id, Robot: pick(d, "chosen", []board.RobotID{r, r, ""})}, as(who))
	case "charge":
		amps := pick(d, "amps", []float64{p.CapacityAh, p.CapacityAh / 2, p.ChargeAmpsMost})
		d.try(board.PackCharge{Pack: id, Channel: pick(d, "channel", d.channels), Attendant: who, Cells: p.Cells, Amps: amps, Contained: true}, as(who))
	case "off":
		d.try(board.PackOff{Pack: id}, as(who))
	case "move":
		d.try(board.PackMove{Pack: id, Place: d.s.Event().ChargingPlaces[0]}, as(who))
	case "set":
		d.try(board.PackSet{Pack: id, State: pick(d, "state", []board.PackState{board.PackCooling, board.PackWaiting, board.PackUnread, board.PackStorage, board.PackSuspect})}, as(who))
	case "retire":
		d.try(board.PackRetire{Pack: id}, captain)
	case "change":
		f := p.PackFields
		f.Fits = pick(d, "fits", [][]board.RobotID{d.robots, {r}, nil})
		f.ChargeAmpsMost = pick(d, "label", []float64{0.01, 0.5, 2})
		d.try(board.PackChange{Pack: id, PackFields: f}, captain)
	}
}

// onSupply changes what charges the packs, and how many of them a robot takes.
func (d *day) onSupply(r board.RobotID) {
	k, ch := pick(d, "circuit", d.circuits), pick(d, "channel", d.channels)
	switch pick(d, "supply", []string{"off", "on", "others", "amps", "retire", "takes", "withdraw", "leave"}) {
	case "off":
		d.try(board.CircuitOff{Circuit: k}, captain)
	case "on":
		d.try(board.CircuitOn{Circuit: k, SaidBy: "the keeper"}, captain)
	case "others":
		f := d.s.Circuits[k].CircuitFields
		f.OtherAmps = rapid.Float64Range(0, 10).Draw(d.rt, "others")
		d.try(board.CircuitChange{Circuit: k, CircuitFields: f}, captain)
	case "amps":
		f := d.s.Channels[ch].ChannelFields
		f.AmpsMost = pick(d, "most", []float64{0.01, 0.3, 1, 5})
		f.CellsMost = pick(d, "cells", []int{2, 4, 6})
		d.try(board.ChannelChange{Channel: ch, ChannelFields: f}, captain)
	case "retire":
		d.try(board.ChannelRetire{Channel: ch}, captain)
	case "takes", "withdraw":
		f := d.s.Robots[r].RobotFields
		f.MainPacks, f.WeaponPacks = rapid.IntRange(0, 4).Draw(d.rt, "main"), rapid.IntRange(0, 2).Draw(d.rt, "weapon")
		d.try(board.RobotChange{Robot: r, RobotFields: f}, captain)
		if rapid.IntRange(0, 9).Draw(d.rt, "withdrawn") == 0 {
			d.try(board.RobotWithdraw{Robot: r}, captain)
		} else {
			d.try(board.RobotBackIn{Robot: r}, captain)
		}
	case "leave":
		if rapid.IntRange(0, 4).Draw(d.rt, "sold") == 0 {
			d.try(board.RobotRetire{Robot: r}, captain)
		}
	}
}

// follow gives people the plan that a forecast has for them: the board takes it, and
// reads it back from its file.
func (d *day) follow(f forecast.Forecast) {
	if f.Replace == nil {
		return
	}
	_, refusal := d.try(*f.Replace, board.Itself())
	require.Nil(d.rt, refusal, "%+v of %+v", refusal, *f.Replace)
	told := d.s.Follow()
	back, err := board.DecodeNoun(told.Key(), board.Encode(told))
	require.NoError(d.rt, err)
	require.Equal(d.rt, string(board.Encode(told)), string(board.Encode(back)))
}

// toldAnew asks that a plan that people who follow the last are given says something
// else to somebody. A search as brief as this test's may find a better one again.
func (d *day) toldAnew() {
	f := forecast.Make(d.s, d.now, 7, 40)
	if f.Replace == nil {
		return
	}
	same := true
	for _, k := range f.Replace.Tasks {
		told, ok := d.s.Follow().Task(k.Job)
		same = same && ok && told.SameHands(k.Told) && told.StartAt == k.StartAt
	}
	for _, k := range f.Replace.Charges {
		told, ok := d.s.Follow().Charge(k.Pack)
		same = same && ok && told.ToldCharge == k.ToldCharge
	}
	require.False(d.rt, same, "%+v", *f.Replace)
}

// live counts what is on the board.
func (d *day) live() (robots, packs, channels, circuits int) {
	for _, r := range d.s.Robots {
		if !r.Retired {
			robots++
		}
	}
	for _, p := range d.s.Packs {
		if !p.Retired {
			packs++
		}
	}
	for _, ch := range d.s.Channels {
		if !ch.Retired {
			channels++
		}
	}
	for _, k := range d.s.Circuits {
		if !k.Retired {
			circuits++
		}
	}
	return robots, packs, channels, circuits
}

// packsGoTogether asks of the packs of each fight that they are for the robot and may
// be used, and of those of one use that they are of one kind and no more than it takes.
func (d *day) packsGoTogether(f forecast.Forecast) {
	for _, v := range f.FightPacks {
		r := d.s.Robots[v.Robot]
		seen := map[board.PackID]bool{}
		sets := map[board.PackUse][]board.Pack{}
		for _, one := range v.Packs {
			p := d.s.Packs[one.Pack]
			require.False(d.rt, seen[p.ID], "%s twice in %+v", p.Name, v)
			require.Contains(d.rt, p.Fits, r.ID, p.Name)
			require.NotContains(d.rt, []board.PackState{board.PackSuspect, board.PackQuarantined, board.PackGone}, p.State, p.Name)
			require.False(d.rt, p.Retired, p.Name)
			seen[p.ID], sets[p.Use] = true, append(sets[p.Use], p)
		}
		for use, set := range sets {
			require.LessOrEqual(d.rt, len(set), r.Takes(use), "%s of %s", use, r.Name)
			for _, p := range set {
				require.Equal(d.rt, set[0].Kind(), p.Kind(), "%s and %s", set[0].Name, p.Name)
			}
		}
	}
}

// chargesKeepTheirLimits asks of each charge that is planned that pack and channel take
// it, of each channel that it has one pack at a time, and of each circuit that no plan
// draws more than what runs already leaves.
func (d *day) chargesKeepTheirLimits(f forecast.Forecast) {
	load := map[board.CircuitID][]forecast.ChargeBar{}
	for _, v := range f.Channels {
		ch := d.s.Channels[v.Channel]
		require.False(d.rt, ch.Retired, ch.Name)
		end := board.Moment(0)
		for _, bar := range v.Bars {
			p := d.s.Packs[bar.Pack]
			require.False(d.rt, p.Retired, p.Name)
			require.LessOrEqual(d.rt, bar.StartAt, bar.EndAt, "%+v", bar)
			require.LessOrEqual(d.rt, bar.EndAt, bar.BadAt, "%+v", bar)
			require.GreaterOrEqual(d.rt, bar.StartAt, end, "%s on %s: %+v", p.Name, ch.Name, v.Bars)
			end = bar.EndAt
			load[ch.Circuit] = append(load[ch.Circuit], bar)
			require.Equal(d.rt, p.Channel == ch.ID && bar.Running, bar.Running, "%s runs on its own channel", p.Name)
			if bar.Running {
				continue
			}
			most := min(p.ChargeAmpsMost, ch.AmpsMost)
			if p.FasterBy == "" {
				most = min(most, p.CapacityAh)
			}
			require.Positive(d.rt, bar.Amps, "%s on %s", p.Name, ch.Name)
			require.LessOrEqual(d.rt, bar.Amps, most+1e-9, "%s on %s", p.Name, ch.Name)
			require.LessOrEqual(d.rt, p.Cells, ch.CellsMost, "%s on %s", p.Name, ch.Name)
			require.Zero(d.rt, d.s.Circuits[ch.Circuit].OffAt, "%s on %s", p.Name, ch.Name)
		}
	}
	for _, v := range f.Circuits {
		running := 0
		for _, bar := range load[v.Circuit] {
			if bar.Running {
				running += bar.VA
			}
		}
		for _, step := range v.Load {
			require.LessOrEqual(d.rt, step.VA, int(math.Max(float64(running), float64(v.BudgetVA))), "%+v of %+v", step, load[v.Circuit])
		}
	}
}

// remediesAreTaken asks the board to take every remedy that is offered, as the captain
// would give it.
func (d *day) remediesAreTaken(f forecast.Forecast) {
	for _, list := range f.LeaveOff {
		for _, r := range list.List {
			s := d.s
			for _, w := range r.Do {
				c, refusal := board.Decode(w.Do, w.With)
				require.Nil(d.rt, refusal, "%s: %+v", r.Text, refusal)
				ask := s.Shown(c)
				ask.ID = d.id()
				change, refusal := board.Apply(s, c, ask, captain, d.now)
				require.Nil(d.rt, refusal, "%s: %+v", r.Text, refusal)
				s = s.With(change)
			}
		}
	}
}
