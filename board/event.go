package board

import (
	"cmp"
	"slices"
)

// eventID is the id of the one Event.
const eventID = "event"

// currencyMost is how long a currency's name may be, in characters.
const currencyMost = 8

// Event is what the organisers and the captain set for the day. Rule sets differ,
// so nothing that bears on safety has a silent default.
type Event struct {
	V Rev `json:"v"`
	EventFields
	Entered Entered `json:"entered"`
	// Once is what it asked before: where it no longer asks that, it prints as relaxed.
	Once EventOnce `json:"once,omitzero"`
	// Loosened lists by whose word a setting asked less than before, and until when.
	Loosened []Loosened `json:"loosened,omitempty"`
}

// EventFields are the settings that event.set replaces.
type EventFields struct {
	Name string `json:"name"`
	// OffsetMin is the event's time in minutes east of UTC, −840 to 840.
	OffsetMin int `json:"offsetMin,omitzero"`
	// Currency is what money is in, as people write it behind a figure.
	Currency string `json:"currency,omitzero"`
	// ActivationOrder and DeactivationOrder are the event's own steps, in order.
	ActivationOrder   []string `json:"activationOrder,omitempty"`
	DeactivationOrder []string `json:"deactivationOrder,omitempty"`
	// SpinDownSec is the longest time a weapon may take to stop by itself.
	SpinDownSec int `json:"spinDownSec,omitzero"`
	// LeadFights and LeadSec say how early a robot must be at staging: so many
	// fights before its own, and so many seconds before that.
	LeadFights int `json:"leadFights,omitzero"`
	LeadSec    int `json:"leadSec,omitzero"`
	// RestSec is the promised gap between two fights of one robot, counted from
	// RestFrom to RestTo.
	RestSec  int     `json:"restSec,omitzero"`
	RestFrom RestEnd `json:"restFrom,omitzero"`
	RestTo   RestEnd `json:"restTo,omitzero"`
	// PostponeSec is the one postponement a competitor may ask for in a day.
	PostponeSec int `json:"postponeSec,omitzero"`
	// PostponeFor is who shares it; none means the team.
	PostponeFor PostponeFor `json:"postponeFor,omitzero"`
	// FightMeanSec is the captain's guess of the time from one fight's start to
	// the next, worth FightMeanWorth fights seen.
	FightMeanSec   int     `json:"fightMeanSec,omitzero"`
	FightMeanWorth int     `json:"fightMeanWorth,omitzero"`
	Breaks         []Break `json:"breaks,omitempty"`
	// FailsafeAt says where the failsafe may be proven.
	FailsafeAt []FailsafePlace `json:"failsafeAt,omitempty"`
	// EmergencyContact is whom to reach, as the event gives it.
	EmergencyContact string    `json:"emergencyContact,omitzero"`
	ChargingPlaces   []PlaceID `json:"chargingPlaces,omitempty"`
	// AttendantMost is how many charges one person may attend.
	AttendantMost int `json:"attendantMost,omitzero"`
	// TightBelow and WontBelow are the captain's thresholds: a call or job that is
	// met on fewer than so many of 10 days is tight, or won't finish; 0 means 9, and
	// 5.
	TightBelow int `json:"tightBelow,omitzero"`
	WontBelow  int `json:"wontBelow,omitzero"`
	// RepairerMaySign relaxes rule 12. It prints on the board.
	RepairerMaySign bool `json:"repairerMaySign,omitzero"`
	// MinorsDrive says that the event lets minors drive. It prints on the board.
	MinorsDrive bool `json:"minorsDrive,omitzero"`
	// RecheckSec is how long an answer about gas or capacitors holds while people
	// are at work; 0 means recheckSec, and more than that relaxes it.
	RecheckSec int `json:"recheckSec,omitzero"`
	// LoadIn asks for a load-in inspection before a robot is tested or signed.
	LoadIn  bool    `json:"loadIn,omitzero"`
	HotWork HotWork `json:"hotWork,omitzero"`
	Card    Card    `json:"card,omitzero"`
}

// HotWork is the venue's permit to grind and weld.
type HotWork struct {
	// Needed says that the venue asks for one.
	Needed bool   `json:"needed,omitzero"`
	Text   string `json:"text,omitzero"`
	// By is who gave it, Until when it ends.
	By    string `json:"by,omitzero"`
	Until Moment `json:"until,omitzero" moment:"event"`
}

// holds tells whether grinding and welding is permitted at now.
func (permit HotWork) holds(now Moment) bool {
	return !permit.Needed || (readable(permit.Text) && permit.By != "" && permit.Until > now)
}

