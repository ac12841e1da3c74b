package board

import "slices"

// JobState is how far a job is.
type JobState string

// The states of a job. Finished: the hands are done, successors may start.
// Closed: every check it owes is answered too.
const (
	JobOpen     JobState = "open"
	JobRunning  JobState = "running"
	JobHeld     JobState = "held"
	JobFinished JobState = "finished"
	JobClosed   JobState = "closed"
	JobDropped  JobState = "dropped"
	JobDeferred JobState = "deferred"
)

// handsDone tells that nobody needs to work on it any more.
func (s JobState) handsDone() bool { return s == JobFinished || s == JobClosed }

// live tells that there is still work to do.
func (s JobState) live() bool { return s == JobOpen || s == JobRunning || s == JobHeld }

// jobMoves are the only steps between a job's states.
var jobMoves = [][2]JobState{
	{JobOpen, JobRunning}, {JobOpen, JobHeld}, {JobOpen, JobDropped}, {JobOpen, JobDeferred},
	{JobRunning, JobHeld}, {JobRunning, JobFinished}, {JobRunning, JobClosed},
	{JobHeld, JobRunning}, {JobHeld, JobFinished}, {JobHeld, JobClosed}, {JobHeld, JobDropped}, {JobHeld, JobDeferred},
	{JobFinished, JobClosed}, {JobFinished, JobOpen}, {JobClosed, JobOpen}, {JobDropped, JobOpen}, {JobDeferred, JobOpen},
}

// HoldWhy says what a held job waits for.
type HoldWhy string

// The reasons to hold. HoldLockout is the board's own: the robot left work.
const (
	HoldPart    HoldWhy = "part"
	HoldPerson  HoldWhy = "person"
	HoldStation HoldWhy = "station"
	HoldClock   HoldWhy = "clock"
	HoldLockout HoldWhy = "lockout"
)

// may refuses a step that is not among the job's moves.
func (j Job) may(to JobState) *Refusal {
	if slices.Contains(jobMoves, [2]JobState{j.State, to}) {
		return nil
	}
	if to == JobFinished && j.State.handsDone() {
		return refuse(CodeNothingToDo, "The hands are done on job %d, %s, already.", j.Number, j.Name).of(j)
	}
	if to == JobOpen && j.State.live() {
		return refuse(CodeNothingToDo, "Job %d, %s, is %s: it is still being worked on, and there is nothing to reopen.", j.Number, j.Name, j.State).of(j)
	}
	if j.State == JobFinished {
		return refuse(CodeState, "The hands are done on job %d, %s, so it cannot be %s: it closes once what it owes is answered.", j.Number, j.Name, become[to]).of(j)
	}
	return refuse(CodeState, "Job %d, %s, is %s, so it cannot be %s. %s", j.Number, j.Name, j.State, become[to], j.State.first()).of(j)
}

// become says what happens to a job that comes to a state.
var become = map[JobState]string{
	JobOpen: "reopened", JobRunning: "started", JobHeld: "stopped for now", JobFinished: "finished", JobClosed: "closed",
	JobDropped: "dropped", JobDeferred: "left off",
}

// first is the step that leads on from a state, as a sentence.
func (s JobState) first() string {
	switch s {
	case JobOpen:
		return "Start it first."
	case JobRunning:
		return "Hold it first."
	case JobHeld:
		return "Resume it first."
	}
	return "Reopen it first."
}

// ruleJobMoves keeps every job to its table of moves. Taking a step back by an
// undo is the one exception: it makes a job closed only where that owes nothing.
func ruleJobMoves(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindJob {
			continue
		}
		was, had := t.before.Jobs[JobID(id)]
		is, has := t.s().Jobs[JobID(id)]
		if !had || !has || was.State == is.State || t.undoing && (is.State != JobClosed || len(t.s().Owes(is, t.now)) == 0) {
			continue
		}
		if was.State == JobClosed && is.State == JobFinished && len(is.Stints) > len(was.Stints) {
			continue // work came late: it closes again once what that owes is answered
		}
		if bad := was.may(is.State); bad != nil {
			return bad
		}
	}
	return nil
}
