package board

// PrintedSheet is one list of a robot's strip as it is printed for use without
// the board: with the lines that it has now, none of them answered.
type PrintedSheet struct {
	List    SheetList
	Version int
	// Number is that of the sheet that is open on the board, 0 where none is.
	Number int
	Lines  []PrintedLine
}

// PrintedLine is a line with those of the roster who may answer it, by name.
type PrintedLine struct {
	Line
	Who []PersonID
}

// printedPack stands for the pack that will be in a robot that has none now.
const printedPack = PackID("printed")

// Printed writes a robot's whole strip, in its order, in the wording of now: the
// lines of an open sheet where there is one, else those that the next will have.
// Load-in is there where the event asks for it or one is open, reopening while it
// lasts.
func (s State) Printed(robot RobotID) []PrintedSheet {
	r := s.Robots[robot]
	if len(s.packsIn(robot)) == 0 {
		d := newDraft(s)
		d.put(Pack{ID: printedPack, PackFields: PackFields{Name: "________"}, Robot: robot})
		s = d.state
	}
	var sheets []PrintedSheet
	for _, list := range []SheetList{ListLoadIn, ListMakeSafe, ListFirstIn, ListInspect, ListReopen, ListCloseUp, ListReady} {
		p := PrintedSheet{List: list, Version: s.version(list)}
		lines := s.linesOf(r, list)
		sheet, ok := s.Sheet(robot, list)
		open := ok && sheet.State == SheetOpen
		if open {
			p.Version, p.Number, lines = sheet.Version, sheet.Number, sheet.Lines
		}
		if (list == ListReopen && !open) || (list == ListLoadIn && !open && (!s.Event().LoadIn || sheet.State == SheetComplete)) {
			continue
		}
		for _, l := range lines {
			p.Lines = append(p.Lines, PrintedLine{Line: l, Who: s.whoMay(r, list, l)})
		}
		if len(p.Lines) > 0 {
			sheets = append(sheets, p)
		}
	}
	return sheets
}

// whoMay lists who on the roster may answer a line, by name, as far as that is
// known beforehand: who may not verify or sign because of what they did before is
// among them.
func (s State) whoMay(r Robot, list SheetList, l Line) []PersonID {
	var who []PersonID
	for _, person := range Sorted(s.People, func(person Person) string { return person.Name + string(person.ID) }) {
		switch {
		case person.Retired || person.Minor || person.Guest:
		case l.Kind == LineSign && !person.signs(r):
		case list.takesAuthority(l) && !person.AuthorisedFor(r):
		default:
			who = append(who, person.ID)
		}
	}
	return who
}
