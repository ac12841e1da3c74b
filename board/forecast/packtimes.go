package forecast

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"mendline/board"
	"mendline/board/charge"
)

// How long a reading of the room's air serves the bench (our decision).
const airHoldsSec = 3 * 3600

// A pack's resistance over minutes is guessed from its capacity until charges have
// been logged; a guess may be off by so much, what was learned by less (our guess).
const (
	guessMilliOhmAh = 30.0
	guessLow        = 0.6
	guessHigh       = 1.8
	learnedLow      = 0.85
	learnedHigh     = 1.2
)

// packing is what the times of packs are computed from.
type packing struct {
	s   board.State
	at  board.Moment
	air *float64
}

func packingOf(s board.State, at board.Moment) packing {
	p := packing{s: s, at: at}
	var seen board.Moment
	for _, log := range s.PackLogs {
		for _, r := range log.Readings {
			if r.AirC != nil && r.At >= seen && secUntil(r.At, at) < airHoldsSec {
				seen, p.air = r.At, r.AirC
			}
		}
	}
	return p
}

// span is a time in seconds: one in ten is shorter than low, one in ten longer than
// high.
type span struct{ low, likely, high float64 }

func (a span) plus(b span) span { return span{a.low + b.low, a.likely + b.likely, a.high + b.high} }

// times fills in what the readings say of when v's pack is ready.
func (c packing) times(v *PackView, p board.Pack) {
	switch {
	case setAside(p.State) || p.State == board.PackCharged || p.State == board.PackInRobot || p.State == board.PackStorage:
	case p.Unsure:
		c.charging(v, p)
	case p.Stopped != "":
		v.Again = fmt.Sprintf("circuit %s went off while it charged: look at it, then read it", c.s.Circuits[p.Stopped].Name)
	case p.State == board.PackUnread && p.Reading.At == 0:
		v.Again = "nobody has read it yet"
	case p.State == board.PackUnread:
		v.Again = "nobody has read it since it was used"
	case p.State == board.PackCharging:
		c.charging(v, p)
	default:
		c.waiting(v, p)
	}
	if p.Reading.At != 0 {
		v.ReadAt = p.Reading.At
	}
	v.Caution = caution(p)
}

func (c packing) charging(v *PackView, p board.Pack) {
	if p.Unsure {
		v.Word, v.Again = "may be charging", "nobody has said whether it still charges: look, and say so"
		return
	}
	takes, ok := c.takes(p, c.s.Channels[p.Channel], p.Amps)
	if !ok {
		v.Again = "no time is foretold for it: watch its charger"
		return
	}
	v.set(p.UsedAt, takes)
	if c.at > v.BadAt {
		v.Again = "it is past its time: stop it, look at it and read it"
	}
}

func (c packing) waiting(v *PackView, p board.Pack) {
	takes, ok := c.soonest(p)
	if ok {
		v.TakesSec, v.TakesBadSec = workMinutes(int(takes.likely)), workMinutes(int(takes.high))
	}
	if p.State != board.PackCooling {
		return
	}
	cool, err := c.cooling(p)
	var warm charge.AirTooWarm
	switch {
	case errors.As(err, &warm):
		v.Again = fmt.Sprintf("the air is %.0f °C: it will not get to %.0f °C here", warm.AmbientC, warm.TargetC)
	case err != nil:
		v.Again = err.Error()
	default:
		v.CoolAt, v.CoolBadAt = wholeMinute(plusSec(c.at, int(cool.likely))), wholeMinute(plusSec(c.at, int(cool.high)))
		if ok {
			v.set(c.at, cool.plus(takes))
		}
		if cool.high <= 0 {
			v.Again = "it should be cool by now: read it"
		}
	}
}

func (v *PackView) set(from board.Moment, takes span) {
	v.EarlyAt = wholeMinute(plusSec(from, int(takes.low)))
	v.ReadyAt = wholeMinute(plusSec(from, int(takes.likely)))
	v.BadAt = wholeMinute(plusSec(from, int(takes.high)))
}

