package charge

import (
	"fmt"
	"math"
)

// Seat is a charge at its place on a supply.
type Seat struct {
	Job
	// Charger is the place of its charger in Supply.ChargerWatts, −1 for one that
	// has no limit of its own.
	Charger int
	// StartSec is when it starts, 0 or later.
	StartSec float64
}

// Run is a charge among others. In its Result, CPSec counts all seconds in which
// power limited, also those in which there was none.
type Run struct {
	Result
	// EndSec is when the charge ends, from the same zero as StartSec.
	EndSec float64
	// Points hold the charge step by step, if asked for, times from the same zero;
	// none for a pack that needs nothing.
	Points []Point
}

const (
	stepSec       = 5.0
	stepsPerTau   = 20
	mostHours     = 100
	mostSeats     = 200
	tooLongForDay = mostHours * 3600
)

// Together returns what becomes of charges that share a supply, by steps of at
// most 5 s and a twentieth of the time constant. Power that one no longer takes
// goes to the others at the next step. It returns an error if a seat has a fault,
// and if a charge has not ended after 100 hours because no power is left for it.
func Together(seats []Seat, s Supply) ([]Run, error) {
	return together(seats, s, stepSec, false)
}

// TogetherTraced is Together with every step's points kept.
func TogetherTraced(seats []Seat, s Supply) ([]Run, error) {
	return together(seats, s, stepSec, true)
}

func together(seats []Seat, s Supply, mostSec float64, traced bool) ([]Run, error) {
	if err := s.fault(seats); err != nil {
		return nil, err
	}
	st := newStepper(seats, s, mostSec, traced)
	for st.open() {
		if st.sec > tooLongForDay {
			return nil, fmt.Errorf("after %d hours not every charge has ended: give them more power, more current or fewer packs", mostHours)
		}
		st.step()
	}
	return st.runs, nil
}

func (s Supply) fault(seats []Seat) error {
	if s.Sharing != FairShare && s.Sharing != InOrder {
		return fmt.Errorf("sharing %q: name %s or %s", s.Sharing, FairShare, InOrder)
	}
	if len(seats) > mostSeats {
		return fmt.Errorf("%d charges: at most %d can be computed together", len(seats), mostSeats)
	}
	if s.Watts != 0 && !between(s.Watts, 0.1, 1e6) {
		return fmt.Errorf("supply of %g W: give 0.1 to 1000000, or 0 for no limit", s.Watts)
	}
	for k, w := range s.ChargerWatts {
		if w != 0 && !between(w, 0.1, 1e6) {
			return fmt.Errorf("charger %d of %g W: give 0.1 to 1000000, or 0 for no limit", k, w)
		}
	}
	for k, seat := range seats {
		if f := seat.Fault(); f != nil {
			return fmt.Errorf("charge %d: %w", k, f)
		}
		if seat.Charger < -1 || seat.Charger >= len(s.ChargerWatts) {
			return fmt.Errorf("charge %d: there is no charger %d", k, seat.Charger)
		}
		if !between(seat.StartSec, 0, tooLongForDay) {
			return fmt.Errorf("charge %d starts after %g s: give 0 to %d", k, seat.StartSec, tooLongForDay)
		}
	}
	return nil
}

// stepper walks all charges through time together.
type stepper struct {
	seats   []Seat
	supply  Supply
	mostSec float64
	traced  bool

	sec     float64
	lastSec float64 // length of the last step
	now     []cellState
	half    []cellState
	next    []cellState
	// current now, at the middle of the step and at its end
	amps, mid, end []float64
	was            []moment
	done           []bool
	runs           []Run
	wants          []want
	got            []float64
}

// moment is what a charge had come to at the start of the last step; amps is 0
// before its first.
type moment struct{ soc, amps, volts, ah, wattHours float64 }

func newStepper(seats []Seat, s Supply, mostSec float64, traced bool) *stepper {
	n := len(seats)
	st := &stepper{
		seats: seats, supply: s, mostSec: mostSec, traced: traced,
		now: make([]cellState, n), half: make([]cellState, n), next: make([]cellState, n),
		amps: make([]float64, n), mid: make([]float64, n), end: make([]float64, n), was: make([]moment, n),
		done: make([]bool, n), runs: make([]Run, n),
		wants: make([]want, n), got: make([]float64, n),
	}
	for k, seat := range seats {
		st.now[k] = cellState{seat.From, make([]float64, len(seat.Pairs))}
		st.half[k] = cellState{0, make([]float64, len(seat.Pairs))}
		st.next[k] = cellState{0, make([]float64, len(seat.Pairs))}
		st.runs[k].SoCAtCV = -1
	}
	return st
}

func (st *stepper) open() bool {
	for _, d := range st.done {
		if !d {
			return true
		}
	}
	return false
}

