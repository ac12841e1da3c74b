package board

import (
	"cmp"
	"slices"
)

// lateMost is how long after it was done a thing may come to the board without being
// late, in milliseconds: our decision.
const lateMost = 2 * minute

// OwnSpan is a stretch in which one person's tag, or hands near, was on a robot.
type OwnSpan struct {
	Person PersonID `json:"person"`
	Span
}

// ownEnded is a robot's record of whose tag or hands near was on it, with those that
// this command took off.
func (t *turn) ownEnded(power Power) []OwnSpan {
	own := power.Own
	add := func(robot RobotID, person PersonID, from Moment) {
		if robot == power.Robot {
			own = append(slices.Clip(own), OwnSpan{Person: person, Span: Span{From: from, To: max(t.now, from+1)}})
		}
	}
	for id, tag := range inOrder(t.before.Tags) {
		if _, still := t.s().Tags[id]; !still {
			add(tag.Robot, tag.Person, tag.At)
		}
	}
	for id, hands := range inOrder(t.before.Hands) {
		if _, still := t.s().Hands[id]; !still {
			add(hands.Robot, hands.Person, hands.At)
		}
	}
	return own[max(0, len(own)-spansMost):]
}

// OwnCover is when a person's own tag or hands near was on a robot, in stretches that
// do not touch.
func (s State) OwnCover(robot RobotID, person PersonID) []Span {
	var spans []Span
	for _, own := range s.Powers[robot].Own {
		if own.Person == person {
			spans = append(spans, own.Span)
		}
	}
	if tag, on := s.TagOf(robot, person); on {
		spans = append(spans, Span{From: tag.At})
	}
	if hands, on := s.HandsOf(robot, person); on {
		spans = append(spans, Span{From: hands.At})
	}
	slices.SortFunc(spans, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	var all []Span
	for _, b := range spans {
		last := len(all) - 1
		switch {
		case last < 0 || all[last].To != 0 && b.From > all[last].To:
			all = append(all, b)
		case b.To == 0 || all[last].To == 0:
			all[last].To = 0
		default:
			all[last].To = max(all[last].To, b.To)
		}
	}
	return all
}

// handsSince is when hands that are entered now came on a robot: never before its last
// fight, nor before the same person's hands were last off it.
func (t *turn) handsSince(power Power, person PersonID) Moment {
	from := max(t.when, power.FoughtAt)
	for _, own := range power.Own {
		if own.Person == person {
			from = max(from, own.To)
		}
	}
	return from
}

// cameLate withdraws a verification that was given while hands were on the robot, of
// which the board hears only now.
func (t *turn) cameLate(robot RobotID, from Moment, who string) {
	power := t.s().Powers[robot]
	switch {
	case t.now-from <= notAtOnce:
	case power.VerifiedAt >= from:
		t.becomeUnknown(power, who+" since "+t.s().Clock(from)+", before it was verified, and the board heard it late", true)
	case power.State == Isolated && t.s().triedSince(robot, from):
		t.becomeUnknown(power, who+" since "+t.s().Clock(from)+", before someone tried whether it starts, and the board heard it late", true)
	}
}

// triedSince tells whether a verifying line of the robot was answered at from or later.
func (s State) triedSince(robot RobotID, from Moment) bool {
	sheet, _ := s.Sheet(robot, ListMakeSafe)
	return slices.ContainsFunc(sheet.Answers, func(a Answer) bool {
		l, _ := sheet.LineOf(a.Line)
		return l.Part == partVerify && !a.Record && a.At >= from
	})
}

// during tells whether the work on a job went on, as far as the board could know, after
// a moment.
func (st Stint) during(m Moment) bool {
	end := st.To
	if st.Late > end+lateMost {
		end = st.Late
	}
	return st.To == 0 || end > m
}

// seenBy tells whether a look at m was at a stint's work: after it had ended and the
// board had heard of it.
func (st Stint) seenBy(m Moment) bool { return m != 0 && !st.during(m) }
