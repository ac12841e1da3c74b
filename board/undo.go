package board

import "strings"

// Undo takes back a command that its author gave within the last ten minutes,
// unless someone has changed the same nouns since. A safety answer is never
// undone: a new answer corrects it.
type Undo struct {
	Command CommandID `json:"command"`
}

func (c Undo) do(t *turn) *Refusal {
	d, ok := t.s().done(c.Command)
	if !ok {
		return refuse(CodeTooLate, "There is nothing to take back: the board refused that, or it is more than ten minutes old.")
	}
	if d.At > t.now || t.now-d.At > undoFor {
		return refuse(CodeTooLate, "Only what was done in the last ten minutes can be taken back.")
	}
	if d.By != t.by.Person || d.Role != t.by.Role {
		return refuse(CodeForbidden, "Only the person who did it can take it back.")
	}
	if d.Final {
		return &Refusal{Code: CodeSafety, Rule: 21, Sentence: "This cannot be taken back: it stays in the record. Enter what holds now, as a new entry."}
	}
	if bad := t.mayTakeBack(d); bad != nil {
		return bad
	}
	t.undoing = true
	for _, key := range d.Made {
		if !d.about(key) {
			continue
		}
		if n, ok := t.s().Get(key); !ok || n.Rev() != d.Rev {
			return changedSince(key)
		}
		t.del(key)
	}
	for _, was := range d.Was {
		if !d.about(was.Key()) {
			continue
		}
		if n, ok := t.s().Get(was.Key()); ok && n.Rev() != d.Rev {
			return changedSince(was.Key())
		}
		t.put(t.asItWas(was))
	}
	t.neverFought(d)
	return first(t.leaned(), t.asksLess(d))
}

// asItWas is a noun as it was, where it is a job that was closed as one that is
// finished: it closes by itself if what it owes holds still. No look at a damage comes
// back: whoever looked saw what was there then.
func (t *turn) asItWas(was Noun) Noun {
	switch n := was.(type) {
	case Job:
		if n.State == JobClosed {
			n.State, n.ClosedAt = JobFinished, 0
		}
		return n
	case Damage:
		if n.Looked != t.s().Damages[n.ID].Looked {
			n.Looked = Reinspection{}
		}
		return n
	}
	return was
}

// asksLess refuses an undo after which a job would ask less than it did, or a must be
// gone, but for a slip: that is for authority, by hand and with a reason.
func (t *turn) asksLess(d Done) *Refusal {
	if t.now-d.At <= slipFor {
		return nil
	}
	for id, was := range inOrder(t.before.Jobs) {
		is, ok := t.s().Jobs[id]
		if !ok {
			is = was
			is.State = JobDropped
		}
		for _, l := range t.loosens(was, is) {
			return breaks(l.rule, "Job %d would ask less: %s. It cannot be taken back any more: the robot's lead, the captain or event safety changes it by hand, with a reason.", was.Number, l.what).of(was)
		}
	}
	return nil
}

// startUndoFor is how long the start of work can be taken back: longer, and hands were
// on it.
const startUndoFor = minute

// mayTakeBack refuses to take back work, and what a robot was signed over.
func (t *turn) mayTakeBack(d Done) *Refusal {
	switch d.Do {
	case "job.start", "job.resume", "job.join":
		if t.now-d.At > startUndoFor {
			return refuse(CodeTooLate, "A start can be taken back for one minute. After that leave the job, hold it or finish it.")
		}
	case "job.finish", "job.hold", "job.leave":
		for _, n := range d.Was {
			j, ok := n.(Job)
			if power := t.s().Powers[j.Robot]; ok && j.Fix().Where != OffRobot && power.State.Energised() {
				return breaks(7, "%s is %s: nobody is at work on it again. If your hands are still on it, mark hands near, which makes it unknown.", t.s().Robots[j.Robot].Name, power.State)
			}
		}
	}
	robots := map[RobotID]bool{}
	about := func(n Noun) {
		switch n := n.(type) {
		case Job:
			robots[n.Robot] = d.about(n.Key())
		case Damage:
			robots[n.Robot] = d.about(n.Key())
		}
	}
	for _, was := range d.Was {
		about(was)
	}
	for _, key := range d.Made {
		if n, ok := t.s().Get(key); ok {
			about(n)
		}
	}
	for _, sheet := range Sorted(t.s().Sheets, sheetOrder) {
		if robots[sheet.Robot] && sheet.List == ListReady && sheet.State == SheetComplete && sheet.EndedAt > d.At {
			return &Refusal{Code: CodeSafety, Rule: 21, Sentence: t.s().Robots[sheet.Robot].Name + " was signed ready over this at " + t.s().Clock(sheet.EndedAt) + ", so it stands. Enter what holds now."}
		}
	}
	return nil
}

