package board

import (
	"slices"

	"mendline/board/charge"
)

// Limits of a charge. 45 °C as the upper limit for lithium packs, and that cells are
// counted and a charge contained and attended, are common practice, no source; 5 °C is
// our decision.
const (
	chargeHotC  = 45.0
	chargeColdC = 5.0
)

// PackCharge puts a pack on a charger's channel, with a named person who stays
// with it: whoever gives it, or proves to be there, or someone who says so later.
type PackCharge struct {
	Pack      PackID    `json:"pack"`
	Channel   ChannelID `json:"channel"`
	Attendant PersonID  `json:"attendant"`
	// Cells is how many were counted by hand on the balance lead.
	Cells int     `json:"cells"`
	Amps  float64 `json:"amps"`
	// Contained says that it lies in fire-resistant containment, clear of what burns.
	Contained bool `json:"contained"`
}

func (c PackCharge) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok || p.Retired {
		return missing("pack", "pack")
	}
	ch, ok := t.s().Channels[c.Channel]
	if !ok || ch.Retired {
		return missing("channel", "channel")
	}
	if bad := first(p.mayCharge(), c.fitsPack(p, ch)); bad != nil {
		return bad
	}
	bad := first(t.s().powered(ch), t.s().freeChannel(p, ch))
	_, emergency := t.s().emergencyAt(ch.Place)
	switch {
	case t.when < t.now-lateMost && (bad != nil || emergency):
		t.put(t.chargedUnheard(p, ch))
		return nil
	case bad != nil:
		return bad
	}
	from := max(t.when, p.Since, p.Reading.At)
	p.State, p.Since, p.UsedAt = PackCharging, from, max(p.UsedAt, from)
	p.Place, p.Channel, p.Attendant, p.CameBack = ch.Place, ch.ID, c.Attendant, false
	p.Amps, p.Stopped, p.AttendAt, p.StayedAt, p.Away, p.PlacedAt = c.Amps, "", 0, 0, AwayAt{}, from
	if t.by.proves(c.Attendant) {
		p.AttendAt = from
	}
	t.put(p)
	return nil
}

// chargedUnheard is p, of which a phone says late that it was charged, while the board
// had something else on that channel, or no charge there. Nobody is known to have stayed
// with it, and what was read of it before says nothing any more.
func (t *turn) chargedUnheard(p Pack, ch Channel) Pack {
	p = t.heard(p, "charged on "+ch.Name+", and the board had no such charge")
	return p.void(t.now)
}

// mayCharge refuses what must not be charged, whoever stays with it.
func (p Pack) mayCharge() *Refusal {
	switch {
	case p.State.setAside():
		return breaks(13, "Pack %s is %s: it is not charged, topped up or revived. %s", p.Name, p.State, p.keepOff())
	case p.Robot != "":
		return breaks(14, "Pack %s is in a robot. It is charged outside, at a charging place.", p.Name)
	case p.State == PackCharging:
		return refuse(CodeNothingToDo, "Pack %s is charging already.", p.Name)
	case p.State == PackUnread || !p.read():
		return refuse(CodeNotYet, "Nobody has read pack %s since it was last used. Read its cells first.", p.Name)
	case p.overFull(p.Reading.CellVolts):
		return refuse(CodeNotYet, "A cell of pack %s was read above the %.2f V of a full one, so it is not charged. Read it again, or set it aside.", p.Name, charge.LimitsOf(p.Chemistry).ChargeVolts)
	case p.Fought != "" && p.Reading.TempC == nil:
		return refuse(CodeNotYet, "Pack %s came out of a robot, and nobody has read its temperature. Read it first.", p.Name)
	case p.Reading.TempC != nil && *p.Reading.TempC > chargeHotC:
		return refuse(CodeNotYet, "Pack %s was read at %.0f °C. Let it cool below %.0f °C and read it again.", p.Name, *p.Reading.TempC, chargeHotC)
	case p.Reading.TempC != nil && *p.Reading.TempC < chargeColdC:
		return refuse(CodeNotYet, "Pack %s was read at %.0f °C. Let it warm to %.0f °C and read it again.", p.Name, *p.Reading.TempC, chargeColdC)
	}
	return nil
}

