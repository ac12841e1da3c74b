package view

import (
	"fmt"
	"slices"

	"mendline/board"
)

// Strip is where a robot is between cart and call (strip/<robotID>).
type Strip struct {
	Robot board.RobotID `json:"robot"`
	Phase Phase         `json:"phase"`
	Sheet board.SheetID `json:"sheet,omitzero"`
	// Line is the open line, counted from 1, of Lines.
	Line  int    `json:"line,omitzero"`
	Lines int    `json:"lines,omitzero"`
	Ask   string `json:"ask,omitzero"`
	// Who answered last on the sheet, or else leads the robot.
	Who string `json:"who,omitzero"`
	// Said is the state with who declared it and when.
	Said string `json:"said"`
	// Rechecks are the lines about gas and capacitors that are to be answered again
	// while people are at work, the first due first.
	Rechecks []Recheck `json:"rechecks,omitempty"`
	// Rests are the open lines that wait for something to come to rest: no sooner than
	// At are they answered.
	Rests []Rest `json:"rests,omitempty"`
	// MayOwe says that the failsafe may be left to the officials; Unproven, that no test
	// or fight has shown it since it was touched.
	MayOwe   bool `json:"mayOwe,omitzero"`
	Unproven bool `json:"unproven,omitzero"`
	// Damage is what stands on the robot: the captain, and whoever signs, see it.
	Damage []DamageNow `json:"damage"`
}

// Recheck is a line of a sheet that has to be answered again by Due.
type Recheck struct {
	Sheet board.SheetID `json:"sheet"`
	Line  string        `json:"line"`
	Ask   string        `json:"ask"`
	Due   board.Moment  `json:"due"`
}

// Rest is a line of a sheet that says that something has come to rest, which takes until
// At by itself; Sec is how long that is from when the board heard of the power off.
type Rest struct {
	Sheet board.SheetID `json:"sheet"`
	Line  string        `json:"line"`
	At    board.Moment  `json:"at"`
	Sec   int           `json:"sec"`
}

// Phase is a stretch of the strip.
type Phase string

// The phases, from cart to call.
const (
	PhaseMakeSafe Phase = "make safe"
	PhaseFirstIn  Phase = "first in"
	PhaseInspect  Phase = "inspect"
	PhaseWork     Phase = "work"
	PhaseReopen   Phase = "open again"
	PhaseCloseUp  Phase = "close up"
	PhaseTest     Phase = "test"
	PhaseSign     Phase = "weigh and sign"
	PhaseReady    Phase = "ready"
	PhaseArena    Phase = "arena"
)

// stripOf says where a robot is on its strip, and which line is due.
func stripOf(s board.State, r board.Robot) Strip {
	power := s.Powers[r.ID]
	strip := Strip{Robot: r.ID, Said: said(s, power), Rechecks: rechecks(s, power), Damage: Damages(s, r.ID)}
	sheet, ok := DueSheet(s, r.ID)
	strip.Phase = phase(power.State, sheet, ok)
	if lead, there := s.People[r.Lead]; there {
		strip.Who = lead.Name
	}
	if !ok {
		return strip
	}
	for _, l := range sheet.Lines {
		if _, answered := sheet.Answered(l.ID); !answered {
			if at := s.RestsAt(r.ID, l); at != 0 {
				strip.Rests = append(strip.Rests, Rest{Sheet: sheet.ID, Line: l.ID, At: at, Sec: int(at-power.OffAt) / 1000})
			}
		}
		if l.Kind == board.LineProof {
			strip.MayOwe, strip.Unproven = s.MayOweFailsafe(), !s.ProvenFailsafe(r.ID, l)
		}
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

// DueSheet is the robot's open sheet that comes first on the strip. The
// inspection waits until the first-in lines are answered.
func DueSheet(s board.State, robot board.RobotID) (board.Sheet, bool) {
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
	case p == board.Verified, p == board.Work:
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
		signed := fmt.Sprintf("signed ready by %s %s", name(power.ReadyBy), since)
		if power.ReadyOn != "" {
			signed += ", on one device with " + name(power.ReadyOn)
		}
		return signed
	case board.Test:
		return fmt.Sprintf("test by %s until %s: %s", name(power.Test.By), s.Clock(power.Test.Until), power.Test.What)
	}
	return fmt.Sprintf("%s, said by %s %s", power.State, name(power.By), since)
}
