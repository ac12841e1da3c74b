package board

import "slices"

// SheetList names one of the sheets a robot passes from cart to call.
type SheetList string

// The sheets.
const (
	ListMakeSafe SheetList = "make-safe"
	ListFirstIn  SheetList = "first-in"
	ListInspect  SheetList = "inspect"
	ListCloseUp  SheetList = "close-up"
	ListReopen   SheetList = "reopen"
	ListReady    SheetList = "ready"
	// ListLoadIn is the event's look at a robot when it arrives.
	ListLoadIn SheetList = "load-in"
	// ListOvernight and ListPackUp end a day and an event.
	ListOvernight SheetList = "overnight"
	ListPackUp    SheetList = "pack-up"
)

// SheetState says whether a sheet is being walked.
type SheetState string

// The states of a sheet. One that the robot left behind ends unanswered.
const (
	SheetOpen       SheetState = "open"
	SheetComplete   SheetState = "complete"
	SheetUnanswered SheetState = "unanswered"
)

// Said is what a person answered to a line.
type Said string

// The answers. SaidNo keeps the line open; SaidSuspect sets a pack aside.
const (
	SaidDone      Said = "done"
	SaidNo        Said = "no"
	SaidNotFitted Said = "not-fitted"
	SaidSuspect   Said = "suspect"
	SaidOwed      Said = "owed"
	SaidAlone     Said = "alone" // nobody else was there to be told
)

// LineKind says what an answer carries besides the word.
type LineKind string

// The kinds of line.
const (
	LineDo     LineKind = "do"
	LineLook   LineKind = "look"   // a pack looked at: done or suspect
	LineNumber LineKind = "number" // a value with unit and limits
	LinePlace  LineKind = "place"  // where a pack was put
	LinePack   LineKind = "pack"   // which pack was put in
	LineTold   LineKind = "told"   // who was told
	LineProof  LineKind = "proof"  // done here, or owed to the officials
	LineSign   LineKind = "sign"
	LineChoice LineKind = "choice" // one of several
)

// Line is one question of a sheet.
type Line struct {
	ID   string   `json:"id"`
	Part string   `json:"part"`
	Kind LineKind `json:"kind"`
	// Ask is the question, Touch what to put a hand on while answering.
	Ask   string `json:"ask"`
	Touch string `json:"touch,omitzero"`
	// Say and Not are the words on the two buttons.
	Say string `json:"say"`
	Not string `json:"not,omitzero"`
	// NotFitted tells that "not fitted" is an answer.
	NotFitted bool `json:"notFitted,omitzero"`
	// Verifies tells that the answer says that an energy is really away: a phone has it
	// held, so that no tap on its way to something else gives it.
	Verifies bool       `json:"verifies,omitzero"`
	Covers   []System   `json:"covers,omitempty"`
	Energy   EnergyKind `json:"energy,omitzero"`
	Pack     PackID     `json:"pack,omitzero"`
	Unit     string     `json:"unit,omitzero"`
	// Least and Most are the limits of a figure.
	Least   float64  `json:"least,omitzero"`
	Most    float64  `json:"most,omitzero"`
	Choices []string `json:"choices,omitempty"`
}

// Answer is one person's answer to one line. Answers are appended, never changed.
type Answer struct {
	Line   string   `json:"line"`
	Said   Said     `json:"said"`
	Number float64  `json:"number,omitzero"`
	Place  PlaceID  `json:"place,omitzero"`
	Pack   PackID   `json:"pack,omitzero"`
	Told   PersonID `json:"told,omitzero"`
	Choice string   `json:"choice,omitzero"`
	By     PersonID `json:"by"`
	// On is whose device it was given on, where that is another's.
	On PersonID `json:"on,omitzero"`
	At Moment   `json:"at"`
	// Sure marks a figure that the board asked about and that was said again.
	Sure bool `json:"sure,omitzero"`
	// Standing marks an answer of an earlier sheet that still holds.
	Standing bool `json:"standing,omitzero"`
	// Paper marks an answer first given on paper, at At, and entered at EnteredAt.
	Paper     bool   `json:"paper,omitzero"`
	EnteredAt Moment `json:"enteredAt,omitzero"`
	// Record marks one that is kept and answers nothing: the line is still to be answered.
	Record bool `json:"record,omitzero"`
}

// Sheet is one walk of one list.
type Sheet struct {
	ID SheetID `json:"id"`
	V  Rev     `json:"v"`
	// Number counts a robot's sheets from 1, in the order in which they began.
	Number   int        `json:"number"`
	List     SheetList  `json:"list"`
	Version  int        `json:"version"`
	Robot    RobotID    `json:"robot"`
	State    SheetState `json:"state"`
	OpenedAt Moment     `json:"openedAt"`
	EndedAt  Moment     `json:"endedAt,omitzero"`
	Lines    []Line     `json:"lines"`
	Answers  []Answer   `json:"answers,omitempty"`
}

