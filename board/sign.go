package board

import "slices"

// maySign says whether a person may sign r ready: a signer, or whoever leads it,
// and not whoever finished the last repair that counts.
func (s State) maySign(by Actor, person Person, r Robot) *Refusal {
	lead := by.leads(r) && by.Person == person.ID
	if !person.Signer && !lead {
		return refuse(CodeForbidden, "%s is not a signer. Ask a signer, a neighbour or an official who is entered as one.", person.Name)
	}
	if s.lastRepairer(r.ID) == person.ID && !s.Event().RepairerMaySign {
		return breaks(12, "%s finished the last repair that counts, so another signs. A neighbour or an official can.", person.Name)
	}
	return nil
}

// readyToSign refuses a signature on a robot that still lacks something.
func (t *turn) readyToSign(r Robot) *Refusal {
	return first(t.loadedIn(r), t.sheetDone(r, ListInspect), t.sheetDone(r, ListCloseUp), t.s().fitToFight(r))
}

// rule12 keeps the last repairer's own hand from the signature.
func rule12(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		if power.State == Ready && t.before.Powers[id].State != Ready && power.ReadyBy == t.s().lastRepairer(id) && !t.s().Event().RepairerMaySign {
			return breaks(12, "The person who finished the last repair does not sign. A neighbour or an official can.")
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
		return breaks(11, "The board has no pack in %s. Say which one is fitted.", r.Name)
	}
	for _, p := range s.packsIn(r.ID) {
		if p.Unread {
			return breaks(11, "Nobody has read the cells of pack %s, in %s, since it was last used. Read it, or fit another.", p.Name, r.Name)
		}
	}
	return nil
}

// withdrawSignature withdraws a signature that what happened since has overtaken: the
// board may withdraw it and never grants it.
func (t *turn) withdrawSignature(power Power) {
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

// lastRepairer is who finished the robot's last repair since its last fight, also
// where the job was taken up again.
func (s State) lastRepairer(robot RobotID) PersonID {
	var last Job
	for _, j := range inOrder(s.Jobs) {
		if j.Robot == robot && j.FinishedAt > last.FinishedAt && j.FinishedAt > s.Powers[robot].FoughtAt {
			last = j
		}
	}
	return last.FinishedBy
}
