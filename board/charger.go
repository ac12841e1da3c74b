package board

// Circuit is a mains circuit that chargers share. Its figures come from the person who
// answers for the wiring; the board has no default.
type Circuit struct {
	ID CircuitID `json:"id"`
	V  Rev       `json:"v"`
	CircuitFields
	// OffAt is since when it is off, OffBy who said so; none while it is on.
	OffAt   Moment   `json:"offAt,omitzero"`
	OffBy   PersonID `json:"offBy,omitzero"`
	Retired bool     `json:"retired,omitzero"`
}

// CircuitFields are what the venue says of a circuit.
type CircuitFields struct {
	Name       string  `json:"name"`
	Volts      float64 `json:"volts"`
	RatingAmps float64 `json:"ratingAmps"`
	// OtherAmps is what else runs on it.
	OtherAmps float64 `json:"otherAmps,omitzero"`
	SaidBy    string  `json:"saidBy"`
}

func (c Circuit) Key() Key         { return KeyOf(KindCircuit, c.ID) }
func (c Circuit) Rev() Rev         { return c.V }
func (c Circuit) stamp(r Rev) Noun { c.V = r; return c }

func (c Circuit) called() (name, among string, inUse bool) {
	return c.Name, "", !c.Retired
}

func (c Circuit) valid(s State) *Refusal {
	bad := first(
		checkName("name", c.Name),
		checkRange("volts", c.Volts, 10, 500, "V"),
		checkRange("ratingAmps", c.RatingAmps, 0.5, 400, "A"),
		checkRange("otherAmps", c.OtherAmps, 0, 400, "A"),
		checkName("saidBy", c.SaidBy),
	)
	return bad
}

// Channel is one output of a charger.
type Channel struct {
	ID ChannelID `json:"id"`
	V  Rev       `json:"v"`
	ChannelFields
	Retired bool `json:"retired,omitzero"`
}

// ChannelFields are what the captain says of a channel.
type ChannelFields struct {
	Name     string  `json:"name"`
	Charger  string  `json:"charger"`
	AmpsMost float64 `json:"ampsMost"`
	// WattsMost is the channel's limit, ChargerWatts that of all the charger's
	// channels together.
	WattsMost    float64 `json:"wattsMost"`
	ChargerWatts float64 `json:"chargerWatts"`
	CellsMost    int     `json:"cellsMost"`
	// PowerFactor of the charger, 0 to 1; 0 where nobody knows.
	PowerFactor float64   `json:"powerFactor,omitzero"`
	Circuit     CircuitID `json:"circuit,omitzero"`
	Place       PlaceID   `json:"place,omitzero"`
}

func (c Channel) Key() Key         { return KeyOf(KindChannel, c.ID) }
func (c Channel) Rev() Rev         { return c.V }
func (c Channel) stamp(r Rev) Noun { c.V = r; return c }

func (c Channel) called() (name, among string, inUse bool) {
	return c.Name, "", !c.Retired
}

func (c Channel) valid(s State) *Refusal {
	bad := first(
		checkName("name", c.Name),
		checkName("charger", c.Charger),
		checkRange("ampsMost", c.AmpsMost, 0.01, 200, "A"),
		checkRange("wattsMost", c.WattsMost, 0.1, 10000, "W"),
		checkRange("chargerWatts", c.ChargerWatts, 0.1, 20000, "W"),
		checkRange("cellsMost", c.CellsMost, 1, 24, "cells"),
		checkRange("powerFactor", c.PowerFactor, 0, 1, "of 1"),
	)
	if bad != nil {
		return bad
	}
	if _, ok := s.Circuits[c.Circuit]; c.Circuit != "" && !ok {
		return missing("circuit", "circuit")
	}
	if _, ok := s.Places[c.Place]; c.Place != "" && !ok {
		return missing("place", "place")
	}
	return nil
}

// CircuitAdd enters a circuit.
type CircuitAdd struct{ CircuitFields }