func (sheet Sheet) Key() Key         { return KeyOf(KindSheet, sheet.ID) }
func (sheet Sheet) Rev() Rev         { return sheet.V }
func (sheet Sheet) stamp(r Rev) Noun { sheet.V = r; return sheet }

func (sheet Sheet) valid(State) *Refusal { return nil }

func sheetOrder(sheet Sheet) string { return string(sheet.Robot) + itoa(1_000_000+sheet.Number) }

// Answered gives the answer that stands for a line; "no" leaves it open, and what
// is record only is passed over.
func (sheet Sheet) Answered(line string) (Answer, bool) {
	for _, a := range slices.Backward(sheet.Answers) {
		if a.Line == line && !a.Record {
			return a, a.Said != SaidNo && !slices.ContainsFunc(sheet.Answers, a.overtaken)
		}
	}
	return Answer{}, false
}

// overtaken tells whether b is a "no" that was said after a: a phone that was
// offline may bring an old answer in late.
func (a Answer) overtaken(b Answer) bool {
	return b.Line == a.Line && b.Said == SaidNo && !b.Record && b.At > a.At
}

// OpenLine is the first line that is not answered; false when there is none.
func (sheet Sheet) OpenLine() (Line, bool) {
	for _, l := range sheet.Lines {
		if _, ok := sheet.Answered(l.ID); !ok {
			return l, true
		}
	}
	return Line{}, false
}

// LineOf is the line of an id; false where the sheet has none of it.
func (sheet Sheet) LineOf(id string) (Line, bool) {
	i := slices.IndexFunc(sheet.Lines, func(l Line) bool { return l.ID == id })
	if i < 0 {
		return Line{}, false
	}
	return sheet.Lines[i], true
}

// partDone tells whether every line of a part is answered.
func (sheet Sheet) partDone(part string) bool {
	for _, l := range sheet.Lines {
		if _, ok := sheet.Answered(l.ID); l.Part == part && !ok {
			return false
		}
	}
	return true
}

// Sheet finds a robot's newest sheet of a list.
func (s State) Sheet(robot RobotID, list SheetList) (Sheet, bool) {
	var newest Sheet
	found := false
	for _, sheet := range s.Sheets {
		if sheet.Robot == robot && sheet.List == list && sheet.Number > newest.Number {
			newest, found = sheet, true
		}
	}
	return newest, found
}

// openLine is the question of a robot's open sheet of a list that waits for an
// answer, or "".
func (t *turn) openLine(robot RobotID, list SheetList) string {
	sheet, ok := t.s().Sheet(robot, list)
	if !ok || sheet.State != SheetOpen {
		return ""
	}
	l, _ := sheet.OpenLine()
	return l.Ask
}

func (t *turn) firstInDone(r Robot) *Refusal {
	if open := t.openLine(r.ID, ListFirstIn); open != "" {
		return breaks(3, "First in on %s: answer this before anything else: %s", r.Name, open)
	}
	return nil
}

func (t *turn) sheetDone(r Robot, list SheetList) *Refusal {
	sheet, ok := t.s().Sheet(r.ID, list)
	if ok && sheet.State == SheetComplete {
		return nil
	}
	open := "it has not been begun"
	if l, ok := sheet.OpenLine(); ok {
		open = l.Ask
	}
	return breaks(3, "The %s sheet of %s is not done: %s", list, r.Name, open)
}

// openSheet begins a robot's sheet with the answers that still stand.
func (t *turn) openSheet(r Robot, list SheetList) { t.beginSheet(r, list, t.stands) }

// beginSheet begins a robot's sheet with the answers of the last one that stand; a
// sheet that owes nothing is complete at once.
func (t *turn) beginSheet(r Robot, list SheetList, stands func(Sheet, Line, Answer) bool) {
	t.endSheets(r.ID, list)
	lines := t.s().linesOf(r, list)
	if len(lines) == 0 {
		return
	}
	sheet := Sheet{
		Number: t.s().lastSheet(r.ID) + 1,
		ID:     SheetID(t.id(KindSheet, string(r.ID)+" "+string(list))), List: list, Version: t.s().version(list),
		Robot: r.ID, State: SheetOpen, OpenedAt: t.now, Lines: lines,
	}
	sheet.Answers = t.standing(sheet, stands)
	if _, open := sheet.OpenLine(); !open {
		sheet.State, sheet.EndedAt = SheetComplete, t.now
	}
	t.put(sheet)
}

// lastSheet is the number of the sheet that a robot got last.
func (s State) lastSheet(robot RobotID) int {
	last := 0
	for _, sheet := range s.Sheets {
		if sheet.Robot == robot {
			last = max(last, sheet.Number)
		}
	}
	return last
}

// endSheets ends a robot's open sheets of the lists unanswered.
func (t *turn) endSheets(robot RobotID, lists ...SheetList) {
	for _, sheet := range Sorted(t.s().Sheets, sheetOrder) {
		if sheet.Robot == robot && sheet.State == SheetOpen && slices.Contains(lists, sheet.List) {
			sheet.State, sheet.EndedAt = SheetUnanswered, t.now
			t.put(sheet)
		}
	}
}
