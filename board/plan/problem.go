package plan

// HorizonSec is the longest time the planner tells apart: 7 days. Longer times
// in a problem count as HorizonSec.
const HorizonSec int32 = 7 * 24 * 3600

// NoDeadline as a group's DeadlineSec says that nothing waits for the group.
const NoDeadline = HorizonSec

// Limits that Problem.Validate enforces.
const (
	PeopleMost   = 64    // people in one problem
	HandsMost    = 8     // hands in one way's team
	CapacityMost = 32767 // capacity of a pool, room of a group
)

// Problem is everything the planner may know: what there is to do, with whom
// and with what. Indices in it refer to its own slices. Solve and Check do not
// change it.
type Problem struct {
	People []Person
	Pools  []Pool
	Stocks []Stock
	Groups []Group
	Tasks  []Task
}

// SkillSet is a set of skills, one bit each; which bit is which skill is the
// caller's business. The empty set is what everyone has.
type SkillSet uint64

// Window is a time from FromSec up to, not including, ToSec.
type Window struct{ FromSec, ToSec int32 }

// Person can take part in one task at a time.
type Person struct {
	Skills SkillSet
	Away   []Window // not available: a fight, a meal. May overlap
}

// Pool is a renewable resource: held while a task runs, free again after it.
// Benches, channels, power in units of 10 W.
type Pool struct {
	Capacity int // units, 0 to CapacityMost
	Taken    []Taken
}

// Taken says that Count units of a pool are in use elsewhere for a while, for
// example carts at a fight. Where more is taken than there is, nothing is left.
type Taken struct {
	Window
	Count int
}

// Stock is used up by the tasks that take from it. Count is what is left to
// plan with: what a running task uses is gone from it already.
type Stock struct{ Count int }

// Group is work that must be ready together: one robot, say.
type Group struct {
	Room        int   // people who can have their hands in it at once, 0 to CapacityMost
	DeadlineSec int32 // when it must be ready; 0 if that has passed, NoDeadline if never
	Weight      int   // of a second of lateness, 1 or more; 0 counts as 1
}

// Grade says whether a task may be left off.
type Grade uint8

// Grades. A must is always done; between leaving off a should and any number
// of coulds the planner leaves off the coulds.
const (
	Must Grade = iota
	Should
	Could
)

// Place says how much of its group's room a way takes.
type Place uint8

// Places. In is the zero value.
const (
	In    Place = iota // one unit for each hand of the team
	Off                // none: the part is off, or nobody's hands are in
	Whole              // all of it: nobody else has their hands in
)

// Task is one piece of work of one group.
type Task struct {
	Group       int
	Grade       Grade
	After       []int // tasks that must be finished first; through a skipped one its own After count
	EarliestSec int32 // not before; does not hold for the task when it is skipped
	Ways        []Way // at least one; a way that asks for more than there ever is is ignored, however short
	// Assigned names people a human put on the task. For a way whose team can
	// hold all of them in fitting hands (or, where more are named than it has
	// hands, can be formed from them alone) only such teams are used. For any
	// other way they are a preference: as many of them as can be had free at
	// the earliest start.
	Assigned []int
	Running  *Running // nil unless people are at it now
	// Follow is what the plan people follow says of the task; nil for work that
	// is new to it. Where some task has one, Solve begins from that plan and
	// keeps its order unless it finds a plan that is noticeably better, see
	// Score.Noticeably. Work to start within 3 minutes keeps way and people.
	Follow *Followed
}

// Way is one way of doing a task.
type Way struct {
	DurationSec int32
	Team        []SkillSet // one entry a hand; its person has all skills of the entry. 0 is anyone
	Place       Place
	Needs       []Need // of pools, while it runs
	Uses        []Use  // of stock, once
	// Taper follows DurationSec without a gap, with the same team and place: a
	// charge that ends at a falling current. No piece needs more of a pool than
	// the one before.
	Taper []Piece
	// Calls are the tasks that this way makes necessary: weighing after a swap
	// of armour. A task that some way calls is idle unless a way that calls it
	// is taken. Each has this task in its After.
	Calls []int
}

// Piece is a part of a way with needs of its own.
type Piece struct {
	DurationSec int32
	Needs       []Need
}

// Need is Count units of a pool.
type Need struct{ Pool, Count int }

// Use is Count pieces of a stock.
type Use struct{ Stock, Count int }

// Followed is what people were told about a task, with times from now as
// everywhere: a start that has passed is 0.
type Followed struct {
	Skipped  bool // left off; nothing else counts then
	Way      int
	People   []int
	StartSec int32
}

// Running describes a task that is under way. It starts at 0, ends after
// LeftSec, holds what its way needs and never moves or is left off. It counts
// as it is: its After, EarliestSec, skills and Uses are not judged, and running
// tasks may hold more than there is.
type Running struct {
	Way     int
	People  []int
	LeftSec int32
}