func (c CircuitAdd) do(t *turn) *Refusal {
	t.put(Circuit{ID: CircuitID(t.id(KindCircuit, c.Name)), CircuitFields: c.CircuitFields})
	return nil
}

// CircuitChange replaces what is said of a circuit.
type CircuitChange struct {
	Circuit CircuitID `json:"circuit"`
	CircuitFields
}

func (c CircuitChange) do(t *turn) *Refusal {
	return edit(t, t.s().Circuits, c.Circuit, missing("circuit", "circuit"), func(n *Circuit) { n.CircuitFields = c.CircuitFields })
}

// CircuitRetire takes a circuit off the board.
type CircuitRetire struct {
	Circuit CircuitID `json:"circuit"`
}

func (c CircuitRetire) do(t *turn) *Refusal {
	return edit(t, t.s().Circuits, c.Circuit, missing("circuit", "circuit"), func(n *Circuit) { n.Retired = true })
}

// CircuitOff says that a circuit went off: a breaker has tripped, or someone has
// pulled the plug. Whether charges on it still run is open until somebody looks.
type CircuitOff struct {
	Circuit CircuitID `json:"circuit"`
}

func (c CircuitOff) do(t *turn) *Refusal {
	k, ok := t.s().Circuits[c.Circuit]
	if !ok || k.Retired {
		return missing("circuit", "circuit")
	}
	if k.OffAt != 0 {
		return refuse(CodeNothingToDo, "Circuit %s is off already.", k.Name)
	}
	k.OffAt, k.OffBy = t.when, t.by.Person
	t.put(k)
	t.doubtCharges(k, "off")
	return nil
}

// stopCharges makes unread what charges on some channels: what became of it is unknown.
func (t *turn) stopCharges(on func(Channel) bool, by CircuitID) {
	for _, p := range Sorted(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		if p.State == PackCharging && on(t.s().Channels[p.Channel]) {
			p.State, p.Since, p.Stopped = PackUnread, t.when, by
			t.put(p)
		}
	}
}

// CircuitOn says that a circuit is on again, and who answers for the wiring said
// why it went off. Of each charge on it someone says anew that they stay with it.
type CircuitOn struct {
	Circuit CircuitID `json:"circuit"`
	SaidBy  string    `json:"saidBy"`
}

// Guards: while the circuit is off nothing may be charged on it.
func (c CircuitOn) Guards(State) []Key { return []Key{KeyOf(KindCircuit, c.Circuit)} }

func (c CircuitOn) do(t *turn) *Refusal {
	k, ok := t.s().Circuits[c.Circuit]
	if !ok || k.Retired {
		return missing("circuit", "circuit")
	}
	if k.OffAt == 0 {
		return refuse(CodeNothingToDo, "Circuit %s is on already.", k.Name)
	}
	if bad := checkName("saidBy", c.SaidBy); bad != nil {
		return bad
	}
	k.OffAt, k.OffBy, k.SaidBy = 0, "", c.SaidBy
	t.put(k)
	t.doubtCharges(k, "on")
	return nil
}

// ChannelAdd enters a charger's channel.
type ChannelAdd struct{ ChannelFields }

func (c ChannelAdd) do(t *turn) *Refusal {
	t.put(Channel{ID: ChannelID(t.id(KindChannel, c.Name)), ChannelFields: c.ChannelFields})
	return nil
}

// ChannelChange replaces what is said of a channel.
type ChannelChange struct {
	Channel ChannelID `json:"channel"`
	ChannelFields
}

func (c ChannelChange) do(t *turn) *Refusal {
	return edit(t, t.s().Channels, c.Channel, missing("channel", "channel"), func(n *Channel) { n.ChannelFields = c.ChannelFields })
}

// ChannelRetire takes a channel off the board.
type ChannelRetire struct {
	Channel ChannelID `json:"channel"`
}

func (c ChannelRetire) do(t *turn) *Refusal {
	return edit(t, t.s().Channels, c.Channel, missing("channel", "channel"), func(n *Channel) { n.Retired = true })
}
