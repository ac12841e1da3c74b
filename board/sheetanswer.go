package board

import (
	"iter"
	"slices"
)

// SheetAnswer answers one line of a sheet. The last answer of a part moves the
// robot's state by itself.
type SheetAnswer struct {
	Sheet SheetID `json:"sheet"`
	Line  string  `json:"line"`
	Said  Said    `json:"said"`
	// Number is what a gauge or scale reads; a line that asks for it needs it.
	Number *float64 `json:"number,omitzero"`
	Place  PlaceID  `json:"place,omitzero"`
	Pack   PackID   `json:"pack,omitzero"`
	Told   PersonID `json:"told,omitzero"`
	Choice string   `json:"choice,omitzero"`
	// Sure says that the person who read the scale has looked again.
	Sure bool `json:"sure,omitzero"`
	// Person answers on someone else's device, proved by PIN.
	Person PersonID `json:"person,omitzero"`
	// Paper enters what was answered on paper, At the time written there.
	Paper bool   `json:"paper,omitzero"`
	At    Moment `json:"at,omitzero"`
}

// Guards lists none for an answer on paper or a "no": they give nothing back.
func (c SheetAnswer) Guards(s State) []Key {
	sheet, ok := s.Sheets[c.Sheet]
	if !ok || c.Paper || c.Said == SaidNo {
		return nil
	}
	if l, ok := sheet.LineOf(c.Line); ok && (l.Kind == LineSign || l.Part == partVerify) {
		return []Key{KeyOf(KindPower, sheet.Robot), sheet.Key()}
	}
	return nil
}

func (c SheetAnswer) do(t *turn) *Refusal {
	sheet, ok := t.s().Sheets[c.Sheet]
	if !ok {
		return missing("sheet", "sheet")
	}
	l, ok := sheet.LineOf(c.Line)
	if !ok {
		return missing("line on this sheet", "line")
	}
	power, robot, bad := t.power(sheet.Robot)
	if bad != nil {
		return bad
	}
	if c.Paper {
		return c.onPaper(t, sheet, l, power, robot)
	}
	if c.readsWrong(sheet, l, power) {
		c.Said = SaidNo
	}
	if c.At != 0 {
		return badField("at", "A time of its own is for an answer that was given on paper.")
	}
	if sheet.State == SheetUnanswered {
		return refuse(CodeTooLate, "This sheet ended when %s left it. Answer the one that is open now.", robot.Name)
	}
	if power.State.Energised() && c.Said != SaidNo && !t.late() {
		return breaks(7, "%s is %s: hands out until that has ended. Answer it then.", robot.Name, power.State)
	}
	if offset := t.s().Event().OffsetMin; c.Said != SaidNo && t.when.Day(offset) != t.now.Day(offset) {
		return breaks(1, "This was answered before the day began. Look at %s again, then answer again.", robot.Name)
	}
	if c.Said != SaidNo && t.late() && t.when < sheet.OpenedAt-notAtOnce {
		return breaks(2, "This was answered before this sheet began at %s. Look at %s again, then answer again.", t.s().Clock(sheet.OpenedAt), robot.Name)
	}
	person, bad := t.own(c.Person)
	if bad == nil {
		bad = first(c.fits(t.s(), sheet, l, power), c.namedAlready(t.s(), sheet, l), t.inTurn(sheet, l, power, c.Said), t.s().MayAnswer(t.by, person, sheet, l), t.robotAllows(robot, person, sheet, l, c.Said))
	}
	if bad != nil {
		return bad
	}
	a := c.answer(t.by, person, max(t.when, sheet.OpenedAt))
	if l.ID == lineSender {
		a.Pack = t.s().senderNamed(robot, c.Choice)
	}
	sheet.Answers = append(slices.Clone(sheet.Answers), a)
	return t.answered(sheet, l, power, robot, person)
}

