package board

import "slices"

// maySign says whether a person may sign r ready: a signer, or its lead or the captain on
// their own device, and nobody whom rule 12 bars.
func (s State) maySign(by Actor, person Person, r Robot) *Refusal {
	if !person.signs(r) || !person.Signer && by.Person != person.ID {
		return refuse(CodeForbidden, "%s is not a signer. Ask a signer, a neighbour or an official who is entered as one.", person.Name)
	}
	hands, since := s.repairHands(r.ID)
	switch {
	case s.Event().RepairerMaySign:
	case slices.Contains(hands, person.ID):
		return breaks(12, "%s worked on the last repair of %s, so another signs. %s", person.Name, r.Name, s.whoSigns(r))
	case slices.Contains(s.saidOffSince(r.ID, since), person.ID):
		return breaks(12, "%s said that a gravely damaged part of %s is off, so another signs. %s", person.Name, r.Name, s.whoSigns(r))
	case slices.Contains(s.talkedAway(r.ID), person.ID):
		return breaks(12, "%s said that damage which could hurt people is less than that, or not on %s, so another signs. %s", person.Name, r.Name, s.whoSigns(r))
	}
	return nil
}

// readyToSign refuses a signature on a robot that still lacks something.
func (t *turn) readyToSign(r Robot) *Refusal {
	return first(t.loadedIn(r), t.sheetDone(r, ListInspect), t.sheetDone(r, ListCloseUp), t.s().fitToFight(r), t.s().unaccepted(r))
}

// rule3Sheets keeps a robot from a test, and from ready, while a sheet that comes before
// it is open.
func rule3Sheets(t *turn) *Refusal {
	before := map[PowerState][]SheetList{Test: {ListCloseUp}, Ready: {ListInspect, ListCloseUp, ListReady}}
	for id, power := range inOrder(t.s().Powers) {
		if t.before.Powers[id].State == power.State {
			continue
		}
		for _, list := range before[power.State] {
			if bad := t.sheetDone(t.s().Robots[id], list); bad != nil {
				return bad
			}
		}
	}
	return nil
}

// rule12 keeps the hands that did the last repair from the signature.
func rule12(t *turn) *Refusal {
	for id, power := range inOrder(t.s().Powers) {
		signed := power.State == Ready && t.before.Powers[id].State != Ready
		if signed && !t.s().Event().RepairerMaySign && slices.Contains(t.s().barred(id), power.ReadyBy) {
			return breaks(12, "Another signs than those who worked on the last repair, or said that its damage is less or off. %s", t.s().whoSigns(t.s().Robots[id]))
		}
	}
	return nil
}

// whoSigns says who may sign a robot in a repairer's place, and where nobody is left
// the two ways out.
func (s State) whoSigns(r Robot) string {
	barred, names := s.barred(r.ID), map[string]bool{}
	for _, p := range s.People {
		if p.signs(r) && !slices.Contains(barred, p.ID) {
			names[p.Name] = true
		}
	}
	if len(names) > 0 {
		return listNames(sortedNames(names)) + " can."
	}
	return "Everyone here who could sign worked on its last repair, or said that its damage is less or off. Two ways out: enter a neighbour or an official as a signer, who sets a PIN and signs, on a phone of their own or on the captain's device; " +
		"or the captain lets a repairer sign in the event's settings, which is printed."
}

// fitToFight refuses a robot with a blocking job open, or without a pack that is
// for use, its transmitter's too: at the signature, and again when it goes live.
func (s State) fitToFight(r Robot) *Refusal {
	if bad := s.blockedBy(r.ID, func(j Job) bool { return j.State == JobClosed }); bad != nil {
		return bad
	}
	if bad := s.hurts(r); bad != nil {
		return bad
	}
	return first(s.tooHeavy(r), s.setAsideIn(r, 11), s.fittedToFight(r), s.senderFit(r))
}

