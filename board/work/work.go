// Package work lists what people have to do between now and each call: making
// safe, verifying, going in first, inspecting, the jobs, closing up, testing,
// weighing, signing. Each item says who may do it by the rules themselves, how
// long it takes and what it comes after. The plan plans these items, and the days
// that are played play them.
//
// Not in the list: decisions on damage, packs (the plan has their charges from the
// packs), the ways to staging and back, the fights, notices.
package work

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
	"mendline/board/view"
)

// Step is a kind of item.
type Step string

// The steps, in the order in which a robot passes them.
const (
	MakeSafe Step = "make-safe"
	Verify   Step = "verify"
	FirstIn  Step = "first-in"
	Inspect  Step = "inspect"
	Job      Step = "job"
	CloseUp  Step = "close-up"
	Test     Step = "test"
	Weigh    Step = "weigh"
	Sign     Step = "sign"
)

// Before tells whether the step comes before the jobs.
func (s Step) Before() bool { return s == MakeSafe || s == Verify || s == FirstIn || s == Inspect }

// Item is one piece of work on a robot.
type Item struct {
	Robot board.RobotID
	Step  Step
	// Back: it comes after the fight that the robot is in or is closed up for.
	Back bool
	// Job is the job of a Job; its times, hands and station stand there.
	Job board.JobID
	// May are those who may do it; none where nobody on the board may. On answers it
	// now. Hands is how many are held by it.
	May   []board.PersonID
	On    board.PersonID
	Hands int
	// Station is where it is done, StationNone where the team has none of the kind.
	Station board.StationKind
	// Times are what is left of it.
	Times estimate.TwoPoint
	// After are the items that come before it, by their places in the robot's list.
	After []int
}

// Of lists the work on a robot. One that fights first, closed up as it is, has what its
// sheets still take until then, and a whole turnaround after it.
func Of(s board.State, r board.Robot, at board.Moment, on view.Learnt) []Item {
	w := walk{s: s, at: at, learnt: on, robot: r, back: Gone(s, r)}
	for _, who := range s.People {
		if !who.Retired {
			w.people = append(w.people, who)
		}
	}
	slices.SortFunc(w.people, func(a, b board.Person) int { return cmp.Compare(a.ID, b.ID) })
	if w.back {
		first := w
		first.back = false
		first.steps(after, nil)
		w.items = first.items
	}
	sheets := w.steps(before, nil)
	jobs := w.jobs(sheets)
	w.steps(after, append(jobs, sheets...))
	return w.items
}

// walk is a robot's way from cart to call; back: after its next fight.
type walk struct {
	s      board.State
	at     board.Moment
	learnt view.Learnt
	robot  board.Robot
	back   bool
	people []board.Person
	items  []Item
}
