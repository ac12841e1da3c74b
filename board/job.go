package board

import (
	"cmp"
	"slices"
)

// Triage says how much a job matters.
type Triage string

// The triage words: cannot fight safely or legally without it; will cost us the
// fight; nice to have.
const (
	Must   Triage = "must"
	Should Triage = "should"
	Could  Triage = "could"
)

func knownTriage(field string, g Triage) *Refusal { return oneOf(field, g, Must, Should, Could) }

// Stint is one stretch of work on a job.
type Stint struct {
	Span
	By PersonID `json:"by"`
	// Held says why it ended, when it ended by a hold; EndedBy who ended it, where
	// another did.
	Held    HoldWhy  `json:"held,omitzero"`
	EndedBy PersonID `json:"endedBy,omitzero"`
	// Late is when the board heard of its start or its end, where that was not at once.
	Late Moment `json:"late,omitzero"`
	// Fix is the fix that was being done.
	Fix int `json:"fix,omitzero"`
	// Station is where it was done, where someone said so.
	Station StationID `json:"station,omitzero"`
}

// Job is a piece of work on a robot.
type Job struct {
	ID     JobID `json:"id"`
	V      Rev   `json:"v"`
	Number int   `json:"number"`
	JobFields
	// Chosen is the fix to be done, an index into Fixes.
	Chosen   int        `json:"chosen,omitzero"`
	Assigned []PersonID `json:"assigned,omitempty"`
	State    JobState   `json:"state"`
	HeldFor  HoldWhy    `json:"heldFor,omitzero"`
	HeldText string     `json:"heldText,omitzero"`
	// Part is when the part was to come that a held job waits for.
	Part   PartComing `json:"part,omitzero"`
	Stints []Stint    `json:"stints,omitempty"`
	// Started is when the robot was first worked on for this job.
	Started    Moment   `json:"started,omitzero"`
	FinishedBy PersonID `json:"finishedBy,omitzero"`
	FinishedAt Moment   `json:"finishedAt,omitzero"`
	ClosedAt   Moment   `json:"closedAt,omitzero"`
	// Reinspected is the lead's word for time that no lockout covers.
	Reinspected Reinspection `json:"reinspected,omitzero"`
	// Loosened lists by whose word the job asks less than it did, oldest first.
	Loosened []Loosened `json:"loosened,omitempty"`
	// Acceptor answers for a deferred job.
	Acceptor PersonID `json:"acceptor,omitzero"`
	Reason   string   `json:"reason,omitzero"`
	By       PersonID `json:"by,omitzero"`
	At       Moment   `json:"at"`
}

// PartComing is what was said of a part that is on its way: at At, in so many minutes, 0
// where nobody knew.
type PartComing struct {
	At      Moment `json:"at,omitzero"`
	Minutes int    `json:"minutes,omitzero"`
}

// partIn takes the answers to when a part comes; 0 is not known.
func partIn(minutes int) *Refusal {
	if slices.Contains([]int{0, 5, 15, 30, 60}, minutes) {
		return nil
	}
	return badField("minutes", "A part comes in 5, 15, 30 or 60 minutes, or nobody knows: not in %d.", minutes)
}

// JobFields are what people say of a job.
type JobFields struct {
	Robot    RobotID    `json:"robot"`
	Name     string     `json:"name"`
	Triage   Triage     `json:"triage"`
	Fixes    []Fix      `json:"fixes"`
	Damages  []DamageID `json:"damages,omitempty"`
	Template TemplateID `json:"template,omitzero"`
	// After lists the jobs whose hands must be done first.
	After []JobID `json:"after,omitempty"`
	// FollowUpOf is the patch that this job puts right.
	FollowUpOf JobID `json:"followUpOf,omitzero"`
}

func (j Job) Key() Key         { return KeyOf(KindJob, j.ID) }
func (j Job) Rev() Rev         { return j.V }
func (j Job) stamp(r Rev) Noun { j.V = r; return j }

// Fix is the chosen fix.
func (j Job) Fix() Fix { return j.Fixes[j.Chosen] }

func (j Job) hasFix(i int, field string) *Refusal {
	if i < 0 || i >= len(j.Fixes) {
		if len(j.Fixes) == 1 {
			return badField(field, "Job %d has one fix, number 0, and no other.", j.Number).of(j)
		}
		return badField(field, "Job %d has %d fixes, numbered from 0.", j.Number, len(j.Fixes)).of(j)
	}
	return nil
}

// Blocking tells whether the robot may not be signed before this job is closed:
// a must, or any job already started.
func (j Job) Blocking() bool {
	if j.State == JobDropped || j.State == JobDeferred || j.State == JobClosed {
		return false
	}
	return j.Triage == Must || j.Started != 0
}