// answer is what a person said at a moment, on their own device or another's.
func (c SheetAnswer) answer(by Actor, person Person, at Moment) Answer {
	a := Answer{Line: c.Line, Said: c.Said, Place: c.Place, Pack: c.Pack, Told: c.Told, Choice: c.Choice, Sure: c.Sure, By: person.ID, At: at}
	if c.Number != nil {
		a.Number = *c.Number
	}
	if by.Person != person.ID {
		a.On = by.Person
	}
	return a
}

// fits refuses an answer that the line does not take.
func (c SheetAnswer) fits(s State, sheet Sheet, l Line, power Power) *Refusal {
	takes := []Said{SaidDone, SaidNo}
	if l.NotFitted {
		takes = append(takes, SaidNotFitted)
	}
	switch l.Kind {
	case LineLook:
		takes = []Said{SaidDone, SaidSuspect}
	case LineProof:
		if s.MayOweFailsafe() {
			takes = append(takes, SaidOwed)
		}
	case LineTold:
		if l.Part == partCloseUp {
			takes = append(takes, SaidAlone)
		}
	}
	if bad := oneOf("said", c.Said, takes...); bad != nil {
		return bad
	}
	if c.Choice != "" && l.Kind != LineChoice {
		return badField("choice", "There is nothing to choose on this line. Answer it with its own words.")
	}
	if c.Said != SaidDone {
		return nil
	}
	switch l.Kind {
	case LinePlace:
		if c.Place == "" {
			return badField("place", "Say where it is now.")
		}
		if _, ok := s.Places[c.Place]; !ok {
			return missing("place", "place")
		}
	case LinePack:
		if c.Pack == "" {
			return badField("pack", "Say which pack is in, by its name.")
		}
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
		if c.readsWrong(sheet, l, power) {
			return nil
		}
		return c.inLimits(l)
	}
	return nil
}

// readsWrong tells whether a gauge reads what it must not while the robot rests on its
// answer. That is a fact, and is heard as the line's "no".
func (c SheetAnswer) readsWrong(sheet Sheet, l Line, power Power) bool {
	_, answered := sheet.Answered(l.ID)
	return l.Kind == LineNumber && l.Unit != massUnit && c.Said == SaidDone && c.Number != nil && *c.Number >= 0 && c.inLimits(l) != nil &&
		answered && power.restsOn(sheet, l)
}

// namedAlready refuses a pack that another line of the sheet names.
func (c SheetAnswer) namedAlready(s State, sheet Sheet, l Line) *Refusal {
	for _, o := range sheet.Lines {
		a, ok := sheet.Answered(o.ID)
		if ok && o.ID != l.ID && o.Kind == LinePack && l.Kind == LinePack && c.Said == SaidDone && a.Pack == c.Pack {
			return badField("pack", "Pack %s is named on this sheet already. Say which the other one is.", s.Packs[c.Pack].Name)
		}
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
	case l.Unit == massUnit && l.Most == 0:
		return badField("number", "Nobody has said its class and limit yet. The captain enters them, then it is weighed.")
	case l.Unit == massUnit && n == 0:
		return badField("number", "Type what the scale reads, in grams.")
	case l.Unit == massUnit && n > l.Most:
		digits := 1
		if n-l.Most < 0.05 {
			digits = 3
		}
		return badField("number", "%.*f g read, the limit is %.*f g: over by %.*f g.", digits, n, digits, l.Most, digits, max(n-l.Most, 0.001))
	case l.Unit != massUnit && l.Most == 0 && n != 0:
		return badField("number", "It must read 0 %s, and reads %g. Bleed it first, then answer.", l.Unit, n)
	}
	return nil
}

// newAnswers are the answers that this command added, each with its sheet, in the
// order of the sheets' keys.
func (t *turn) newAnswers() iter.Seq2[Sheet, Answer] {
	return func(yield func(Sheet, Answer) bool) {
		for _, key := range sortedKeys(t.did) {
			k, id := key.Split()
			if k != KindSheet {
				continue
			}
			was, is := t.before.Sheets[SheetID(id)], t.s().Sheets[SheetID(id)]
			for _, a := range is.Answers[min(len(was.Answers), len(is.Answers)):] {
				if !yield(is, a) {
					return
				}
			}
		}
	}
}

