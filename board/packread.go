package board

import (
	"fmt"
	"math"
	"slices"

	"mendline/board/charge"
)

// Reading is what a person read off a pack. What one reading leaves out is kept
// from the one before, if the pack has not been used in between.
type Reading struct {
	At Moment   `json:"at"`
	By PersonID `json:"by"`
	// CellVolts holds a figure a cell, at rest. CellsAt and TempAt are when they were
	// read, none where that is At.
	CellVolts []float64 `json:"cellVolts,omitempty"`
	CellsAt   Moment    `json:"cellsAt,omitzero"`
	TempC     *float64  `json:"tempC,omitempty"`
	TempAt    Moment    `json:"tempAt,omitzero"`
	// AirC is the air where the pack lies.
	AirC *float64 `json:"airC,omitempty"`
	// MilliOhm is of one cell, as the team's own instrument shows it.
	MilliOhm float64 `json:"milliOhm,omitzero"`
	// ReturnedAh and ChargeMin are what the charger's own counters show.
	ReturnedAh float64 `json:"returnedAh,omitzero"`
	ChargeMin  float64 `json:"chargeMin,omitzero"`
	Look       Look    `json:"look,omitzero"`
	// Charged says that the charger had ended the charge.
	Charged bool `json:"charged,omitzero"`
	// Fought is the robot it came out of since it was last charged, Amps the current
	// it was charged at.
	Fought RobotID `json:"fought,omitzero"`
	Amps   float64 `json:"amps,omitzero"`
}

// Look is how a pack looks from outside.
type Look string

// The looks. All but LookFine make it suspect (common practice, no source: puffed,
// torn, pierced or burnt, a chemical smell).
const (
	LookFine    Look = "fine"
	LookSwollen Look = "swollen"
	LookTorn    Look = "torn"
	LookSmells  Look = "smells"
	LookSmokes  Look = "smokes"
)

// From this on a pack is too hot to hold and suspect (common practice, no source).
const packHotC = 60.0

// A pack warmer than this waits to be charged (our decision).
const packReadyC = 35.0

// PackRead enters what a person read off a pack. Only a reading makes a pack
// charged; one out of limits makes it suspect. What is hardly to be believed is
// asked again, and taken with Sure.
type PackRead struct {
	Pack       PackID    `json:"pack"`
	CellVolts  []float64 `json:"cellVolts,omitempty"`
	TempC      *float64  `json:"tempC,omitempty"`
	AirC       *float64  `json:"airC,omitempty"`
	MilliOhm   float64   `json:"milliOhm,omitzero"`
	ReturnedAh float64   `json:"returnedAh,omitzero"`
	ChargeMin  float64   `json:"chargeMin,omitzero"`
	Look       Look      `json:"look,omitzero"`
	Charged    bool      `json:"charged,omitzero"`
	// Sure says that the person who read it has looked again.
	Sure bool `json:"sure,omitzero"`
}

func (c PackRead) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok {
		return missing("pack", "pack")
	}
	if bad := c.believable(p); bad != nil {
		return bad
	}
	if p.State == PackGone || (p.State.setAside() && !c.venting()) {
		return breaks(13, "Pack %s is %s: no reading brings it back. %s", p.Name, p.State, p.keepOff())
	}
	if bad := c.unlikely(p); bad != nil && !c.Sure {
		return bad
	}
	raw := c.reading(t, p)
	t.logReading(p.ID, raw)
	if t.when < max(p.UsedAt, p.Reading.At) && !p.suspectBy(c) {
		return nil // it came late, and says nothing of now
	}
	_, hot := p.HotOnCharge()
	overtaken := c.Charged && t.when < p.AttendAt
	if p.State == PackCharging && !p.suspectBy(c) && (overtaken || (hot || c.Charged) && !t.answers()) {
		t.put(p.doubted(t.now))
		return nil
	}
	p.Reading = p.kept(raw)
	if is := p.stateFrom(c); p.State != is || is != PackInRobot && is != PackCharging {
		p.State, p.Since = is, t.when
	}
	p.CameBack = p.CameBack && !p.State.setAside()
	p.Stopped = ""
	if len(c.CellVolts) > 0 {
		p.Unread, p.Powered = false, p.Robot != "" && t.s().mayPower(p.Robot)
	}
	if p.State == PackCharged {
		p.Fought = ""
	}
	if p.State != PackCharging {
		p.Amps = 0
	}
	t.put(p)
	return nil
}

