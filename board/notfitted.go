package board

import "slices"

// ofWeapon tells whether a line asks about a robot's weapon or about what holds it.
func (l Line) ofWeapon() bool {
	return l.ofLock() || l.Energy == EnergyWeapon || slices.Contains(l.Covers, SysWeapon)
}

// weaponOn tells whether a robot has by its settings something that must be held still,
// and nobody has said that it is off.
func (s State) weaponOn(r Robot) bool {
	return (r.asksLock() || r.hasToHold()) && !slices.ContainsFunc(s.damagesOn(r.ID), func(d Damage) bool {
		return s.off(d) && overlap(d.about(), []System{SysWeapon, SysLock})
	})
}

// fittedAfterAll tells whether "not fitted" was said to a line about a weapon that is on.
func (s State) fittedAfterAll(r Robot, l Line, a Answer) bool {
	return a.Said == SaidNotFitted && l.ofWeapon() && s.weaponOn(r)
}

// saysNotFitted tells whether a robot's newest sheet of a list, where it was not left
// behind, says "not fitted" of a weapon that is on.
func (s State) saysNotFitted(r Robot, list SheetList) bool {
	sheet, ok := s.Sheet(r.ID, list)
	return ok && sheet.State != SheetUnanswered && slices.ContainsFunc(sheet.Lines, func(l Line) bool {
		a, answered := sheet.Answered(l.ID)
		return answered && s.fittedAfterAll(r, l, a)
	})
}

// weaponBack asks again what "not fitted" was said to, where a weapon is on a robot again.
// Where its lockout rests on that, or it is closed up or further, it is unknown.
func (t *turn) weaponBack(power Power) {
	r := t.s().Robots[power.Robot]
	if !t.s().weaponOn(r) || t.before.weaponOn(t.before.Robots[r.ID]) {
		return
	}
	said := func(lists ...SheetList) bool {
		return slices.ContainsFunc(lists, func(list SheetList) bool { return t.s().saysNotFitted(r, list) })
	}
	locked := said(ListMakeSafe, ListFirstIn, ListReopen)
	open := power.State == Verified || power.State == Work
	closed := !open && power.State != Unknown && said(ListInspect, ListCloseUp, ListReady) || power.State == Ready && said(ListLoadIn)
	if said(ListLoadIn) {
		t.beginSheet(r, ListLoadIn, func(_ Sheet, l Line, a Answer) bool { return !t.s().fittedAfterAll(r, l, a) })
	}
	switch {
	case power.State == Unknown && locked:
		t.openSheet(r, ListMakeSafe)
	case power.State != Unknown && (locked || closed):
		t.becomeUnknown(power, "its weapon is on again, and \"not fitted\" was said of it", false)
	case open && said(ListInspect):
		t.openSheet(r, ListInspect)
	}
}

// rule11NotFitted takes "not fitted" of a weapon only while it is off its robot.
func rule11NotFitted(t *turn) *Refusal {
	for is, a := range t.newAnswers() {
		l, _ := is.LineOf(a.Line)
		r := t.s().Robots[is.Robot]
		if a.Record || a.Standing || !t.s().fittedAfterAll(r, l, a) {
			continue
		}
		return breaks(11, "%s has a weapon by its settings, and nobody has said that it is off: \"not fitted\" is no answer. Answer what you see: %s Where its weapon is off, %s first says so of the part, at its damage.",
			r.Name, l.Ask, t.s().leadName(r))
	}
	return nil
}
