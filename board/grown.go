package board

import (
	"slices"
	"strings"
)

// Someone who was a minor is none any more, or may sign robots, at the captain's word
// with a reason. It stands in the review, and those who answer for robots hear of it.

// gains says what a person may do after a change that they might not before, "" for
// nothing. Whoever is new on the board was nothing before.
func (person Person) gains(is Person) string {
	var list []string
	if person.ID == "" {
		return ""
	}
	if person.Minor && !is.Minor {
		list = append(list, "no minor any more")
	}
	if is.Signer && !person.Signer {
		list = append(list, "a signer now")
	}
	return strings.Join(list, " and ")
}

// grown enters by whose word a person may do more, and why.
func (t *turn) grown(was, is Person, reason string) Person {
	if what := was.gains(is); what != "" {
		is.Loosened = append(slices.Clip(is.Loosened), t.word(what, reason))
	}
	return is
}

// rule5Grown lets nobody be more than they were without a reason that can be read.
func rule5Grown(t *turn) *Refusal {
	for id, is := range inOrder(t.s().People) {
		was := t.before.People[id]
		switch what := was.gains(is); {
		case t.undoing && len(is.Loosened) < len(was.Loosened):
			return breaks(21, "%s is %s: that it was said stands in the review. Put it back by hand.", is.Name, was.Loosened[len(was.Loosened)-1].What)
		case what == "" || t.by.Role == RoleSystem:
		case t.undoing:
			return breaks(5, "%s would be %s again. It cannot be taken back: change it by hand, with a reason.", is.Name, what)
		case len(is.Loosened) == len(was.Loosened) || checkReason("reason", is.Loosened[len(is.Loosened)-1].Reason) != nil:
			return &Refusal{Code: CodeSafety, Rule: 5, Field: "reason", Sentence: "Say in a few words why " + is.Name + " is " + what + ". It stands in the review, and event safety and the leads hear of it."}
		}
	}
	return nil
}

// signs tells whether a person is one who signs a robot ready: a signer, its lead, or a
// captain with authority for every energy of it. The captain's code alone makes none.
func (person Person) signs(r Robot) bool {
	captain := person.Role == RoleCaptain && person.AuthorisedFor(r)
	return person.Answers() && (person.Signer || person.ID == r.Lead || captain)
}

// rule12Signer takes a signature from nobody else.
func rule12Signer(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		robot, who := t.s().Robots[id], t.s().People[power.ReadyBy]
		if power.State == Ready && t.before.Powers[id].State != Ready && !who.signs(robot) {
			return breaks(12, "%s is not one who signs %s ready. %s", who.Name, robot.Name, t.s().whoSigns(robot))
		}
	}
	return nil
}