// rule7Told takes for told someone else than the one who answers, or that nobody else
// was there, where nobody else is on the robot.
func rule7Told(t *turn) *Refusal {
	for is, a := range t.newAnswers() {
		l, _ := is.LineOf(a.Line)
		if l.Kind != LineTold || l.Part != partCloseUp || a.Standing {
			continue
		}
		if a.Said == SaidAlone && !a.Record {
			if who := t.s().othersNear(is.Robot, a.By); len(who) > 0 {
				return breaks(7, "%s still on %s: you are not alone there. Tell them, and say whom you told.", isAre(who), t.s().Robots[is.Robot].Name)
			}
		}
		if a.Said != SaidDone {
			continue
		}
		switch told := t.s().People[a.Told]; {
		case told.ID == a.By:
			return breaks(7, "%s closed it up and knows. Say who else at the bench was told, or that nobody else was there.", told.Name)
		case told.ID == "" || told.Retired:
			return breaks(7, "Say who at the bench was told, by name, or that nobody else was there.")
		}
	}
	return nil
}

// inTurn keeps the parts of a sheet in their order, and what is said of a robot as a whole
// behind what it is about.
func (t *turn) inTurn(sheet Sheet, l Line, power Power, said Said) *Refusal {
	earlier := true
	for _, o := range sheet.Lines {
		earlier = earlier && o.Part != l.Part
		if _, ok := sheet.Answered(o.ID); !ok && (earlier || said != SaidNo && l.waitsFor(o)) {
			return breaks(3, "This comes first: %s", o.Ask)
		}
	}
	if l.Part == partVerify && power.State != Isolated && sheet.State == SheetOpen {
		return breaks(4, "Verifying comes after isolating, as a step of its own.")
	}
	return nil
}

// takesAuthority tells whether a line of a list is for people with authority for every
// energy of the robot.
func (list SheetList) takesAuthority(l Line) bool {
	switch list {
	case ListMakeSafe, ListReopen, ListFirstIn:
		return true
	case ListInspect:
		return false
	}
	return !list.ofTheEvent() && l.holds()
}

// holds tells whether a line says that what holds a robot still is in its place: its lock
// or its link.
func (l Line) holds() bool {
	return slices.Contains(l.Covers, SysLock) || slices.Contains(l.Covers, SysLink)
}

// Isolated tells whether a person answered any line of the sheet that isolates an
// energy: a link, a lock, a line of the isolate part.
func (sheet Sheet) Isolated(p PersonID) bool {
	return slices.ContainsFunc(sheet.Lines, func(l Line) bool {
		a, ok := sheet.Answered(l.ID)
		return ok && !a.Standing && a.By == p && l.Part != partVerify && (l.Part == partIsolate || l.Energy != "")
	})
}

// rule4 lets only someone with authority for each energy say that isolation
// holds, and only as a step after isolating.
func rule4(t *turn) *Refusal {
	for is, a := range t.newAnswers() {
		l, _ := is.LineOf(a.Line)
		if l.Part == partVerify && !a.Standing && a.Said != SaidNo && !t.s().People[a.By].AuthorisedFor(t.s().Robots[is.Robot]) {
			return breaks(4, "Verifying takes authority for every energy of %s.", t.s().Robots[is.Robot].Name)
		}
		if is.List.takesAuthority(l) && !a.Standing && !a.Record && a.Said != SaidNo && !t.s().People[a.By].AuthorisedFor(t.s().Robots[is.Robot]) {
			return breaks(4, "That takes authority for every energy of %s: %s", t.s().Robots[is.Robot].Name, l.Ask)
		}
	}
	for _, path := range t.path {
		if slices.Contains(path, Isolated) && slices.Contains(path, Verified) {
			return breaks(4, "Verifying comes after isolating, as a step of its own.")
		}
	}
	return nil
}

