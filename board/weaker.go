package board

import (
	"fmt"
	"slices"
)

// A setting that a check or a signature rests on is made weaker by authority with a
// reason, and stands in the review from then until it is put back. What rested on it
// meanwhile is withdrawn when it is put back.

// weaker is a setting that asks less, what that is, and the rule it bears on; 0 where it
// bears on what the event or the venue asks.
type weaker struct {
	rule          int
	setting, what string
}

// refuse is breaks, or where no rule is broken a plain refusal with its code.
func (w weaker) refuse(code Code, sentence string) *Refusal {
	if w.rule != 0 {
		code = CodeSafety
	}
	return &Refusal{Code: code, Rule: w.rule, Field: "reason", Sentence: sentence}
}

// eventWeaker lists what an event's settings ask less than before. The first that are
// entered weaken nothing.
func eventWeaker(was, is EventFields) []weaker {
	var list []weaker
	if was.Name == "" || is.Name == "" {
		return nil
	}
	if is.RepairerMaySign && !was.RepairerMaySign {
		list = append(list, weaker{12, "repairerMaySign", "the person who finished the last repair may sign"})
	}
	if is.SpinDownSec < was.SpinDownSec {
		list = append(list, weaker{3, "spinDownSec", fmt.Sprintf("a rotor counts as at rest after %d s, not %d", is.SpinDownSec, was.SpinDownSec)})
	}
	if long, had := (Event{EventFields: is}).Recheck(), (Event{EventFields: was}).Recheck(); long > had {
		list = append(list, weaker{3, "recheckSec", "gas and capacitors are looked at again after " + lasts(long) + ", not " + lasts(had)})
	}
	if had := max(was.AttendantMost, attendedMost); is.AttendantMost > had {
		list = append(list, weaker{14, "attendantMost", fmt.Sprintf("one person may stay with %d charges, not %d", is.AttendantMost, had)})
	}
	if is.MinorsDrive && !was.MinorsDrive {
		list = append(list, weaker{5, "minorsDrive", "minors may drive"})
	}
	if was.LoadIn && !is.LoadIn {
		list = append(list, weaker{0, "loadIn", "no load-in inspection before a test or signature"})
	}
	if was.HotWork.Needed && !is.HotWork.Needed {
		list = append(list, weaker{0, "hotWork", "no permit to grind and weld"})
	}
	if is.mayOweFailsafe() && !was.mayOweFailsafe() {
		list = append(list, weaker{11, "failsafeAt", "the failsafe may be owed to the officials"})
	}
	return list
}

// robotWeaker is the same of a robot.
func robotWeaker(was, is Robot) []weaker {
	var list []weaker
	if was.ID == "" || is.ID == "" {
		return nil
	}
	if had := was.Class.LimitGrams(); was.Class.Said() && is.Class.LimitGrams() > had*(1+1e-9) {
		list = append(list, weaker{11, "class", fmt.Sprintf("its class limit is %.1f g, not %.1f g", is.Class.LimitGrams(), had)})
	}
	if was.SecondVerifier && !is.SecondVerifier {
		list = append(list, weaker{4, "secondVerifier", "whoever isolated it may verify it"})
	}
	if is.Takes(UseMain) < was.Takes(UseMain) {
		list = append(list, weaker{11, "mainPacks", fmt.Sprintf("it is signed with %d main packs in it, not %d", is.Takes(UseMain), was.Takes(UseMain))})
	}
	if is.WeaponPacks < was.WeaponPacks {
		list = append(list, weaker{11, "weaponPacks", fmt.Sprintf("it is signed with %d weapon packs in it, not %d", is.WeaponPacks, was.WeaponPacks)})
	}
	return list
}

// weakened enters who weakens settings, and when others are put back.
func (t *turn) weakened(list []Loosened, less, back []weaker, reason string) []Loosened {
	list = slices.Clone(list)
	for i := range list {
		if list[i].Until == 0 && slices.ContainsFunc(back, func(w weaker) bool { return w.setting == list[i].Setting }) {
			list[i].Until = t.now
		}
	}
	for _, w := range less {
		l := t.word(w.what, reason)
		l.Setting = w.setting
		list = append(list, l)
	}
	return list
}

// ruleWeaker lets such a setting ask less only with a reason.
func ruleWeaker(t *turn) *Refusal {
	was, is := t.before.Event(), t.s().Event()
	if bad := t.saidWhyWeaker("", eventWeaker(was.EventFields, is.EventFields), was.Loosened, is.Loosened); bad != nil {
		return bad
	}
	for id, is := range inOrder(t.s().Robots) {
		was := t.before.Robots[id]
		if bad := t.saidWhyWeaker(is.Name+": ", robotWeaker(was, is), was.Loosened, is.Loosened); bad != nil {
			return bad
		}
	}
	return nil
}

func (t *turn) saidWhyWeaker(about string, less []weaker, was, is []Loosened) *Refusal {
	said := is[min(len(was), len(is)):]
	if t.undoing && len(is) < len(was) && was[len(was)-1].Setting != "" {
		return breaks(21, "%s%s: that it was so stands in the review. Put it back by hand.", about, was[len(was)-1].What)
	}
	for _, w := range less {
		if t.undoing {
			return w.refuse(CodeState, about+w.what+". It cannot be taken back: change it by hand, with a reason.")
		}
		if !slices.ContainsFunc(said, func(l Loosened) bool { return l.Setting == w.setting && checkReason("reason", l.Reason) == nil }) {
			return w.refuse(CodeBadField, upper(about+w.what+". Say in a few words why: it stands in the review."))
		}
	}
	return nil
}

// putBack makes a robot unknown whose check or signature rested on a setting that was
// weaker and is put back.
func (t *turn) putBack(power Power) {
	robot, was, is := t.s().Robots[power.Robot], t.before.Event(), t.s().Event()
	switch {
	case power.State == Unknown || power.State.Energised():
	case robot.SecondVerifier && !t.before.Robots[robot.ID].SecondVerifier && power.VerifiedBy != "" && power.VerifiedBy == power.IsolatedBy:
		t.becomeUnknown(power, "verified by who isolated it, and a second person is asked for again", false)
	case was.RepairerMaySign && !is.RepairerMaySign && power.State == Ready && slices.Contains(t.s().barred(robot.ID), power.ReadyBy):
		t.becomeUnknown(power, "signed by a repairer, and another is asked for again", false)
	case is.SpinDownSec > was.SpinDownSec && t.restedLess(robot):
		t.becomeUnknown(power, "its rotor was said to be at rest sooner than the event gives it now", false)
	}
}

// restedLess tells whether a robot's rotor was said to be at rest sooner than it is now
// given.
func (t *turn) restedLess(robot Robot) bool {
	for _, list := range []SheetList{ListMakeSafe, ListFirstIn} {
		sheet, _ := t.s().Sheet(robot.ID, list)
		for _, l := range sheet.Lines {
			if a, ok := sheet.Answered(l.ID); ok && a.Said == SaidDone && !a.Record && a.At < t.s().RestsAt(robot.ID, l) {
				return true
			}
		}
	}
	return false
}