// withdrawSignature withdraws a signature that what happened since has overtaken: the
// board may withdraw it and never grants it.
func (t *turn) withdrawSignature(power Power) {
	if power.State != Ready {
		return
	}
	r := t.s().Robots[power.Robot]
	signer := t.s().People[power.ReadyBy]
	switch bad := t.s().fitToFight(r); {
	case bad != nil:
		t.becomeUnknown(power, "signed ready, and then: "+bad.Sentence, false)
	case !signer.signs(r) && t.before.People[signer.ID].signs(t.before.Robots[r.ID]):
		t.becomeUnknown(power, "signed by "+signer.Name+", who was taken off those who sign before it fought", false)
	case power.FailsafeOwed && !t.s().MayOweFailsafe() && t.before.MayOweFailsafe():
		t.becomeUnknown(power, "signed with its failsafe owed to the officials, and the event takes that no more", false)
	case t.s().otherPacks(power.Robot) && !t.before.otherPacks(power.Robot):
		t.becomeUnknown(power, "what a pack in it weighs was changed after the signature", false)
	case !slices.Equal(power.Fitted, t.s().fitted(power.Robot)):
		t.becomeUnknown(power, "a pack was changed after the signature", false)
	case !sameSet(t.s().Fits[power.Robot].Modules, t.before.Fits[power.Robot].Modules):
		t.becomeUnknown(power, "a module was changed after the signature", false)
	case t.s().Fits[power.Robot].At > t.before.Fits[power.Robot].At:
		t.becomeUnknown(power, "a module was renewed after the signature", false)
	case r.Class != t.before.Robots[power.Robot].Class:
		t.becomeUnknown(power, "its class was changed after the signature", false)
	}
}

// barred lists who may not sign a robot: everyone who worked on its last repair since
// its last fight, and whoever finished it, also where the job was taken up again; and
// whoever said since that a gravely damaged part is off, which mends it as work would, or
// that damage which could hurt people is less than that or not on it.
func (s State) barred(robot RobotID) []PersonID {
	hands, since := s.repairHands(robot)
	return slices.Concat(hands, s.saidOffSince(robot, since), s.talkedAway(robot))
}

// talkedAway lists who said since a robot's last fight that damage which could hurt people
// is less than that, or not on it.
func (s State) talkedAway(robot RobotID) []PersonID {
	var said []PersonID
	for _, d := range Sorted(s.Damages, damageOrder) {
		for _, l := range d.Loosened {
			if l.Hurt == robot && l.At > s.foughtAt(robot) {
				said = append(said, l.By)
			}
		}
	}
	return said
}

// saidOffSince lists who said since a moment that a gravely damaged part is off.
func (s State) saidOffSince(robot RobotID, m Moment) []PersonID {
	var said []PersonID
	for _, d := range Sorted(s.Damages, damageOrder) {
		if d.Robot == robot && d.Grade.rank() >= G3.rank() && d.Off.At >= m {
			said = append(said, d.Off.By)
		}
	}
	return said
}

// repairHands lists who worked on a robot's last repair since its last fight, and when
// that was finished.
func (s State) repairHands(robot RobotID) ([]PersonID, Moment) {
	last := s.foughtAt(robot) + 1
	var repairs []Job
	for _, j := range inJobOrder(s) {
		if j.Robot == robot && j.repairedAt() >= last && !j.leftOff() {
			repairs = append(repairs, j)
		}
	}
	for _, j := range repairs {
		last = max(last, j.FinishedAt)
	}
	var hands []PersonID
	for _, j := range repairs {
		if j.repairedAt() < last {
			continue
		}
		hands = append(hands, j.FinishedBy)
		for _, st := range j.Stints {
			hands = append(hands, st.By)
		}
	}
	return append(hands, s.leftOffSince(robot, last)...), last
}

func (j Job) leftOff() bool { return j.State == JobDropped || j.State == JobDeferred }

// leftOffSince lists who was at work after a moment on a job that was then dropped or
// left off, or finished one that was taken up again and then was: what they did is in
// the robot.
func (s State) leftOffSince(robot RobotID, m Moment) []PersonID {
	var hands []PersonID
	for _, j := range inJobOrder(s) {
		if j.Robot != robot || !j.leftOff() {
			continue
		}
		done := j.repairedAt() >= m
		if done {
			hands = append(hands, j.FinishedBy)
		}
		for _, st := range j.Stints {
			if done || max(st.To, st.Late) >= m {
				hands = append(hands, st.By)
			}
		}
	}
	return hands
}

// repairedAt is when the hands were done on a job, or when the board heard of it where
// that was late; 0 where they never were.
func (j Job) repairedAt() Moment {
	at := j.FinishedAt
	for _, st := range j.Stints {
		if at != 0 {
			at = max(at, st.Late)
		}
	}
	return at
}