// cooling asks when p is at its ready temperature, by its readings since it was used.
func (c packing) cooling(p board.Pack) (span, error) {
	warm := c.warmth(p, p.UsedAt)
	if c.air == nil {
		if len(warm) >= 3 {
			if fit, err := charge.FitCoolingAndAir(warm); err == nil {
				return c.coolIn(p, warm, fit.AmbientC)
			}
		}
		return span{}, charge.ReadAgain("the room’s air too, which nobody has read in three hours")
	}
	return c.coolIn(p, warm, *c.air)
}

func (c packing) coolIn(p board.Pack, warm []charge.TempReading, airC float64) (span, error) {
	ask := charge.CoolAsk{Readings: warm, AmbientC: airC, TargetC: charge.ReadyC, NowSec: 0}
	if tau, n := c.learnedTau(p); n > 0 {
		ask.Prior = charge.Wait{LowSec: 0.8 * tau, LikelySec: tau, HighSec: 1.3 * tau}
	}
	w, err := ask.When()
	return span{w.LowSec, w.LikelySec, w.HighSec}, err
}

// sec counts from now.
func (c packing) sec(m board.Moment) float64 { return m.Sub(c.at).Seconds() }

// warmth lists the temperatures read off p from then on, the hottest first.
func (c packing) warmth(p board.Pack, from board.Moment) []charge.TempReading {
	var list []charge.TempReading
	for _, r := range c.s.PackLogs[p.ID].Readings {
		if r.TempC != nil && r.At >= from && (len(list) == 0 || c.sec(r.At) > list[len(list)-1].Sec) {
			list = append(list, charge.TempReading{Sec: c.sec(r.At), TempC: *r.TempC})
		}
	}
	return list
}

// soonest is how long p is on the quickest channel that takes it.
func (c packing) soonest(p board.Pack) (best span, ok bool) {
	for _, ch := range channelsFor(c.s, p) {
		if takes, fits := c.takes(p, ch, mostAmps(p, ch)); fits && (!ok || takes.likely < best.likely) {
			best, ok = takes, true
		}
	}
	return best, ok
}

func channelsFor(s board.State, p board.Pack) []board.Channel {
	all := board.Sorted(s.Channels, func(ch board.Channel) string { return ch.Name })
	return slices.DeleteFunc(all, func(ch board.Channel) bool { return ch.Retired || ch.CellsMost < p.Cells })
}

// mostAmps is the least of label, channel and, unless someone allowed more, 1C.
func mostAmps(p board.Pack, ch board.Channel) float64 {
	amps := min(p.ChargeAmpsMost, ch.AmpsMost)
	if p.FasterBy == "" {
		amps = min(amps, p.CapacityAh)
	}
	return amps
}

// takes is how long p is on ch at amps, from its last cells read at rest.
func (c packing) takes(p board.Pack, ch board.Channel, amps float64) (span, bool) {
	soc, ok := c.restedSoC(p)
	if !ok {
		return span{}, false
	}
	return c.chargeSpan(p, ch, amps, soc)
}

func (c packing) chargeSpan(p board.Pack, ch board.Channel, amps float64, soc charge.SoCRange) (span, bool) {
	mohm, n := c.learnedMilliOhm(p)
	low, high := learnedLow, learnedHigh
	if n == 0 {
		mohm, low, high = guessMilliOhmAh/p.CapacityAh, guessLow, guessHigh
	}
	one := func(from, times float64) (float64, bool) {
		j, ok := chargeJob(p, ch, amps)
		j.From, j.MilliOhm = from, mohm*times
		r, err := j.Charge()
		return r.TotalSec(), ok && err == nil
	}
	quick, ok1 := one(soc.High, low)
	likely, ok2 := one(soc.Likely, 1)
	slow, ok3 := one(soc.Low, high)
	return span{min(quick, likely), likely, max(likely, slow)}, ok1 && ok2 && ok3
}

// chargeJob is a charge of p on ch to full, without its start and resistance.
func chargeJob(p board.Pack, ch board.Channel, amps float64) (charge.Job, bool) {
	curve, err := charge.CurveOf(p.Chemistry)
	if err != nil {
		return charge.Job{}, false
	}
	return charge.Job{
		Cells: p.Cells, CapacityAh: p.CapacityAh, Curve: curve, LimitVolts: charge.LimitsOf(p.Chemistry).ChargeVolts,
		Amps: amps, Watts: ch.WattsMost, EndAmps: min(p.CapacityAh/20, amps), To: 1,
	}, true
}

