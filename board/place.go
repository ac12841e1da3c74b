package board

// PlaceKind says what a place is for; the event names the places itself.
type PlaceKind string

// The kinds of place.
const (
	PlaceBench    PlaceKind = "bench"
	PlaceTestBox  PlaceKind = "test-box"
	PlaceStaging  PlaceKind = "staging"
	PlaceArena    PlaceKind = "arena"
	PlaceAway     PlaceKind = "away"
	PlaceCharging PlaceKind = "charging"
	PlaceWatch    PlaceKind = "watch"
	PlaceStore    PlaceKind = "store"
)

// Place is somewhere a robot or a pack can be.
type Place struct {
	ID PlaceID `json:"id"`
	V  Rev     `json:"v"`
	PlaceFields
	Retired bool `json:"retired,omitzero"`
}

// PlaceFields are what the captain says of a place.
type PlaceFields struct {
	Name string    `json:"name"`
	Kind PlaceKind `json:"kind"`
}

func (p Place) Key() Key         { return KeyOf(KindPlace, p.ID) }
func (p Place) Rev() Rev         { return p.V }
func (p Place) stamp(r Rev) Noun { p.V = r; return p }

func (p Place) valid(s State) *Refusal {
	r := first(
		checkName("name", p.Name),
		oneOf("kind", p.Kind, PlaceBench, PlaceTestBox, PlaceStaging, PlaceArena, PlaceAway, PlaceCharging, PlaceWatch, PlaceStore),
	)
	if r == nil && !p.Retired && sameName(s.Places, p.ID, p.Name, func(o Place) (string, bool) { return o.Name, !o.Retired }) {
		r = nameTaken(p.Name)
	}
	return r
}

// powered tells whether weapon power may be recorded at the place (rule 16).
func (p Place) powered() bool { return p.Kind == PlaceArena || p.Kind == PlaceTestBox }

// PlaceAdd enters a place.
type PlaceAdd struct{ PlaceFields }

func (c PlaceAdd) do(t *turn) *Refusal {
	t.put(Place{ID: PlaceID(t.id(KindPlace, c.Name)), PlaceFields: c.PlaceFields})
	return nil
}

// PlaceChange replaces what is said of a place.
type PlaceChange struct {
	Place PlaceID `json:"place"`
	PlaceFields
}

func (c PlaceChange) do(t *turn) *Refusal {
	p, ok := t.s().Places[c.Place]
	if !ok {
		return missing("place", "place")
	}
	p.PlaceFields = c.PlaceFields
	t.put(p)
	return nil
}

// PlaceRetire takes a place off the board.
type PlaceRetire struct {
	Place PlaceID `json:"place"`
}

func (c PlaceRetire) do(t *turn) *Refusal {
	p, ok := t.s().Places[c.Place]
	if !ok {
		return missing("place", "place")
	}
	for _, pack := range t.s().Packs {
		if pack.Place == p.ID && !pack.Retired {
			return refuse(CodeState, "Pack %s is at %s. Move it first.", pack.Name, p.Name)
		}
	}
	for _, w := range t.s().Powers {
		if w.Place == p.ID {
			return refuse(CodeState, "%s is at %s. Move it first.", t.s().Robots[w.Robot].Name, p.Name)
		}
	}
	for _, w := range t.s().Stations {
		if w.Place == p.ID && !w.Retired {
			return refuse(CodeState, "The station %s stands at %s. Change or retire it first.", w.Name, p.Name)
		}
	}
	p.Retired = true
	t.put(p)
	return nil
}
