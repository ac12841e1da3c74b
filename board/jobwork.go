package board

import "slices"

// JobStart puts a person to work on a job.
type JobStart struct {
	Job JobID `json:"job"`
	// Station is where, when several are of the kind that the fix asks for.
	Station StationID `json:"station,omitzero"`
}

func (c JobStart) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	return t.begin(j, JobOpen, c.Station)
}

// JobResume takes a held job up again.
type JobResume struct {
	Job     JobID     `json:"job"`
	Station StationID `json:"station,omitzero"`
}

func (c JobResume) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	return t.begin(j, JobHeld, c.Station)
}

func (t *turn) begin(j Job, from JobState, at StationID) *Refusal {
	person, bad := t.own("")
	if bad != nil {
		return bad
	}
	if j.State != from {
		return refuse(CodeState, "Job %d, %s, is %s. %s", j.Number, j.Name, j.State, j.State.first())
	}
	if bad := first(t.comesAfter(j), t.mayWork(j, person), j.ruleGX(t.s()), t.s().fitsStation(j, at), t.mayHeat(j)); bad != nil {
		return bad
	}
	if !slices.Contains(j.Assigned, person.ID) {
		j.Assigned = append(slices.Clone(j.Assigned), person.ID)
	}
	from2 := t.when
	if n := len(j.Stints); n > 0 {
		from2 = max(from2, j.Stints[n-1].To)
	}
	j.Stints = append(slices.Clone(j.Stints), Stint{Span: Span{From: from2}, By: person.ID, Fix: j.Chosen, Station: at})
	j.State, j.HeldFor, j.HeldText = JobRunning, "", ""
	if j.Started == 0 {
		j.Started = from2
	}
	t.put(j)
	return nil
}

func (t *turn) comesAfter(j Job) *Refusal {
	for _, id := range j.After {
		a := t.s().Jobs[id]
		if !a.State.handsDone() && a.State != JobDropped && a.State != JobDeferred {
			return refuse(CodeNotYet, "Job %d comes after job %d, %s, which is %s.", j.Number, a.Number, a.Name, a.State)
		}
	}
	return nil
}

// mayWork refuses work on a robot that is not locked out for it, or has a pack
// in it that must be out.
func (t *turn) mayWork(j Job, person Person) *Refusal {
	if t.late() {
		return nil // it was done: rules 8 and 9 ask for a second look before it closes
	}
	robot := t.s().Robots[j.Robot]
	power := t.s().Powers[j.Robot]
	if power.State.energised() && j.Fix().Where != OffRobot {
		return breaks(7, "%s is %s: hands out until that has ended.", robot.Name, power.State)
	}
	if power.State == Unknown && j.Fix().Where == AtRobot {
		return breaks(3, "%s is unknown, which counts as live: make it safe and verify it before hands go near for job %d.", robot.Name, j.Number)
	}
	if j.Fix().Lockout {
		if power.State != Work {
			return breaks(3, "%s is %s, and job %d needs it locked out: make safe, verify, then put your tag on.", robot.Name, power.State, j.Number)
		}
		_, tagged := t.s().tagOf(robot.ID, person.ID)
		_, near := t.s().handsOf(robot.ID, person.ID)
		if !tagged && !near {
			return breaks(3, "Put your own tag on %s first; a minor or guest marks hands near.", robot.Name)
		}
		if bad := t.firstInDone(robot); bad != nil {
			return bad
		}
	}
	if to := t.s().PacksToPlace(robot.ID); j.Fix().PackOut && len(to) > 0 {
		names := make([]string, len(to))
		for i, p := range to {
			names[i] = p.Name
		}
		return breaks(9, "Job %d needs every pack out of %s and its place on the board. Say where it is now: %s.", j.Number, robot.Name, listNames(names))
	}
	return nil
}

// PacksToPlace lists the packs that are in a robot, or may be since they fit it
// and nobody has said where they are, by name.
func (s State) PacksToPlace(robot RobotID) []Pack {
	var list []Pack
	for _, p := range sortedBy(s.Packs, func(p Pack) string { return p.Name + string(p.ID) }) {
		nowhere := p.Robot == "" && p.Place == "" && p.State != PackGone && slices.Contains(p.Fits, robot)
		if !p.Retired && (p.Robot == robot || nowhere) {
			list = append(list, p)
		}
	}
	return list
}