// MayAnswer says whether a line is the person's to answer, whatever its robot still
// lacks for it. The actor is who brings the answer.
func (s State) MayAnswer(by Actor, person Person, sheet Sheet, l Line) *Refusal {
	if bad := s.MayEverAnswer(by, person, sheet, l); bad != nil {
		return bad
	}
	if _, on := s.TagOf(sheet.Robot, person.ID); sheet.List == ListFirstIn && !on {
		return breaks(3, "The first-in lines are for the person whose tag is on. Put your tag on first.")
	}
	return nil
}

// MayEverAnswer is MayAnswer for a line that is not due yet: a tag may still go on.
func (s State) MayEverAnswer(by Actor, person Person, sheet Sheet, l Line) *Refusal {
	r := s.Robots[sheet.Robot]
	if len(r.Energies) == 0 {
		return breaks(3, "Nobody has said which energies %s has. The captain enters them before anyone works on it.", r.Name)
	}
	if person.Minor || person.Guest {
		return breaks(4, "%s is %s and answers no safety line. Ask one of the crew.", person.Name, person.whatIs())
	}
	switch {
	case l.Kind == LineSign:
		return s.maySign(by, person, r)
	case sheet.List.ofTheEvent():
		return nil
	case sheet.List.takesAuthority(l) && !person.AuthorisedFor(r):
		return breaks(4, "%s has no authority for every energy of %s. The captain can give it.", person.Name, r.Name)
	}
	if l.Part == partVerify && r.SecondVerifier && s.isolated(sheet, person.ID) {
		return breaks(4, "%s wants a second person to verify: not %s, who isolated it. %s", r.Name, person.Name, s.secondFor(r, sheet))
	}
	return nil
}

// isolated tells whether a person isolated any of what a robot's sheet asks.
func (s State) isolated(sheet Sheet, person PersonID) bool {
	return person == s.Powers[sheet.Robot].IsolatedBy || sheet.Isolated(person)
}

// secondFor names who may verify as the second person, or else the way on.
func (s State) secondFor(r Robot, sheet Sheet) string {
	var may, both []string
	last := s.People[s.Powers[r.ID].IsolatedBy]
	for _, person := range Sorted(s.People, func(person Person) string { return person.Name + string(person.ID) }) {
		switch {
		case !person.AuthorisedFor(r) || person.ID == last.ID:
		case s.isolated(sheet, person.ID):
			both = append(both, person.Name)
		default:
			may = append(may, person.Name)
		}
	}
	switch {
	case len(may) > 0:
		return "Ask " + listOr(may) + "."
	case len(both) > 0 && last.ID == "":
		return "Everyone with authority isolated some of it: the captain gives authority to someone else on the roster."
	case len(both) > 0:
		return "Everyone with authority isolated some of it: " + last.Name + " answers again, after a look, what " + both[0] + " answered of that; then " + both[0] + " verifies."
	}
	return "Nobody else has authority for every energy of it: the captain gives it to someone else on the roster."
}

// robotAllows says what the robot lacks for a line that is the person's to answer.
func (t *turn) robotAllows(r Robot, person Person, sheet Sheet, l Line, said Said) *Refusal {
	switch {
	case l.Kind == LineSign:
		return t.readyToSign(r)
	case sheet.List == ListMakeSafe && l.Kind == LineLook && said == SaidDone && t.s().Packs[l.Pack].State.setAside():
		return hasAside(13, t.s().Packs[l.Pack], r)
	case sheet.List == ListMakeSafe && said != SaidNo && said != SaidSuspect && t.s().handsOff(r) != nil:
		return t.s().handsOff(r)
	case l.Kind == LineProof && said == SaidDone:
		return t.s().unproven(r, l)
	case sheet.List == ListFirstIn && sheet.State == SheetOpen && len(t.s().tagsOn(r.ID)) > 1:
		return breaks(3, "Only one tag may be on %s while this is answered. First off: %s, each by its owner, on their own phone or here with their PIN. If one cannot be reached, two people override it.", r.Name, t.s().othersTags(r.ID, person.ID))
	}
	return nil
}
