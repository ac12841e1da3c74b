package debrief

import (
	"fmt"

	"mendline/board"
)

// Asked is what the reader of an account wants to know.
type Asked struct {
	Seed    uint64
	Replays int
	// Moves is how much of the damage moves to another construction, 0 to 2.
	Moves float64
	Next  Next
}

// Usual is what is asked where nobody says otherwise.
func Usual() Asked {
	return Asked{Seed: 1, Replays: ReplaysUsual, Moves: 1, Next: Next{Fights: 5, Budget: Budget{Grams: 40000}}}
}

// Account is the debrief of one board.
type Account struct {
	Event string `json:"event"`
	// Currency is what money is in, or "".
	Currency string       `json:"currency"`
	From     board.Moment `json:"from,omitzero"`
	To       board.Moment `json:"to,omitzero"`
	Lines    int          `json:"lines"`
	// Fought is how many fights were fought.
	Fought int     `json:"fought"`
	All    Section `json:"all"`
	// Robots are those that were worked on, hit or fought.
	Robots   []Section  `json:"robots"`
	Fights   []Bill     `json:"fights"`
	Hits     []Bill     `json:"hits"`
	Compared []Compared `json:"compared"`
	// Calls are the chances that were given, against what came; Chances say how good
	// they were, from CallsLeast calls on.
	Calls   []Called `json:"calls"`
	Chances *Chances `json:"chances,omitzero"`
	Bring   Bring    `json:"bring"`
	After   After    `json:"after"`
	// Reads say how to read the figures.
	Reads []string `json:"reads"`
}

// Compared is a robot's built construction against another.
type Compared struct {
	Robot board.RobotID `json:"robot"`
	Name  string        `json:"name"`
	Comparison
}

var reads = []string{
	"Minutes are clock minutes of one thread of work, sorted in the terms of IEC 60050-192: making safe is technical delay; waiting for a part, a person or a station is logistic delay; finding, fixing and checking are active repair.",
	"Each spare, part and minute stands under exactly one hit, under the fight where nobody said which hit, or under no hit known. Damage found later is under the hit it was put to.",
	"– in a bill is no money: nothing was used up. Each share is of the list price of the other construction, whole.",
	"A part is counted as lost when it asks for repair and nobody mended it; a spare from the box is counted in its place, not beside it.",
	"n stands beside every figure. No figure is given from under 3 cases, and no cost per hit where there were no hits.",
}

// Account works everything out. It is an error if a construction on the board
// cannot be replayed or what is asked is out of range.
func (r Record) Account(asked Asked) (Account, error) {
	entries := r.Entries()
	alt := r.alternative
	a := Account{
		Event: r.State.Event().Name, Currency: r.State.Event().Currency, From: r.From, To: r.To, Lines: r.Lines, Fought: len(r.fought("")),
		All: r.section(entries, "", Alternative{}), Fights: r.FightBills(entries, alt), Hits: r.HitBills(entries, alt), Calls: r.calls(), Reads: reads,
	}
	a.Chances = chancesOf(a.Calls)
	for _, robot := range r.robots() {
		s := r.section(entries, robot.ID, alt(robot.ID))
		compared, err := r.compare(robot, asked)
		if err != nil {
			return Account{}, err
		}
		s.Headline = r.headline(s, compared)
		if len(s.Jobs) > 0 || s.Bill.Damages > 0 || len(r.fought(robot.ID)) > 0 || s.Bill.WorkSec > 0 {
			a.Robots = append(a.Robots, s)
		}
		a.Compared = append(a.Compared, compared...)
	}
	a.All.Headline = r.headline(a.All, a.Compared)
	var err error
	a.Bring, err = r.bring(entries, asked.Next)
	a.After = r.after(entries)
	return a, err
}

// alternative is what a robot's bills are measured by: the first other
// construction with a price, else the built one.
func (r Record) alternative(robot board.RobotID) Alternative {
	built, others, _ := r.constructionsOf(robot)
	for _, c := range append(others, built) {
		if c.Cents > 0 {
			return Alternative{c.Name, c.Cents}
		}
	}
	return Alternative{}
}

// compare replays a robot's recorded damage through what is built and each other
// construction.
func (r Record) compare(robot board.Robot, asked Asked) ([]Compared, error) {
	built, others, ok := r.constructionsOf(robot.ID)
	if !ok {
		return nil, nil
	}
	var list []Compared
	for _, other := range others {
		c, err := Compare(Question{
			Built: built, Other: other, Fights: r.foughtOf(robot.ID), Moves: asked.Moves, Replays: asked.Replays, Seed: asked.Seed,
			Currency: r.State.Event().Currency,
		})
		if err != nil {
			return nil, fmt.Errorf("%s: %w", robot.Name, err)
		}
		list = append(list, Compared{Robot: robot.ID, Name: robot.Name, Comparison: c})
	}
	return list, nil
}

// foughtOf are a robot's fights with the members hit in each: those whose damage
// asks for a patch or more, or that are stuck.
func (r Record) foughtOf(robot board.RobotID) []Fought {
	var list []Fought
	for _, f := range r.fought(robot) {
		one := Fought{Name: r.fightName(robot, f.ID), AvailableSec: r.availableSec(f)}
		for _, d := range r.damages() {
			if d.Fight == f.ID && (d.Grade != board.G0 && d.Grade != board.G1 || d.Stuck || d.Destroyed) {
				one.Hit = append(one.Hit, r.partOf(d))
			}
		}
		list = append(list, one)
	}
	return list
}
