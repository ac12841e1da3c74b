package board

import (
	"strings"
)

// Notice tells a person that their tag or hands near were taken off by others.
// Until they acknowledge it they can put on no tag.
type Notice struct {
	ID     NoticeID `json:"id"`
	V      Rev      `json:"v"`
	Person PersonID `json:"person"`
	Robot  RobotID  `json:"robot"`
	Override
	By     PersonID `json:"by"`
	Second PersonID `json:"second"`
	At     Moment   `json:"at"`
	// Taken is when the person acknowledged it.
	Taken Moment `json:"taken,omitzero"`
}

// Override holds the typed answers that 29 CFR 1910.147(e)(3) asks for in its
// exception, in our words: the owner is not here, everything was done to reach
// them, and the robot was looked at.
type Override struct {
	LookedWhere string `json:"lookedWhere"`
	CalledHow   string `json:"calledHow"`
	CalledAt    Moment `json:"calledAt"`
	// CheckedBy is who looked at the robot by eye.
	CheckedBy PersonID `json:"checkedBy"`
	Reason    string   `json:"reason"`
	// Asked says that they were looked for and asked again since they last did something
	// on the board, where that was just now.
	Asked bool `json:"asked,omitzero"`
}

// justNow is how long someone who did something on the board is taken to be here: our
// decision.
const justNow = 2 * minute

// askedAgo is how long nobody asks for someone in vain, after they did something on the
// board: our decision.
const askedAgo = minute

// unsaid refuses an override with an answer in which there is nothing to read.
func (o Override) unsaid() *Refusal {
	for _, answer := range []struct{ field, text string }{
		{"lookedWhere", o.LookedWhere}, {"calledHow", o.CalledHow}, {"reason", o.Reason},
	} {
		if !readable(answer.text) {
			return &Refusal{Code: CodeSafety, Rule: 6, Field: answer.field, Sentence: "An override needs this in words that the owner can read: where you looked, how you called, and why."}
		}
	}
	return nil
}

// lastCommand is when a person gave the newest of the last commands that is theirs; 0 where
// none is.
func (s State) lastCommand(person PersonID, now Moment) Moment {
	last := Moment(0)
	for _, d := range s.recent {
		if d.By == person && d.At <= now {
			last = max(last, d.At)
		}
	}
	return last
}

// seenJustNow is when a person last did something on the board, 0 where that was not just
// now.
func (s State) seenJustNow(person PersonID, now Moment) Moment {
	if last := s.lastCommand(person, now); now-last < justNow {
		return last
	}
	return 0
}

// lastAct is when a person last did something that the board still has: among the last
// commands, or as work or an answer.
func (s State) lastAct(person PersonID, now Moment) Moment {
	last := s.lastCommand(person, now)
	did := func(at Moment) {
		if at <= now {
			last = max(last, at)
		}
	}
	for _, j := range s.Jobs {
		for _, st := range j.Stints {
			if st.By == person {
				did(st.From)
			}
			if st.By == person && st.EndedBy == "" && st.Held != HoldLockout {
				did(st.To)
			}
		}
	}
	for _, sheet := range s.Sheets {
		for _, a := range sheet.Answers {
			if a.By == person && !a.Record && !a.Standing {
				did(a.At)
			}
		}
	}
	return last
}

func (notice Notice) Key() Key           { return KeyOf(KindNotice, notice.ID) }
func (notice Notice) Rev() Rev           { return notice.V }
func (notice Notice) stamp(rev Rev) Noun { notice.V = rev; return notice }

func (notice Notice) valid(s State) *Refusal {
	for _, answer := range []struct{ field, text string }{
		{"lookedWhere", notice.LookedWhere}, {"calledHow", notice.CalledHow}, {"reason", notice.Reason},
	} {
		if bad := checkNote(answer.field, answer.text); bad != nil || strings.TrimSpace(answer.text) == "" {
			return &Refusal{Code: CodeSafety, Rule: 6, Field: answer.field, Sentence: "An override needs this in words: where you looked, how you called, and why."}
		}
	}
	eyes := s.People[notice.CheckedBy]
	switch _, known := s.People[notice.Person]; {
	case !known:
		return missing("person", "person")
	case eyes.ID == "" || eyes.ID == notice.Person || eyes.Minor || eyes.Guest:
		return &Refusal{Code: CodeSafety, Rule: 6, Field: "checkedBy", Sentence: "Say which member of the team looked at the robot by eye; not the one who is absent."}
	case notice.CalledAt == 0 || notice.CalledAt > notice.At:
		return &Refusal{Code: CodeSafety, Rule: 6, Field: "calledAt", Sentence: "Say when the owner was called: a time in the past."}
	}
	return nil
}

