package view

import (
	"fmt"

	"mendline/board"
)

// Works is what works now of a robot, for its driver (works/<robotID>); not
// there for a robot without a part map and without damage.
type Works struct {
	Robot board.RobotID `json:"robot"`
	// Setup is the name of what is on; "" where nobody said.
	Setup     string        `json:"setup,omitzero"`
	Functions []FunctionNow `json:"functions"`
	// Other lists the damages that the part map has no place for.
	Other []string `json:"other"`
	// LookNext lists what a hit ran into next and nobody has reported on yet.
	LookNext []NextLook `json:"lookNext"`
}

// FunctionNow is how far one function works.
type FunctionNow struct {
	Name string        `json:"name"`
	Word board.Working `json:"word"`
	// Pct is how much of it works; Unsaid: it may be less, as some of the damage has
	// no figure.
	Pct    int      `json:"pct"`
	Unsaid bool     `json:"unsaid,omitzero"`
	Why    []string `json:"why"`
}

// NextLook is a part to look at, and the damaged one that leads there.
type NextLook struct {
	Part board.PartID `json:"part"`
	Name string       `json:"name"`
	From string       `json:"from"`
}

func worksOf(s board.State, r board.Robot) (Works, bool) {
	w := Works{Robot: r.ID, Setup: s.Setups[s.Fits[r.ID].Setup].Name}
	functions, other := s.Works(r.ID)
	for _, function := range functions {
		now := FunctionNow{Name: function.Name, Word: function.Word, Pct: function.Pct, Unsaid: function.Unsaid}
		for _, l := range function.Why {
			now.Why = append(now.Why, lacking(s, l))
		}
		w.Functions = append(w.Functions, now)
	}
	for _, l := range other {
		w.Other = append(w.Other, lacking(s, l))
	}
	for _, n := range s.LookNext(r.ID) {
		w.LookNext = append(w.LookNext, NextLook{n.Part, s.Parts[n.Part].Name, s.Parts[n.From].Name})
	}
	return w, len(w.Functions)+len(w.Other) > 0
}

// lacking says one damage that is not put right: what it is, how much works, and
// what a patch leaves weak.
func lacking(s board.State, l board.Lacking) string {
	d := s.Damages[l.Damage]
	text := d.Part
	if d.What != "" {
		text += ": " + d.What
	}
	switch {
	case l.Patch != "":
		text += ". Patched: " + l.Limits
	case d.Destroyed:
		text += ". Destroyed when taken out"
	case d.Stuck:
		text += ". Stuck"
	}
	if l.Pct != nil {
		text += fmt.Sprintf(", %d %% of it works", *l.Pct)
	}
	return text
}
