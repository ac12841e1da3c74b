package work

import (
	"cmp"
	"math"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
	"mendline/board/view"
)

// stage is one step of the sheets: its share of the time before the first job or after
// the last by size, in minutes from the end of a fight (common practice, no source), and
// where it is done. In the bad case each takes twice as long: the first, sixth and
// last rows of the usual list of a pit's jobs (common practice, no source).
type stage struct {
	step    Step
	list    board.SheetList
	share   map[board.Size]float64
	station board.StationKind
}

const stepBadRatio = 2

var before = []stage{
	{MakeSafe, board.ListMakeSafe, map[board.Size]float64{board.Heavy: 10, board.Light: 3.5}, board.StationNone},
	{Verify, board.ListMakeSafe, map[board.Size]float64{board.Heavy: 4, board.Light: 1.5}, board.StationNone},
	{FirstIn, board.ListFirstIn, map[board.Size]float64{board.Heavy: 8, board.Light: 2}, board.StationNone},
	{Inspect, board.ListInspect, map[board.Size]float64{board.Heavy: 8, board.Light: 2}, board.StationNone},
}

// The last step is lock, strap and signature.
var after = []stage{
	{CloseUp, board.ListCloseUp, map[board.Size]float64{board.Heavy: 6, board.Light: 1}, board.StationNone},
	{Test, board.ListReady, map[board.Size]float64{board.Heavy: 6, board.Light: 2}, board.StationTest},
	{Weigh, board.ListReady, map[board.Size]float64{board.Heavy: 3, board.Light: 1}, board.StationScale},
	{Sign, board.ListReady, map[board.Size]float64{board.Heavy: 5, board.Light: 1}, board.StationNone},
}

// answering is how long after an answer its person is still on the sheets: our own
// guess.
const answering = 5 * 60 * 1000

// steps adds what is left of some stages.
func (w *walk) steps(stages []stage) {
	before, after := w.learnt.SheetTimes(w.robot)
	whole := after
	if stages[0].step.Before() {
		whole = before
	}
	var shares float64
	for _, g := range stages {
		shares += g.share[w.robot.Size]
	}
	on, list := w.on()
	for _, g := range stages {
		left := g.share[w.robot.Size] * (1 - w.done(g))
		if left <= 0 || whole.LikelySec <= 0 {
			continue
		}
		i := Item{Robot: w.robot.ID, Step: g.step, Back: w.back, Hands: 1, May: w.may(g), Station: board.StationNone, Times: share(whole, left/shares)}
		if w.has(g.station) {
			i.Station = g.station
		}
		if g.step == Verify && w.robot.SecondVerifier && (w.back || w.s.Powers[w.robot.ID].State != board.Isolated) {
			i.Hands, i.May = 2, w.may(stages[0]) // whoever isolates, and another
		}
		if g.list == list {
			list = ""
			if slices.Contains(i.May, on) && i.Hands == 1 {
				i.On = on
			}
		}
		w.items = append(w.items, i)
	}
}

// share is so much of some sheets. Its bad case is as much above its likely time, by the
// square of the days' spread, as theirs is for all of them.
func share(whole estimate.TwoPoint, of float64) estimate.TwoPoint {
	wider := math.Log(whole.BadSec/whole.LikelySec) / math.Log(view.SheetsBadRatio)
	likely := whole.LikelySec * of
	return estimate.TwoPoint{LikelySec: likely, BadSec: likely * math.Pow(stepBadRatio, wider)}
}

// may lists who may answer the lines of a stage.
func (w walk) may(g stage) []board.PersonID {
	sheet, open := w.s.Sheet(w.robot.ID, g.list)
	if w.back || !open || sheet.State != board.SheetOpen {
		sheet = board.Sheet{Robot: w.robot.ID, List: g.list, Lines: w.s.SheetLines(w.robot, g.list)}
	}
	var list []board.PersonID
	for _, who := range w.people {
		by := board.Actor{Person: who.ID, Role: who.Role}
		barred := slices.ContainsFunc(sheet.Lines, func(l board.Line) bool {
			return g.of(l) && w.s.MayEverAnswer(by, who, sheet, l) != nil
		})
		if !barred && (g.step != Test || w.s.MayLead(by, w.robot, "start a test") == nil) {
			list = append(list, who.ID)
		}
	}
	return list
}

// of tells whether a line of its list is the stage's.
func (g stage) of(l board.Line) bool {
	switch g.step {
	case MakeSafe, Verify:
		return l.OfVerifying() == (g.step == Verify)
	case Test:
		return l.Kind == board.LineProof
	case Weigh:
		return l.Kind == board.LineNumber
	case Sign:
		return l.Kind == board.LineSign
	}
	return true
}

// on is who answered a line of the robot just now, and is on no job, with the list that
// is due.
func (w walk) on() (board.PersonID, board.SheetList) {
	due, ok := view.DueSheet(w.s, w.robot.ID)
	if w.back || !ok {
		return "", ""
	}
	var last board.Answer
	for _, sheet := range w.s.Sheets {
		if n := len(sheet.Answers); n > 0 && sheet.Robot == w.robot.ID && sheet.Answers[n-1].At > last.At {
			last = sheet.Answers[n-1]
		}
	}
	if last.At+answering < w.at || last.Paper || last.Standing {
		return "", ""
	}
	for _, j := range w.s.Jobs {
		if j.State == board.JobRunning && j.IsAtWork(last.By) {
			return "", ""
		}
	}
	return last.By, due.List
}

// has tells whether the team has a station of a kind.
func (w walk) has(kind board.StationKind) bool {
	for _, station := range w.s.Stations {
		if station.Kind == kind && !station.Retired && station.Count > 0 {
			return true
		}
	}
	return false
}

// jobs adds the jobs on the robot by number.
func (w *walk) jobs() {
	var open []board.Job
	for _, j := range w.s.Jobs {
		if j.Robot == w.robot.ID && ToDo(j) {
			open = append(open, j)
		}
	}
	slices.SortFunc(open, func(a, b board.Job) int { return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID)) })
	for _, j := range open {
		w.items = append(w.items, Item{Robot: j.Robot, Step: Job, Back: w.back, Job: j.ID})
	}
}
