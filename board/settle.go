package board

import "slices"

// spansMost is how many stretches of cover a robot keeps; a day has fewer.
const spansMost = 64

// settle does what follows from a command by itself: the first tag on and the
// last tag off, the time a robot is covered, jobs held when it leaves work, jobs
// closed when all they owe is answered.
func (t *turn) settle() {
	t.settleFought()
	t.settleChosen()
	for _, power := range sortedBy(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		power = t.settleTags(power)
		t.settleSpans(power)
	}
	for _, power := range sortedBy(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		t.overdue(power)
	}
	for _, j := range sortedBy(t.s().Jobs, jobOrder) {
		switch permit := t.s().Event().HotWork; {
		case j.State == JobRunning && hotWork(j) && !permit.holds(t.now):
			t.put(t.stop(j, JobHeld, HoldStation, "the hot-work permit has ended", permit.endedBy(t.now)))
		case j.State == JobRunning && !t.s().workable(j):
			t.put(t.stop(j, JobHeld, HoldLockout, "the robot left work", t.now))
		case j.State == JobFinished && len(t.s().Owes(j, t.now)) == 0:
			j.State, j.ClosedAt = JobClosed, t.now
			t.put(j)
		}
	}
	for _, power := range sortedBy(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		t.settleReady(power)
	}
}

// settleFought lets nobody count on what was read of a pack before the fight that it
// was in.
func (t *turn) settleFought() {
	for _, p := range sortedBy(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		if p.Robot != "" && !p.Unread && t.s().Powers[p.Robot].FoughtAt != t.before.Powers[p.Robot].FoughtAt {
			p.Unread = true
			t.put(p)
		}
	}
}

func (t *turn) settleTags(power Power) Power {
	on := len(t.s().tagsOn(power.Robot))
	switch {
	case power.State == Verified && on > 0:
		return t.step(power, Work)
	case power.State == Work && on == 0:
		return t.step(power, Verified)
	}
	return power
}

// settleSpans opens and ends the stretches in which the robot was in work, and
// in which its packs were out.
func (t *turn) settleSpans(power Power) {
	from := t.now
	if on := t.s().tagsOn(power.Robot); len(on) > 0 {
		from = min(from, max(on[0].At, power.VerifiedAt))
	}
	covered := span(power.Covered, power.State == Work, from, t.now)
	out := span(power.PackOut, t.s().packsOut(power.Robot), t.when, t.now)
	if !slices.Equal(covered, power.Covered) || !slices.Equal(out, power.PackOut) {
		power.Covered, power.PackOut = covered, out
		t.put(power)
	}
}

// span is spans with one begun at from when there is none and it holds, or ended
// at now when it holds no more.
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

// workable tells whether a running job may go on in the state its robot is in.
func (s State) workable(j Job) bool {
	power := s.Powers[j.Robot]
	if j.Fix().Lockout {
		return power.State == Work
	}
	return j.Fix().Where == OffRobot || !power.State.energised() && power.State != Unknown
}

// dueByNow does what time brought since the last command: tests that ended and
// the start of a new day.
func (t *turn) dueByNow() {
	today := t.now.Day(t.s().Event().OffsetMin)
	for _, power := range sortedBy(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		switch {
		case power.State == Test && power.Test.Until <= t.now:
			t.becomeUnknown(power, "the time of the test is over: "+power.Test.What, false)
		case power.State != Unknown && power.Day != today:
			t.becomeUnknown(power, "a new day has begun", false)
		case power.State == Unknown && t.stale(power.Robot, today):
			t.openSheet(t.s().Robots[power.Robot], ListMakeSafe)
		default:
			t.overdue(power)
		}
	}
}

// stale tells whether an unknown robot's make-safe sheet was begun on an earlier
// day: its answers were about that day.
func (t *turn) stale(robot RobotID, today string) bool {
	sheet, ok := t.s().Sheet(robot, ListMakeSafe)
	return ok && len(sheet.Answers) > 0 && sheet.OpenedAt.Day(t.s().Event().OffsetMin) != today
}

// Due is the next moment at which time changes the board by itself, or 0. The
// desk then gives BoardTick.
func Due(s State, now Moment) Moment {
	due := Moment(0)
	sooner := func(m Moment) {
		if due == 0 || m < due {
			due = m
		}
	}
	for _, power := range s.Powers {
		if power.State == Test {
			sooner(power.Test.Until)
		}
		if r, ok := s.recheckDue(power); ok {
			sooner(max(now, r.Due))
		}
		if power.State != Unknown {
			sooner(now.nextDay(s.Event().OffsetMin))
		}
	}
	for _, j := range s.Jobs {
		if permit := s.Event().HotWork; j.State == JobRunning && hotWork(j) && permit.Needed && permit.Until > now {
			sooner(permit.Until)
		}
	}
	return due
}

// BoardTick lets what time brings happen. The desk gives it.
type BoardTick struct{}

func (BoardTick) do(*turn) *Refusal { return nil }

// BoardStart is given once when the program starts or restores, before anyone is
// let in: every robot is unknown, tags and hands near stay.
type BoardStart struct {
	Why string `json:"why"`
}

func (c BoardStart) do(t *turn) *Refusal {
	for _, power := range sortedBy(t.s().Powers, func(power Power) string { return string(power.Robot) }) {
		t.becomeUnknown(power, c.Why, false)
	}
	for _, p := range sortedBy(t.s().Packs, func(p Pack) string { return string(p.ID) }) {
		if p.State == PackCharging {
			p.State, p.Since = PackUnread, t.now
			t.put(p)
		}
	}
	return nil
}

// rule18 lets the board itself move no robot toward power and no pack toward use.
func rule18(t *turn) *Refusal {
	if t.by.Role != RoleSystem {
		return nil
	}
	for id, power := range t.s().Powers {
		if power.State != Unknown && power.State != t.before.Powers[id].State {
			return breaks(18, "The board moves no robot toward power by itself.")
		}
	}
	for id, p := range t.s().Packs {
		if was := t.before.Packs[id].State; p.State != was && p.State != PackUnread && !p.State.setAside() {
			return breaks(18, "The board moves no pack toward use by itself.")
		}
	}
	return nil
}

// rule25 lets no change of plan move a safety state or answer a line.
func rule25(t *turn) *Refusal {
	switch t.command.(type) {
	case FightAdd, FightChange, FightMove, FightDrop, FightPostpone, FightPause, JobAdd, JobChange, JobFix, JobAssign, JobDrop, JobDefer, PackChoose, PlanReplace:
	default:
		return nil
	}
	for id, power := range t.s().Powers {
		if power.State != Unknown && power.State != t.before.Powers[id].State {
			return breaks(25, "A change of plan moves no safety state.")
		}
	}
	for id, sheet := range t.s().Sheets {
		if was, had := t.before.Sheets[id]; had && len(sheet.Answers) != len(was.Answers) {
			return breaks(25, "A change of plan answers no safety line.")
		}
	}
	return nil
}
