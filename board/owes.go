package board

import (
	"slices"
	"strings"
)

// JobOwes is one thing that a finished job waits for before it closes.
type JobOwes struct {
	Says string `json:"says"`
	// Sheet is the sheet it waits for, Line a line of it that is answered again for Pack;
	// without a sheet Pack is to be placed. Looks lists who may look at the work again.
	// None of them is set where no answer would do now.
	Sheet SheetID    `json:"sheet,omitzero"`
	Line  string     `json:"line,omitzero"`
	Pack  PackID     `json:"pack,omitzero"`
	Looks []PersonID `json:"looks,omitempty"`
}

// Owes lists what a finished job waits for before it closes.
func (s State) Owes(j Job, now Moment) []JobOwes {
	var owed []JobOwes
	uncovered, packIn := s.uncoveredWork(j, now), s.packInWork(j, now)
	if says := spaced(uncovered, packIn); says != "" {
		owed = append(owed, JobOwes{Says: spaced(says, s.looksAgain(j)), Looks: s.whoLooksAgain(j)})
	}
	if bad := s.guardOpen(j); bad != nil {
		due := s.guardDue(j)
		due.Says = bad.Sentence
		owed = append(owed, due)
	}
	return owed
}

// quoteOwed ends a refusal about a finished job with what the job owes, but for what it
// says already.
func (s State) quoteOwed(bad *Refusal, now Moment) {
	j, ok := s.Jobs[bad.Job]
	if !ok || j.State != JobFinished {
		return
	}
	for _, owed := range s.Owes(j, now) {
		for says := range strings.SplitAfterSeq(owed.Says, ". ") {
			if says = strings.TrimSpace(says); !strings.Contains(bad.Sentence, says) {
				bad.Sentence = spaced(bad.Sentence, says)
			}
		}
	}
}

// uncovered is rule 8 for one job.
func (s State) uncovered(j Job, now Moment) *Refusal {
	if says := s.uncoveredWork(j, now); says != "" {
		return breaks(8, "%s %s", says, s.looksAgain(j)).of(j)
	}
	return nil
}

// packWasIn is rule 9 for one job.
func (s State) packWasIn(j Job, now Moment) *Refusal {
	if says := s.packInWork(j, now); says != "" {
		return breaks(9, "%s %s", says, s.looksAgain(j)).of(j)
	}
	return nil
}

// uncoveredWork says which work on a job no lockout covered, "" where all was. What
// came late from a phone counts as covered only where that person's own tag or hands
// near was on through it.
func (s State) uncoveredWork(j Job, now Moment) string {
	name := s.Robots[j.Robot].Name
	for _, st := range j.Stints {
		if !s.fixOf(j, st).Lockout || st.seenBy(j.lookedAt()) {
			continue
		}
		if !st.coveredBy(s.Powers[j.Robot].Covered, now) {
			return "Job " + itoa(j.Number) + " was worked on while " + name + " was not locked out."
		}
		if st.Late != 0 && !st.coveredBy(s.OwnCover(j.Robot, st.By), now) {
			return s.People[st.By].Name + "'s work on job " + itoa(j.Number) + " came late, and neither their tag nor their hands near was on " + name + " through it."
		}
	}
	return ""
}

// packInWork says that a job was worked on with a pack in its robot that had to be out.
// Until the board heard that work had ended, a pack that went in went in beside it.
func (s State) packInWork(j Job, now Moment) string {
	for _, st := range j.Stints {
		heard := st.Span
		if heard.To != 0 {
			heard.To = max(heard.To, st.Late)
		}
		if s.fixOf(j, st).PackOut && !st.seenBy(j.lookedAt()) && !heard.coveredBy(s.Powers[j.Robot].PackOut, now) {
			return "Job " + itoa(j.Number) + " was worked on while a pack was in " + s.Robots[j.Robot].Name + " or had no place on the board."
		}
	}
	return ""
}

func (s State) fixOf(j Job, st Stint) Fix {
	if st.Fix < len(j.Fixes) {
		return j.Fixes[st.Fix]
	}
	return j.Fix()
}

