package forecast

import "mendline/board"

// shares of the time before the first job: made safe and verified; covers off
// and packs out; inspected and decided. In minutes from the end of a fight, by
// size. Common practice, no source.
var beforeShares = map[board.Size][]float64{
	board.Heavy: {14, 8, 8},
	board.Light: {5, 2, 2},
}

// shares of the time after the last job: closed up; tested; weighed; queued with
// lock, strap and signature. Common practice, no source.
var afterShares = map[board.Size][]float64{
	board.Heavy: {6, 6, 3, 5},
	board.Light: {1, 2, 1, 1},
}

// beforeSec is what is left of the robot's time before the first job: none of a
// phase that is answered, and of the one being answered its open lines' share.
func beforeSec(s board.State, r board.Robot) int {
	done := [3]float64{}
	if madeSafe(s.Powers[r.ID].State) {
		done = [3]float64{1, stripped(s, r.ID), inspectedShare(s, r.ID)}
	} else if sheet, ok := s.Sheet(r.ID, board.ListMakeSafe); ok && sheet.State == board.SheetOpen {
		done[0] = answeredShare(sheet)
	}
	return remaining(r.BeforeSec, beforeShares[r.Size], done[:])
}

// afterSec is what is left of the robot's time after the last job.
func afterSec(s board.State, r board.Robot) int {
	done := [4]float64{}
	switch s.Powers[r.ID].State {
	case board.Ready, board.Live:
		return 0
	case board.ClosingUp, board.Test:
		sheet, _ := s.Sheet(r.ID, board.ListCloseUp)
		done[0] = answeredShare(sheet)
		if sheet.State == board.SheetComplete {
			done = readyDone(s, r.ID)
		}
	}
	return remaining(r.AfterSec, afterShares[r.Size], done[:])
}

// readyDone is how far the robot is with the phases after closing up, each by
// its line on the ready sheet.
func readyDone(s board.State, robot board.RobotID) [4]float64 {
	sheet, ok := s.Sheet(robot, board.ListReady)
	if !ok || sheet.State == board.SheetUnanswered {
		return [4]float64{1}
	}
	answered := func(line string) float64 {
		if _, ok := sheet.Answered(line); ok {
			return 1
		}
		return 0
	}
	return [4]float64{1, answered("failsafe"), answered("mass"), (answered("strap") + answered("sign")) / 2}
}

func remaining(wholeSec int, shares, done []float64) int {
	var left, all float64
	for i, share := range shares {
		all += share
		left += share * (1 - done[i])
	}
	if all == 0 {
		return wholeSec
	}
	return int(float64(wholeSec)*left/all + 0.5)
}

// madeSafe tells whether the robot has been verified since it was last unknown.
func madeSafe(p board.PowerState) bool {
	switch p {
	case board.Verified, board.Work, board.ClosingUp, board.Ready:
		return true
	}
	return false
}

func answeredShare(sheet board.Sheet) float64 {
	if len(sheet.Lines) == 0 {
		return 0
	}
	n := 0
	for _, l := range sheet.Lines {
		if _, ok := sheet.Answered(l.ID); ok {
			n++
		}
	}
	return float64(n) / float64(len(sheet.Lines))
}

// stripped is how far the first-in sheet is; with no such line, whether every
// pack is out.
func stripped(s board.State, robot board.RobotID) float64 {
	if sheet, ok := s.Sheet(robot, board.ListFirstIn); ok && sheet.State == board.SheetOpen {
		return answeredShare(sheet)
	}
	if s.Powers[robot].State == board.Verified && len(packsIn(s, robot)) > 0 {
		return 0
	}
	return 1
}

func inspectedShare(s board.State, robot board.RobotID) float64 {
	sheet, ok := s.Sheet(robot, board.ListInspect)
	if !ok || sheet.State == board.SheetUnanswered {
		return 0
	}
	return answeredShare(sheet)
}

// packsIn lists the packs recorded in a robot.
func packsIn(s board.State, robot board.RobotID) []board.Pack {
	var in []board.Pack
	for _, p := range board.Sorted(s.Packs, func(p board.Pack) string { return p.Name }) {
		if p.Robot == robot && !p.Retired {
			in = append(in, p)
		}
	}
	return in
}

// lastFight is the robot's last fight that was fought.
func lastFight(s board.State, robot board.RobotID) (board.Fight, bool) {
	var last board.Fight
	for _, f := range board.Sorted(s.Fights, func(f board.Fight) string { return f.EndAt.String() }) {
		fought := f.Result == board.Won || f.Result == board.Lost || f.Result == board.Drawn
		if f.Robot == robot && f.State == board.FightDone && fought {
			last = f
		}
	}
	return last, last.ID != ""
}

// uninspected tells whether the robot has fought since its last complete
// inspection.
func uninspected(s board.State, robot board.RobotID) bool {
	last, fought := lastFight(s, robot)
	if !fought {
		return false
	}
	sheet, ok := s.Sheet(robot, board.ListInspect)
	for _, o := range s.Sheets {
		if o.Robot == robot && o.List == board.ListInspect && o.State == board.SheetComplete && o.EndedAt >= last.EndAt {
			return false
		}
	}
	return !ok || sheet.State != board.SheetComplete || sheet.EndedAt < last.EndAt
}

// hitHard tells whether a hard hit of the last fight has been reported.
func hitHard(s board.State, robot board.RobotID) bool {
	last, fought := lastFight(s, robot)
	for _, d := range s.Damages {
		if fought && d.Robot == robot && !d.Dropped && d.Severity == board.Hard && (d.Fight == last.ID || d.Fight == "" && d.At >= last.EndAt) {
			return true
		}
	}
	return false
}
