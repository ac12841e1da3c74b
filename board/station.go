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

func (w Station) Key() Key         { return KeyOf(KindStation, w.ID) }
func (w Station) Rev() Rev         { return w.V }
func (w Station) stamp(r Rev) Noun { w.V = r; return w }

func (w Station) valid(s State) *Refusal {
	r := first(
		checkName("name", w.Name),
		knownStation("kind", w.Kind),
		checkRange("count", w.Count, 1, 20, "jobs"),
	)
	if _, ok := s.Places[w.Place]; r == nil && w.Place != "" && !ok {
		r = missing("place", "place")
	}
	if r == nil && !w.Retired && sameName(s.Stations, w.ID, w.Name, func(o Station) (string, bool) { return o.Name, !o.Retired }) {
		r = nameTaken(w.Name)
	}
	return r
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
	w, ok := t.s().Stations[c.Station]
	if !ok {
		return missing("station", "station")
	}
	w.StationFields = c.StationFields
	t.put(w)
	return nil
}

// StationRetire takes a station off the board.
type StationRetire struct {
	Station StationID `json:"station"`
}

func (c StationRetire) do(t *turn) *Refusal {
	w, ok := t.s().Stations[c.Station]
	if !ok {
		return missing("station", "station")
	}
	w.Retired = true
	t.put(w)
	return nil
}
