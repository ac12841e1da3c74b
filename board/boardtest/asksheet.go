package boardtest

// What the invariants ask of sheets.

import (
	"slices"
	"strings"

	. "mendline/board"
)

// allAnswered tells whether the last word on each line of a robot's newest sheet of a
// list is a yes.
func allAnswered(s State, robot RobotID, list SheetList) bool {
	var newest Sheet
	for _, sheet := range s.Sheets {
		if sheet.Robot == robot && sheet.List == list && sheet.Number > newest.Number {
			newest = sheet
		}
	}
	yes := map[string]bool{}
	for i, a := range newest.Answers {
		if !onlyRecord(newest, i) {
			yes[a.Line] = a.Said != SaidNo
		}
	}
	for _, l := range newest.Lines {
		if !yes[l.ID] {
			return false
		}
	}
	return len(newest.Lines) > 0
}

// asksAll finds, by the questions' ids, what each list must ask of any robot.
func asksAll(sheet Sheet) bool {
	must := map[SheetList][]string{
		ListMakeSafe: {"lock", "link-1", "radio", "spinning-mass-3", "blocks", "try", "light"}, ListInspect: {"weapon", "lock"}, ListReopen: {"lock", "link-1"},
		ListCloseUp: {"inside", "pack", "bolts", "tools", "covers", "lock", "link-1", "told"}, ListReady: {"failsafe", "mass", "strap", "sign"},
	}[sheet.List]
	for _, id := range must {
		if !slices.ContainsFunc(sheet.Lines, func(l Line) bool { return l.ID == id }) {
			return false
		}
	}
	return true
}

// namesLocks asks that a line about what holds the weapon, on the way to power, says
// on its button each thing that this robot has for it, and nothing else.
func namesLocks(r Robot, sheet Sheet) bool {
	words := map[Lock]string{"lock": "LOCK", "pin": "PIN", "prop-bar": "PROP BAR", "strap": "WEAPON STRAP", "clamp": "CLAMP"}
	if !slices.Contains([]SheetList{ListMakeSafe, ListReopen, ListCloseUp, ListReady}, sheet.List) || len(r.Locks) == 0 {
		return true
	}
	for _, l := range sheet.Lines {
		for k, word := range words {
			if l.Energy != EnergyWeapon || l.ID != "lock" {
				continue
			}
			if strings.Contains(l.Say, word) != slices.Contains(r.Locks, k) {
				return false
			}
		}
	}
	return true
}

// senderNamed is the pack that a robot's newest way to the signature has in its transmitter,
// and whether it names one.
func senderNamed(s State, robot RobotID) (named PackID, said bool) {
	var newest Sheet
	for _, sheet := range s.Sheets {
		if sheet.Robot == robot && sheet.List == ListReady && sheet.Number > newest.Number {
			newest = sheet
		}
	}
	for i, a := range newest.Answers {
		if a.Line == "sender" && !onlyRecord(newest, i) {
			named, said = a.Pack, a.Said == SaidDone
		}
	}
	return named, said
}

// aboutWeapon tells whether a line is about a weapon or what holds it.
func aboutWeapon(l Line) bool {
	return l.ID == "lock" || l.Energy == EnergyWeapon || slices.Contains(l.Covers, SysLock) || slices.Contains(l.Covers, SysWeapon)
}

// weaponOff tells whether somebody has said that the weapon of a robot, or what holds it,
// is off: nothing touches it that says otherwise, and a part of it is not on again.
func weaponOff(s State, robot RobotID) bool {
	return slices.ContainsFunc(damageOf(s, robot), func(d Damage) bool {
		about := len(d.Touches) == 0 || slices.Contains(d.Touches, SysWeapon) || slices.Contains(d.Touches, SysLock)
		return about && partOff(s, d)
	})
}

// deniedLater tells whether someone said no to the line after a was said, in time
// and not in the order in which the words came in.
func deniedLater(sheet Sheet, a Answer) bool {
	return slices.ContainsFunc(sheet.Answers, func(b Answer) bool { return b.Line == a.Line && b.Said == SaidNo && !b.Record && b.At > a.At })
}

// newestSafe is the make-safe sheet a robot got last.
func newestSafe(s State, robot RobotID) (Sheet, bool) {
	var newest Sheet
	for _, sheet := range s.Sheets {
		if sheet.Robot == robot && sheet.List == ListMakeSafe && sheet.Number > newest.Number {
			newest = sheet
		}
	}
	return newest, newest.ID != ""
}

// onlyRecord tells whether a sheet's answer number i says what was so once, on
// paper, and nothing of now: all but what was seen at an inspection, and a "no"
// that nobody has looked after since.
func onlyRecord(sheet Sheet, i int) bool {
	a := sheet.Answers[i]
	if !a.Paper || a.Said != SaidNo {
		return a.Paper && !slices.Contains([]SheetList{ListInspect, ListLoadIn, ListOvernight, ListPackUp}, sheet.List)
	}
	for j, b := range sheet.Answers[:i] {
		if b.Line == a.Line && b.Said != SaidNo && b.At > a.At && !onlyRecord(sheet, j) {
			return true
		}
	}
	return false
}

func madeSafe(s State, robot RobotID) bool {
	sheet, ok := newestSafe(s, robot)
	if !ok {
		return false
	}
	last := map[string]Said{}
	for i, a := range sheet.Answers {
		if !onlyRecord(sheet, i) {
			last[a.Line] = a.Said
		}
	}
	for _, l := range sheet.Lines {
		if said := last[l.ID]; said == "" || said == SaidNo {
			return false
		}
	}
	return true
}

// answeredToday finds a person's own answer of the event day that began last at
// four in the morning (the test's event keeps UTC).
func answeredToday(s State, robot RobotID, now Moment) bool {
	sheet, _ := newestSafe(s, robot)
	const day, four = 24 * 3600_000, 4 * 3600_000
	began := (now-four)/day*day + four
	for _, a := range sheet.Answers {
		if a.By != "" && !a.Standing && sheet.OpenedAt >= began {
			return true
		}
	}
	return false
}
