package fightclock

import (
	"fmt"
	"math"
	"time"
)

// Input is all the clock looks at.
type Input struct {
	Now       time.Time
	Prior     Prior
	Arenas    []Arena
	Sightings []Sighting // in any order; those after Now don't count yet
	Breaks    []Window   // no fight starts within; all arenas
	// Watched says that someone reports every start, so that silence since the
	// last sighting means that no fight has started. Otherwise only a repeated
	// sighting ("9 is still on") says so: the call may have come unseen, and of
	// each wanted fight it is known only that it hasn't started itself.
	Watched bool
	Wanted  []Wanted
}

// Arena runs fights one after the other, at its own pace.
type Arena struct {
	Name       string
	FirstStart time.Time // planned start of fight 1; zero if not known
}

// Wanted is a fight whose start we want to know. An empty Arena means the only
// one there is.
type Wanted struct {
	Arena     string
	Fight     int       // its number in the arena's running order, from 1
	NotBefore time.Time // it may not start earlier (promised rest, timetable); zero for none
	Lead      Lead
}

// Lead is how long before a fight its competitors are called: when the fight
// Fights before it starts, and Sec seconds before that. Both ≥ 0.
type Lead struct {
	Fights int
	Sec    float64
}

// State of a wanted fight.
type State string

const (
	Unknown State = "unknown"  // nothing to reckon from; see Why
	Ahead   State = "ahead"    // the call is still to come
	CallNow State = "call-now" // the call is due or past, the fight is not on
	OnNow   State = "on-now"
	Past    State = "past"
)

// Spread is a moment with its uncertainty: 1 in 10 is before P10, 9 in 10 before
// P90. All three are equal for a moment that is known.
type Spread struct{ P10, P50, P90 time.Time }

// Pace is what the clock makes of an arena.
type Pace struct {
	MeanSec      float64 // mean interval between starts, hold-ups apart, seconds
	Intervals    int     // intervals seen that this rests on, beside the prior
	SetAside     int     // spans not used: a break, a hold-up, a corrected number
	HoldUpChance float64 // that the fight on now is being held up
}

// Answer is the clock's word on one wanted fight. Start and Call are zero while
// the State is Unknown. For OnNow and Past, Start is when it, or a later fight,
// was first seen.
type Answer struct {
	Wanted
	State       State
	Why         string // for Unknown: what is missing, a sentence
	Ahead       int    // starts still to come up to and with this one
	Start, Call Spread
	Pace        Pace
}

// Predict answers for each wanted fight, in their order. It is an error if the
// input contradicts itself: the message says which entry and what would be right.
func Predict(in Input) ([]Answer, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	breaks := inOrder(in.Breaks)
	clocks := map[string]arenaClock{}
	for _, a := range in.Arenas {
		clocks[a.Name] = in.arenaClock(a, breaks)
	}
	answers := make([]Answer, len(in.Wanted))
	for i, w := range in.Wanted {
		if w.Arena == "" && len(in.Arenas) == 1 {
			w.Arena = in.Arenas[0].Name
		}
		clock, known := clocks[w.Arena]
		if !known {
			answers[i] = Answer{Wanted: w, State: Unknown, Why: "The arena of this fight is not known yet."}
			continue
		}
		answers[i] = clock.answer(w)
	}
	return answers, nil
}

func (in Input) check() error {
	if err := in.Prior.check(); err != nil {
		return err
	}
	if err := checkWindows("break", in.Breaks); err != nil {
		return err
	}
	known := map[string]bool{}
	for i, a := range in.Arenas {
		if a.Name == "" || known[a.Name] {
			return fmt.Errorf("arena %d: name %q: give each arena a name of its own", i+1, a.Name)
		}
		known[a.Name] = true
	}
	for i, s := range in.Sightings {
		if !known[s.Arena] || s.Fight < 1 {
			return fmt.Errorf("sighting %d: fight %d in arena %q: give a listed arena and a number from 1", i+1, s.Fight, s.Arena)
		}
	}
	for i, w := range in.Wanted {
		if w.Arena != "" && !known[w.Arena] || w.Fight < 1 {
			return fmt.Errorf("wanted %d: fight %d in arena %q: give a listed arena, or none, and a number from 1", i+1, w.Fight, w.Arena)
		}
		if !(w.Lead.Sec >= 0) || math.IsInf(w.Lead.Sec, 1) || w.Lead.Fights < 0 {
			return fmt.Errorf("wanted %d: lead %d fights and %g s: give 0 or more", i+1, w.Lead.Fights, w.Lead.Sec)
		}
	}
	return nil
}
