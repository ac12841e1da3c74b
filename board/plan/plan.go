package plan

import "cmp"

// Budget is an amount of work, in schedules: one schedule is one start time
// given to every task. Every trial of a way and both directions of a
// justification count. Less than one pass is never done.
type Budget int

// Plan is an answer: when each task is done, how and by whom.
type Plan struct {
	Score     Score
	Tasks     []TaskPlan  // by task index
	Groups    []GroupPlan // by group index
	Short     Shortage    // what no plan can do for several groups at once
	Held      bool        // the plan people follow, with new times: nothing noticeably better was found
	Schedules int         // work spent, rounded up; less than the budget if the bound was reached
}

// Score is what a plan is judged by, field by field, less is better.
type Score struct {
	Never     int   // groups with a must that is blocked
	NotReady  int   // groups not ready by their deadline, or never
	LateSec   int64 // sum of lateness times weight over groups
	ShouldOff int   // tasks of grade Should left off
	CouldOff  int   // tasks of grade Could left off
	ReadySec  int64 // sum of ready times over groups
	// ChangeMilli is how much of the plan people follow is changed, in
	// thousandths: over its tasks, one each for other people, another way and a
	// start moved by more than 5 minutes, two for one left off or taken up,
	// times a weight that falls from 1 for a task that is next to 0.2 for one an
	// hour away. 0 if no task has a Follow.
	ChangeMilli int64
}

// leaveOff counts a task that is left off.
func (s *Score) leaveOff(g Grade) {
	if g == Should {
		s.ShouldOff++
	} else {
		s.CouldOff++
	}
}

// Compare returns a negative number if s is better than o, 0 if neither is, a
// positive number if o is better.
func (s Score) Compare(o Score) int {
	return cmp.Or(
		cmp.Compare(s.Never, o.Never),
		cmp.Compare(s.NotReady, o.NotReady),
		cmp.Compare(s.LateSec, o.LateSec),
		cmp.Compare(s.ShouldOff, o.ShouldOff),
		cmp.Compare(s.CouldOff, o.CouldOff),
		cmp.Compare(s.ReadySec, o.ReadySec),
		cmp.Compare(s.ChangeMilli, o.ChangeMilli),
	)
}

// State says what becomes of a task.
type State uint8

// States of a task in a plan.
const (
	// Kept: the task is done from StartSec to FinishSec.
	Kept State = iota
	// Skipped: an optional task is left off. StartSec and FinishSec are when
	// the tasks before it are finished.
	Skipped
	// Blocked: a must cannot be done within the horizon: nobody has the skill,
	// the stock is gone, or a task before it is blocked. StartSec and
	// FinishSec are HorizonSec, and its group is never ready.
	Blocked
	// Idle: no way that is taken calls the task. StartSec and FinishSec are
	// when the tasks before it are finished.
	Idle
)

// TaskPlan is what a plan says about one task.
type TaskPlan struct {
	State     State
	Way       int   // index into Task.Ways; -1 unless Kept
	People    []int // People[h] is on hand h of the way's team (as given if running); empty unless Kept
	StartSec  int32
	FinishSec int32
	Cause     Cause // why it ends after its group's deadline or is blocked; else Kind is NoCause
}

// GroupPlan is what a plan says about one group.
type GroupPlan struct {
	ReadySec int32 // end of the last task kept on it, 0 if none; HorizonSec if one is blocked
	LateSec  int32 // time past the deadline, 0 or more
	Never    bool  // a must of it is blocked
	// BoundSec is proved: no plan that does the group's musts has it ready
	// earlier, even if every other group stood back. HorizonSec if a must has
	// no way that can be done. If it is past the deadline, no plan meets it.
	BoundSec   int32
	BoundCause Cause // what the bound rests on; its WaitSec is 0. NoCause if a must cannot be done, see Cause
	Cause      Cause // why it is late or never ready; else Kind is NoCause
}

// Shortage is proved: no plan has all of Groups ready by their deadlines with
// less than LateSec of lateness in all, because of Cause, whose WaitSec is 0. It
// is given where that is more than the groups' own bounds add up to; else
// Groups is empty.
type Shortage struct {
	Groups  []int
	LateSec int64
	Cause   Cause
}

// Cause is the one constraint that made late work wait longest, summed over
// the chain of tasks that led to its end.
type Cause struct {
	Kind CauseKind
	// Index is the pool, stock, group, person, skill (bit number) or, for
	// ByClock, the last task of the chain, as Kind says; -1 for ByHands and
	// NoCause.
	Index int
	// WaitSec is how long the chain waited for it. For ByStock it is how much
	// longer the way taken lasts than the one the stock did not allow; for
	// ByClock it is the lateness that no wait explains; for blocked work it is
	// HorizonSec.
	WaitSec int32
}

// CauseKind says what kind of constraint a cause is.
type CauseKind uint8

// Kinds of cause.
const (
	NoCause  CauseKind = iota // not late
	ByClock                   // nothing was waited for: tasks in sequence and earliest starts alone are too long
	ByPerson                  // the one person who can do it; Index is the person
	BySkill                   // people with a skill; Index is the skill's bit number
	ByHands                   // people, any of them
	ByPool                    // units of a pool; Index is the pool
	ByRoom                    // room for hands at a group; Index is the group
	ByStock                   // pieces of a stock; Index is the stock
)
