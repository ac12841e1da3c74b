package boardtest

import (
	"slices"

	. "mendline/board"
)

// NextAnswer is what a person says to the open line of a robot's sheet where all is
// as it should be; false if the sheet is not open.
func NextAnswer(s State, robot RobotID, list SheetList, who PersonID) (SheetAnswer, bool) {
	sheet, ok := s.Sheet(robot, list)
	if !ok || sheet.State != SheetOpen {
		return SheetAnswer{}, false
	}
	l, _ := sheet.OpenLine()
	return AnswerTo(s, sheet, l, who), true
}

// AnswerTo is what a person says to a line where all is as it should be.
func AnswerTo(s State, sheet Sheet, l Line, who PersonID) SheetAnswer {
	a := SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: SaidDone}
	switch l.Kind {
	case LineLook:
		if SetAside(s.Packs[l.Pack]) {
			a.Said = SaidSuspect
		}
	case LineProof:
		if at := s.Event().FailsafeAt; len(at) == 0 || slices.Contains(at, FailsafeOfficials) {
			a.Said = SaidOwed
		}
	case LineNumber:
		a.Number = &l.Most
	case LinePlace:
		for _, id := range ordered(s.Places) {
			if a.Place == "" || s.Places[id].Kind == PlaceCharging {
				a.Place = id
			}
		}
	case LinePack:
		named := map[PackID]bool{}
		for _, l := range sheet.Lines {
			said, _ := sheet.Answered(l.ID)
			named[said.Pack] = true
		}
		for _, pack := range s.Packs {
			in := pack.State == PackCharged || pack.Robot == sheet.Robot
			if in && slices.Contains(pack.Fits, sheet.Robot) && !named[pack.ID] {
				a.Pack = max(a.Pack, pack.ID)
			}
		}
		if a.Pack == "" && l.NotFitted {
			a.Said = SaidNotFitted
		}
	case LineChoice:
		a.Choice = l.Choices[0]
	case LineTold:
		if a.Told = who; sheet.List == ListCloseUp {
			a.Said, a.Told = tells(s, who)
		}
	}
	return a
}

// tells finds someone else whom a person tells that a robot is closed up.
func tells(s State, who PersonID) (Said, PersonID) {
	for _, id := range ordered(s.People) {
		if id != who && !s.People[id].Retired {
			return SaidDone, id
		}
	}
	return SaidAlone, ""
}