func (c PackCharge) fitsPack(p Pack, ch Channel) *Refusal {
	if c.Cells != p.Cells {
		return badField("cells", "%d cells counted, and pack %s has %d. Count the balance lead again; do not charge until they agree.", c.Cells, p.Name, p.Cells)
	}
	if bad := p.takes(ch, c.Amps); bad != nil {
		return bad
	}
	if !c.Contained {
		return breaks(14, "Put pack %s into fire-resistant containment, clear of anything that burns, and say so.", p.Name)
	}
	return nil
}

// takes refuses a channel and a current that are not for the pack.
func (p Pack) takes(ch Channel, amps float64) *Refusal {
	switch most := min(p.ChargeAmpsMost, ch.AmpsMost); {
	case p.Cells > ch.CellsMost:
		return badField("channel", "Channel %s takes %d cells at most, and pack %s has %d.", ch.Name, ch.CellsMost, p.Name, p.Cells)
	case !(amps > 0 && amps <= most):
		return badField("amps", "%g A is not for pack %s on channel %s: more than 0 and at most %g A, the lower of the two limits.", amps, p.Name, ch.Name, most)
	case amps > p.CapacityAh*(1+1e-9) && p.FasterBy == "":
		return badField("amps", "%g A is more than 1C for pack %s, %g Ah, and its record does not say who allowed that. Charge at %g A or less, or let the captain enter who allowed it.", amps, p.Name, p.CapacityAh, p.CapacityAh)
	}
	return nil
}

// powered refuses a channel whose circuit is off, or off the board.
func (s State) powered(ch Channel) *Refusal {
	k := s.Circuits[ch.Circuit]
	if k.Retired {
		return refuse(CodeState, "Channel %s runs from circuit %s, which is off the board. The captain says first which circuit it runs from.", ch.Name, k.Name)
	}
	if k.OffAt != 0 {
		return refuse(CodeState, "Circuit %s is off, and channel %s runs from it. The person in charge of the wiring says when it is on again.", k.Name, ch.Name)
	}
	return nil
}

// freeChannel refuses a channel that another pack is on, and any at the place of one that
// may vent, or of the charger it is on.
func (s State) freeChannel(p Pack, ch Channel) *Refusal {
	for _, o := range inOrder(s.Packs) {
		switch {
		case o.ID == p.ID || o.Retired:
		case o.Channel != "" && o.Channel == ch.ID && !o.State.setAside():
			return &Refusal{Code: CodeTaken, Field: "channel", Sentence: "Pack " + o.Name + " is on channel " + ch.Name + ". Choose another channel. " + o.offFirst("This one is free once someone says that the pack is off.")}
		case o.Channel != "" && o.Channel == ch.ID:
			return breaks(14, "Pack %s is %s and on channel %s. %s Nothing else goes on it before someone says where pack %s is now.", o.Name, o.State, ch.Name, o.keepOff(), o.Name)
		case ch.Place != "" && o.MayVent() && (s.packPlace(o) == ch.Place || s.Channels[o.Channel].Place == ch.Place):
			on := ""
			if o.Channel != "" {
				on = " on charger " + s.Channels[o.Channel].Name
			}
			return breaks(14, "Pack %s is %s,%s at %s. %s No charge is begun there before someone says where pack %s is now.", o.Name, o.State, on, s.Places[ch.Place].Name, o.keepOff(), o.Name)
		case ch.Place != "" && o.MayVent() && o.Perhaps == ch.Place:
			return breaks(14, "Pack %s is %s, and only a guest or a minor has said that it is not at %s any more. %s No charge is begun there before one of the crew says where pack %s is now.", o.Name, o.State, s.Places[ch.Place].Name, o.keepOff(), o.Name)
		case o.MayVent() && o.Robot == "" && o.Place == "" && o.Channel == "":
			return breaks(14, "Pack %s is %s, and nobody has said where it is: it may be at %s. %s No charge is begun before someone says where pack %s is.", o.Name, o.State, s.Places[ch.Place].Name, o.keepOff(), o.Name)
		}
	}
	return nil
}

// keepsChannel tells whether p, which was set aside on a charger, counts as on it still
// when it is said to be at a place: the charger's own, or any by the word of a guest or a minor.
func (t *turn) keepsChannel(p Pack, to PlaceID) bool {
	return p.State.setAside() && p.Channel != "" && (!t.answers() || to == t.s().Channels[p.Channel].Place)
}

// PackOff takes a pack off its charger. It is unread until somebody reads it:
// elapsed time makes no pack charged, and what was read on the charger does neither.
type PackOff struct {
	Pack PackID `json:"pack"`
}

