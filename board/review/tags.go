package review

import (
	"slices"

	"mendline/board"
)

// quietMs is how long a tag's owner may do nothing on the board before the tag
// counts as left on, in milliseconds: the warning's 45 minutes (our decision).
const quietMs = 45 * 60_000

// Tag is a tag that was left on: its owner was quiet for 45 minutes, or others
// took it off, or it is still on at the end.
type Tag struct {
	Robot  board.RobotID `json:"robot"`
	Name   string        `json:"name"`
	Person string        `json:"person"`
	On     board.Moment  `json:"on"`
	// Off is none while it is on.
	Off board.Moment `json:"off,omitzero"`
	// QuietSec is how long its owner had done nothing on the board by then.
	QuietSec int  `json:"quietSec"`
	Override bool `json:"override,omitzero"`
}

func (w *walk) tagOff(id board.TagID, at board.Moment, overridden bool) {
	tag, ok := w.tags[id]
	if !ok {
		return
	}
	delete(w.tags, id)
	t := w.tag(tag, at)
	t.Off, t.Override = at, overridden
	if overridden || t.QuietSec >= quietMs/1000 {
		w.left = append(w.left, t)
	}
}

func (w *walk) stillOn(id board.TagID, at board.Moment) {
	if t := w.tag(w.tags[id], at); t.QuietSec >= quietMs/1000 {
		w.left = append(w.left, t)
	}
}

func (w *walk) tag(tag board.Tag, at board.Moment) Tag {
	s := w.latest()
	quiet := at - max(tag.At, w.acted[tag.Person])
	return Tag{Robot: tag.Robot, Name: s.Robots[tag.Robot].Name, Person: s.People[tag.Person].Name, On: tag.At, QuietSec: int(quiet / 1000)}
}

// uncovered finds the work under lockout rules that no verified lockout covered.
func uncovered(s board.State, now board.Moment) []Uncovered {
	list := []Uncovered{}
	for _, j := range s.Jobs {
		u := Uncovered{
			Robot: j.Robot, Name: s.Robots[j.Robot].Name, Number: j.Number, Job: j.Name,
			By: s.People[j.Reinspected.By].Name, When: j.Reinspected.At,
		}
		var open board.Moment
		for _, st := range j.Stints {
			if st.Fix >= len(j.Fixes) || !j.Fixes[st.Fix].Lockout {
				continue
			}
			bare := outside(st.From, until(st.To, now), s.Powers[j.Robot].Covered, now)
			if st.Late != 0 {
				bare = max(bare, outside(st.From, until(st.To, now), s.OwnCover(j.Robot, st.By), now))
			}
			if open += bare; bare > 0 && u.At == 0 {
				u.At = st.From
			}
		}
		if u.Sec = int(open / 1000); u.Sec > 0 {
			list = append(list, u)
		}
	}
	slices.SortFunc(list, func(a, b Uncovered) int { return a.Number - b.Number })
	return list
}

// outside is how much of [from, to) lies outside the spans, which do not overlap.
func outside(from, to board.Moment, spans []board.Span, now board.Moment) board.Moment {
	out := to - from
	for _, c := range spans {
		if inside := min(to, until(c.To, now)) - max(from, c.From); inside > 0 {
			out -= inside
		}
	}
	return max(0, out)
}

func until(to, now board.Moment) board.Moment {
	if to == 0 {
		return now
	}
	return to
}