// TagOverride takes an absent person's tag off: two named people, one of them the
// robot's lead, with typed answers. There is no shorter way.
type TagOverride struct {
	Tag TagID `json:"tag"`
	// Second is the second person, who types their own PIN.
	Second PersonID `json:"second"`
	Override
}

func (c TagOverride) Guards(State) []Key { return []Key{KeyOf(KindTag, c.Tag)} }

func (c TagOverride) do(t *turn) *Refusal {
	tag, ok := t.s().Tags[c.Tag]
	if !ok {
		return missing("tag", "tag")
	}
	t.del(tag.Key())
	return t.override(tag.Robot, tag.Person, tag.At, c.Second, c.Override)
}

// HandsOverride lifts the hands near of someone who has gone, in the same way.
type HandsOverride struct {
	Hands  HandsID  `json:"hands"`
	Second PersonID `json:"second"`
	Override
}

func (c HandsOverride) Guards(State) []Key { return []Key{KeyOf(KindHands, c.Hands)} }

func (c HandsOverride) do(t *turn) *Refusal {
	hands, ok := t.s().Hands[c.Hands]
	if !ok {
		return missing("hands near", "hands")
	}
	t.del(hands.Key())
	return t.override(hands.Robot, hands.Person, hands.At, c.Second, c.Override)
}

// override enters the notice. Whoever put something on after a call was here then.
func (t *turn) override(robot RobotID, absent PersonID, on Moment, second PersonID, o Override) *Refusal {
	if o.CalledAt != 0 && o.CalledAt < on {
		return &Refusal{Code: CodeSafety, Rule: 6, Field: "calledAt", Sentence: t.s().People[absent].Name + " put this on at " + t.s().Clock(on) + ", after that call. Call again, and say when."}
	}
	t.put(Notice{
		ID: NoticeID(t.id(KindNotice, "")), Person: absent, Robot: robot, Override: o, By: t.by.Person, Second: second, At: t.now,
	})
	return nil
}

// NoticeTake acknowledges a notice. Only the person it is for can.
type NoticeTake struct {
	Notice NoticeID `json:"notice"`
}

func (c NoticeTake) do(t *turn) *Refusal {
	notice, ok := t.s().Notices[c.Notice]
	if !ok {
		return missing("notice", "notice")
	}
	if !t.by.proves(notice.Person) {
		return breaks(6, "This is for %s, who reads it and acknowledges it.", t.s().People[notice.Person].Name)
	}
	if notice.Taken != 0 {
		return refuse(CodeNothingToDo, "It was acknowledged already.")
	}
	notice.Taken = t.now
	t.put(notice)
	return nil
}

// noticed refuses a tag to someone who has a notice to acknowledge.
func (t *turn) noticed(person Person) *Refusal {
	if notice, due := t.s().noticeDue(person.ID); due {
		return breaks(6, "%s has a notice to read first: a tag or hands near on %s was taken off by others. Acknowledge it, then put the tag on; until then mark hands near.", person.Name, t.s().Robots[notice.Robot].Name)
	}
	return nil
}

// noticeDue is a notice that a person has still to acknowledge.
func (s State) noticeDue(person PersonID) (Notice, bool) {
	for _, notice := range inOrder(s.Notices) {
		if notice.Person == person && notice.Taken == 0 {
			return notice, true
		}
	}
	return Notice{}, false
}