func (c PackOff) do(t *turn) *Refusal {
	p, ok := t.s().Packs[c.Pack]
	if !ok {
		return missing("pack", "pack")
	}
	if p.State != PackCharging {
		return refuse(CodeNothingToDo, "Pack %s is not charging.", p.Name)
	}
	p, off := t.offCharge(p, "off the charger")
	if off {
		p.State, p.Since = PackUnread, t.when
		p = p.void(t.when)
	}
	t.put(p)
	return nil
}

// unplugged is p, which was another, without the charger it is no longer on, and
// dated where it was put to use or taken from it.
func (p Pack) unplugged(was Pack, when Moment) Pack {
	if p.State != PackCharging {
		p.Attendant, p.AttendAt, p.StayedAt, p.Unsure, p.UnsureAt, p.Away = "", 0, 0, false, 0, AwayAt{}
		if !p.State.setAside() {
			p.Channel = ""
		}
	}
	if p.State != was.State && (p.State == PackUnread || p.State == PackCharging) {
		p.UsedAt = max(p.UsedAt, when)
	}
	return p
}

// rule14 lets no pack charge without a named attendant who may, at a place on the
// event's list, within the number one person may attend.
func rule14(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		is, was := t.s().Packs[PackID(id)], t.before.Packs[PackID(id)]
		begun := was.State != PackCharging || was.Attendant != is.Attendant || was.Place != is.Place
		if k != KindPack || is.State != PackCharging || !begun {
			continue
		}
		who, ok := t.s().People[is.Attendant]
		if !ok || !who.Answers() {
			return breaks(14, "A charge needs a named attendant who stays with it: one of the crew, no minor or guest.")
		}
		if !slices.Contains(t.s().Event().ChargingPlaces, is.Place) {
			return breaks(14, "Packs are charged only at a charging place on the event's list. The captain enters it with the event's settings.")
		}
		if bad := t.s().freeChannel(is, t.s().Channels[is.Channel]); bad != nil && was.State != PackCharging {
			return bad
		}
		if bad := t.s().twoPlaces(is, who); bad != nil {
			return bad
		}
		most := t.s().Event().AttendantMost
		if most == 0 {
			return breaks(14, "The captain has not entered how many charges one person may attend. Enter it in the event's settings first.")
		}
		if t.s().attended(who.ID) > most {
			return breaks(14, "%s attends %d charges already, and the event's limit is %d. Another person attends this one.", who.Name, t.s().attended(who.ID)-1, most)
		}
	}
	return nil
}

// rule14Kept lets nothing that a running charge hangs on leave the board.
func rule14Kept(t *turn) *Refusal {
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return p.Name }) {
		if bad := t.keepsAside(p); bad != nil {
			return bad
		}
		if p.State != PackCharging || t.before.Packs[p.ID].State != PackCharging {
			continue
		}
		ch := t.s().Channels[p.Channel]
		circuit, ran := t.s().Circuits[ch.Circuit], t.before.Circuits[t.before.Channels[p.Channel].Circuit]
		who, stood := t.s().People[p.Attendant], t.before.People[p.Attendant]
		if bad := t.losesSight(p); bad != nil {
			return bad
		}
		switch {
		case p.Retired && !t.before.Packs[p.ID].Retired:
			return breaks(14, "Pack %s is on channel %s. Say that it is off first.", p.Name, ch.Name)
		case ch.ID == "" && t.before.Channels[p.Channel].ID != "":
			return breaks(14, "Pack %s is on channel %s. Say that it is off first, then take the channel off the board.", p.Name, t.before.Channels[p.Channel].Name)
		case ch.Retired && !t.before.Channels[ch.ID].Retired:
			return breaks(14, "Pack %s is on channel %s. Say that it is off first, then take the channel off the board.", p.Name, ch.Name)
		case ch.Place != t.before.Channels[ch.ID].Place:
			return breaks(14, "Pack %s is charging on channel %s. Say that it is off first, then where the channel stands.", p.Name, ch.Name)
		case ch.Circuit != t.before.Channels[ch.ID].Circuit:
			return breaks(14, "Pack %s is charging on channel %s. Say that it is off first, then which circuit the channel runs from.", p.Name, ch.Name)
		case ch.WattsMost < t.before.Channels[ch.ID].WattsMost || ch.ChargerWatts < t.before.Channels[ch.ID].ChargerWatts:
			return breaks(14, "Pack %s is charging on channel %s. Say that it is off first, then that the channel gives fewer watts.", p.Name, ch.Name)
		case slices.Contains(t.before.Event().ChargingPlaces, p.Place) && !slices.Contains(t.s().Event().ChargingPlaces, p.Place):
			return breaks(14, "Pack %s is charging at %s. Say that it is off first, then take the place off the list.", p.Name, t.s().Places[p.Place].Name)
		case t.s().Places[p.Place].Kind != t.before.Places[p.Place].Kind:
			return breaks(14, "Pack %s is charging at %s. Say that it is off first, then of what kind the place is.", p.Name, t.s().Places[p.Place].Name)
		case circuit.Retired && !ran.Retired:
			return breaks(14, "Pack %s is charging on channel %s, and circuit %s is off the board. Say first that the pack is off.", p.Name, ch.Name, circuit.Name)
		case p.takes(ch, p.Amps) != nil && t.before.Packs[p.ID].takes(t.before.Channels[p.Channel], p.Amps) == nil:
			return breaks(14, "Pack %s is charging at %g A on channel %s, and that is more than the new limit. Say first that it is off, then change it.", p.Name, p.Amps, ch.Name)
		case stood.ID != "" && !stood.Retired && (who.ID == "" || who.Retired):
			return breaks(14, "%s stays with pack %s on channel %s. Someone else says first that they stay with it, or that it is off.", stood.Name, p.Name, ch.Name)
		}
	}
	return nil
}