func (j Job) valid(s State) *Refusal {
	bad := first(
		checkName("name", j.Name),
		knownTriage("triage", j.Triage),
		validFixes(s, j.Fixes),
		checkRange("chosen", j.Chosen, 0, len(j.Fixes)-1, ""),
		checkShort("heldText", j.HeldText),
		partIn(j.Part.Minutes),
		checkShort("reason", j.Reason),
		each(j.Assigned, func(p PersonID) *Refusal { return s.knowsPerson("people", p) }),
	)
	if bad != nil {
		return bad
	}
	if _, ok := s.Robots[j.Robot]; !ok {
		return missing("robot", "robot")
	}
	for _, id := range j.Damages {
		if d, ok := s.Damages[id]; !ok || d.Robot != j.Robot {
			return badField("damages", "That damage is not on this robot. Choose one that is.")
		}
	}
	return j.validAfter(s)
}

func (j Job) validAfter(s State) *Refusal {
	for _, id := range j.After {
		if a, ok := s.Jobs[id]; !ok || a.Robot != j.Robot {
			return badField("after", "A job can only come after another job of the same robot.")
		}
	}
	seen := map[JobID]bool{}
	var reaches func(JobID) bool
	reaches = func(id JobID) bool {
		if id == j.ID {
			return true
		}
		if seen[id] {
			return false
		}
		seen[id] = true
		return slices.ContainsFunc(s.Jobs[id].After, reaches)
	}
	if slices.ContainsFunc(j.After, reaches) {
		return badField("after", "These jobs would wait for each other in a ring. Take one of them out.")
	}
	return nil
}

// hurts tells whether a job is for damage on the robot that can hurt people.
func (j Job) hurts(s State) bool {
	return slices.ContainsFunc(j.Damages, func(id DamageID) bool { d := s.Damages[id]; return d.Grade == GX && !d.Dropped && !s.off(d) })
}

// ruleGX keeps what can hurt people from being patched or put off. It is asked
// where a job is entered, chosen, taken up, finished or left off.
func (j Job) ruleGX(s State) *Refusal {
	switch {
	case !j.hurts(s):
		return nil
	case j.State == JobDeferred || (j.State == JobDropped && j.Started == 0):
		return breaks(11, "This damage can hurt people: the job is done before the robot fights, and the clock does not overrule that.")
	case j.Fix().Way == WayPatch && j.State == JobFinished && !slices.ContainsFunc(j.Fixes, func(fix Fix) bool { return fix.Way != WayPatch }):
		return breaks(11, "This damage can hurt people: no patch. %s drops job %d and enters a new one, with a swap or a mend.", upper(s.leadName(s.Robots[j.Robot])), j.Number).of(j)
	case j.Fix().Way == WayPatch && j.State != JobDropped:
		return breaks(11, "This damage can hurt people: no patch. Choose a swap or a mend.")
	case j.Triage != Must:
		return badField("triage", "This damage can hurt people: its job is a must.")
	}
	return nil
}

// JobAdd enters a job: from a template, whose name, triage and fixes it takes
// where none are given, or free. A free job is a must where nobody says how much it
// matters, and a fix without a name has the job's.
type JobAdd struct {
	JobFields
	// People are those who are to do it; nobody is fine.
	People []PersonID `json:"people,omitempty"`
	// Reason says why, where work in the robot asks for no lockout.
	Reason string `json:"reason,omitzero"`
}

func (c JobAdd) do(t *turn) *Refusal {
	f := c.JobFields
	if f.Template != "" {
		template, ok := t.s().Templates[f.Template]
		if !ok {
			return missing("job template", "template")
		}
		f = template.fill(f)
	} else {
		f.Triage = cmp.Or(f.Triage, Must)
	}
	f.Fixes = slices.Clone(f.Fixes)
	for i := range f.Fixes {
		f.Fixes[i].Name = cmp.Or(f.Fixes[i].Name, f.Name)
	}
	j := Job{ID: JobID(t.id(KindJob, "")), Number: t.nextJob(), JobFields: f, State: JobOpen, By: t.by.Person, At: t.when}
	bad := j.assign(c.People)
	if bad == nil {
		bad = validFixes(t.s(), f.Fixes)
	}
	if bad == nil {
		j, bad = t.loosen(Job{}, j, c.Reason)
	}
	if bad != nil {
		return bad
	}
	t.put(j)
	return j.ruleGX(t.s())
}

func (template Template) fill(f JobFields) JobFields {
	if f.Name == "" {
		f.Name = template.Name
	}
	if f.Triage == "" {
		f.Triage = template.Triage
	}
	if len(f.Fixes) == 0 {
		f.Fixes = slices.Clone(template.Fixes)
	}
	return f
}

func (t *turn) nextJob() int {
	n := 1
	for _, j := range t.s().Jobs {
		n = max(n, j.Number+1)
	}
	return n
}

// JobChange replaces what is said of a job that is not closed.
type JobChange struct {
	Job JobID `json:"job"`
	JobFields
	// Reason says why, where the job asks less now than it did.
	Reason string `json:"reason,omitzero"`
}

// Guards names the job where it would ask less than it did.
func (c JobChange) Guards(s State) []Key {
	was, ok := s.Jobs[c.Job]
	is := c.of(was)
	if !ok || len(is.Fixes) == 0 || len(loosens(was, is))+len(s.leaves(was, is)) == 0 {
		return nil
	}
	return []Key{was.Key()}
}

