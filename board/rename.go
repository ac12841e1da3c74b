package board

import (
	"slices"
	"strings"
)

// Damage, a stop and hands are on a robot by its name, for people. It keeps that while
// they stand, and nobody else gets it.

// standsOn lists what people know a robot by its name for: a stop, hands, damage that
// has to be put right, and musts.
func (s State) standsOn(r Robot) []string {
	var list []string
	if stop := s.Powers[r.ID].Stop; stop.At != 0 {
		list = append(list, s.People[stop.By].Name+"'s stop")
	}
	if who, _ := s.stillOn(r); who != "" {
		list = append(list, "hands on it")
	}
	for _, d := range s.damagesOn(r.ID) {
		if d.Grade.rank() >= G3.rank() && s.DamageAsks(d) != "" {
			list = append(list, "damage "+itoa(d.Number))
		}
	}
	for _, j := range Sorted(s.Jobs, jobOrder) {
		if j.Robot == r.ID && j.Triage == Must && j.Blocking() {
			list = append(list, "job "+itoa(j.Number))
		}
	}
	return list
}

// wasCalled tells whether a robot had a name that it has no more.
func (r Robot) wasCalled(name string) bool {
	return slices.ContainsFunc(r.Names, func(old string) bool { return Folded(old) == Folded(name) })
}

// renamed keeps the name that a robot had before.
func (r Robot) renamed(was Robot) Robot {
	if Folded(r.Name) != Folded(was.Name) && !r.wasCalled(was.Name) {
		r.Names = append(slices.Clip(r.Names), was.Name)
	}
	return r
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
		if on := t.before.standsOn(was); had && !enteredAgain && len(on) > 0 {
			return &Refusal{Code: CodeState, Field: "name", Sentence: was.Name + " keeps its name while this stands: " + strings.Join(on, ", ") + ". Change the name when that has ended."}
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