func (st *stepper) running(k int) bool { return !st.done[k] && st.seats[k].StartSec <= st.sec }

// step ends what has ended at this moment and takes the rest one step on: with the
// current at the middle of the step, after the state at the middle. A step over
// which a current does not run one way is taken shorter.
func (st *stepper) step() {
	st.currents(st.now, st.amps)
	if st.finishAll() {
		st.currents(st.now, st.amps)
	}
	dt := st.stepLength()
	for st.look(dt); dt > leastSec && st.uneven(); st.look(dt) {
		dt = max(dt/2, leastSec)
	}
	for k := range st.seats {
		if st.running(k) {
			st.remember(k)
			st.note(k, st.sec, st.amps[k])
			st.account(k, dt)
			st.now[k], st.next[k] = st.next[k], st.now[k]
		}
	}
	st.sec += dt
	st.lastSec = dt
}

// look works out the middle and the end of a step of dt.
func (st *stepper) look(dt float64) {
	for k := range st.seats {
		if st.running(k) {
			st.seats[k].advance(&st.half[k], st.now[k], st.amps[k], dt/2)
		}
	}
	st.currents(st.half, st.mid)
	for k := range st.seats {
		if st.running(k) {
			st.seats[k].advance(&st.next[k], st.now[k], st.mid[k], dt)
		}
	}
	st.currents(st.next, st.end)
}

// evenWithin is by how much of it a current at the middle of a step may lie outside
// of those at its ends.
const evenWithin = 1.0 / 1000

// uneven tells whether a current rises and falls within the step: the share of one
// charge does while another meets a knee.
func (st *stepper) uneven() bool {
	for k := range st.seats {
		low, high := min(st.amps[k], st.end[k]), max(st.amps[k], st.end[k])
		if st.running(k) && (st.mid[k] < low*(1-evenWithin) || st.mid[k] > high*(1+evenWithin)) {
			return true
		}
	}
	return false
}

// finishAll ends what has ended, and tells whether anything has.
func (st *stepper) finishAll() bool {
	any := false
	for k := range st.seats {
		if st.running(k) && st.ended(k) {
			st.finish(k)
			any = true
		}
	}
	return any
}

func (st *stepper) remember(k int) {
	j, r, now, amps := st.seats[k].Job, &st.runs[k], st.now[k], st.amps[k]
	volts := float64(j.Cells) * (j.behind(now) + amps*j.ohm())
	st.was[k] = moment{now.soc, amps, volts, r.AhIn, r.WattHoursIn}
}

// currents writes the current of each charge in the given states. A charge that
// does not run has none.
func (st *stepper) currents(states []cellState, amps []float64) {
	for k, seat := range st.seats {
		st.wants[k] = want{0, seat.Charger}
		if st.running(k) {
			st.wants[k].watts = seat.wantsWatts(states[k])
		}
	}
	st.supply.divide(st.wants, st.got)
	for k, seat := range st.seats {
		amps[k] = 0
		if st.running(k) && st.got[k] > 0 {
			amps[k] = min(seat.mostAmps(states[k]), ampsAt(st.got[k]/float64(seat.Cells), seat.behind(states[k]), seat.ohm()))
		}
	}
}

// stepLength keeps to the limits of Together, and stops at the next start and at
// the next knee.
func (st *stepper) stepLength() float64 {
	dt := st.mostSec
	for k, seat := range st.seats {
		switch {
		case st.running(k):
			dt = min(dt, seat.longestStep(st.now[k], st.amps[k]))
			dt = st.untilKnee(k, dt)
		case !st.done[k]:
			dt = min(dt, seat.StartSec-st.sec)
		}
	}
	return dt
}

// leastSec is how near to a knee a step must end.
const leastSec = 1e-3

// untilKnee shortens a step of dt so that it does not pass a knee of charge k: the
// next point of its curve, or the moment it meets the limit voltage. Both are
// foreseen at the current of now, or at its full current where it may have that; where that falls, the next steps come closer.
func (st *stepper) untilKnee(k int, dt float64) float64 {
	j, now, amps := st.seats[k].Job, st.now[k], st.amps[k]
	if amps <= 0 {
		return dt
	}
	most := dt
	if full := j.mostAmps(now); full == j.Amps {
		amps = full // others may leave it so much within the step
	}
	dt = min(dt, j.secToNextPoint(now.soc, amps))
	headroom := func(sec float64) float64 {
		j.advance(&st.half[k], now, amps, sec)
		return j.LimitVolts - j.behind(st.half[k]) - amps*j.ohm()
	}
	if j.phase(now, amps) != CV && headroom(dt) < 0 {
		before, past := 0.0, dt
		for past-before > leastSec/2 {
			if mid := (before + past) / 2; headroom(mid) > 0 {
				before = mid
			} else {
				past = mid
			}
		}
		dt = past
	}
	return max(dt, min(leastSec, most))
}