// Card is the officials' emergency card. The board has no such text of its own.
type Card struct {
	Text       string `json:"text"`
	ApprovedBy string `json:"approvedBy"`
}

// Break is a pause in the running order.
type Break struct {
	From Moment `json:"from" moment:"event"`
	To   Moment `json:"to" moment:"event"`
}

// RestEnd is one end of the promised gap.
type RestEnd string

// The ends of the promised gap.
const (
	RestMatchEnd  RestEnd = "match-end"
	RestLeftArena RestEnd = "left-arena"
	RestAtBench   RestEnd = "at-bench"
	RestCall      RestEnd = "call"
	RestStart     RestEnd = "fight-start"
)

// FailsafePlace is where an event lets the failsafe be proven.
type FailsafePlace string

// The places for the failsafe.
const (
	FailsafeTestBox   FailsafePlace = "test-box"
	FailsafeArena     FailsafePlace = "arena-slot"
	FailsafeOfficials FailsafePlace = "officials-check"
)

// Entered says when the settings that rule 20 asks for were last entered.
type Entered struct {
	ActivationOrder  Moment `json:"activationOrder,omitzero"`
	SpinDown         Moment `json:"spinDown,omitzero"`
	ChargingPlaces   Moment `json:"chargingPlaces,omitzero"`
	EmergencyContact Moment `json:"emergencyContact,omitzero"`
	Card             Moment `json:"card,omitzero"`
}

// Key is event/event.
func (e Event) Key() Key         { return KeyOf(KindEvent, eventID) }
func (e Event) Rev() Rev         { return e.V }
func (e Event) stamp(r Rev) Noun { e.V = r; return e }

func (e Event) valid(s State) *Refusal {
	return first(
		checkName("name", e.Name),
		checkRange("offsetMin", e.OffsetMin, -840, 840, "minutes"),
		checkText("currency", e.Currency, currencyMost),
		checkRange("spinDownSec", e.SpinDownSec, 0, 600, "seconds"),
		checkRange("leadFights", e.LeadFights, 0, 20, "fights"),
		checkRange("leadSec", e.LeadSec, 0, 7200, "seconds"),
		checkRange("restSec", e.RestSec, 0, 6*3600, "seconds"),
		checkRange("postponeSec", e.PostponeSec, 0, 6*3600, "seconds"),
		checkRange("fightMeanSec", e.FightMeanSec, 0, 7200, "seconds"),
		checkRange("fightMeanWorth", e.FightMeanWorth, 0, 100, "fights"),
		checkRange("attendantMost", e.AttendantMost, 0, 50, "charges"),
		checkRange("recheckSec", e.RecheckSec, 0, 3600, "seconds"),
		checkRange("tightBelow", e.TightBelow, 0, 10, "of 10"),
		checkRange("wontBelow", e.WontBelow, 0, 10, "of 10"),
		checkNote("hotWork", e.HotWork.Text),
		checkShort("hotWork", e.HotWork.By),
		e.validRest(),
		each(e.Breaks, func(b Break) *Refusal {
			if b.To <= b.From {
				return badField("breaks", "A break ends before it begins. Turn the times round.")
			}
			return nil
		}),
		each(e.ActivationOrder, func(step string) *Refusal { return checkName("activationOrder", step) }),
		each(e.DeactivationOrder, func(step string) *Refusal { return checkName("deactivationOrder", step) }),
		each(e.FailsafeAt, func(p FailsafePlace) *Refusal {
			return oneOf("failsafeAt", p, FailsafeTestBox, FailsafeArena, FailsafeOfficials)
		}),
		each(e.ChargingPlaces, func(p PlaceID) *Refusal {
			if _, ok := s.Places[p]; !ok {
				return missing("place", "chargingPlaces")
			}
			return nil
		}),
		checkShort("emergencyContact", e.EmergencyContact),
		checkNote("card", e.Card.Text),
		checkShort("card", e.Card.ApprovedBy),
	)
}

func (e Event) validRest() *Refusal {
	var bad *Refusal
	if e.RestFrom != "" {
		bad = oneOf("restFrom", e.RestFrom, RestMatchEnd, RestLeftArena, RestAtBench)
	}
	if bad == nil && e.RestTo != "" {
		bad = oneOf("restTo", e.RestTo, RestCall, RestStart)
	}
	if bad == nil && e.PostponeFor != "" {
		bad = oneOf("postponeFor", e.PostponeFor, PostponeTeam, PostponeRobot)
	}
	if tight, wont := e.Thresholds(); bad == nil && wont > tight {
		bad = badField("wontBelow", "What won't finish below %d of 10 cannot be tight only below %d. Give at most that.", wont, tight)
	}
	if bad == nil && e.Card.Text != "" && e.Card.ApprovedBy == "" {
		bad = badField("card", "The officials' card needs the name of the official who approved it.")
	}
	return bad
}

