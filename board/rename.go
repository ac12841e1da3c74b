package board

import (
	"slices"
	"strings"
)

// Damage, a stop and hands are on a robot by its name, for people. It keeps that while
// they stand, and nobody else gets it; a slip in the name is mended with a reason, and what
// has to be put right goes with it.

// standsOn lists what people know a robot by its name for: a stop, hands, a signature or
// power, damage that has to be put right, and musts.
func (s State) standsOn(r Robot) []string { return append(s.heldOn(r), s.toMendOn(r)...) }

// heldOn is a stop, hands, and a signature or power.
func (s State) heldOn(r Robot) []string {
	var list []string
	if stop := s.Powers[r.ID].Stop; stop.At != 0 {
		list = append(list, s.People[stop.By].Name+"'s stop")
	}
	if who, _ := s.stillOn(r); who != "" {
		list = append(list, "hands on it")
	}
	switch s.Powers[r.ID].State {
	case Live:
		list = append(list, "it is live")
	case Test:
		list = append(list, "it is in a test")
	case Ready:
		list = append(list, "it is signed ready")
	}
	return list
}

// toMendOn is damage that has to be put right, and musts.
func (s State) toMendOn(r Robot) []string {
	var list []string
	for _, d := range s.damagesOn(r.ID) {
		if d.Grade.rank() >= G3.rank() && s.DamageAsks(d) != "" {
			list = append(list, "damage "+itoa(d.Number))
		}
	}
	for _, j := range inJobOrder(s) {
		if j.Robot == r.ID && j.Triage == Must && j.Blocking() {
			list = append(list, "job "+itoa(j.Number))
		}
	}
	return list
}

// wasCalled tells whether a robot had a name that it has no more.
func (r Robot) wasCalled(name string) bool {
	return slices.ContainsFunc(r.Names, func(old string) bool { return FoldedLabel(old) == FoldedLabel(name) })
}

// renamed keeps the name that a robot had before.
func (r Robot) renamed(was Robot) Robot {
	if Folded(r.Name) != Folded(was.Name) && !r.wasCalled(was.Name) {
		r.Names = append(slices.Clip(r.Names), was.Name)
	}
	return r
}

// called is what a robot of another name is called, for the review; "" where nothing stands
// on it, or it was off the board.
func (t *turn) called(was, is Robot) string {
	if Folded(was.Name) == Folded(is.Name) || was.Retired || len(t.s().toMendOn(was)) == 0 {
		return ""
	}
	return "called " + is.Name + ", not " + was.Name
}

// ruleRenamed lets no robot shed by another name what stands on it, nor another robot
// take the name that people know that by.
func ruleRenamed(t *turn) *Refusal {
	for id, is := range inOrder(t.s().Robots) {
		was, had := t.before.Robots[id]
		if had && Folded(was.Name) == Folded(is.Name) {
			continue
		}
		enteredAgain := was.Retired && !is.Retired
		on := t.before.standsOn(was)
		switch held := t.before.heldOn(was); {
		case !had || enteredAgain || len(on) == 0:
		case len(held) > 0:
			return &Refusal{Code: CodeState, Field: "name", Sentence: was.Name + " keeps its name while this stands: " + strings.Join(held, ", ") + ". Change the name when that has ended."}
		case len(is.Loosened) <= len(was.Loosened) || checkReason("reason", is.Loosened[len(is.Loosened)-1].Reason) != nil:
			return badField("reason", "%s keeps its name while this stands: %s. To mend a slip in the name, say in a few words why. It stands in the review, and all of that stays on it.", was.Name, strings.Join(on, ", "))
		}
		for _, o := range inOrder(t.s().Robots) {
			if o.ID == id || o.Retired || !o.wasCalled(is.Name) {
				continue
			}
			if on := t.s().standsOn(o); len(on) > 0 {
				return &Refusal{Code: CodeTaken, Field: "name", Sentence: o.Name + " was called " + is.Name + ", and this stands on it: " + strings.Join(on, ", ") + ". Choose another name for this robot."}
			}
		}
	}
	return nil
}
