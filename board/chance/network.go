package chance

import "mendline/board/plan"

// Network is a plan as people follow it: what waits for what.
type Network struct {
	Tasks  []Task
	Groups []Group
	Calls  []Call
}

// Task is one piece of work.
type Task struct {
	// Key names the task's numbers: the same key and seed give the same ones.
	Key   uint64
	Group int
	Work  Work
	// Again is what comes to that on the share of days on which it has to be done again.
	Again Again
	// After are arcs from tasks further to the front.
	After []Arc
	// ReleaseSec is the earliest start. With Drift it moves as that call does.
	ReleaseSec float64
	Drift      Drift
	// Wait is what it waits for beside that, such as a part that is on its way; WaitKey
	// names its numbers, 0 for none.
	Wait    Work
	WaitKey uint64
	// Away are the absences of its people, by FromSec: it does not begin in one,
	// and one that comes while it runs interrupts it.
	Away []Away
}

// Again is work that a task takes a second time, on a share of the days.
type Again struct {
	Share float64
	Work  Work
}

// Drift is 0, or 1 and the index of the call with which a time moves.
type Drift int

// With is the drift with a call.
func With(call int) Drift { return Drift(call + 1) }

// Away is a time in which a person is somewhere else.
type Away struct {
	FromSec, ToSec float64
	Drift          Drift
	Person         int
}

// Arc says that a task waits for the end of task From, and for what: ByClock where
// the one comes before the other, or the person, pool or room that From has before.
type Arc struct {
	From  int
	Kind  plan.CauseKind
	Index int
}

// Group is work that is ready when all of it is finished. Call is an index into
// Calls, or NoCall. Behind are the tasks behind all others of the group, one after the
// other: another task is in time if they could follow it.
type Group struct {
	Call   int
	Behind []int
	// Never: something that must be done cannot be.
	Never bool
}

// No call, no task.
const (
	NoCall = -1
	NoTask = -1
)

// Call is the moment by which a group must be ready: 1 in 10 is before LowSec, 9
// in 10 before HighSec. Calls with one Key are early and late together.
type Call struct {
	Key                     uint64
	LowSec, MidSec, HighSec float64
}
