package board

import "slices"

// JobFinish says that the hands are done. The board closes the job by itself as
// soon as every check it owes is answered.
type JobFinish struct {
	Job JobID `json:"job"`
}

func (c JobFinish) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if bad := j.may(JobFinished); bad != nil {
		return bad
	}
	robot := t.s().Robots[j.Robot]
	switch others := t.othersOn(j); {
	case len(j.Stints) == 0:
		return refuse(CodeState, "Job %d, %s, was never started: start it, or drop it.", j.Number, j.Name)
	case others != "" && !t.overrules(robot):
		return breaks(7, "%s is on job %d too: %s leaves it first, or %s finishes it for all.", others, j.Number, others, t.s().leadName(robot))
	}
	held, again := j.HeldFor, j.finishedBefore()
	j = t.stop(j, JobFinished, "", "", t.when, person.ID)
	if held == HoldLockout && t.late() {
		t.endedEarlier(j, person.ID)
	}
	if bad := j.ruleGX(t.s()); bad != nil {
		return bad
	}
	j.FinishedBy, j.FinishedAt = person.ID, t.when
	for _, st := range j.Stints {
		j.FinishedAt = max(j.FinishedAt, st.To)
	}
	t.put(j)
	if !again {
		t.takeStock(j)
	}
	t.followUp(j)
	return nil
}

// endedEarlier ends a person's last stint when they say it ended, where the board
// ended it later by itself.
func (t *turn) endedEarlier(j Job, person PersonID) {
	for i := range slices.Backward(j.Stints) {
		st := &j.Stints[i]
		if st.By != person {
			continue
		}
		st.To, st.Late = min(st.To, max(st.From+1, t.when)), t.now
		return
	}
}

// finishedBefore tells whether the chosen fix was finished once already, before the
// job was reopened: its spares are out of the box. A second one is stock.use.
func (j Job) finishedBefore() bool {
	return j.FinishedAt != 0 && slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.Fix == j.Chosen && st.To != 0 && st.To <= j.FinishedAt })
}

// takeStock counts the spares a finished fix used.
func (t *turn) takeStock(j Job) {
	for _, need := range j.Fix().Stock {
		stock := t.s().Stocks[need.Stock]
		stock.Count = max(0, stock.Count-need.Count)
		t.put(stock)
	}
}

// followUp opens the job that puts a patch right: a patch is closed and at once
// entered again as a fault that says a temporary repair was made.
func (t *turn) followUp(j Job) {
	fix := j.Fix()
	if fix.Way != WayPatch || t.s().followed(j.ID) {
		return
	}
	later := fix
	later.Name, later.Way, later.Limits, later.WorksPct = "Put right: "+cut(j.Name, nameMost-12), WayMend, "", 0
	t.put(Job{
		ID: JobID(t.id(KindJob, "follow-up")), Number: t.nextJob(), State: JobOpen, By: t.by.Person, At: t.when,
		JobFields: JobFields{
			Robot: j.Robot, Name: later.Name, Triage: Could, Fixes: []Fix{later}, Damages: j.Damages, FollowUpOf: j.ID,
		},
		Reason: "a patch leaves: " + cut(fix.Limits, nameMost-18),
	})
}

// followed tells whether a job that puts a patch right stands already.
func (s State) followed(patch JobID) bool {
	for _, j := range s.Jobs {
		if j.FollowUpOf == patch && j.State != JobDropped && j.State != JobClosed {
			return true
		}
	}
	return false
}

func cut(text string, most int) string {
	if r := []rune(text); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return text
}

// JobDrop takes a job off as not needed.
type JobDrop struct {
	Job    JobID  `json:"job"`
	Reason string `json:"reason,omitzero"`
}

func (c JobDrop) do(t *turn) *Refusal {
	return t.end(c.Job, JobDropped, func(j Job) (Job, *Refusal) {
		if robot := t.s().Robots[j.Robot]; !t.overrules(robot) {
			return j, refuse(CodeForbidden, "A job is dropped by the robot's lead, the captain or event safety: ask %s.", t.s().leadName(robot))
		}
		dropped := j
		dropped.State, dropped.Reason = JobDropped, c.Reason
		return t.loosen(j, dropped, c.Reason)
	})
}

// JobDefer leaves a fault as it is for now, with someone who answers for it.
type JobDefer struct {
	Job      JobID    `json:"job"`
	Acceptor PersonID `json:"acceptor"`
	Reason   string   `json:"reason"`
}

func (c JobDefer) do(t *turn) *Refusal {
	return t.end(c.Job, JobDeferred, func(j Job) (Job, *Refusal) {
		person, ok := t.s().People[c.Acceptor]
		if !ok || !person.Answers() {
			return j, badField("acceptor", "A fault that is left needs a named member of the team who accepts it.")
		}
		j.Acceptor, j.Reason = c.Acceptor, c.Reason
		return j, checkName("reason", c.Reason)
	})
}

func (t *turn) end(id JobID, to JobState, with func(Job) (Job, *Refusal)) *Refusal {
	j, bad := t.job(id)
	if bad != nil {
		return bad
	}
	if bad := j.may(to); bad != nil {
		return bad
	}
	if j, bad = with(j); bad != nil {
		return bad
	}
	j.State, j.HeldFor, j.HeldText = to, "", ""
	t.put(j)
	if to == JobOpen {
		return nil
	}
	return first(j.ruleGX(t.s()), t.s().uncovered(j, t.now), t.s().packWasIn(j, t.now))
}