// The thresholds where the captain set none.
const (
	tightBelow = 9
	wontBelow  = 5
)

// Thresholds are TightBelow and WontBelow, or what stands for them.
func (e EventFields) Thresholds() (tight, wont int) {
	return cmp.Or(e.TightBelow, tightBelow), cmp.Or(e.WontBelow, wontBelow)
}

// EventSet replaces the event's settings.
type EventSet struct {
	EventFields
	// Reason says why, where the event asks less than before.
	Reason string `json:"reason,omitzero"`
}

func (c EventSet) do(t *turn) *Refusal {
	e := t.s().Event()
	e.Loosened = t.weakened(e.Loosened, eventWeaker(e.EventFields, c.EventFields), eventWeaker(c.EventFields, e.EventFields), c.Reason)
	e.Once = e.Once.after(e.EventFields)
	moved := e.OffsetMin != c.OffsetMin
	e.Entered = e.Entered.after(e.EventFields, c.EventFields, t.now)
	e.EventFields = c.EventFields
	t.put(e)
	if moved {
		for _, power := range inOrder(t.s().Powers) {
			if power.State != Unknown {
				t.becomeUnknown(power, "the event's time was set", false)
			}
		}
	}
	return nil
}

func (at Entered) after(was, is EventFields, now Moment) Entered {
	date := func(m *Moment, same, there bool) {
		switch {
		case !there:
			*m = 0
		case !same || *m == 0:
			*m = now
		}
	}
	date(&at.ActivationOrder, slices.Equal(was.ActivationOrder, is.ActivationOrder) && slices.Equal(was.DeactivationOrder, is.DeactivationOrder),
		len(is.ActivationOrder) > 0 && len(is.DeactivationOrder) > 0)
	date(&at.SpinDown, was.SpinDownSec == is.SpinDownSec, is.SpinDownSec > 0)
	date(&at.ChargingPlaces, slices.Equal(was.ChargingPlaces, is.ChargingPlaces), len(is.ChargingPlaces) > 0)
	date(&at.EmergencyContact, was.EmergencyContact == is.EmergencyContact, is.EmergencyContact != "")
	date(&at.Card, was.Card == is.Card, is.Card.Text != "")
	return at
}

// missing20 names the settings that rule 20 asks for and that nobody has entered.
func (e Event) missing20() []string {
	var list []string
	for _, want := range []struct {
		at   Moment
		what string
	}{
		{e.Entered.ActivationOrder, "the order in which robots are switched on and off"},
		{e.Entered.SpinDown, "how long a weapon may spin down"},
		{e.Entered.ChargingPlaces, "where packs may be charged"},
		{e.Entered.EmergencyContact, "who to reach in an emergency"},
	} {
		if want.at == 0 {
			list = append(list, want.what)
		}
	}
	return list
}

// BarsPower names the settings without which rule 20 lets no robot have power.
func (s State) BarsPower() []string { return s.Event().missing20() }

// chargeInEmergency is rule 20 for a charge that was begun where an emergency stands.
func (t *turn) chargeInEmergency() *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		is, was := t.s().Packs[PackID(id)], t.before.Packs[PackID(id)]
		if k != KindPack || is.State != PackCharging || (was.State == PackCharging && was.Place == is.Place) {
			continue
		}
		if _, stands := t.s().emergencyAt(is.Place); stands {
			return breaks(20, "There is an emergency at %s: no charge there before it is over, as event safety or the captain says. Charge pack %s elsewhere.", t.s().Places[is.Place].Name, is.Name)
		}
	}
	return nil
}

// rule20 allows no power and no charge at an event whose own settings for them
// are not entered: rule sets differ, and nothing has a silent default.
func rule20(t *turn) *Refusal {
	lacks := t.s().Event().missing20()
	if len(lacks) == 0 {
		return nil
	}
	missing := lacks[0]
	for _, key := range sortedKeys(t.did) {
		switch k, id := key.Split(); k {
		case KindPower:
			is := t.s().Powers[RobotID(id)].State
			if is != t.before.Powers[RobotID(id)].State && (is.Energised() || is == Ready) {
				return breaks(20, "The captain has not entered %s at this event. Enter it in the event's settings first.", missing)
			}
		case KindPack:
			if t.s().Packs[PackID(id)].State == PackCharging && t.before.Packs[PackID(id)].State != PackCharging {
				return breaks(20, "The captain has not entered %s at this event. Enter it in the event's settings first.", missing)
			}
		}
	}
	return nil
}
