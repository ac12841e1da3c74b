package board

import (
	"slices"
	"strings"
)

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

// fittedBySettings is what a line asks about that a robot has by its settings, besides its
// weapon; "" where it has none, or the line asks about something else.
func (r Robot) fittedBySettings(list SheetList, l Line) string {
	own := list.ofTheEvent() && !strings.HasPrefix(l.ID, ownLine)
	switch {
	case r.has(EnergyGas) && (l.Energy == EnergyGas || own && l.ID == "gas"):
		return "gas"
	case len(r.links()) > 0 && (slices.Contains(l.Covers, SysLink) || own && (l.ID == "link" || l.ID == "keeper")):
		return r.links()[0].Isolator
	}
	return ""
}

// lightSeen is the answer by which a robot has a power light: someone saw it, nobody has
// said since that there is none, no other setup is on, and its part is not off.
func (s State) lightSeen(r RobotID) (Answer, bool) {
	var last Answer
	for _, sheet := range Sorted(s.Sheets, sheetOrder) {
		a, ok := sheet.Answered("light")
		if ok && sheet.Robot == r && (a.Said == SaidDone || a.Said == SaidNotFitted) && !a.Record && a.At >= last.At {
			last = a
		}
	}
	off := slices.ContainsFunc(s.damagesOn(r), func(d Damage) bool { return s.off(d) && overlap(d.about(), []System{SysLight}) })
	return last, last.At != 0 && last.Said != SaidNotFitted && !off && s.Fits[r].At <= last.At
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
		if a.Record || a.Standing || a.Said != SaidNotFitted {
			continue
		}
		if what := r.fittedBySettings(is.List, l); what != "" {
			return breaks(11, "%s has this by its settings: %s. \"Not fitted\" is no answer. Answer what you see: %s Where that is gone for good, %s says so on the page of %s.", r.Name, what, l.Ask, t.s().leadName(r), r.Name)
		}
		if seen, has := t.before.lightSeen(r.ID); has && l.ID == "light" {
			return breaks(11, "%s saw the power light of %s at %s: \"not fitted\" is no answer. Answer what you see: %s Where it has come off, report it as damage, and say there that the part is off.",
				t.s().People[seen.By].Name, r.Name, t.s().Clock(seen.At), l.Ask)
		}
		if !t.s().fittedAfterAll(r, l, a) {
			continue
		}
		return breaks(11, "%s has a weapon by its settings, and nobody has said that it is off: \"not fitted\" is no answer. Answer what you see: %s Where its weapon is off, %s first says so of the part, at its damage.",
			r.Name, l.Ask, t.s().leadName(r))
	}
	return nil
}
