// Package review looks back on a day from the journal: per turnaround and for the
// whole event, what was done too fast to have been read, late, on paper, over
// another's head or without cover, and how much the board asked of people. It
// shows; it blocks and judges nothing. Everything in it is counted from what
// people declared.
package review

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"mendline/board"
)

// Review is the look back at a board at a moment. Every list is in the order of
// time.
type Review struct {
	At    board.Moment `json:"at"`
	Of    board.Rev    `json:"of"`
	Event string       `json:"event"`
	// Turnarounds are the stretches between two fights of a robot, and Whole the
	// whole journal.
	Turnarounds []Turnaround `json:"turnarounds"`
	Whole       Counts       `json:"whole"`
	Fast        []Fast       `json:"fast"`
	Overrides   []Override   `json:"overrides"`
	Relaxed     []Relaxed    `json:"relaxed"`
	Alarms      Alarms       `json:"alarms"`
	Tags        []Tag        `json:"tags"`
	Late        []Late       `json:"late"`
	Uncovered   []Uncovered  `json:"uncovered"`
	Loosened    []Loosened   `json:"loosened"`
	Marked      []Marked     `json:"marked"`
}

// Counts are how many of each there were.
type Counts struct {
	Fast      int `json:"fast"`
	Overrides int `json:"overrides"`
	Tags      int `json:"tags"`
	Late      int `json:"late"`
	Paper     int `json:"paper"`
	Uncovered int `json:"uncovered"`
	Alarms    int `json:"alarms"`
}

// Turnaround is one robot's way from the cart, or from the first word about it,
// to its next fight.
type Turnaround struct {
	Robot board.RobotID `json:"robot"`
	Name  string        `json:"name"`
	From  board.Moment  `json:"from"`
	// ReadyAt is when it was last signed ready in it, To when it fought again.
	ReadyAt board.Moment `json:"readyAt,omitzero"`
	ReadyBy string       `json:"readyBy,omitzero"`
	To      board.Moment `json:"to,omitzero"`
	Counts
}

// Override is one tag or hands near taken off over its owner's head.
type Override struct {
	Robot  board.RobotID `json:"robot"`
	Name   string        `json:"name"`
	Owner  string        `json:"owner"`
	By     string        `json:"by"`
	Second string        `json:"second"`
	// On is whose device the second's PIN was set on, where that was another's.
	On     string       `json:"on,omitzero"`
	Reason string       `json:"reason"`
	At     board.Moment `json:"at"`
	// Taken is when the owner acknowledged it.
	Taken board.Moment `json:"taken,omitzero"`
}

// Relaxed is a setting that asked for less than the board would by itself, from
// when to when.
type Relaxed struct {
	Text string       `json:"text"`
	From board.Moment `json:"from"`
	To   board.Moment `json:"to,omitzero"`
}

// Late is an answer, or a tag, hands near or work without a List, that the board heard
// of after it was given: from a phone that had no network, or from paper.
type Late struct {
	Robot board.RobotID   `json:"robot"`
	Name  string          `json:"name"`
	List  board.SheetList `json:"list"`
	Ask   string          `json:"ask"`
	By    string          `json:"by"`
	At    board.Moment    `json:"at"`
	// Heard is when it came.
	Heard board.Moment `json:"heard"`
	Paper bool         `json:"paper,omitzero"`
}

// Uncovered is a job worked on, in part, while no verified lockout covered it.
type Uncovered struct {
	Robot  board.RobotID `json:"robot"`
	Name   string        `json:"name"`
	Number int           `json:"number"`
	Job    string        `json:"job"`
	// Sec is how long, in seconds; At when that work began.
	Sec int          `json:"sec"`
	At  board.Moment `json:"at"`
	// By is the lead who looked at the work again, When when; none as long as
	// nobody has.
	By   string       `json:"by,omitzero"`
	When board.Moment `json:"when,omitzero"`
}

// Loosened is a job that was made to ask less, no must any more, less lockout; or a
// damage that was made less of. Without a number it is a robot that has an energy less,
// a place that became another kind, a kind of job that asks for no lockout,
// a setting that was made weaker, or someone who is no minor any more or a signer now.
type Loosened struct {
	Robot  board.RobotID `json:"robot"`
	Name   string        `json:"name"`
	Number int           `json:"number"`
	Job    string        `json:"job"`
	What   string        `json:"what"`
	Reason string        `json:"reason"`
	By     string        `json:"by"`
	At     board.Moment  `json:"at"`
	// Until is when a setting was put back.
	Until board.Moment `json:"until,omitzero"`
}

// Marked is an answer that is marked on the record: a weight that the board asked about
// and that was said again, a robot closed up with nobody else there to be told, a
// signature on another's device. Without a List it is a weight from beside the sheets;
// without a Robot, a person's PIN that was forgotten, or set on the captain's device, or
// someone who was entered as one with authority or is no guest any more.
type Marked struct {
	Robot board.RobotID   `json:"robot,omitzero"`
	Name  string          `json:"name"`
	List  board.SheetList `json:"list"`
	Ask   string          `json:"ask"`
	What  string          `json:"what"`
	By    string          `json:"by"`
	// On is whose device it was signed on, where that was another's.
	On string       `json:"on,omitzero"`
	At board.Moment `json:"at"`
}

