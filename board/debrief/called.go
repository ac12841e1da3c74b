package debrief

import (
	"cmp"
	"slices"

	"mendline/board"
)

// Called is a call that has come, with the chance that was shown before it: once
// for a fight, at one lead.
type Called struct {
	Robot board.RobotID `json:"robot"`
	Fight board.FightID `json:"fight"`
	Name  string        `json:"name"`
	At    board.Moment  `json:"at"`
	// Of10 is on how many of 10 such days the call would be made, as it was shown;
	// Met whether it was.
	Of10 int  `json:"of10"`
	Met  bool `json:"met"`
}

// calls are the judged calls by the chance given, the highest first.
func (r Record) calls() []Called {
	list := []Called{}
	for _, n := range r.State.Foretolds {
		if n.Judged != 0 {
			list = append(list, Called{n.Robot, n.Fight, r.fightName(n.Robot, n.Fight), n.CallAt, n.Ready, n.Met})
		}
	}
	slices.SortFunc(list, func(a, b Called) int {
		return cmp.Or(cmp.Compare(b.Of10, a.Of10), cmp.Compare(a.At, b.At), cmp.Compare(a.Fight, b.Fight))
	})
	return list
}