// packsOut tells whether no pack is in the robot, or may be.
func (s State) packsOut(robot RobotID) bool { return len(s.PacksToPlace(robot)) == 0 }

// JobHold stops a job for now and says what it waits for.
type JobHold struct {
	Job  JobID   `json:"job"`
	Why  HoldWhy `json:"why"`
	Text string  `json:"text,omitzero"`
}

func (c JobHold) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	if bad := first(oneOf("why", c.Why, HoldPart, HoldPerson, HoldStation, HoldClock), checkShort("text", c.Text)); bad != nil {
		return bad
	}
	if j.State == JobHeld && j.HeldFor == HoldLockout {
		j.HeldFor, j.HeldText = c.Why, c.Text
		t.put(j)
		return nil
	}
	if bad := j.may(JobHeld); bad != nil {
		return bad
	}
	t.put(t.stop(j, JobHeld, c.Why, c.Text, t.when))
	return nil
}

// stop ends a job's running stint at a moment.
func (t *turn) stop(j Job, to JobState, why HoldWhy, text string, at Moment) Job {
	j.Stints = slices.Clone(j.Stints)
	if n := len(j.Stints); n > 0 && j.Stints[n-1].To == 0 {
		last := &j.Stints[n-1]
		last.To = max(last.From+1, min(at, t.now))
		last.Held = why
	}
	j.State, j.HeldFor, j.HeldText = to, why, text
	return j
}

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
	if len(j.Stints) == 0 {
		return refuse(CodeState, "Job %d, %s, was never started: start it, or drop it.", j.Number, j.Name)
	}
	held, again := j.HeldFor, j.finishedBefore()
	j = t.stop(j, JobFinished, "", "", t.when)
	if n := len(j.Stints); held == HoldLockout && t.late() && t.when < j.Stints[n-1].To {
		j.Stints[n-1].To = max(j.Stints[n-1].From+1, t.when)
	}
	if bad := j.ruleGX(t.s()); bad != nil {
		return bad
	}
	j.FinishedBy, j.FinishedAt = person.ID, t.when
	t.put(j)
	if !again {
		t.takeStock(j)
	}
	t.followUp(j)
	return nil
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
	if last := j.Stints; t.by.Person == "" || t.by.Person == j.FinishedBy || (len(last) > 0 && last[len(last)-1].By == t.by.Person) {
		return refuse(CodeForbidden, "Someone else than who worked on job %d looks at it again: the lead, the safety lead, or a signer.", j.Number)
	}
	j.Reinspected = Reinspection{By: t.by.Person, At: t.now}
	t.put(j)
	return nil
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

// uncovered is rule 8 for one job.
func (s State) uncovered(j Job, now Moment) *Refusal {
	power := s.Powers[j.Robot]
	for _, st := range j.Stints {
		if s.fixOf(j, st).Lockout && !st.coveredBy(power.Covered, now) && j.Reinspected.At == 0 {
			return breaks(8, "Job %d was worked on while %s was not locked out. Its lead looks at the work again, then it closes.", j.Number, s.Robots[j.Robot].Name)
		}
	}
	return nil
}

// packWasIn is rule 9 for one job.
func (s State) packWasIn(j Job, now Moment) *Refusal {
	power := s.Powers[j.Robot]
	for _, st := range j.Stints {
		if s.fixOf(j, st).PackOut && !st.coveredBy(power.PackOut, now) && j.Reinspected.At == 0 {
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
	for key := range t.did {
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

// ruleJobMoves keeps every job to its table of moves. Taking a step back by an
// undo is the one exception, and it may never make a job closed.
func ruleJobMoves(t *turn) *Refusal {
	for key := range t.did {
		k, id := key.Split()
		if k != KindJob {
			continue
		}
		was, had := t.before.Jobs[JobID(id)]
		is, has := t.s().Jobs[JobID(id)]
		if !had || !has || was.State == is.State || t.undoing && is.State != JobClosed {
			continue
		}
		if bad := was.may(is.State); bad != nil {
			return bad
		}
	}
	return nil
}
