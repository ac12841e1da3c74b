package work

import "mendline/board"

// done is how far a stage is, from 0 to 1.
func (w walk) done(g stage) float64 {
	p := w.s.Powers[w.robot.ID].State
	closed := p == board.Ready || p == board.Live || p == board.ClosingUp
	switch {
	case w.back || closed && !Shut(w.s, w.robot) && !Gone(w.s, w.robot):
		return 0 // open again for a job, or after the next fight
	case g.step.Before() && p == board.Test:
		return 0
	case g.step.Before():
		return w.doneBefore(g, p)
	}
	return w.doneAfter(g, p)
}

func (w walk) doneBefore(g stage, p board.PowerState) float64 {
	safe := MadeSafe(p)
	sheet, ok := w.s.Sheet(w.robot.ID, g.list)
	open := ok && sheet.State == board.SheetOpen
	switch g.step {
	case MakeSafe, Verify:
		if safe {
			return 1
		}
		if !open {
			return 0
		}
	case FirstIn:
		if !safe || !open && p == board.Verified && packIn(w.s, w.robot.ID) {
			return 0
		}
		if !open {
			return 1
		}
	default:
		if !safe || !ok || sheet.State == board.SheetUnanswered {
			return 0
		}
	}
	return g.answered(sheet)
}

func (w walk) doneAfter(g stage, p board.PowerState) float64 {
	if p == board.Ready || p == board.Live {
		return 1
	}
	if p != board.ClosingUp && p != board.Test {
		return 0
	}
	close, _ := w.s.Sheet(w.robot.ID, board.ListCloseUp)
	if g.step == CloseUp {
		return g.answered(close)
	}
	sheet, ok := w.s.Sheet(w.robot.ID, board.ListReady)
	if close.State != board.SheetComplete || !ok || sheet.State == board.SheetUnanswered {
		return 0
	}
	if g.step == Sign { // with lock and strap
		return (answered(sheet, func(l board.Line) bool { return l.ID == "strap" }) + g.answered(sheet)) / 2
	}
	return g.answered(sheet)
}

// answered is the share of the stage's lines that are answered.
func (g stage) answered(sheet board.Sheet) float64 { return answered(sheet, g.of) }

func answered(sheet board.Sheet, of func(board.Line) bool) float64 {
	n, all := 0, 0
	for _, l := range sheet.Lines {
		if !of(l) {
			continue
		}
		all++
		if _, ok := sheet.Answered(l.ID); ok {
			n++
		}
	}
	if all == 0 {
		return 0
	}
	return float64(n) / float64(all)
}

// MadeSafe tells whether the robot has been verified since it was last unknown.
func MadeSafe(p board.PowerState) bool {
	switch p {
	case board.Verified, board.Work, board.ClosingUp, board.Ready:
		return true
	}
	return false
}

// packIn tells whether a pack is recorded in a robot.
func packIn(s board.State, robot board.RobotID) bool {
	for _, p := range s.Packs {
		if p.Robot == robot && !p.Retired {
			return true
		}
	}
	return false
}