// JobReopen takes a job up again that was finished, closed, dropped or deferred.
type JobReopen struct {
	Job    JobID  `json:"job"`
	Reason string `json:"reason,omitzero"`
}

func (c JobReopen) do(t *turn) *Refusal {
	return t.end(c.Job, JobOpen, func(j Job) (Job, *Refusal) {
		j.ClosedAt, j.Acceptor = 0, ""
		j.Reinspected = Reinspection{} // what was seen then says nothing of what comes
		j.Reason = c.Reason
		return j, nil
	})
}

// JobReinspect is the lead's look at work that no lockout covered.
type JobReinspect struct {
	Job JobID `json:"job"`
}

func (c JobReinspect) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	signer := t.s().People[t.by.Person].Signer || t.by.Role == RoleSafety
	if bad := t.leadOnly(t.s().Robots[j.Robot], "re-inspect work"); bad != nil && !signer {
		return bad
	}
	if j.State != JobFinished && j.State != JobHeld {
		return refuse(CodeState, "Job %d is %s. It is looked at again when it is finished or held.", j.Number, j.State)
	}
	if t.by.Person == "" || t.by.Person == j.FinishedBy || j.workedBy(t.by.Person) {
		return refuse(CodeForbidden, "Someone who did not work on job %d looks at it again: the lead, the safety lead, or a signer.", j.Number)
	}
	j.Reinspected = Reinspection{By: t.by.Person, At: t.now}
	t.put(j)
	return nil
}

// workedBy tells whether a person ever worked on the job.
func (j Job) workedBy(p PersonID) bool {
	return slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.By == p })
}

// Owes lists what a finished job waits for before it closes, in words.
func (s State) Owes(j Job, now Moment) []string {
	var owed []string
	for _, bad := range []*Refusal{s.uncovered(j, now), s.packWasIn(j, now), s.guardOpen(j)} {
		if bad != nil {
			owed = append(owed, bad.Sentence)
		}
	}
	return owed
}

// uncovered is rule 8 for one job. What came late from a phone counts as covered only
// where that person's own tag or hands near was on through it.
func (s State) uncovered(j Job, now Moment) *Refusal {
	name := s.Robots[j.Robot].Name
	for _, st := range j.Stints {
		if !s.fixOf(j, st).Lockout || st.seenBy(j.Reinspected.At) {
			continue
		}
		if !st.coveredBy(s.Powers[j.Robot].Covered, now) {
			return breaks(8, "Job %d was worked on while %s was not locked out. Its lead looks at the work again, then it closes.", j.Number, name)
		}
		if st.Late != 0 && !st.coveredBy(s.OwnCover(j.Robot, st.By), now) {
			return breaks(8, "%s's work on job %d came late, and neither their tag nor their hands near was on %s through it. Its lead looks at the work again, then it closes.", s.People[st.By].Name, j.Number, name)
		}
	}
	return nil
}

// packWasIn is rule 9 for one job.
func (s State) packWasIn(j Job, now Moment) *Refusal {
	power := s.Powers[j.Robot]
	for _, st := range j.Stints {
		if s.fixOf(j, st).PackOut && !st.seenBy(j.Reinspected.At) && !st.coveredBy(power.PackOut, now) {
			return breaks(9, "Job %d was worked on while a pack was in %s or had no place on the board. Its lead looks at the work again, then it closes.", j.Number, s.Robots[j.Robot].Name)
		}
	}
	return nil
}

func (s State) fixOf(j Job, st Stint) Fix {
	if st.Fix < len(j.Fixes) {
		return j.Fixes[st.Fix]
	}
	return j.Fix()
}

// guardOpen is rule 10 for one job: the make-safe and first-in lines of weapon
// power that are due, and the packs that came back.
func (s State) guardOpen(j Job) *Refusal {
	name := s.Robots[j.Robot].Name
	power := s.Powers[j.Robot]
	if !slices.Contains([]PowerState{Verified, Work, ClosingUp, Ready}, power.State) {
		return breaks(10, "Job %d closes when %s, which is %s, has been made safe and verified.", j.Number, name, power.State)
	}
	if sheet, ok := s.Sheet(j.Robot, ListFirstIn); ok && sheet.State == SheetOpen {
		l, _ := sheet.OpenLine()
		return breaks(10, "Job %d closes when this is answered: %s", j.Number, l.Ask)
	}
	for _, p := range s.packsIn(j.Robot) {
		if p.CameBack {
			return breaks(10, "Job %d closes when pack %s, which came back in %s, has a place or is set aside.", j.Number, p.Name, name)
		}
	}
	return nil
}

// rule8, rule9 and rule10 keep a job from closing with something owed.
func rule8(t *turn) *Refusal { return t.closing(t.s().uncoveredNow(t.now)) }

func rule9(t *turn) *Refusal {
	return t.closing(func(j Job) *Refusal { return t.s().packWasIn(j, t.now) })
}

func rule10(t *turn) *Refusal { return t.closing(t.s().guardOpen) }

func (s State) uncoveredNow(now Moment) func(Job) *Refusal {
	return func(j Job) *Refusal { return s.uncovered(j, now) }
}

// closing asks check of every job that this command closes.
func (t *turn) closing(check func(Job) *Refusal) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindJob {
			continue
		}
		was, is := t.before.Jobs[JobID(id)], t.s().Jobs[JobID(id)]
		if is.State == JobClosed && was.State != JobClosed {
			if bad := check(is); bad != nil {
				return bad
			}
		}
	}
	return nil
}
