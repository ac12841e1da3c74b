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
	NotFitted bool       `json:"notFitted,omitzero"`
	Covers    []System   `json:"covers,omitempty"`
	Energy    EnergyKind `json:"energy,omitzero"`
	Pack      PackID     `json:"pack,omitzero"`
	Unit      string     `json:"unit,omitzero"`
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
	At     Moment   `json:"at"`
	// Standing marks an answer of an earlier sheet that still holds.
	Standing bool `json:"standing,omitzero"`
	// Paper marks an answer first given on paper, at At, and entered at EnteredAt.
	Paper     bool   `json:"paper,omitzero"`
	EnteredAt Moment `json:"enteredAt,omitzero"`
	// Record marks one that is kept and answers nothing: the line is answered anew.
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

func (h Sheet) Key() Key         { return KeyOf(KindSheet, h.ID) }
func (h Sheet) Rev() Rev         { return h.V }
func (h Sheet) stamp(r Rev) Noun { h.V = r; return h }

func (h Sheet) valid(State) *Refusal { return nil }

func sheetOrder(h Sheet) string { return string(h.Robot) + itoa(1_000_000+h.Number) }

// Answered gives the answer that stands for a line; "no" leaves it open, and what
// is record only is passed over.
func (h Sheet) Answered(line string) (Answer, bool) {
	for _, a := range slices.Backward(h.Answers) {
		if a.Line == line && !a.Record {
			return a, a.Said != SaidNo && !slices.ContainsFunc(h.Answers, a.overtaken)
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
func (h Sheet) OpenLine() (Line, bool) {
	for _, l := range h.Lines {
		if _, ok := h.Answered(l.ID); !ok {
			return l, true
		}
	}
	return Line{}, false
}

func (h Sheet) line(id string) (Line, bool) {
	i := slices.IndexFunc(h.Lines, func(l Line) bool { return l.ID == id })
	if i < 0 {
		return Line{}, false
	}
	return h.Lines[i], true
}

// partDone tells whether every line of a part is answered.
func (h Sheet) partDone(part string) bool {
	for _, l := range h.Lines {
		if _, ok := h.Answered(l.ID); l.Part == part && !ok {
			return false
		}
	}
	return true
}

// Sheet finds a robot's newest sheet of a list.
func (s State) Sheet(robot RobotID, list SheetList) (Sheet, bool) {
	var newest Sheet
	found := false
	for _, h := range s.Sheets {
		if h.Robot == robot && h.List == list && h.Number > newest.Number {
			newest, found = h, true
		}
	}
	return newest, found
}

// openLine is the question of a robot's open sheet of a list that waits for an
// answer, or "".
func (t *turn) openLine(robot RobotID, list SheetList) string {
	h, ok := t.s().Sheet(robot, list)
	if !ok || h.State != SheetOpen {
		return ""
	}
	l, _ := h.OpenLine()
	return l.Ask
}

func (t *turn) firstInDone(r Robot) *Refusal {
	if open := t.openLine(r.ID, ListFirstIn); open != "" {
		return breaks(3, "First in on %s: answer this before anything else: %s", r.Name, open)
	}
	return nil
}

func (t *turn) sheetDone(r Robot, list SheetList) *Refusal {
	h, ok := t.s().Sheet(r.ID, list)
	if ok && h.State == SheetComplete {
		return nil
	}
	open := "it has not been begun"
	if l, ok := h.OpenLine(); ok {
		open = l.Ask
	}
	return breaks(3, "The %s sheet of %s is not done: %s", list, r.Name, open)
}

// openSheet begins a robot's sheet with the answers that still stand; one that
// owes nothing is complete at once.
func (t *turn) openSheet(r Robot, list SheetList) {
	t.endSheets(r.ID, list)
	lines := t.s().linesOf(r, list)
	if len(lines) == 0 {
		return
	}
	h := Sheet{
		Number: t.s().lastSheet(r.ID) + 1,
		ID:     SheetID(t.id(KindSheet, string(r.ID)+" "+string(list))), List: list, Version: t.s().version(list),
		Robot: r.ID, State: SheetOpen, OpenedAt: t.now, Lines: lines,
	}
	h.Answers = t.standing(h)
	if _, open := h.OpenLine(); !open {
		h.State, h.EndedAt = SheetComplete, t.now
	}
	t.put(h)
}

// lastSheet is the number of the sheet that a robot got last.
func (s State) lastSheet(robot RobotID) int {
	last := 0
	for _, h := range s.Sheets {
		if h.Robot == robot {
			last = max(last, h.Number)
		}
	}
	return last
}

// endSheets ends a robot's open sheets of the lists unanswered.
func (t *turn) endSheets(robot RobotID, lists ...SheetList) {
	for _, h := range sortedBy(t.s().Sheets, sheetOrder) {
		if h.Robot == robot && h.State == SheetOpen && slices.Contains(lists, h.List) {
			h.State, h.EndedAt = SheetUnanswered, t.now
			t.put(h)
		}
	}
}

// SheetAnswer answers one line of a sheet. The last answer of a part moves the
// robot's state by itself.
type SheetAnswer struct {
	Sheet SheetID `json:"sheet"`
	Line  string  `json:"line"`
	Said  Said    `json:"said"`
	// Number is what a gauge or scale reads; without it such a line is not answered.
	Number *float64 `json:"number,omitzero"`
	Place  PlaceID  `json:"place,omitzero"`
	Pack   PackID   `json:"pack,omitzero"`
	Told   PersonID `json:"told,omitzero"`
	Choice string   `json:"choice,omitzero"`
	// Person answers on someone else's device, proved by PIN.
	Person PersonID `json:"person,omitzero"`
	// Paper enters what was answered on paper, At the time written there.
	Paper bool   `json:"paper,omitzero"`
	At    Moment `json:"at,omitzero"`
}

// Guards lists none for an answer on paper: it gives nothing back.
func (c SheetAnswer) Guards(s State) []Key {
	h, ok := s.Sheets[c.Sheet]
	if !ok || c.Paper {
		return nil
	}
	if l, ok := h.line(c.Line); ok && (l.Kind == LineSign || l.Part == partVerify) {
		return []Key{KeyOf(KindPower, h.Robot), h.Key()}
	}
	return nil
}

func (c SheetAnswer) do(t *turn) *Refusal {
	h, ok := t.s().Sheets[c.Sheet]
	if !ok {
		return missing("sheet", "sheet")
	}
	l, ok := h.line(c.Line)
	if !ok {
		return missing("line on this sheet", "line")
	}
	w, robot, r := t.power(h.Robot)
	if r != nil {
		return r
	}
	if c.Paper {
		return c.onPaper(t, h, l, w, robot)
	}
	if c.At != 0 {
		return badField("at", "A time of its own is for an answer that was given on paper.")
	}
	if h.State == SheetUnanswered {
		return refuse(CodeTooLate, "This sheet ended when %s left it. Answer the one that is open now.", robot.Name)
	}
	if w.State.energised() && c.Said != SaidNo && !t.late() {
		return breaks(7, "%s is %s: hands out until that has ended. Answer it then.", robot.Name, w.State)
	}
	if offset := t.s().Event().OffsetMin; c.Said != SaidNo && t.when.Day(offset) != t.now.Day(offset) {
		return breaks(1, "This was answered before the day began. Look at %s again and answer anew.", robot.Name)
	}
	p, r := t.own(c.Person)
	if r == nil {
		r = first(c.fits(t.s(), l), t.inTurn(h, l, w), t.mayAnswer(p, robot, h, l, w))
	}
	if r != nil {
		return r
	}
	h.Answers = append(slices.Clone(h.Answers), c.answer(p, t.when))
	return t.answered(h, l, w, robot, p)
}

// answer is what p said at a moment.
func (c SheetAnswer) answer(p Person, at Moment) Answer {
	a := Answer{Line: c.Line, Said: c.Said, Place: c.Place, Pack: c.Pack, Told: c.Told, Choice: c.Choice, By: p.ID, At: at}
	if c.Number != nil {
		a.Number = *c.Number
	}
	return a
}

// fits refuses an answer that the line does not take.
func (c SheetAnswer) fits(s State, l Line) *Refusal {
	takes := []Said{SaidDone, SaidNo}
	if l.NotFitted {
		takes = append(takes, SaidNotFitted)
	}
	switch l.Kind {
	case LineLook:
		takes = []Said{SaidDone, SaidSuspect}
	case LineProof:
		if slices.Contains(s.Event().FailsafeAt, FailsafeOfficials) {
			takes = append(takes, SaidOwed)
		}
	}
	if r := oneOf("said", c.Said, takes...); r != nil || c.Said != SaidDone {
		return r
	}
	switch l.Kind {
	case LinePlace:
		if _, ok := s.Places[c.Place]; !ok {
			return missing("place", "place")
		}
	case LinePack:
		if _, ok := s.Packs[c.Pack]; !ok {
			return missing("pack", "pack")
		}
	case LineTold:
		if _, ok := s.People[c.Told]; !ok {
			return badField("told", "Say who was told, by name.")
		}
	case LineChoice:
		if !slices.Contains(l.Choices, c.Choice) {
			return badField("choice", "Choose one of these: %s.", listOr(l.Choices))
		}
	case LineNumber:
		return c.inLimits(l)
	}
	return nil
}

func (c SheetAnswer) inLimits(l Line) *Refusal {
	if c.Number == nil {
		return badField("number", "Type what it reads, in %s.", l.Unit)
	}
	switch n := *c.Number; {
	case n < 0:
		return badField("number", "The figure cannot be below 0.")
	case n < l.Least || (l.Unit != massUnit && l.Most > 0 && n > l.Most):
		return badField("number", "It must read from %g to %g %s, and reads %g. Put it right first, then answer.", l.Least, l.Most, l.Unit, n)
	case l.Unit == massUnit && n == 0:
		return badField("number", "Type what the scale reads, in grams.")
	case l.Unit == massUnit && n > l.Most:
		return badField("number", "%.1f g read, the limit is %.1f g: over by %.1f g.", n, l.Most, n-l.Most)
	case l.Unit != massUnit && l.Most == 0 && n != 0:
		return badField("number", "It must read 0 %s, and reads %g. Bleed it first, then answer.", l.Unit, n)
	}
	return nil
}

// inTurn keeps the parts of a sheet in their order.
func (t *turn) inTurn(h Sheet, l Line, w Power) *Refusal {
	for _, o := range h.Lines {
		if o.Part == l.Part {
			break
		}
		if _, ok := h.Answered(o.ID); !ok {
			return breaks(3, "This comes first: %s", o.Ask)
		}
	}
	if l.Part == partVerify && w.State != Isolated && h.State == SheetOpen {
		return breaks(4, "Verifying comes after isolating, as a step of its own.")
	}
	return nil
}

// authorityFor tells whether the lines of a list are for people with authority
// for every energy of the robot.
func authorityFor(list SheetList) bool {
	return list == ListMakeSafe || list == ListReopen || list == ListFirstIn
}

// Isolated tells whether a person answered any line of the sheet that isolates an
// energy: a link, a lock, a line of the isolate part.
func (h Sheet) Isolated(p PersonID) bool {
	return slices.ContainsFunc(h.Lines, func(l Line) bool {
		a, ok := h.Answered(l.ID)
		return ok && !a.Standing && a.By == p && l.Part != partVerify && (l.Part == partIsolate || l.Energy != "")
	})
}

// mayAnswer says who may answer which line.
func (t *turn) mayAnswer(p Person, r Robot, h Sheet, l Line, w Power) *Refusal {
	if len(r.Energies) == 0 {
		return breaks(3, "%s has no list of energies. Its lead enters which it has, before anyone works on it.", r.Name)
	}
	if p.Minor || p.Guest {
		return breaks(4, "%s is a minor or guest on the roster and answers no safety line. Ask one of the crew.", p.Name)
	}
	switch {
	case l.Kind == LineSign:
		return t.maySign(p, r)
	case h.List == ListLoadIn:
		return nil
	case authorityFor(h.List):
		if !p.authorisedFor(r) {
			return breaks(4, "%s has no authority for every energy of %s. The captain can give it.", p.Name, r.Name)
		}
	}
	if l.Part == partVerify && r.SecondVerifier && (p.ID == w.IsolatedBy || h.Isolated(p.ID)) {
		return breaks(4, "%s wants a second person to verify: not %s, who isolated it.", r.Name, p.Name)
	}
	if h.List == ListFirstIn {
		if _, on := t.s().tagOf(r.ID, p.ID); !on {
			return breaks(3, "First in is for the one whose tag is on. Put your tag on first.")
		}
		if h.State == SheetOpen && len(t.s().tagsOn(r.ID)) > 1 {
			return breaks(3, "Only one tag may be on %s while this is answered: the others take theirs off first.", r.Name)
		}
	}
	return nil
}
