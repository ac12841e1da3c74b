package board

import "slices"

// answered puts the sheet and lets the answer do what it says: a pack placed or
// set aside, a state moved by the last line of a part, a robot in doubt where a
// guard that was in is in no more.
func (t *turn) answered(sheet Sheet, l Line, power Power, r Robot, person Person) *Refusal {
	a := sheet.Answers[len(sheet.Answers)-1]
	was := sheet.State
	t.put(sheet)
	if a.Said == SaidNo {
		switch {
		case power.restsOn(sheet, l) || (was == SheetComplete && power.State == Ready && !slices.Contains(endLists, sheet.List)):
			t.becomeUnknown(power, person.Name+" answered \""+l.Not+"\" to: "+l.Ask, true)
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
		power.ReadyBy, power.Fitted = person.ID, t.s().fitted(r.ID)
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
	case l.Kind == LinePlace && a.Said == SaidDone && (p.Robot == "" || p.Robot == r.ID):
		t.packOut(p, a.Place)
	case l.Kind == LineLook && a.Said == SaidSuspect:
		p.State, p.Since, p.CameBack = PackSuspect, a.At, false
		t.put(p)
	case l.Kind == LinePack && a.Said == SaidDone:
		in := t.s().Packs[a.Pack]
		in.CameBack = false
		return t.packIn(in, r.ID)
	case l.Kind == LineNumber && l.Unit == massUnit && slices.Contains(l.Covers, SysMass):
		t.weighed(r.ID, Weighing{Grams: a.Number, By: a.By, At: a.At})
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

// maySign says whether p may sign r ready: a signer, with all that is due
// answered, and not whoever finished the last blocking repair.
func (t *turn) maySign(person Person, r Robot) *Refusal {
	lead := t.leads(r) && t.by.Person == person.ID
	if !person.Signer && !lead {
		return refuse(CodeForbidden, "%s is no signer. Ask a signer, a neighbour or an official who is entered as one.", person.Name)
	}
	if bad := first(t.loadedIn(r), t.sheetDone(r, ListInspect), t.sheetDone(r, ListCloseUp)); bad != nil {
		return bad
	}
	if t.s().lastRepairer(r.ID) == person.ID && !t.s().Event().RepairerMaySign {
		return breaks(12, "%s finished the last repair that counts, so another signs. A neighbour or an official can.", person.Name)
	}
	return t.s().fitToFight(r)
}

// rule12 keeps the last repairer's own hand from the signature.
func rule12(t *turn) *Refusal {
	for id, power := range t.s().Powers {
		if power.State == Ready && t.before.Powers[id].State != Ready && power.ReadyBy == t.s().lastRepairer(id) && !t.s().Event().RepairerMaySign {
			return breaks(12, "Whoever finished the last repair does not sign. A neighbour or an official can.")
		}
	}
	return nil
}

// rule4 takes the word that isolation holds only from someone with authority for
// each energy, and only after the isolating, as a step of its own.
func rule4(t *turn) *Refusal {
	for key := range t.did {
		k, id := key.Split()
		if k != KindSheet {
			continue
		}
		was, is := t.before.Sheets[SheetID(id)], t.s().Sheets[SheetID(id)]
		for _, a := range is.Answers[min(len(was.Answers), len(is.Answers)):] {
			l, _ := is.line(a.Line)
			if l.Part == partVerify && !a.Standing && a.Said != SaidNo && !t.s().People[a.By].authorisedFor(t.s().Robots[is.Robot]) {
				return breaks(4, "Verifying takes authority for every energy of %s.", t.s().Robots[is.Robot].Name)
			}
		}
	}
	for _, path := range t.path {
		if slices.Contains(path, Isolated) && slices.Contains(path, Verified) {
			return breaks(4, "Verifying comes after isolating, as a step of its own.")
		}
	}
	return nil
}

// fitToFight refuses a robot with a blocking job open, or without a pack that is
// for use: at the signature, and again when it goes live.
func (s State) fitToFight(r Robot) *Refusal {
	if bad := s.blockedBy(r.ID, func(j Job) bool { return j.State == JobClosed }); bad != nil {
		return bad
	}
	if d, open := s.hurtful(r.ID); open {
		return breaks(11, "Damage %d, %s, can hurt people and no job has put it right. Make a job of it and do it first.", d.Number, d.Part)
	}
	if bad := s.setAsideIn(r, 11); bad != nil {
		return bad
	}
	if len(s.packsIn(r.ID)) == 0 {
		return breaks(11, "The board knows of no pack in %s. Say which one is fitted.", r.Name)
	}
	for _, p := range s.packsIn(r.ID) {
		if p.Unread {
			return breaks(11, "Nobody has read the cells of pack %s, in %s, since it was last used. Read it, or fit another.", p.Name, r.Name)
		}
	}
	return nil
}

// setAsideIn refuses a robot with a pack in it that is not for use.
func (s State) setAsideIn(r Robot, rule int) *Refusal {
	for _, p := range s.packsIn(r.ID) {
		if p.State.setAside() {
			return breaks(rule, "Pack %s in %s is %s. Take it out first.", p.Name, r.Name, p.State)
		}
	}
	return nil
}

// hurtful finds a damage that can hurt people and that no closed job has put
// right.
func (s State) hurtful(robot RobotID) (Damage, bool) {
	for _, d := range sortedBy(s.Damages, func(d Damage) string { return itoa(100000 + d.Number) }) {
		if d.Robot != robot || d.Grade != GX || d.Dropped {
			continue
		}
		mended := false
		for _, j := range s.Jobs {
			mended = mended || (j.State == JobClosed && slices.Contains(j.Damages, d.ID))
		}
		if !mended {
			return d, true
		}
	}
	return Damage{}, false
}

// fitted lists the packs in a robot by id.
func (s State) fitted(robot RobotID) []PackID {
	var ids []PackID
	for _, p := range s.packsIn(robot) {
		ids = append(ids, p.ID)
	}
	return ids
}

// settleReady withdraws a signature that what happened since has overtaken: the
// board may withdraw it and never grants it.
func (t *turn) settleReady(power Power) {
	if power.State != Ready {
		return
	}
	r := t.s().Robots[power.Robot]
	switch bad := t.s().fitToFight(r); {
	case bad != nil:
		t.becomeUnknown(power, "signed ready, and then: "+bad.Sentence, false)
	case !slices.Equal(power.Fitted, t.s().fitted(power.Robot)):
		t.becomeUnknown(power, "a pack was changed after the signature", false)
	case !sameSet(t.s().Fits[power.Robot].Modules, t.before.Fits[power.Robot].Modules):
		t.becomeUnknown(power, "a module was changed after the signature", false)
	case r.Class != t.before.Robots[power.Robot].Class:
		t.becomeUnknown(power, "its class was changed after the signature", false)
	}
}

// rule3 keeps a robot from standing further along than its sheets: every state
// past unknown rests on a make-safe sheet with the lines due answered.
func rule3(t *turn) *Refusal {
	for id, power := range t.s().Powers {
		if before, ok := t.before.Powers[id]; (ok && before.State == power.State) || power.State == Unknown {
			continue
		}
		sheet, ok := t.s().Sheet(id, ListMakeSafe)
		due := map[PowerState][]string{
			PoweredDown: {partDown}, Isolated: {partDown, partIsolate},
		}[power.State]
		if due == nil {
			due = []string{partDown, partIsolate, partVerify}
		}
		for _, part := range due {
			if !ok || !sheet.partDone(part) {
				return breaks(3, "%s cannot be %s: its make-safe sheet is not answered so far.", t.s().Robots[id].Name, power.State)
			}
		}
		if power.State == Work && len(t.s().tagsOn(id)) > 1 && t.openLine(id, ListFirstIn) != "" && t.before.Powers[id].State == Work {
			return breaks(3, "Only one tag may be on while a first-in line is open.")
		}
	}
	return nil
}