// of is a job as it is after the change.
func (c JobChange) of(j Job) Job {
	j.JobFields = c.JobFields
	j.Chosen = min(j.Chosen, len(j.Fixes)-1)
	return j
}

func (c JobChange) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	if c.Robot != j.Robot {
		return badField("robot", "A job stays with its robot. Drop it and add one to the other robot.")
	}
	if !j.State.live() {
		return refuse(CodeState, "Job %d is %s. Reopen it first.", j.Number, j.State).of(j)
	}
	if j.State == JobRunning && !slices.EqualFunc(c.Fixes, j.Fixes, sameFix) {
		return refuse(CodeState, "Job %d is running: hold it before its fixes change.", j.Number).of(j)
	}
	if !j.keepsWorked(c.Fixes) {
		return refuse(CodeState, "Job %d was worked on by a fix that this takes away or that would ask for less lockout. Leave it as it is; its lead adds another fix behind it.", j.Number).of(j)
	}
	if bad := validFixes(t.s(), c.Fixes); bad != nil {
		return bad
	}
	if j, bad = t.loosen(j, c.of(j), c.Reason); bad != nil {
		return bad
	}
	t.put(j)
	return j.ruleGX(t.s())
}

// keepsWorked tells whether fixes still ask of each stint of work what was asked
// of it when it was done.
func (j Job) keepsWorked(fixes []Fix) bool {
	return !slices.ContainsFunc(j.Stints, func(st Stint) bool {
		if st.Fix >= len(fixes) {
			return true
		}
		was, is := j.Fixes[st.Fix], fixes[st.Fix]
		return was.Way != is.Way || was.Lockout != is.Lockout || was.PackOut != is.PackOut || !slices.Equal(was.Touches, is.Touches)
	})
}

// JobFix chooses the fix to be done.
type JobFix struct {
	Job    JobID `json:"job"`
	Chosen int   `json:"chosen"`
}

// Guards names the job where the fix asks less than the one that was chosen.
func (c JobFix) Guards(s State) []Key { return s.asksLess(c.Job, c.Chosen) }

// asksLess is a job's key where a fix of it asks less than the one that is chosen.
func (s State) asksLess(job JobID, fix int) []Key {
	j, ok := s.Jobs[job]
	if !ok || fix < 0 || fix >= len(j.Fixes) || len(j.Fix().asksMore(j.Fixes[fix])) == 0 {
		return nil
	}
	return []Key{j.Key()}
}

func (c JobFix) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	if j.State != JobOpen && j.State != JobHeld {
		return refuse(CodeState, "Job %d is %s: its fix is chosen before it starts, or while it is held.", j.Number, j.State).of(j)
	}
	if bad := j.hasFix(c.Chosen, "chosen"); bad != nil {
		return bad
	}
	j.Chosen = c.Chosen
	t.put(j)
	return j.ruleGX(t.s())
}

// JobAssign says who is to do a job; nobody is fine.
type JobAssign struct {
	Job    JobID      `json:"job"`
	People []PersonID `json:"people"`
}

func (c JobAssign) do(t *turn) *Refusal {
	j, bad := t.job(c.Job)
	if bad != nil {
		return bad
	}
	if bad := j.assign(c.People); bad != nil {
		return bad
	}
	t.put(j)
	return nil
}

// assign says who is to do the job.
func (j *Job) assign(people []PersonID) *Refusal {
	if len(people) > 4 {
		return badField("people", "At most four people fit on one job.")
	}
	for i, p := range people {
		if slices.Contains(people[:i], p) {
			return badField("people", "One person is named twice.")
		}
	}
	j.Assigned = people
	return nil
}

func (t *turn) job(id JobID) (Job, *Refusal) {
	j, ok := t.s().Jobs[id]
	if !ok {
		return Job{}, missing("job", "job")
	}
	return j, nil
}

// blockedBy refuses while a blocking job of the robot is not done as asked.
func (s State) blockedBy(robot RobotID, done func(Job) bool) *Refusal {
	for _, j := range inJobOrder(s) {
		if j.Robot == robot && j.Blocking() && !done(j) {
			return s.undone(j)
		}
	}
	return nil
}

// undone refuses a signature that a job stands in the way of, and says what leads on.
func (s State) undone(j Job) *Refusal {
	leftOff := s.inCharge() + " leaves it off with someone who answers for it."
	switch {
	case j.State == JobFinished:
		return breaks(11, "The hands are done on job %d, %s, and it is not closed yet.", j.Number, j.Name).of(j)
	case j.hurts(s):
		return breaks(11, "Job %d, %s, is %s and must be done first: the damage it is for can hurt people.", j.Number, j.Name, j.State).of(j)
	case j.State == JobRunning:
		return breaks(11, "Job %d, %s, is running and must be done first: finish it. Or hold it, and %s", j.Number, j.Name, leftOff).of(j)
	}
	return breaks(11, "Job %d, %s, is %s and must be done first: do it, or %s", j.Number, j.Name, j.State, leftOff).of(j)
}

func jobOrder(j Job) string { return itoa(100000 + j.Number) }

func inJobOrder(s State) []Job { return Sorted(s.Jobs, jobOrder) }