func (c PackRead) reading(t *turn, p Pack) Reading {
	r := Reading{
		At: t.when, By: t.by.Person, CellVolts: c.CellVolts, TempC: c.TempC, AirC: c.AirC, MilliOhm: c.MilliOhm,
		ReturnedAh: c.ReturnedAh, ChargeMin: c.ChargeMin, Look: c.Look, Charged: c.Charged, Fought: p.Fought, Amps: p.Amps,
	}
	if p.Robot != "" {
		r.Fought = p.Robot
	}
	return r
}

// kept is r with what it leaves out taken from the reading before, unless the pack
// was used in between or charges.
func (p Pack) kept(r Reading) Reading {
	was := p.Reading
	if was.At < p.UsedAt || was.At == 0 {
		return r
	}
	if r.TempC == nil && was.TempC != nil {
		r.TempC, r.TempAt = was.TempC, was.tempAt()
	}
	if p.State == PackCharging {
		return r
	}
	if len(r.CellVolts) == 0 && len(was.CellVolts) == p.Cells {
		r.CellVolts, r.CellsAt, r.Charged = was.CellVolts, was.cellsAt(), was.Charged
	}
	if r.MilliOhm == 0 {
		r.MilliOhm = was.MilliOhm
	}
	return r
}

func (r Reading) cellsAt() Moment {
	if r.CellsAt != 0 {
		return r.CellsAt
	}
	return r.At
}

func (r Reading) tempAt() Moment {
	if r.TempAt != 0 {
		return r.TempAt
	}
	return r.At
}

// believable refuses what cannot be.
func (c PackRead) believable(p Pack) *Refusal {
	if len(c.CellVolts) == 0 && c.TempC == nil && c.MilliOhm == 0 && c.Look == "" && c.ReturnedAh == 0 {
		return badField("cellVolts", "A reading needs volts, a temperature, milliohms, Ah or a look.")
	}
	if n := len(c.CellVolts); n != 0 && n != p.Cells {
		return badField("cellVolts", "Pack %s has %d cells, the reading has %d. Count the balance lead.", p.Name, p.Cells, n)
	}
	if c.Charged && len(c.CellVolts) == 0 {
		return badField("cellVolts", "A full pack is known by its cells: read the volts of each.")
	}
	for _, v := range c.CellVolts {
		if bad := checkRange("cellVolts", v, 0, charge.LimitsOf(p.Chemistry).RestMostVolts, "V"); bad != nil {
			return bad
		}
	}
	return first(
		c.degrees("tempC", c.TempC, -20, 150), c.degrees("airC", c.AirC, -20, 50),
		checkRange("milliOhm", c.MilliOhm, 0, 10000, "mΩ"),
		checkRange("returnedAh", c.ReturnedAh, 0, 3*p.CapacityAh, "Ah"),
		checkRange("chargeMin", c.ChargeMin, 0, 2000, "minutes"),
		c.knownLook(),
	)
}

func (c PackRead) knownLook() *Refusal {
	if c.Look == "" {
		return nil
	}
	return oneOf("look", c.Look, LookFine, LookSwollen, LookTorn, LookSmells, LookSmokes)
}

func (PackRead) degrees(field string, tempC *float64, low, high float64) *Refusal {
	if tempC == nil {
		return nil
	}
	return checkRange(field, *tempC, low, high, "°C")
}

// What is more often a slip of the finger than true (our decision).
const (
	overFullVolts  = 0.03
	underFullVolts = 0.10
	ohmTimes       = 3
	moreAhThanHeld = 1.05
)

