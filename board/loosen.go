package board

import (
	"slices"
	"strings"
)

// Loosened is a word of authority that a job asks less than it did: no must any more,
// or less lockout. It stands in the review.
type Loosened struct {
	What   string   `json:"what"`
	Reason string   `json:"reason"`
	By     PersonID `json:"by"`
	At     Moment   `json:"at"`
	// Setting is the setting that was made weaker, Until when it was put back.
	Setting string `json:"setting,omitzero"`
	Until   Moment `json:"until,omitzero"`
	// Hurt is the robot that had damage which could hurt people, and by this word has none.
	Hurt RobotID `json:"hurt,omitzero"`
}

// bare tells whether a fix puts hands on the robot and asks for no lockout.
func (fix Fix) bare() bool { return fix.Where != OffRobot && !fix.Lockout }

// sameWork tells whether a fix asks no less than another, and touches no more.
func (fix Fix) sameWork(old Fix) bool {
	touchesMore := slices.ContainsFunc(fix.Touches, func(y System) bool { return !slices.Contains(old.Touches, y) })
	return len(old.asksMore(fix)) == 0 && !touchesMore
}

// bares lists the fixes of a job that put hands on the robot and ask for no lockout, but
// those that asked for none before, or whose author has said so: in a template, or in the
// patch that the job puts right.
func (t *turn) bares(was, is Job) []looser {
	said := slices.Clone(was.Fixes)
	for i := range said {
		said[i].Touches = t.before.touches(was, said[i])
	}
	if was.ID == "" {
		if patch, ok := t.s().Jobs[is.FollowUpOf]; ok && patch.Robot == is.Robot {
			said = append(said, patch.Fixes...)
		}
	}
	var list []looser
	for _, fix := range is.Fixes {
		listed := func(f Fix) func(Fix) bool { return func(old Fix) bool { return old.bare() && f.sameWork(old) } }
		if !fix.bare() || slices.ContainsFunc(t.s().Templates[is.Template].Fixes, listed(fix)) {
			continue
		}
		whole := fix
		whole.Touches = t.s().touches(is, fix)
		if !slices.ContainsFunc(said, listed(whole)) {
			list = append(list, looser{8, "no lockout for " + cut(fix.Name, 40)})
		}
	}
	return list
}

// looser is one thing that a change takes off a job, and the rule it bears on.
type looser struct {
	rule int
	what string
}

// loosens lists what a job asks less after a change, or, entered anew, than it should.
func (t *turn) loosens(was, is Job) []looser {
	if was.ID == "" {
		return t.bares(was, is)
	}
	list := append(loosens(was, is), t.s().leaves(was, is)...)
	for _, l := range t.bares(was, is) {
		if !slices.ContainsFunc(list, func(o looser) bool { return o.rule == l.rule }) {
			list = append(list, l)
		}
	}
	return list
}

// leaves lists the damage that a job is for no more, and that what can hurt people is
// left no swap or mend.
func (s State) leaves(was, is Job) []looser {
	var list []looser
	for _, id := range was.Damages {
		if d := s.Damages[id]; !d.Dropped && d.Grade != G0 && !slices.Contains(is.Damages, id) {
			list = append(list, looser{11, "it is not for damage " + itoa(d.Number) + " any more"})
		}
	}
	if was.hurts(s) && slices.ContainsFunc(was.Fixes, Fix.mends) && !slices.ContainsFunc(is.Fixes, Fix.mends) {
		list = append(list, looser{11, "no swap or mend is left in it"})
	}
	return list
}

// mends tells whether a fix can put right what can hurt people.
func (fix Fix) mends() bool { return fix.Lockout && (fix.Way == WaySwap || fix.Way == WayMend) }

