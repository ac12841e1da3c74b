package board

import (
	"fmt"
	"slices"
)

// answered puts the sheet and lets the answer do what it says: a pack placed or
// set aside, a state moved by the last line of a part, a robot in doubt where a
// guard that was in is out again.
func (t *turn) answered(sheet Sheet, l Line, power Power, r Robot, person Person) *Refusal {
	a := sheet.Answers[len(sheet.Answers)-1]
	was := sheet.State
	t.put(sheet)
	if a.Said == SaidNo {
		switch {
		case power.restsOn(sheet, l) || (was == SheetComplete && power.State == Ready && !slices.Contains(endLists, sheet.List)):
			said := " answered \"" + l.Not + "\""
			if a.Number != 0 {
				said = fmt.Sprintf(" read %g %s", a.Number, l.Unit)
			}
			t.becomeUnknown(power, person.Name+said+" to: "+l.Ask, true)
		case was == SheetComplete && t.owesAgain(sheet, power):
			sheet.State, sheet.EndedAt = SheetOpen, 0
			t.put(sheet)
		}
		return nil
	}
	if bad := t.moved(a, l, r); bad != nil {
		return bad
	}
	if was == SheetComplete {
		return nil
	}
	if sheet.List == ListMakeSafe {
		return t.madeSafe(sheet, power, r, person)
	}
	if _, open := sheet.OpenLine(); open {
		return nil
	}
	sheet.State, sheet.EndedAt = SheetComplete, t.now
	t.put(sheet)
	if power.State != ClosingUp {
		return nil
	}
	switch sheet.List {
	case ListReopen:
		t.reopened(power, r)
	case ListCloseUp:
		t.openSheet(r, ListReady)
	case ListReady:
		power.ReadyBy, power.ReadyOn, power.Fitted = person.ID, a.On, t.s().fitted(r.ID)
		failsafe, _ := sheet.Answered("failsafe")
		power.FailsafeOwed = failsafe.Said == SaidOwed
		t.step(power, Ready)
	}
	return nil
}

// owesAgain tells whether "no" to a line of a complete sheet makes the robot owe
// the sheet again: its newest inspection, or its newest closing up while it lasts.
func (t *turn) owesAgain(sheet Sheet, power Power) bool {
	newest, _ := t.s().Sheet(sheet.Robot, sheet.List)
	switch {
	case newest.ID != sheet.ID:
		return false
	case sheet.List.ofTheEvent():
		return true
	case sheet.List == ListInspect:
		return power.State == Verified || power.State == Work || power.State == ClosingUp
	}
	return sheet.List == ListCloseUp && power.State == ClosingUp
}

// restsOn tells whether the robot's state rests on a line of an open sheet, so
// that "no" to it means that the lockout does not hold.
func (power Power) restsOn(sheet Sheet, l Line) bool {
	switch {
	case power.State == Unknown:
		return false
	case sheet.List == ListFirstIn:
		return sheet.State == SheetComplete && l.Energy != ""
	case l.Part == partIsolate:
		return power.State != PoweredDown
	}
	return l.Part == partDown || l.Part == partVerify || (sheet.List == ListCloseUp && l.Energy != "")
}

// moved does what an answer says of a pack, and keeps what a scale read.
func (t *turn) moved(a Answer, l Line, r Robot) *Refusal {
	p := t.s().Packs[l.Pack]
	switch {
	case l.Kind == LinePlace && a.Said == SaidDone && (p.Robot == "" && p.State != PackCharging || p.Robot == r.ID):
		t.packOut(p, a.Place)
	case l.Kind == LineLook && a.Said == SaidSuspect:
		if p.CameBack = false; !p.State.setAside() {
			p.State, p.Since = PackSuspect, a.At
		}
		t.put(p)
	case l.Kind == LinePack && a.Said == SaidDone:
		in := t.s().Packs[a.Pack]
		in.CameBack, in.Found = false, in.State.setAside() && t.late()
		return t.packIn(in, r.ID)
	case l.weighs():
		t.weighed(r.ID, Weighing{Grams: a.Number, Sure: a.Sure, By: a.By, At: a.At})
	}
	return nil
}

// madeSafe moves the state with the make-safe sheet's parts.
func (t *turn) madeSafe(sheet Sheet, power Power, r Robot, person Person) *Refusal {
	if power.State == Unknown && sheet.partDone(partDown) {
		power = t.step(power, PoweredDown)
	}
	if power.State == PoweredDown && sheet.partDone(partIsolate) {
		power.IsolatedBy = person.ID
		power = t.step(power, Isolated)
	}
	if power.State != Isolated || !sheet.partDone(partVerify) {
		return nil
	}
	sheet.State, sheet.EndedAt = SheetComplete, t.now
	t.put(sheet)
	power.VerifiedBy, power.VerifiedAt = person.ID, t.now
	t.step(power, Verified)
	t.openSheet(r, ListFirstIn)
	t.openSheet(r, ListInspect)
	return nil
}
