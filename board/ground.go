package board

import (
	"fmt"
	"slices"
	"strings"
)

// What lockout rests on: the energies that a robot has, and what the place is for where
// it stands. Less of either takes authority and a reason, and never under someone's
// hands.

// word is a word of whoever asks that something asks less now.
func (t *turn) word(what, reason string) Loosened {
	return Loosened{What: what, Reason: strings.TrimSpace(reason), By: t.by.Person, At: t.now}
}

// robotLess says which energies and links a robot no longer has, and which locks where
// fewer than before hold its weapon; "" where it has all it had.
func robotLess(was, is Robot) string {
	gone := energyLess(was, is)
	if n, had := len(is.links()), len(was.links()); n < had {
		gone = append(gone, fmt.Sprintf("%d to take out for its power, not %d", n, had))
	}
	if len(is.heldBy()) < len(was.heldBy()) && was.asksLock() {
		for _, k := range was.heldBy() {
			if !slices.Contains(is.heldBy(), k) {
				gone = append(gone, "no "+k.full()+" any more")
			}
		}
	}
	return strings.Join(gone, "; ")
}

func energyLess(was, is Robot) []string {
	var gone []string
	for _, energy := range was.Energies {
		if !slices.ContainsFunc(is.Energies, func(e Energy) bool { return e.Kind == energy.Kind }) {
			gone = append(gone, "no "+string(energy.Kind)+" any more")
		} else if !slices.ContainsFunc(is.Energies, func(e Energy) bool { return e.Kind == energy.Kind && e.RestSec >= energy.RestSec }) {
			gone = append(gone, "less time for "+string(energy.Kind)+" to come to rest")
		}
		if energy.Reach == Outside && is.has(energy.Kind) && !slices.ContainsFunc(is.Energies, func(e Energy) bool { return e.Kind == energy.Kind && e.Reach == Outside }) {
			gone = append(gone, string(energy.Kind)+" asked about under the covers only")
		}
	}
	return gone
}

func kindChanged(was, is Place) string {
	return "no " + string(was.Kind) + " any more, " + is.Kind.one() + " now"
}

// one is a kind of place with its article.
func (k PlaceKind) one() string {
	if k == PlaceArena {
		return "an " + string(k)
	}
	return "a " + string(k)
}

// standAt lists the robots at a place.
func (s State) standAt(place PlaceID) []Robot {
	var list []Robot
	for id, power := range inOrder(s.Powers) {
		if robot := s.Robots[id]; power.Place == place && !robot.Retired {
			list = append(list, robot)
		}
	}
	return list
}

// rule8Ground lets a robot have an energy or a lock less, or its place become another
// kind, only without power and with nobody's hands on it, by the word of its lead, the
// captain or event safety, with a reason.
func rule8Ground(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		switch k, id := key.Split(); k {
		case KindRobot:
			was, is := t.before.Robots[RobotID(id)], t.s().Robots[RobotID(id)]
			if less := robotLess(was, is); less != "" && !is.Retired {
				if bad := t.lessUnder(was, is.Name+" would have "+less, was.Loosened, is.Loosened); bad != nil {
					return bad
				}
			}
		case KindPlace:
			was, is := t.before.Places[PlaceID(id)], t.s().Places[PlaceID(id)]
			if is.ID == "" || is.Kind == was.Kind {
				continue
			}
			for _, robot := range t.before.standAt(PlaceID(id)) {
				if bad := t.lessUnder(robot, is.Name+", where "+robot.Name+" stands, would be "+kindChanged(was, is), was.Loosened, is.Loosened); bad != nil {
					return bad
				}
			}
		}
	}
	return nil
}

func (t *turn) lessUnder(robot Robot, what string, was, is []Loosened) *Refusal {
	if !t.overrules(robot) || t.by.Person == "" {
		return breaks(8, "%s. That is for %s, by name and with a reason.", what, t.s().answersFor(robot))
	}
	if who, first := t.before.stillOn(robot); who != "" {
		return breaks(8, "%s. %s.%s", what, who, first)
	}
	if state := t.before.Powers[robot.ID].State; state.Energised() {
		return breaks(8, "%s. %s is %s: end that, look at it, then say it.", what, robot.Name, state)
	}
	if t.undoing {
		return breaks(8, "%s. It cannot be taken back: change it by hand, with a reason.", what)
	}
	if len(is) <= len(was) || is[len(is)-1].By != t.by.Person || checkReason("reason", is[len(is)-1].Reason) != nil {
		return &Refusal{Code: CodeSafety, Rule: 8, Field: "reason", Sentence: what + ". Say in a few words why: it stands in the review."}
	}
	return nil
}

// RobotEnergyOff says that a robot no longer has an energy: its gas is out, say. Its lead
// and event safety, who stand beside it, have no form of the captain's.
type RobotEnergyOff struct {
	Robot  RobotID    `json:"robot"`
	Energy EnergyKind `json:"energy"`
	Reason string     `json:"reason"`
}

func (c RobotEnergyOff) do(t *turn) *Refusal {
	robot, ok := t.s().Robots[c.Robot]
	if !ok {
		return missing("robot", "robot")
	}
	if !robot.has(c.Energy) {
		return refuse(CodeNothingToDo, "%s has no such energy on its list.", robot.Name)
	}
	f := robot.RobotFields
	f.Energies = slices.DeleteFunc(slices.Clone(f.Energies), func(energy Energy) bool { return energy.Kind == c.Energy })
	return RobotChange{Robot: robot.ID, RobotFields: f, Reason: c.Reason}.do(t)
}

// PlaceTurn says that the place where a robot stands is of another kind now.
type PlaceTurn struct {
	Place  PlaceID   `json:"place"`
	Kind   PlaceKind `json:"kind"`
	Reason string    `json:"reason"`
}

func (c PlaceTurn) do(t *turn) *Refusal {
	place, ok := t.s().Places[c.Place]
	if !ok {
		return missing("place", "place")
	}
	switch {
	case len(t.s().standAt(place.ID)) == 0:
		return refuse(CodeForbidden, "No robot stands at %s: the captain says what it is for.", place.Name)
	case place.Kind == c.Kind:
		return refuse(CodeNothingToDo, "%s is that already.", place.Name)
	}
	f := place.PlaceFields
	f.Kind = c.Kind
	return PlaceChange{Place: place.ID, PlaceFields: f, Reason: c.Reason}.do(t)
}
