package board

import "slices"

// spansMost is how many stretches of cover a robot keeps; a day has fewer.
const spansMost = 64

// consequences does what follows from a command by itself: the first tag on and the
// last tag off, the time a robot is covered, jobs held when it leaves work, jobs
// closed when all they owe is answered.
func (t *turn) consequences() {
	t.packsMoved()
	t.packsAside()
	t.spendPacks()
	t.endChoices()
	t.rewordAside()
	t.awayFromCharge()
	for _, power := range Sorted(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		power = t.followTags(power)
		t.keepSpans(power)
	}
	for _, power := range Sorted(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		t.overdue(power)
	}
	for _, power := range Sorted(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		t.weaponBack(power)
		t.partBack(t.s().Powers[power.Robot])
	}
	for _, j := range inJobOrder(t.s()) {
		switch permit := t.s().Event().HotWork; {
		case j.State == JobRunning && hotWork(j) && !permit.holds(t.now):
			t.put(t.stop(j, JobHeld, HoldStation, "the hot-work permit has ended", permit.endedBy(t.now), ""))
		case j.State == JobRunning && !t.s().workable(j):
			t.put(t.stop(j, JobHeld, HoldLockout, "the robot left work", t.now, ""))
		case j.State == JobRunning:
			t.endsWithTag(j)
		case j.State == JobFinished && len(t.s().Owes(j, t.now)) == 0:
			j.State, j.ClosedAt = JobClosed, t.now
			t.put(j)
		}
	}
	for _, power := range Sorted(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		t.withdrawSignature(power)
		t.putBack(t.s().Powers[power.Robot])
		t.endHurtTest(power)
		t.cameBeside(t.s().Powers[power.Robot])
	}
}

// endsWithTag ends the work under lockout of whoever has no tag and no hands near on the
// robot any more: another's tag is not theirs.
func (t *turn) endsWithTag(j Job) {
	was := j
	for _, st := range j.AtWork() {
		if t.s().fixOf(j, st).Lockout && t.tookOff(j.Robot, st.By) {
			j = t.leave(j, st.By, HoldPerson, "")
		}
	}
	if len(j.AtWork()) != len(was.AtWork()) {
		t.put(j)
	}
}

// tookOff tells whether the last of a person's tag and hands near on a robot came off in
// this turn.
func (t *turn) tookOff(robot RobotID, person PersonID) bool {
	return t.before.ownOn(robot, person) && !t.s().ownOn(robot, person)
}

func (s State) ownOn(robot RobotID, person PersonID) bool {
	_, tagged := s.TagOf(robot, person)
	_, near := s.HandsOf(robot, person)
	return tagged || near
}

// keepSpans opens and ends the stretches in which the robot was in work, in which its
// packs were out, and in which each person's own tag or hands near was on it.
func (t *turn) keepSpans(power Power) {
	from := t.now
	if on := t.s().tagsOn(power.Robot); len(on) > 0 {
		from = min(from, max(on[0].At, power.VerifiedAt))
	}
	covered := span(power.Covered, power.State == Work, from, t.now)
	out := span(power.PackOut, t.s().packsOut(power.Robot), max(t.when, power.FoughtAt), t.now)
	if last := len(out) - 1; t.foundIn(power.Robot) && last >= 0 && !slices.Equal(out, power.PackOut) {
		out[last].To = out[last].From + 1
	}
	own := t.ownEnded(power)
	if !slices.Equal(covered, power.Covered) || !slices.Equal(out, power.PackOut) || !slices.Equal(own, power.Own) {
		power.Covered, power.PackOut, power.Own = covered, out, own
		t.put(power)
	}
}

// foundIn tells whether a pack was found in a robot, or heard of late: nobody can say
// since when it was in, so no time before counts as with the packs out.
func (t *turn) foundIn(robot RobotID) bool {
	for key := range t.did {
		kind, id := key.Split()
		is := t.s().Packs[PackID(id)]
		if kind == KindPack && is.Found && is.Robot == robot && t.before.Packs[is.ID].Robot != robot {
			return true
		}
	}
	return false
}

// span is spans with one begun at from when there is none and it holds, or ended
// at now when it no longer does.
func span(spans []Span, holds bool, from, now Moment) []Span {
	last := len(spans) - 1
	running := last >= 0 && spans[last].To == 0
	switch {
	case holds && !running:
		if last >= 0 {
			from = max(from, spans[last].To)
		}
		spans = append(slices.Clone(spans), Span{From: from})
		return spans[max(0, len(spans)-spansMost):]
	case !holds && running:
		spans = slices.Clone(spans)
		spans[last].To = max(now, spans[last].From+1)
	}
	return spans
}

// rule25 lets no change of plan move a safety state or answer a line.
func rule25(t *turn) *Refusal {
	if !OfPlan(t.command) {
		return nil
	}
	for id, power := range inOrder(t.s().Powers) {
		if power.State != Unknown && power.State != t.before.Powers[id].State {
			return breaks(25, "A change of plan moves no safety state.")
		}
	}
	for id, sheet := range inOrder(t.s().Sheets) {
		if was, had := t.before.Sheets[id]; had && len(sheet.Answers) != len(was.Answers) {
			return breaks(25, "A change of plan answers no safety line.")
		}
	}
	return nil
}
