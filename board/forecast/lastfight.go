package forecast

import "mendline/board"

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