// account books a step by what limited the current at its middle.
func (st *stepper) account(k int, dt float64) {
	r, j, amps := &st.runs[k], st.seats[k].Job, st.mid[k]
	switch j.phase(st.half[k], amps) {
	case CC:
		r.CCSec += dt
	case CP:
		r.CPSec += dt
	case CV:
		if r.CVSec == 0 {
			r.SoCAtCV = st.now[k].soc
		}
		r.CVSec += dt
	}
	r.AhIn += amps * dt / 3600
	r.WattHoursIn += j.watts(st.half[k], amps) * dt / 3600
}

// note keeps a point of charge k, if asked to.
func (st *stepper) note(k int, sec, amps float64) {
	if !st.traced {
		return
	}
	r, j, now := &st.runs[k], st.seats[k].Job, st.now[k]
	volts := float64(j.Cells) * (j.behind(now) + amps*j.ohm())
	r.Points = append(r.Points, Point{
		Sec: sec, Amps: amps, PackVolts: volts, Watts: volts * amps,
		SoC: now.soc, WattHoursIn: r.WattHoursIn, Phase: j.phase(now, amps),
	})
}

// ended tells whether the current has fallen to its end at the limit voltage, or
// the charge has reached its aim.
func (st *stepper) ended(k int) bool {
	j := st.seats[k].Job
	if j.To < 1 && st.now[k].soc >= j.To {
		return true
	}
	return st.amps[k] <= j.EndAmps && j.phase(st.now[k], st.amps[k]) == CV
}

// finish ends charge k: not now, but at the moment within the last step at which
// its current or its charge passed the end.
func (st *stepper) finish(k int) {
	j, r, was := st.seats[k].Job, &st.runs[k], st.was[k]
	st.done[k] = true
	r.EndSec, r.EndSoC = st.sec, st.now[k].soc
	r.ByCurrent = j.To == 1 || st.now[k].soc < j.To
	switch {
	case was.amps > 0:
		st.endWithinStep(k)
	case r.TotalSec() > 0: // it had no power at the start of the step
		st.note(k, st.sec, st.amps[k])
	}
	if r.CVSec == 0 {
		r.SoCAtCV = r.EndSoC
	}
}

// endWithinStep books the part of the last step before the end anew, current and
// voltage taken to run straight from its start to the end.
func (st *stepper) endWithinStep(k int) {
	j, r, was := st.seats[k].Job, &st.runs[k], st.was[k]
	sec, amps := st.lastPart(k)
	coulombs := (was.amps + amps) / 2 * sec
	st.now[k].soc = was.soc + coulombs/j.perUnit()
	volts := float64(j.Cells) * min(j.behind(st.now[k])+amps*j.ohm(), j.LimitVolts)
	r.EndSec, r.EndSoC = st.sec-st.lastSec+sec, st.now[k].soc
	r.AhIn = was.ah + coulombs/3600
	r.WattHoursIn = was.wattHours + coulombs*(was.volts+volts)/2/3600
	r.takeBack(st.lastSec - sec)
	st.note(k, r.EndSec, amps)
}

// takeBack takes sec seconds from the last phase, and the rest from those before.
func (r *Result) takeBack(sec float64) {
	for _, phase := range []*float64{&r.CVSec, &r.CPSec, &r.CCSec} {
		cut := min(*phase, sec)
		*phase -= cut
		sec -= cut
	}
}

// lastPart returns the seconds of the last step up to the end, and the current at
// the end. An end current is found by its rest voltage; a cell with Pairs has none,
// and there the current is taken to fall exponentially.
func (st *stepper) lastPart(k int) (sec, amps float64) {
	j, before, now := st.seats[k].Job, st.was[k].amps, st.amps[k]
	switch {
	case !st.runs[k].ByCurrent:
		coulombs := (j.To - st.was[k].soc) * j.perUnit()
		end := before + (now-before)*clamp(coulombs/(st.mid[k]*st.lastSec))
		return min(coulombs/((before+end)/2), st.lastSec), end
	case before <= j.EndAmps:
		return st.lastSec, now // power kept it below
	case len(j.Pairs) == 0:
		coulombs := (j.Curve.SoC(j.LimitVolts-j.EndAmps*j.ohm()) - st.was[k].soc) * j.perUnit()
		return min(max(coulombs, 0)/((before+j.EndAmps)/2), st.lastSec), j.EndAmps
	case now <= 0:
		return st.lastSec * (before - j.EndAmps) / before, j.EndAmps
	}
	return st.lastSec * clamp(math.Log(before/j.EndAmps)/math.Log(before/now)), j.EndAmps
}
