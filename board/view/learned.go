package view

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
)

// Learned is what the team's own record says of a kind of work, beside what was
// said of it (learned/<kind>). It counts only where the captain has switched it on.
type Learned struct {
	Kind board.LearnKind `json:"kind"`
	Name string          `json:"name"`
	// N is the finished jobs it rests on, Open those broken off.
	N    int `json:"n"`
	Open int `json:"open"`
	// The two times as said, of the kind's first fix, and as learned.
	LikelySec        int  `json:"likelySec"`
	BadSec           int  `json:"badSec"`
	LearnedLikelySec int  `json:"learnedLikelySec"`
	LearnedBadSec    int  `json:"learnedBadSec"`
	On               bool `json:"on"`
}

// record is what was seen of a kind of work.
type record struct{ done, open []estimate.Done }

// Records is what was seen of every kind of work.
type Records map[board.LearnKind]record

// RecordsOf reads the record of every kind of work.
func RecordsOf(s board.State) Records {
	all := Records{}
	for _, j := range board.Sorted(s.Jobs, func(j board.Job) string { return fmt.Sprintf("%08d", j.Number) }) {
		if kind := board.LearnKind(j.Template); kind != "" {
			all[kind] = all[kind].withJob(j)
		}
	}
	for _, r := range board.Sorted(s.Robots, func(r board.Robot) string { return r.Name }) {
		before, after := sheetTimes(s, r)
		if len(before.done) > 0 {
			all[board.BeforeKind(r.ID)] = before
		}
		if len(after.done) > 0 {
			all[board.AfterKind(r.ID)] = after
		}
	}
	return all
}

// withJob adds a job: one whose hands are done, or one that was begun and stands
// still. A running job says nothing yet.
func (c record) withJob(j board.Job) record {
	x := estimate.Done{LikelySec: float64(j.Fix().LikelySec), ActualSec: j.SpentSec(j.Chosen, 0)}
	switch {
	case x.ActualSec <= 0 || x.LikelySec <= 0 || j.State == board.JobRunning:
	case j.State == board.JobFinished || j.State == board.JobClosed:
		c.done = append(c.done, x)
	default:
		c.open = append(c.open, x)
	}
	return c
}

// learn is the estimate said, corrected by the record.
func (c record) learn(said estimate.TwoPoint) estimate.TwoPoint {
	l, err := estimate.LearnOpen(said, c.done, c.open)
	if err != nil {
		panic("view: learn: " + err.Error())
	}
	return l.TwoPoint()
}

// Learnt holds the records of the kinds that the captain has switched on.
type Learnt Records

// Learnt is what counts of the records: that of the kinds switched on.
func (all Records) Learnt(s board.State) Learnt {
	on := Learnt{}
	for kind, c := range all {
		if s.Learns[kind].On {
			on[kind] = c
		}
	}
	return on
}

// Times are the two times of fix f of job j.
func (l Learnt) Times(j board.Job, f int) estimate.TwoPoint {
	said := j.Fixes[f].Times()
	if c, ok := l[board.LearnKind(j.Template)]; ok && j.Template != "" {
		return c.learn(said)
	}
	return said
}

// SheetsBadRatio is the bad case of all sheets before the first job, or after the last,
// over the likely one: their steps, each 2 in the bad case, added up with a correlation
// of 0.2 come to 1.71 to 1.72 (computed independently).
const SheetsBadRatio = 1.72

func sheetsSaid(sec int) estimate.TwoPoint {
	return estimate.TwoPoint{LikelySec: float64(sec), BadSec: SheetsBadRatio * float64(sec)}
}

// SheetTimes are the times of the robot's sheets before the first job and after the
// last: those of its own record, where that is switched on.
func (l Learnt) SheetTimes(r board.Robot) (before, after estimate.TwoPoint) {
	times := func(kind board.LearnKind, sec int) estimate.TwoPoint {
		if c, ok := l[kind]; ok && sec > 0 {
			return c.learn(sheetsSaid(sec))
		}
		return sheetsSaid(sec)
	}
	return times(board.BeforeKind(r.ID), r.BeforeSec), times(board.AfterKind(r.ID), r.AfterSec)
}

// Overheads is the robot with the likely times of its sheets.
func (l Learnt) Overheads(r board.Robot) board.Robot {
	before, after := l.SheetTimes(r)
	r.BeforeSec, r.AfterSec = int(math.Round(before.LikelySec)), int(math.Round(after.LikelySec))
	return r
}

// learnedOf lists old and new of every kind with a record, those with most
// finished jobs first.
func learnedOf(s board.State, all Records) []Learned {
	var list []Learned
	add := func(kind board.LearnKind, name string, said estimate.TwoPoint) {
		c, ok := all[kind]
		if !ok || len(c.done) == 0 || said.LikelySec <= 0 {
			return
		}
		is := c.learn(said)
		list = append(list, Learned{
			Kind: kind, Name: name, N: len(c.done), Open: len(c.open), On: s.Learns[kind].On,
			LikelySec: int(said.LikelySec), BadSec: int(said.BadSec), LearnedLikelySec: tenths(is.LikelySec), LearnedBadSec: tenths(is.BadSec),
		})
	}
	for _, template := range board.Sorted(s.Templates, func(template board.Template) string { return template.Name }) {
		add(board.LearnKind(template.ID), fmt.Sprintf("%s (%s)", template.Name, template.Size), template.Fixes[0].Times())
	}
	for _, r := range board.Sorted(s.Robots, func(r board.Robot) string { return r.Name }) {
		add(board.BeforeKind(r.ID), r.Name+": the sheets before the first job", sheetsSaid(r.BeforeSec))
		add(board.AfterKind(r.ID), r.Name+": the sheets after the last job", sheetsSaid(r.AfterSec))
	}
	slices.SortStableFunc(list, func(a, b Learned) int { return cmp.Compare(b.N, a.N) })
	return list
}

// tenths rounds seconds to ten, at least ten.
func tenths(sec float64) int { return max(10, int(math.Round(sec/10))*10) }
