package board

// answered puts the sheet and lets the answer do what it says: a pack placed or
// set aside, a state moved by the last line of a part, a robot in doubt where a
// guard that was in is in no more.
func (t *turn) answered(h Sheet, l Line, w Power, r Robot, p Person) *Refusal {
	a := h.Answers[len(h.Answers)-1]
	was := h.State
	t.put(h)
	if a.Said == SaidNo {
		if was == SheetComplete || w.restsOn(h, l) {
			t.becomeUnknown(w, p.Name+" answered \""+l.Not+"\" to: "+l.Ask, true)
		}
		return nil
	}
	if bad := t.moved(a, l, r); bad != nil {
		return bad
	}
	if was == SheetComplete {
		return nil
	}
	if h.List == ListMakeSafe {
		return t.madeSafe(h, w, r, p)
	}
	if _, open := h.OpenLine(); open {
		return nil
	}
	h.State, h.EndedAt = SheetComplete, t.now
	t.put(h)
	switch h.List {
	case ListReopen:
		t.reopened(w, r)
	case ListCloseUp:
		t.openSheet(r, ListReady)
	case ListReady:
		w.ReadyBy = p.ID
		failsafe, _ := h.Answered("failsafe")
		w.FailsafeOwed = failsafe.Said == SaidOwed
		t.step(w, Ready)
	}
	return nil
}

// restsOn tells whether the robot's state rests on a line of an open sheet, so
// that "no" to it means that the lockout does not hold.
func (w Power) restsOn(h Sheet, l Line) bool {
	switch {
	case w.State == Unknown || h.List == ListFirstIn:
		return false
	case l.Part == partIsolate:
		return w.State != PoweredDown
	}
	return l.Part == partDown || l.Part == partVerify || (h.List == ListCloseUp && l.Energy != "")
}

// moved does what an answer says of a pack.
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
	}
	return nil
}

// madeSafe moves the state with the make-safe sheet's parts.
func (t *turn) madeSafe(h Sheet, w Power, r Robot, p Person) *Refusal {
	if w.State == Unknown && h.partDone(partDown) {
		w = t.step(w, PoweredDown)
	}
	if w.State == PoweredDown && h.partDone(partIsolate) {
		w.IsolatedBy = p.ID
		w = t.step(w, Isolated)
	}
	if w.State != Isolated || !h.partDone(partVerify) {
		return nil
	}
	h.State, h.EndedAt = SheetComplete, t.now
	t.put(h)
	w.VerifiedBy, w.VerifiedAt = p.ID, t.now
	t.step(w, Verified)
	t.openSheet(r, ListFirstIn)
	t.openSheet(r, ListInspect)
	return nil
}

// maySign says whether p may sign r ready: a signer, with all that is due
// answered, and not whoever finished the last blocking repair.
func (t *turn) maySign(p Person, r Robot) *Refusal {
	lead := t.leads(r) && t.by.Person == p.ID
	if !p.Signer && !lead {
		return refuse(CodeForbidden, "%s is no signer. Ask a signer, a neighbour or an official who is entered as one.", p.Name)
	}
	if bad := t.sheetDone(r, ListInspect); bad != nil {
		return bad
	}
	if t.s().lastRepairer(r.ID) == p.ID && !t.s().Event().RepairerMaySign {
		return breaks(12, "%s finished the last repair that counts, so another signs. A neighbour or an official can.", p.Name)
	}
	return t.s().fitToFight(r)
}

// fitToFight refuses a robot with a blocking job open, or without a pack that is
// for use: at the signature, and again when it goes live.
func (s State) fitToFight(r Robot) *Refusal {
	if bad := s.blockedBy(r.ID, func(j Job) bool { return j.State == JobClosed }); bad != nil {
		return bad
	}
	in := s.packsIn(r.ID)
	for _, p := range in {
		if p.State.setAside() {
			return breaks(11, "Pack %s in %s is %s. Take it out first.", p.Name, r.Name, p.State)
		}
	}
	if len(in) == 0 {
		return breaks(11, "The board knows of no pack in %s. Say which one is fitted.", r.Name)
	}
	return nil
}

// rule3 keeps a robot from standing further along than its sheets: every state
// past unknown rests on a make-safe sheet with the lines due answered.
func rule3(t *turn) *Refusal {
	for id, w := range t.s().Powers {
		if before, ok := t.before.Powers[id]; (ok && before.State == w.State) || w.State == Unknown {
			continue
		}
		h, ok := t.s().Sheet(id, ListMakeSafe)
		due := map[PowerState][]string{
			PoweredDown: {partDown}, Isolated: {partDown, partIsolate},
		}[w.State]
		if due == nil {
			due = []string{partDown, partIsolate, partVerify}
		}
		for _, part := range due {
			if !ok || !h.partDone(part) {
				return breaks(3, "%s cannot be %s: its make-safe sheet is not answered so far.", t.s().Robots[id].Name, w.State)
			}
		}
		if w.State == Work && len(t.s().tagsOn(id)) > 1 && t.openLine(id, ListFirstIn) != "" && t.before.Powers[id].State == Work {
			return breaks(3, "Only one tag may be on while a first-in line is open.")
		}
	}
	return nil
}
