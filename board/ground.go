package board

import (
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

// robotLess says which energies a robot has no more, and which locks where fewer than
// before hold its weapon; "" where it has all it had.
func robotLess(was, is Robot) string {
	var gone []string
	for _, energy := range was.Energies {
		if !slices.ContainsFunc(is.Energies, func(e Energy) bool { return e.Kind == energy.Kind }) {
			gone = append(gone, "no "+string(energy.Kind)+" any more")
		}
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

func kindChanged(was, is Place) string {
	return "no " + string(was.Kind) + " any more, a " + string(is.Kind) + " now"
}

// standsAt finds a robot at a place.
func (s State) standsAt(place PlaceID) (Robot, bool) {
	for _, power := range Sorted(s.Powers, func(power Power) string { return string(power.Robot) }) {
		if robot := s.Robots[power.Robot]; power.Place == place && !robot.Retired {
			return robot, true
		}
	}
	return Robot{}, false
}

// rule8Ground lets a robot have an energy or a lock less, or its place become another kind, only
// with nobody's hands on it, by the word of its lead, the captain or event safety, with
// a reason.
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
			robot, stands := t.before.standsAt(PlaceID(id))
			if stands && is.ID != "" && is.Kind != was.Kind {
				if bad := t.lessUnder(robot, is.Name+", where "+robot.Name+" stands, would be "+kindChanged(was, is), was.Loosened, is.Loosened); bad != nil {
					return bad
				}
			}
		}
	}
	return nil
}

func (t *turn) lessUnder(robot Robot, what string, was, is []Loosened) *Refusal {
	if who, first := t.before.stillOn(robot); who != "" {
		return breaks(8, "%s. %s.%s", what, who, first)
	}
	if !t.overrules(robot) || t.by.Person == "" {
		return breaks(8, "%s. That is for %s, the captain or event safety, by name and with a reason.", what, t.s().leadName(robot))
	}
	if t.undoing {
		return breaks(8, "%s. It cannot be taken back: change it by hand, with a reason.", what)
	}
	if len(is) <= len(was) || is[len(is)-1].By != t.by.Person || checkName("reason", is[len(is)-1].Reason) != nil {
		return &Refusal{Code: CodeSafety, Rule: 8, Field: "reason", Sentence: what + ". Say in a few words why: it stands in the review."}
	}
	return nil
}
