package board

// StationKind is a kind of place to work: what a fix asks for.
type StationKind string

// The kinds of station.
const (
	StationBench  StationKind = "bench"
	StationPlate  StationKind = "plate"
	StationGrind  StationKind = "grind"
	StationWeld   StationKind = "weld"
	StationCharge StationKind = "charge"
	StationScale  StationKind = "scale"
	StationTest   StationKind = "test"
	StationGas    StationKind = "gas"
	StationPress  StationKind = "press"
	StationNone   StationKind = "none"
)

func knownStation(field string, k StationKind) *Refusal {
	return oneOf(field, k, StationBench, StationPlate, StationGrind, StationWeld, StationCharge, StationScale, StationTest, StationGas, StationPress, StationNone)
}

// Station is somewhere to work; Count jobs fit on it at once.
type Station struct {
	ID StationID `json:"id"`
	V  Rev       `json:"v"`
	StationFields
	Retired bool `json:"retired,omitzero"`
}

// StationFields are what the captain says of a station.
type StationFields struct {
	Name  string      `json:"name"`
	Kind  StationKind `json:"kind"`
	Count int         `json:"count"`
	// Place is where it stands, for stations that no pack may share (rule 15).
	Place PlaceID `json:"place,omitzero"`
}

func (station Station) Key() Key         { return KeyOf(KindStation, station.ID) }
func (station Station) Rev() Rev         { return station.V }
func (station Station) stamp(r Rev) Noun { station.V = r; return station }

func (station Station) called() (name, among string, inUse bool) {
	return station.Name, "", !station.Retired
}

func (station Station) valid(s State) *Refusal {
	bad := first(
		checkName("name", station.Name),
		knownStation("kind", station.Kind),
		checkRange("count", station.Count, 1, 20, "jobs"),
	)
	if _, ok := s.Places[station.Place]; bad == nil && station.Place != "" && !ok {
		bad = missing("place", "place")
	}
	return bad
}

// StationAdd enters a station.
type StationAdd struct{ StationFields }

func (c StationAdd) do(t *turn) *Refusal {
	t.put(Station{ID: StationID(t.id(KindStation, c.Name)), StationFields: c.StationFields})
	return nil
}

// StationChange replaces what is said of a station.
type StationChange struct {
	Station StationID `json:"station"`
	StationFields
}

func (c StationChange) do(t *turn) *Refusal {
	return edit(t, t.s().Stations, c.Station, missing("station", "station"), func(n *Station) { n.StationFields = c.StationFields })
}

// StationRetire takes a station off the board.
type StationRetire struct {
	Station StationID `json:"station"`
}

func (c StationRetire) do(t *turn) *Refusal {
	if bad := t.s().inUseAt(t.s().Stations[c.Station]); bad != nil {
		return bad
	}
	return edit(t, t.s().Stations, c.Station, missing("station", "station"), func(n *Station) { n.Retired = true })
}

// inUseAt refuses to let a station go where someone is at work or a pack charges.
func (s State) inUseAt(station Station) *Refusal {
	for _, j := range inJobOrder(s) {
		for _, st := range j.AtWork() {
			if st.Station == station.ID {
				return refuse(CodeState, "%s is at work at %s, on job %d. Hold or finish that first, then take the station off.", s.People[st.By].Name, station.Name, j.Number).of(j)
			}
		}
	}
	for _, p := range Sorted(s.Packs, func(p Pack) string { return p.Name }) {
		if station.Kind == StationCharge && station.Place != "" && p.State == PackCharging && p.Place == station.Place {
			return breaks(14, "Pack %s is charging at %s. Say that it is off first, then take the station off.", p.Name, s.Places[p.Place].Name)
		}
	}
	return nil
}