// guardOpen is rule 10 for one job: the make-safe and first-in lines of weapon
// power that are due, and the packs that came back.
func (s State) guardOpen(j Job) *Refusal {
	name, power := s.Robots[j.Robot].Name, s.Powers[j.Robot]
	if !slices.Contains([]PowerState{Verified, Work, ClosingUp, Ready}, power.State) {
		return breaks(10, "Job %d closes when %s, which is %s, has been made safe and verified.", j.Number, name, power.State).of(j)
	}
	if sheet, ok := s.Sheet(j.Robot, ListFirstIn); ok && sheet.State == SheetOpen {
		l, _ := sheet.OpenLine()
		if power.State == Verified && l.Kind == LinePlace {
			return breaks(10, "Job %d closes when this is answered: %s If the covers stay on, close %s up instead and answer for the pack there.", j.Number, l.Ask, name).of(j)
		}
		return breaks(10, "Job %d closes when this is answered: %s", j.Number, l.Ask).of(j)
	}
	p, ok := s.cameBack(j.Robot)
	switch {
	case !ok:
		return nil
	case power.State == ClosingUp:
		answer := "answer its line of closing up again"
		if p.Unread {
			answer = "read its cells, then " + answer
		}
		return breaks(10, "Job %d closes when someone answers for pack %s, which came back in %s. If it is in and strapped, %s. If not, open %s again and take it out.", j.Number, p.Name, name, answer, name).of(j)
	}
	return breaks(10, "Job %d closes when pack %s, which came back in %s, has a place or is set aside.", j.Number, p.Name, name).of(j)
}

// guardDue is where what rule 10 waits for is said: a line, or the place of a pack.
func (s State) guardDue(j Job) JobOwes {
	for _, list := range []SheetList{ListMakeSafe, ListFirstIn} {
		if sheet, ok := s.Sheet(j.Robot, list); ok && sheet.State == SheetOpen {
			return JobOwes{Sheet: sheet.ID}
		}
	}
	p, ok := s.cameBack(j.Robot)
	if !ok {
		return JobOwes{}
	}
	if sheet, up := s.Sheet(j.Robot, ListCloseUp); up && s.Powers[j.Robot].State == ClosingUp {
		if line := sheet.packLine(p.ID); line != "" {
			return JobOwes{Sheet: sheet.ID, Line: line, Pack: p.ID}
		}
	}
	return JobOwes{Pack: p.ID}
}

// packLine is the line of closing up on which a pack is named: the one that names it
// already, else the last that names none, else the last; "" where there is none.
func (sheet Sheet) packLine(pack PackID) string {
	line, free := "", false
	for _, l := range sheet.Lines {
		a, answered := sheet.Answered(l.ID)
		switch {
		case l.Kind != LinePack:
		case answered && a.Pack == pack:
			return l.ID
		case a.Pack == "" || !free:
			line, free = l.ID, a.Pack == ""
		}
	}
	return line
}

// cameBack is the first pack in a robot that came back in it and is not placed since.
func (s State) cameBack(robot RobotID) (Pack, bool) {
	for _, p := range s.packsIn(robot) {
		if p.CameBack {
			return p, true
		}
	}
	return Pack{}, false
}

// rule8, rule9 and rule10 keep a job from closing with something owed.
func rule8(t *turn) *Refusal { return t.closing(t.s().uncoveredNow(t.now)) }

func rule9(t *turn) *Refusal {
	return t.closing(func(j Job) *Refusal { return t.s().packWasIn(j, t.now) })
}

func rule10(t *turn) *Refusal { return t.closing(t.s().guardOpen) }

func (s State) uncoveredNow(now Moment) func(Job) *Refusal {
	return func(j Job) *Refusal { return s.uncovered(j, now) }
}

// closing asks check of every job that this command closes.
func (t *turn) closing(check func(Job) *Refusal) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindJob {
			continue
		}
		was, is := t.before.Jobs[JobID(id)], t.s().Jobs[JobID(id)]
		if is.State == JobClosed && was.State != JobClosed {
			if bad := check(is); bad != nil {
				return bad
			}
		}
	}
	return nil
}