// loosened lists the jobs that were made to ask less, and the damage that was made less of, in the order of time.
func loosened(s board.State) []Loosened {
	list := []Loosened{}
	for _, j := range s.Jobs {
		for _, l := range j.Loosened {
			list = append(list, Loosened{
				Robot: j.Robot, Name: s.Robots[j.Robot].Name, Number: j.Number, Job: j.Name,
				What: l.What, Reason: l.Reason, By: s.People[l.By].Name, At: l.At,
			})
		}
	}
	for _, d := range s.Damages {
		for _, l := range d.Loosened {
			list = append(list, Loosened{
				Robot: d.Robot, Name: s.Robots[d.Robot].Name, Number: d.Number, Job: "damage: " + d.Part,
				What: l.What, Reason: l.Reason, By: s.People[l.By].Name, At: l.At,
			})
		}
	}
	for _, r := range s.Robots {
		for _, l := range r.Loosened {
			list = append(list, Loosened{Robot: r.ID, Name: r.Name, What: l.What, Reason: l.Reason, By: s.People[l.By].Name, At: l.At, Until: l.Until})
		}
	}
	for _, f := range s.Fights {
		for _, l := range f.Loosened {
			list = append(list, Loosened{
				Robot: f.Robot, Name: s.Robots[f.Robot].Name + ", " + f.Arena + " " + strconv.Itoa(f.Number),
				What: l.What, Reason: l.Reason, By: s.People[l.By].Name, At: l.At,
			})
		}
	}
	for _, who := range s.People {
		for _, l := range who.Loosened {
			list = append(list, Loosened{Name: who.Name, What: l.What, Reason: l.Reason, By: s.People[l.By].Name, At: l.At})
		}
	}
	for _, l := range s.Event().Loosened {
		list = append(list, Loosened{Name: s.Event().Name, What: l.What, Reason: l.Reason, By: s.People[l.By].Name, At: l.At, Until: l.Until})
	}
	for _, template := range s.Templates {
		for _, l := range template.Loosened {
			list = append(list, Loosened{Name: template.Name, What: l.What, Reason: l.Reason, By: s.People[l.By].Name, At: l.At})
		}
	}
	for _, place := range s.Places {
		for _, l := range place.Loosened {
			list = append(list, Loosened{Name: place.Name, What: l.What, Reason: l.Reason, By: s.People[l.By].Name, At: l.At})
		}
	}
	slices.SortFunc(list, func(a, b Loosened) int {
		return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Number, b.Number), cmp.Compare(a.Name, b.Name))
	})
	return list
}

// Day is a journal as far as it was read. The past does not change, so that each
// line is read once, however often one looks back.
type Day struct{ w *walk }

// NewDay is a journal without a line. AlarmsAt says what the board would have
// shown at a moment in a state.
func NewDay(alarmsAt func(board.State, board.Moment) []Alarm) *Day {
	return &Day{w: newWalk(alarmsAt)}
}

// Of is the revision of the last line read.
func (d *Day) Of() board.Rev { return d.w.of }

// Read takes the journal's next line, which may come behind lines that a damaged file
// lost.
//
// Errors: a line that is not of a journal, or comes again.
func (d *Day) Read(l board.JournalLine) error {
	if l.Rev <= d.w.of {
		return fmt.Errorf("review line %d: it follows %d", l.Rev, d.w.of)
	}
	if err := d.w.line(l); err != nil {
		return fmt.Errorf("review line %d: %w", l.Rev, err)
	}
	return nil
}

// Review looks back at at, which is not before the last line.
func (d *Day) Review(at board.Moment) Review {
	w := d.w.ended(at)
	r := Review{
		At: at, Of: w.of, Event: w.state.Event().Name, Turnarounds: w.turns, Overrides: w.overrides(), Relaxed: w.relaxed,
		Fast: fastSheets(w.state), Tags: w.left, Late: w.late, Uncovered: uncovered(w.state, at), Alarms: w.alarms.measured(),
		Loosened: loosened(w.state), Marked: w.marked,
	}
	r.count(w)
	return r
}

// count adds each thing to its turnaround and to the whole.
func (r *Review) count(w *walk) {
	slices.SortStableFunc(r.Turnarounds, func(a, b Turnaround) int { return cmp.Compare(a.From, b.From) })
	add := func(robot board.RobotID, at board.Moment, n func(*Counts) *int) {
		*n(&r.Whole)++
		for i := len(r.Turnarounds) - 1; i >= 0; i-- {
			if t := &r.Turnarounds[i]; t.Robot == robot && t.From <= at {
				*n(&t.Counts)++
				return
			}
		}
	}
	for _, f := range r.Fast {
		add(f.Robot, f.At, func(c *Counts) *int { return &c.Fast })
	}
	for _, o := range r.Overrides {
		add(o.Robot, o.At, func(c *Counts) *int { return &c.Overrides })
	}
	for _, g := range r.Tags {
		add(g.Robot, g.On, func(c *Counts) *int { return &c.Tags })
	}
	for _, l := range r.Late {
		if l.Paper {
			add(l.Robot, l.At, func(c *Counts) *int { return &c.Paper })
		} else {
			add(l.Robot, l.At, func(c *Counts) *int { return &c.Late })
		}
	}
	for _, u := range r.Uncovered {
		add(u.Robot, u.At, func(c *Counts) *int { return &c.Uncovered })
	}
	for _, rise := range w.alarms.rises {
		add(rise.robot, rise.at, func(c *Counts) *int { return &c.Alarms })
	}
}