// rule6 lets nobody else take a tag or hands near off without two people who
// proved that they are here, one of them the lead, and a notice to the owner.
func rule6(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		owner, gone := t.gone(key)
		notice, ok := t.notice(owner)
		if !gone || (!ok && t.putOn(key, owner)) {
			continue
		}
		robot, name := t.s().Robots[notice.Robot], t.s().People[owner].Name
		if bad := notice.unsaid(); ok && bad != nil {
			return bad
		}
		standIn := t.leader(robot, owner) && (t.standsIn(notice.By) || t.standsIn(notice.Second))
		switch at := t.before.seenJustNow(owner, t.now); {
		case !ok:
			return breaks(5, "A tag or hands near comes off by its owner, or by an override with a notice.")
		case notice.By == "" || notice.By == notice.Second || notice.By == owner || notice.Second == owner:
			return &Refusal{Code: CodeSafety, Rule: 6, Field: "second", Sentence: "An override takes two people, and neither is the one who is absent."}
		case owner == robot.Lead && !standIn:
			return breaks(6, "%s leads %s: for the lead's own, one of the two must be event safety or a signer from outside. The captain can enter an official as such a signer on the roster.", name, robot.Name)
		case !standIn && !t.leader(robot, notice.By) && !t.leader(robot, notice.Second):
			return breaks(6, "One of the two must be the lead for %s or the captain; where it is their own, event safety or a signer from outside.", robot.Name)
		case at != 0 && t.now-at < askedAgo:
			return &Refusal{Code: CodeSafety, Rule: 6, Field: "asked", Sentence: name + " did something on the board at " + t.s().Clock(at) + ", less than a minute ago: ask them to take it off. If you cannot find them, wait a minute and ask again."}
		case at != 0 && !notice.Asked:
			return &Refusal{Code: CodeSafety, Rule: 6, Field: "asked", Sentence: name + " did something on the board at " + t.s().Clock(at) + ": ask them to take it off. If you have looked for them and asked since, say so here."}
		case notice.CalledAt < t.before.lastAct(owner, t.now):
			return &Refusal{Code: CodeSafety, Rule: 6, Field: "calledAt", Sentence: name + " did something on the board at " + t.s().Clock(t.before.lastAct(owner, t.now)) + ", after that call. Call again, and say when."}
		case !t.by.proves(notice.Second):
			return &Refusal{Code: CodeNeedProof, Rule: 6, Field: "second", Sentence: t.s().People[notice.Second].Name + " types their own PIN: an override takes two people who are here."}
		}
		for _, id := range []PersonID{notice.By, notice.Second} {
			if person := t.s().People[id]; !person.Answers() || person.ID == "" {
				return breaks(6, "An override is for members of the team: no minors or guests.")
			}
		}
	}
	return nil
}

func (t *turn) leader(r Robot, p PersonID) bool {
	person := t.s().People[p]
	return person.Answers() && (r.Lead == p || person.Role == RoleCaptain)
}

// standsIn tells whether a person stands in for a lead whose own tag is to come off:
// event safety, or a signer from outside the team.
func (t *turn) standsIn(p PersonID) bool {
	person := t.s().People[p]
	return person.Answers() && (person.Role == RoleSafety || person.Signer && person.From != "")
}

// gone finds whose tag or hands near was under key and is gone.
func (t *turn) gone(key Key) (PersonID, bool) {
	if _, still := t.s().Get(key); still {
		return "", false
	}
	return t.owner(key)
}

// notice is the one this command makes for a person.
func (t *turn) notice(owner PersonID) (Notice, bool) {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		if k != KindNotice {
			continue
		}
		if _, before := t.before.Notices[NoticeID(id)]; before {
			continue
		}
		if notice := t.s().Notices[NoticeID(id)]; notice.Person == owner {
			return notice, true
		}
	}
	return Notice{}, false
}

// rule6Kept keeps a notice until the person it is for has acknowledged it.
func rule6Kept(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		was, had := t.before.Notices[NoticeID(id)]
		if k != KindNotice || !had {
			continue
		}
		is, has := t.s().Notices[NoticeID(id)]
		was.V, was.Taken, is.V = 0, is.Taken, 0
		if !has || was != is || (t.before.Notices[NoticeID(id)].Taken == 0 && is.Taken != 0 && !t.by.proves(is.Person)) {
			return breaks(6, "A notice stands as it was written until its person acknowledges it.")
		}
	}
	return nil
}
