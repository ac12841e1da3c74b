package board

import (
	"slices"
	"strings"
)

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
		return refuse(CodeState, "Job %d, %s, was never started: start it, or drop it.", j.Number, j.Name).of(j)
	case len(others) > 1 && !t.overrules(robot):
		return breaks(7, "%s on job %d too: they leave it first, or %s finishes it for all.", isAre(others), j.Number, t.s().leadName(robot)).of(j)
	case len(others) == 1 && !t.overrules(robot):
		lead := t.s().leadName(robot) + " "
		if lead == others[0]+" " {
			lead = ""
		}
		return breaks(7, "%s is on job %d too: %s leaves it first, or %sfinishes it for all.", others[0], j.Number, others[0], lead).of(j)
	case !j.workedBy(person.ID) && !t.overrules(robot):
		return refuse(CodeForbidden, "%s never worked on job %d: %s says that the hands are done.", person.Name, j.Number, t.s().mayFinish(j)).of(j)
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

func (c JobDrop) Guards(s State) []Key { return s.Jobs[c.Job].mustBeSeen() }

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

func (c JobDefer) Guards(s State) []Key { return s.Jobs[c.Job].mustBeSeen() }

// mustBeSeen names a job that has to be done, or was begun, to whoever lets it be.
func (j Job) mustBeSeen() []Key {
	if j.Triage == Must || len(j.Stints) > 0 {
		return []Key{j.Key()}
	}
	return nil
}

func (c JobDefer) do(t *turn) *Refusal {
	return t.end(c.Job, JobDeferred, func(j Job) (Job, *Refusal) {
		person, ok := t.s().People[c.Acceptor]
		if !ok || !person.Answers() {
			return j, badField("acceptor", "A fault that is left needs a named member of the team who accepts it.")
		}
		j.Acceptor, j.Reason = c.Acceptor, c.Reason
		return j, checkReason("reason", c.Reason)
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
	j.State, j.HeldFor, j.HeldText, j.Part = to, "", "", PartComing{}
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
	if who := t.s().People[t.by.Person]; who.Guest {
		return refuse(CodeForbidden, "%s is a guest: one of the crew reopens a job. Tell them, or report what you see as damage.", who.Name)
	}
	return t.end(c.Job, JobOpen, func(j Job) (Job, *Refusal) {
		j.ClosedAt, j.Acceptor = 0, ""
		j.Reinspected = Reinspection{} // what was seen then says nothing of what comes
		j.Reason = c.Reason
		if j.hurts(t.s()) {
			j.Triage = Must
		}
		return j, nil
	})
}

// mayFinish names the lead and everyone who ever worked on a job: "Ada or Ben".
func (s State) mayFinish(j Job) string {
	names := map[string]bool{s.leadName(s.Robots[j.Robot]): true}
	for _, st := range j.Stints {
		names[s.People[st.By].Name] = true
	}
	return strings.Join(sortedNames(names), " or ")
}

// workedBy tells whether a person ever worked on the job.
func (j Job) workedBy(p PersonID) bool {
	return slices.ContainsFunc(j.Stints, func(st Stint) bool { return st.By == p })
}
