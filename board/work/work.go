// Package work lists what people have to do between now and each call: making
// safe, verifying, going in first, inspecting, the jobs, closing up, testing,
// weighing, signing, the way to the fight, the fight and the way back; and beside that
// notices, checks that run out, decisions on damage, parts to fetch, packs. Each item says
// who may do it by the rules themselves and how long it takes. The plan plans the items on
// robots, the days that are played play them, and whoever is free is offered the first of
// all that they may do.
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
	// Mending is what damage will take that has no job yet.
	Mending Step = "mending"
	CloseUp Step = "close-up"
	Test    Step = "test"
	Weigh   Step = "weigh"
	Sign    Step = "sign"
)

// OnSheets tells whether the step is lines of a robot's sheets.
func (s Step) OnSheets() bool {
	return s.Before() || s == CloseUp || s == Test || s == Weigh || s == Sign
}

// Before tells whether the step comes before the jobs.
func (s Step) Before() bool { return s == MakeSafe || s == Verify || s == FirstIn || s == Inspect }

// Item is one piece of work.
type Item struct {
	Robot board.RobotID
	Step  Step
	// Back: it comes after the fight that the robot is in or is closed up for.
	Back bool
	// Job is the job of a Job, whose times, hands and station stand there, and the one
	// that waits for what is to be fetched.
	Job board.JobID
	// Pack, Damage, Notice and Stock are what the item is about beside a robot: Asks is
	// what the damage asks, Count how many of the spare are wanted, Line the line of Sheet
	// that is asked again by By. Channel and Amps are where a charge begins, once the plan
	// has said it.
	Pack    board.PackID
	Damage  board.DamageID
	Asks    board.Asks
	Notice  board.NoticeID
	Stock   board.StockID
	Count   int
	Sheet   board.SheetID
	Line    board.Line
	By      board.Moment
	Channel board.ChannelID
	Amps    float64
	// Place is where it is, none where nobody has said.
	Place board.PlaceID
	// May are those who may do it; on sheets none where nobody on the board may, and
	// else all whom Allows lets. On answers it now. Hands is how many are held by it.
	May   []board.PersonID
	On    board.PersonID
	Hands int
	// Station is where it is done, StationNone where the team has none of the kind.
	Station board.StationKind
	// Times are what is left of it.
	Times estimate.TwoPoint
}

// Of lists the work on a robot in its order. One that fights first, closed up as it is, has
// what its sheets still take until then, and a whole turnaround after it.
func Of(s board.State, r board.Robot, at board.Moment, on view.Learnt) []Item {
	w := walk{s: s, at: at, learnt: on, robot: r, back: Gone(s, r)}
	for _, who := range s.People {
		if !who.Retired {
			w.people = append(w.people, who)
		}
	}
	slices.SortFunc(w.people, func(a, b board.Person) int { return cmp.Compare(a.ID, b.ID) })
	if w.fought() {
		w.way(CarryBack)
	}
	if w.back {
		first := w
		first.back = false
		first.steps(after)
		first.ways()
		w.items = first.items
	}
	w.steps(before)
	w.jobs()
	w.mending()
	w.steps(after)
	if !w.back {
		w.ways()
	}
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
