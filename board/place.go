package board

import "slices"

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
	// Once is what it was before it was changed, where that is so no more.
	Once PlaceOnce `json:"once,omitzero"`
	// Loosened lists by whose word it became another kind of place while a robot stood
	// there, oldest first.
	Loosened []Loosened `json:"loosened,omitempty"`
}

// PlaceFields are what the captain says of a place.
type PlaceFields struct {
	Name string    `json:"name"`
	Kind PlaceKind `json:"kind"`
	// InSight lists the charging places that are seen from here: whoever stays with a
	// charge there may work here.
	InSight []PlaceID `json:"inSight,omitempty"`
}

func (place Place) Key() Key         { return KeyOf(KindPlace, place.ID) }
func (place Place) Rev() Rev         { return place.V }
func (place Place) stamp(r Rev) Noun { place.V = r; return place }

func (place Place) called() (name, among string, inUse bool) {
	return place.Name, "", !place.Retired
}

func (place Place) valid(s State) *Refusal {
	bad := first(
		checkName("name", place.Name),
		oneOf("kind", place.Kind, PlaceBench, PlaceTestBox, PlaceStaging, PlaceArena, PlaceAway, PlaceCharging, PlaceWatch, PlaceStore),
	)
	if bad == nil {
		bad = each(place.InSight, func(id PlaceID) *Refusal {
			if _, ok := s.Places[id]; !ok {
				return missing("place", "inSight")
			}
			return nil
		})
	}
	return bad
}

// powered tells whether weapon power may be recorded at the place (rule 16).
func (place Place) powered() bool { return place.Kind == PlaceArena || place.Kind == PlaceTestBox }

// PlaceAdd enters a place.
type PlaceAdd struct{ PlaceFields }

// do brings back what was taken off under the same name: an emergency there still stands.
func (c PlaceAdd) do(t *turn) *Refusal {
	for _, was := range inOrder(t.s().Places) {
		if was.Retired && Folded(was.Name) == Folded(c.Name) {
			is := was
			is.PlaceFields, is.Retired = c.PlaceFields, false
			is.Once = is.Once.after(was, is, t.s().used(is.ID))
			t.put(is)
			return nil
		}
	}
	t.put(Place{ID: PlaceID(t.id(KindPlace, c.Name)), PlaceFields: c.PlaceFields})
	return nil
}

// PlaceChange replaces what is said of a place.
type PlaceChange struct {
	Place PlaceID `json:"place"`
	PlaceFields
	// Reason says why, where a robot stands at a place that becomes another kind.
	Reason string `json:"reason,omitzero"`
}

func (c PlaceChange) do(t *turn) *Refusal {
	if place := t.s().Places[c.Place]; place.Retired {
		return refuse(CodeState, "%s is off the board. Enter it again first, under that name.", place.Name)
	}
	return edit(t, t.s().Places, c.Place, missing("place", "place"), func(n *Place) {
		was := *n
		n.PlaceFields = c.PlaceFields
		n.Once = n.Once.after(was, *n, t.s().used(n.ID))
		if was.Kind != n.Kind && len(t.s().standAt(n.ID)) > 0 {
			n.Loosened = append(slices.Clip(n.Loosened), t.word(kindChanged(was, *n), c.Reason))
		}
	})
}

// PlaceRetire takes a place off the board.
type PlaceRetire struct {
	Place PlaceID `json:"place"`
}

func (c PlaceRetire) do(t *turn) *Refusal {
	place, ok := t.s().Places[c.Place]
	if !ok {
		return missing("place", "place")
	}
	for _, pack := range inOrder(t.s().Packs) {
		if pack.Place == place.ID && !pack.Retired {
			return refuse(CodeState, "The board has pack %s at %s. Say where it is now first.", pack.Name, place.Name)
		}
	}
	for _, power := range inOrder(t.s().Powers) {
		if power.Place == place.ID {
			return refuse(CodeState, "%s is at %s. Move it first.", t.s().Robots[power.Robot].Name, place.Name)
		}
	}
	for _, station := range inOrder(t.s().Stations) {
		if station.Place == place.ID && !station.Retired {
			return refuse(CodeState, "The station %s stands at %s. Change or retire it first.", station.Name, place.Name)
		}
	}
	place.Retired = true
	t.put(place)
	return nil
}
