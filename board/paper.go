package board

import "slices"

// An answer that was given on paper while the board was down is entered later by
// the person who gave it, one line at a time, with the time written beside it.
// It says what was so then. For an inspection that is enough, as long as the
// robot has not fought since. How power stands now it does not say: on every
// other sheet, and on one that has ended, it is kept as record, and the line is
// answered again (rule 18: what comes late brings nobody nearer to power).

// onPaper enters an answer that was given on paper.
func (c SheetAnswer) onPaper(t *turn, sheet Sheet, l Line, power Power, robot Robot) *Refusal {
	person, bad := t.own(c.Person)
	if bad == nil {
		bad = first(c.written(t), c.fits(t.s(), sheet, l, Power{}), mayAnswerOnPaper(person, robot, sheet, l))
	}
	if bad != nil {
		return bad
	}
	newer, answered := sheet.Answered(l.ID)
	a := c.answer(t.by, person, c.At)
	a.Paper, a.EnteredAt = true, t.now
	a.Record = sheet.State == SheetUnanswered || (answered && newer.At > c.At) || (c.Said != SaidNo && !paperStands(sheet.List))
	if !a.Record && c.Said != SaidNo && c.At <= power.FoughtAt {
		return badField("at", "%s has fought since that was written: it says nothing about how it is now. Look again, then answer again.", robot.Name)
	}
	sheet.Answers = append(slices.Clone(sheet.Answers), a)
	if !a.Record {
		return t.answered(sheet, l, power, robot, person)
	}
	t.put(sheet)
	if c.Said == SaidSuspect {
		return t.moved(a, l, robot)
	}
	return nil
}

// paperStands tells whether an answer on paper answers a line of the list.
func paperStands(list SheetList) bool { return list == ListInspect || list.ofTheEvent() }

// written refuses a time that cannot be the one on the paper.
func (c SheetAnswer) written(t *turn) *Refusal {
	offset := t.s().Event().OffsetMin
	switch {
	case c.At == 0:
		return badField("at", "Enter the time that is written beside the answer on the paper.")
	case c.At > t.now:
		return badField("at", "The time on the paper is still to come. Enter the one that is written there.")
	case c.At.Day(offset) != t.now.Day(offset):
		return breaks(1, "This was answered on paper on another day. Look again today, then answer.")
	}
	return nil
}

// mayAnswerOnPaper says whose answers on paper are entered: of those who may
// answer such a line at all.
func mayAnswerOnPaper(person Person, r Robot, sheet Sheet, l Line) *Refusal {
	switch {
	case person.Minor || person.Guest:
		return breaks(4, "%s is %s and answers no safety line, not even on paper. Ask one of the crew.", person.Name, person.whatIs())
	case l.Kind == LineSign && !person.signs(r):
		return refuse(CodeForbidden, "%s is not a signer and does not lead %s. Enter what a signer signed.", person.Name, r.Name)
	case sheet.List.takesAuthority(l) && !person.AuthorisedFor(r):
		return breaks(4, "%s has no authority for every energy of %s. The captain can give it.", person.Name, r.Name)
	}
	return nil
}