// keepsAside keeps the channel that a pack which was set aside is on, and where it stands.
func (t *turn) keepsAside(p Pack) *Refusal {
	if t.before.Places[p.Place].ID != "" && t.before.AsideHere(p) && !t.s().AsideHere(p) {
		return breaks(14, "Pack %s is %s and at %s. %s What kind of place that is stays as it is before someone says where pack %s is now.", p.Name, p.State, t.s().Places[p.Place].Name, p.keepOff(), p.Name)
	}
	is, was := t.s().Channels[p.Channel], t.before.Channels[p.Channel]
	gone := was.ID != "" && !was.Retired && (is.ID == "" || is.Retired)
	if p.Retired || !p.State.setAside() || p.Channel == "" || !gone && is.Place == was.Place {
		return nil
	}
	return breaks(14, "Pack %s is %s and on channel %s. %s The channel stays on the board as it is before someone says where pack %s is now.", p.Name, p.State, was.Name, p.keepOff(), p.Name)
}

// twoPlaces refuses who for the charge of p, who stays with one that is not in sight of it.
func (s State) twoPlaces(p Pack, who Person) *Refusal {
	for _, o := range Sorted(s.Packs, func(p Pack) string { return p.Name }) {
		if o.ID == p.ID || o.State != PackCharging || o.Attendant != who.ID || s.Sees(o.Place, p.Place) || s.Sees(p.Place, o.Place) {
			continue
		}
		return breaks(14, "%s stays with pack %s at %s, and the captain has not entered that %s is in sight from there. Someone else stays with pack %s, or takes pack %s over on their own phone, or the captain enters it.",
			who.Name, o.Name, s.Places[o.Place].Name, s.Places[p.Place].Name, p.Name, o.Name)
	}
	return nil
}

// losesSight refuses that a place is in sight no more of p, while whoever stays with p
// stays with another charge there.
func (t *turn) losesSight(p Pack) *Refusal {
	sees := func(s State, a, b PlaceID) bool { return s.Sees(a, b) || s.Sees(b, a) }
	for _, o := range Sorted(t.s().Packs, func(p Pack) string { return p.Name }) {
		if o.State == PackCharging && o.Attendant == p.Attendant && sees(t.before, o.Place, p.Place) && !sees(t.s(), o.Place, p.Place) {
			return breaks(14, "%s stays with packs %s and %s, at %s and %s, which are in sight of each other by the board. Someone else stays with one of them first, or it is off.",
				t.s().People[p.Attendant].Name, p.Name, o.Name, t.s().Places[p.Place].Name, t.s().Places[o.Place].Name)
		}
	}
	return nil
}

func (s State) attended(who PersonID) int {
	n := 0
	for _, p := range s.Packs {
		if p.State == PackCharging && p.Attendant == who {
			n++
		}
	}
	return n
}