// restedSoC is the state of charge by the last cells read before p went on a charger
// or since it was used.
func (c packing) restedSoC(p board.Pack) (charge.SoCRange, bool) {
	r, ok := c.lastCells(p)
	if !ok {
		return charge.SoCRange{}, false
	}
	soc, err := charge.SoCAtRest(p.Chemistry, mean(r.CellVolts))
	return soc, err == nil
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, x := range list {
		sum += x
	}
	return sum / float64(len(list))
}

func (c packing) lastCells(p board.Pack) (board.Reading, bool) {
	log := c.s.PackLogs[p.ID].Readings
	for k := len(log) - 1; k >= 0; k-- {
		r := log[k]
		if len(r.CellVolts) == p.Cells && (p.State == board.PackCharging) == (r.At <= p.UsedAt) {
			return r, true
		}
	}
	return p.Reading, len(p.Reading.CellVolts) == p.Cells
}

// caution is what a person should know of the cells and warmth that were read.
func caution(p board.Pack) string {
	volts := p.Reading.CellVolts
	if len(volts) == 0 || setAside(p.State) {
		return ""
	}
	low := slices.Min(volts)
	switch spread := charge.SpreadOf(p.Chemistry, volts); {
	case spread.Warn:
		return fmt.Sprintf("cells are %.2f V apart", spread.Volts)
	case low < 3.20 && charge.LimitsOf(p.Chemistry).ChargeVolts >= 4.2:
		return fmt.Sprintf("lowest cell %.2f V, below 3.20 V", low)
	}
	return ""
}

// learnedMilliOhm is the median of what p's logged charges teach of its resistance
// over minutes, and how many they are.
func (c packing) learnedMilliOhm(p board.Pack) (float64, int) {
	var list []float64
	for _, r := range lastOf(c.s.PackLogs[p.ID].Readings, 5, loggedCharge) {
		j, ok := chargeJob(p, board.Channel{}, r.Amps)
		j.From = 1 - r.ReturnedAh/p.CapacityAh
		if mohm, err := j.LearnFromSec(60 * r.ChargeMin); ok && err == nil {
			list = append(list, mohm)
		}
	}
	return medianOf(list), len(list)
}

// loggedCharge tells whether the charger's own counters were entered after a whole
// charge.
func loggedCharge(r board.Reading) bool {
	return r.Charged && r.ReturnedAh > 0 && r.ChargeMin > 0 && r.Amps > 0
}

// lastOf lists the last n readings that are so.
func lastOf(readings []board.Reading, n int, so func(board.Reading) bool) []board.Reading {
	list := slices.DeleteFunc(slices.Clone(readings), func(r board.Reading) bool { return !so(r) })
	return list[max(0, len(list)-n):]
}

func medianOf(list []float64) float64 {
	if len(list) == 0 {
		return math.NaN()
	}
	slices.Sort(list)
	return (list[(len(list)-1)/2] + list[len(list)/2]) / 2
}

// learnedTau is the median of the time constants, in seconds, by which p cooled, each
// from two readings or more after one use in air that was read.
func (c packing) learnedTau(p board.Pack) (float64, int) {
	var taus []float64
	var series []charge.TempReading
	var air *float64
	end := func() {
		if air != nil && len(series) >= 2 {
			if fit, err := charge.FitCooling(series, *air); err == nil && fit.TauSec > charge.FastestTauSec && fit.TauSec < charge.SlowestTauSec {
				taus = append(taus, fit.TauSec)
			}
		}
		series, air = nil, nil
	}
	for _, r := range c.s.PackLogs[p.ID].Readings {
		if r.TempC == nil {
			continue
		}
		if n := len(series); n > 0 && (*r.TempC >= series[n-1].TempC || c.sec(r.At)-series[n-1].Sec > charge.SlowestTauSec) {
			end()
		}
		series = append(series, charge.TempReading{Sec: c.sec(r.At), TempC: *r.TempC})
		if r.AirC != nil {
			air = r.AirC
		}
	}
	end()
	return medianOf(taus), len(taus)
}