// unlikely asks again for what is hardly ever so. A reading that makes the pack
// suspect is never held up: the screen asks before it sends one.
func (c PackRead) unlikely(p Pack) *Refusal {
	full := charge.LimitsOf(p.Chemistry).ChargeVolts
	low, high := spread(c.CellVolts)
	was := p.Reading.MilliOhm
	var odd string
	switch {
	case p.suspectBy(c):
		return nil
	case c.TempC != nil && *c.TempC < 0:
		odd = fmt.Sprintf("%.0f °C is below freezing", *c.TempC)
	case p.overFull(c.CellVolts):
		odd = fmt.Sprintf("%.2f V is above the %.2f V of a full cell", high, full)
	case full > 0 && c.Charged && low < full-underFullVolts:
		odd = fmt.Sprintf("The charger has ended, and a cell rests at %.2f V", low)
	case c.MilliOhm > 0 && was > 0 && math.Max(c.MilliOhm/was, was/c.MilliOhm) > ohmTimes:
		odd = fmt.Sprintf("%g mΩ, and it was %g mΩ", c.MilliOhm, was)
	case c.ReturnedAh > moreAhThanHeld*p.CapacityAh:
		odd = fmt.Sprintf("%g Ah is more than the %g Ah pack %s holds", c.ReturnedAh, p.CapacityAh, p.Name)
	default:
		return nil
	}
	return &Refusal{Code: CodeUnlikely, Field: "sure", Sentence: odd + ". Look at the meter again: is that what it shows?"}
}

// overFull tells whether a cell stands above what a charge may reach.
func (p Pack) overFull(volts []float64) bool {
	full := charge.LimitsOf(p.Chemistry).ChargeVolts
	return full > 0 && len(volts) > 0 && slices.Max(volts) > full+overFullVolts
}

func (p Pack) cellsSuspect(volts []float64) bool {
	return slices.Min(volts) < charge.LimitsOf(p.Chemistry).RestLeastVolts || charge.SpreadOf(p.Chemistry, volts).Block
}

// suspectBy tells whether the reading makes p suspect.
func (p Pack) suspectBy(c PackRead) bool {
	return c.venting() || (len(c.CellVolts) > 0 && p.cellsSuspect(c.CellVolts))
}

func (c PackRead) venting() bool { return Reading{Look: c.Look, TempC: c.TempC}.venting() }

// stateFrom is the state that p, which holds the new reading, is in by it.
func (p Pack) stateFrom(c PackRead) PackState {
	hot := p.Reading.TempC != nil && *p.Reading.TempC > packReadyC
	read := len(p.Reading.CellVolts) > 0
	switch {
	case p.State.setAside():
		return p.State
	case p.suspectBy(c):
		return PackSuspect
	case p.Robot != "":
		return PackInRobot
	case c.Charged:
		return PackCharged
	case p.State != PackUnread && p.State != PackWaiting && p.State != PackCooling:
		return p.State
	case hot:
		return PackCooling
	case read:
		return PackWaiting
	}
	return PackUnread
}

func spread(volts []float64) (low, high float64) {
	for i, v := range volts {
		if i == 0 {
			low, high = v, v
		}
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

// mostReadings is how many readings of a pack the board keeps.
const mostReadings = 60

// PackLog is what was read off a pack, oldest first: the last 60 readings, each as
// it was entered.
type PackLog struct {
	Pack     PackID    `json:"pack"`
	V        Rev       `json:"v"`
	Readings []Reading `json:"readings"`
}

func (log PackLog) Key() Key { return KeyOf(KindPackLog, log.Pack) }

func (log PackLog) Rev() Rev { return log.V }

func (log PackLog) stamp(r Rev) Noun { log.V = r; return log }

func (log PackLog) valid(s State) *Refusal {
	if _, ok := s.Packs[log.Pack]; !ok {
		return missing("pack", "pack")
	}
	return nil
}

func (t *turn) logReading(id PackID, r Reading) {
	was := t.s().PackLogs[id].Readings
	if over := len(was) + 1 - mostReadings; over > 0 {
		was = was[over:]
	}
	t.put(PackLog{Pack: id, Readings: append(append([]Reading(nil), was...), r)})
}

// spendPacks lets nobody count on what was read of a pack before the fight or the test that
// it was in, and keeps that it gave power in its robot, or may have.
func (t *turn) spendPacks() {
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		was, is := t.before.Powers[p.Robot], t.s().Powers[p.Robot]
		fought := is.FoughtAt > was.FoughtAt
		if p.Robot == "" || (!fought && (is.State == was.State || !t.s().mayPower(p.Robot))) {
			continue
		}
		p.Powered, p.UsedAt = true, max(p.UsedAt, t.when)
		p.Unread = p.Unread || fought || was.State.Energised() || is.State.Energised()
		t.put(p)
	}
	for id, power := range inOrder(t.s().Powers) {
		if power.State.Energised() && power.State != t.before.Powers[id].State {
			t.spendSender(t.s().Robots[id])
		}
	}
}