// neverFought lets the answers from before a wrong result, or a wrong "on now", count
// again when it is taken back. The robot's power stays as it is.
func (t *turn) neverFought(d Done) {
	if d.Do != "fight.end" && d.Do != "fight.now" {
		return
	}
	for _, n := range d.Was {
		was, ok := n.(Power)
		power := t.s().Powers[was.Robot]
		if !ok || power.FoughtAt != d.At || was.FoughtAt == d.At {
			continue
		}
		t.countsAgain(power, was.FoughtAt)
	}
}

// about tells whether the command was about the noun at key. What followed from
// it stands when it is taken back: a robot that it made unknown stays unknown,
// with new sheets, its packs to be looked at and its jobs held.
func (d Done) about(key Key) bool {
	switch kind, _ := key.Split(); kind {
	case KindPower, KindSheet:
		return false
	case KindPack, KindJob:
		return strings.HasPrefix(d.Do, string(kind)+".")
	}
	return true
}

// leaned refuses an undo that would leave something else on the board without
// what it names: a tag without its person, or without the authority it was put on
// with, a job without its damage.
func (t *turn) leaned() *Refusal {
	for _, tag := range Sorted(t.s().Tags, func(tag Tag) string { return string(tag.ID) }) {
		was, is := t.before.People[tag.Person], t.s().People[tag.Person]
		if was.AuthorisedFor(t.before.Robots[tag.Robot]) && is.ID != "" && !is.AuthorisedFor(t.s().Robots[tag.Robot]) {
			return refuse(CodeState, "%s has a tag on %s, which needs that authority. The tag comes off first.", is.Name, t.s().Robots[tag.Robot].Name)
		}
	}
	for _, n := range t.s().Nouns() {
		if n.valid(t.s()) != nil && n.valid(t.before) == nil {
			return refuse(CodeState, "Something else on the board uses it now, so it cannot be taken back. Change or retire it by hand.")
		}
	}
	return nil
}

func changedSince(key Key) *Refusal {
	return &Refusal{Code: CodeStale, Now: key, Sentence: "Someone has changed it since, so it cannot be taken back. Change it by hand."}
}

func (s State) done(id CommandID) (Done, bool) {
	for _, d := range s.recent {
		if d.ID == id {
			return *d, true
		}
	}
	return Done{}, false
}

// rule21 keeps answers, tags and the rest of the safety record from being edited
// in place: answers only grow.
func rule21(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindSheet {
			continue
		}
		was, had := t.before.Sheets[SheetID(id)]
		is, has := t.s().Sheets[SheetID(id)]
		if !had {
			continue
		}
		if !has || len(is.Answers) < len(was.Answers) || (was.State == SheetUnanswered && is.State != was.State) {
			return breaks(21, "The safety record is never changed or taken back: a new answer corrects it.")
		}
		for i, a := range was.Answers {
			if is.Answers[i] != a {
				return breaks(21, "The safety record is never changed: a new answer corrects it.")
			}
		}
	}
	return nil
}

// rule21Work keeps what was worked: no stint goes from the record, but the last of a job
// that its own person takes back while it lasts.
func rule21Work(t *turn) *Refusal {
	for id, was := range inOrder(t.before.Jobs) {
		is := t.s().Jobs[id].Stints
		keep := len(was.Stints)
		if last := keep - 1; t.undoing && last >= 0 && len(is) == last && was.Stints[last].To == 0 && t.by.proves(was.Stints[last].By) {
			keep = last
		}
		for i, st := range was.Stints[:keep] {
			if i >= len(is) || is[i].By != st.By || is[i].From != st.From {
				return breaks(21, "What was worked on job %d stands in the record. Hold the job, reopen it or leave it off.", was.Number).of(was)
			}
		}
	}
	return nil
}

// rule22 keeps one command to one line: no bulk, no default.
func rule22(t *turn) *Refusal {
	given := 0
	for _, a := range t.newAnswers() {
		if !a.Standing {
			given++
		}
	}
	if given > 1 {
		return breaks(22, "Safety lines are answered one at a time.")
	}
	return nil
}
