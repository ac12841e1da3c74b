package view

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/estimate"
)

// waitRatio is how many times the time said a turnaround may take before it is
// taken for a wait that nobody was in a hurry to end. Our own guess.
const waitRatio = 3

// sheetTimes are how long the robot's sheets took before the first job and after
// the last, each time it went through them. Time in which someone worked on a job
// of the robot is the job's, and counts once.
func sheetTimes(s board.State, r board.Robot) (before, after record) {
	sheets := sheetsOf(s, r.ID)
	for _, f := range board.Sorted(s.Fights, func(f board.Fight) string { return f.EndAt.String() }) {
		if f.Robot != r.ID || f.State != board.FightDone || f.EndAt == 0 {
			continue
		}
		if i := slices.IndexFunc(sheets, func(sheet board.Sheet) bool {
			return sheet.List == board.ListInspect && sheet.State == board.SheetComplete && sheet.EndedAt >= f.EndAt
		}); i >= 0 && sameTurnaround(s, f, sheets[i].EndedAt) {
			before.done = addWait(s, r.ID, before.done, r.BeforeSec, f.EndAt, sheets[i].EndedAt)
		}
	}
	for i, sheet := range sheets {
		if sheet.List != board.ListReady || sheet.State != board.SheetComplete {
			continue
		}
		for _, c := range slices.Backward(sheets[:i]) {
			if c.List == board.ListCloseUp && c.State == board.SheetComplete {
				after.done = addWait(s, r.ID, after.done, r.AfterSec, c.OpenedAt, sheet.EndedAt)
				break
			}
		}
	}
	return before, after
}

// sheetsOf lists a robot's sheets that have ended, in that order.
func sheetsOf(s board.State, robot board.RobotID) []board.Sheet {
	var list []board.Sheet
	for _, sheet := range board.Sorted(s.Sheets, func(sheet board.Sheet) string { return sheet.EndedAt.String() }) {
		if sheet.Robot == robot && sheet.EndedAt != 0 {
			list = append(list, sheet)
		}
	}
	slices.SortStableFunc(list, func(a, b board.Sheet) int {
		return cmp.Or(cmp.Compare(a.EndedAt, b.EndedAt), cmp.Compare(a.Number, b.Number))
	})
	return list
}

// sameTurnaround tells whether no other fight of the robot lies between the end of
// f and at.
func sameTurnaround(s board.State, f board.Fight, at board.Moment) bool {
	for _, o := range s.Fights {
		if o.ID != f.ID && o.Robot == f.Robot && o.EndAt > f.EndAt && o.EndAt < at {
			return false
		}
	}
	return true
}

// addWait adds the time from from to to, less the work on jobs in between.
func addWait(s board.State, robot board.RobotID, done []estimate.Done, saidSec int, from, to board.Moment) []estimate.Done {
	sec := float64(to-from-worked(s, robot, from, to)) / 1000
	if saidSec <= 0 || sec <= 0 || sec > waitRatio*float64(saidSec) {
		return done
	}
	return append(done, estimate.Done{LikelySec: float64(saidSec), ActualSec: sec})
}

// worked is how much of the time from from to to someone worked on a job of the
// robot.
func worked(s board.State, robot board.RobotID, from, to board.Moment) board.Moment {
	var spans []board.Span
	for _, j := range s.Jobs {
		if j.Robot != robot {
			continue
		}
		for _, st := range j.Stints {
			end := st.To
			if end == 0 {
				end = to
			}
			if a, b := max(st.From, from), min(end, to); a < b {
				spans = append(spans, board.Span{From: a, To: b})
			}
		}
	}
	slices.SortFunc(spans, func(span, b board.Span) int {
		return cmp.Or(cmp.Compare(span.From, b.From), cmp.Compare(span.To, b.To))
	})
	var sum, until board.Moment
	for _, w := range spans {
		if start := max(w.From, until); w.To > start {
			sum, until = sum+w.To-start, w.To
		}
	}
	return sum
}
