package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
)

// stripOf says where a robot is on its strip, and which line is due.
func stripOf(s board.State, r board.Robot) Strip {
	power := s.Powers[r.ID]
	strip := Strip{Robot: r.ID, Said: said(s, power), Rechecks: rechecks(s, power)}
	sheet, ok := dueSheet(s, r.ID)
	strip.Phase = phase(power.State, sheet, ok)
	if lead, there := s.People[r.Lead]; there {
		strip.Who = lead.Name
	}
	if !ok {
		return strip
	}
	strip.Sheet, strip.Lines = sheet.ID, len(sheet.Lines)
	if l, open := sheet.OpenLine(); open {
		strip.Line = 1 + slices.IndexFunc(sheet.Lines, func(o board.Line) bool { return o.ID == l.ID })
		strip.Ask = l.Ask
	}
	if n := len(sheet.Answers); n > 0 {
		strip.Who = s.People[sheet.Answers[n-1].By].Name
	}
	return strip
}

// rechecks are what is to be answered again on a robot in work.
func rechecks(s board.State, power board.Power) []Recheck {
	if power.State != board.Work {
		return nil
	}
	var list []Recheck
	for _, r := range s.Rechecks(power.Robot) {
		list = append(list, Recheck{Sheet: r.Sheet, Line: r.Line.ID, Ask: r.Line.Ask, Due: r.Due})
	}
	return list
}

// stripOrder is the order in which a robot's open sheets fall due.
var stripOrder = []board.SheetList{
	board.ListMakeSafe, board.ListReopen, board.ListFirstIn, board.ListInspect, board.ListCloseUp, board.ListReady,
}

// dueSheet is the robot's open sheet that comes first on the strip. The
// inspection waits until the first-in lines are answered.
func dueSheet(s board.State, robot board.RobotID) (board.Sheet, bool) {
	for _, list := range stripOrder {
		if sheet, ok := s.Sheet(robot, list); ok && sheet.State == board.SheetOpen {
			return sheet, true
		}
	}
	return board.Sheet{}, false
}

var sheetPhases = map[board.SheetList]Phase{
	board.ListMakeSafe: PhaseMakeSafe, board.ListFirstIn: PhaseFirstIn, board.ListInspect: PhaseInspect,
	board.ListReopen: PhaseReopen, board.ListCloseUp: PhaseCloseUp, board.ListReady: PhaseSign,
}

func phase(p board.PowerState, sheet board.Sheet, due bool) Phase {
	switch {
	case p == board.Live:
		return PhaseArena
	case p == board.Test:
		return PhaseTest
	case p == board.Ready:
		return PhaseReady
	case due:
		return sheetPhases[sheet.List]
	case p == board.ClosingUp:
		return PhaseCloseUp
	case madeSafe(p):
		return PhaseWork
	}
	return PhaseMakeSafe
}

// said is the power state with who declared it and when. It never says more than
// someone has.
func said(s board.State, power board.Power) string {
	since := s.Clock(power.Since)
	name := func(id board.PersonID) string {
		if who, ok := s.People[id]; ok {
			return who.Name
		}
		return "the board"
	}
	switch power.State {
	case board.Unknown:
		if power.Why == "" {
			return "unknown since " + since
		}
		return fmt.Sprintf("unknown since %s: %s", since, power.Why)
	case board.Verified, board.Work:
		return fmt.Sprintf("verified by %s %s", name(power.VerifiedBy), s.Clock(power.VerifiedAt))
	case board.Ready:
		return fmt.Sprintf("signed ready by %s %s", name(power.ReadyBy), since)
	case board.Test:
		return fmt.Sprintf("test by %s until %s: %s", name(power.Test.By), s.Clock(power.Test.Until), power.Test.What)
	}
	return fmt.Sprintf("%s, said by %s %s", power.State, name(power.By), since)
}