// loosens lists what a job asks less after a change. A fix that is added asks less where
// it asks less than each that there was.
func loosens(was, is Job) []looser {
	var list []looser
	if was.Triage == Must && is.Triage != Must {
		list = append(list, looser{11, "it is no must any more"})
	}
	if was.Triage == Must && is.State == JobDropped && was.State != JobDropped {
		list = append(list, looser{11, "a must is dropped"})
	}
	for i, fix := range is.Fixes {
		var less []string
		if i < len(was.Fixes) {
			less = was.Fixes[i].asksMore(fix)
		} else if !slices.ContainsFunc(was.Fixes, func(old Fix) bool { return len(old.asksMore(fix)) == 0 }) {
			less = was.Fixes[was.Chosen].asksMore(fix)
		}
		if len(less) > 0 {
			list = append(list, looser{8, cut(fix.Name, 40) + " without " + listNames(less)})
		}
	}
	return list
}

// asksMore lists what a fix asks or touches that another does not.
func (fix Fix) asksMore(than Fix) []string {
	var more []string
	if fix.Lockout && !than.Lockout {
		more = append(more, "lockout")
	}
	if fix.PackOut && !than.PackOut {
		more = append(more, "the packs out")
	}
	if fix.Where != OffRobot && than.Where == OffRobot {
		more = append(more, "hands on the robot")
	}
	for _, y := range fix.Touches {
		if !slices.Contains(than.Touches, y) {
			more = append(more, "touching "+string(y))
		}
	}
	return more
}

// loosen enters who takes something off a job, and why; where nothing is taken off it
// asks nobody.
func (t *turn) loosen(was, is Job, reason string) (Job, *Refusal) {
	list := t.loosens(was, is)
	if len(list) == 0 {
		return is, nil
	}
	what := make([]string, len(list))
	for i, l := range list {
		what[i] = l.what
	}
	robot, asks := t.s().Robots[is.Robot], strings.Join(what, "; ")
	switch {
	case was.ID == "" && (!t.overrules(robot) || t.by.Person == ""):
		return is, breaks(8, "Work in %s needs it locked out: have the job ask for lockout. That it needs none is for %s to say, with a reason.", robot.Name, t.s().answersFor(robot))
	case !t.overrules(robot) || t.by.Person == "":
		return is, breaks(list[0].rule, "Job %d would ask less: %s. That is for %s, with a reason.", is.Number, asks, t.s().answersFor(robot)).of(is)
	case was.IsAtWork(t.by.Person):
		return is, breaks(list[0].rule, "Job %d would ask less while you are at work on it: %s. Leave it or hold it first.", is.Number, asks).of(is)
	case checkReason("reason", strings.TrimSpace(reason)) != nil:
		return is, &Refusal{Code: CodeSafety, Rule: list[0].rule, Field: "reason", Sentence: "Say in a few words why: " + asks + ". It stands in the review."}
	}
	is.Loosened = append(slices.Clip(is.Loosened), Loosened{What: asks, Reason: strings.TrimSpace(reason), By: t.by.Person, At: t.now})
	return is, nil
}

// rule8Asked and rule11Asked let a job ask less only by the word of its robot's lead, the
// captain or event safety, who is not at work on it, with a reason.
func rule8Asked(t *turn) *Refusal { return t.loosenedBy(8) }

func rule11Asked(t *turn) *Refusal { return t.loosenedBy(11) }

func (t *turn) loosenedBy(rule int) *Refusal {
	for id, is := range inOrder(t.s().Jobs) {
		was := t.before.Jobs[id]
		if t.undoing {
			continue
		}
		for _, l := range t.loosens(was, is) {
			if l.rule == rule && !t.saidWhy(was, is) {
				return breaks(rule, "Job %d would ask less: %s. That is for the robot's lead, the captain or event safety, with a reason.", is.Number, l.what).of(is)
			}
		}
	}
	return nil
}

func (t *turn) saidWhy(was, is Job) bool {
	if len(is.Loosened) == len(was.Loosened) {
		return false
	}
	said := is.Loosened[len(is.Loosened)-1]
	return said.By != "" && said.By == t.by.Person && checkReason("reason", said.Reason) == nil && t.overrules(t.s().Robots[is.Robot]) && !was.IsAtWork(t.by.Person)
}
