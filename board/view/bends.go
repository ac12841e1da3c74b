package view

import (
	"fmt"

	"mendline/board"
)

// Bends is how far from straight a robot's parts were last measured (bends/<robotID>;
// not there where none was).
type Bends struct {
	Robot board.RobotID `json:"robot"`
	List  []BendNow     `json:"list"`
}

// BendNow is the last measurement of a part, and what stands beside it.
type BendNow struct {
	Part board.PartID `json:"part"`
	// Said is how many measurements there are.
	Said int    `json:"said"`
	Says string `json:"says"`
	// Grade is the grade that it proposes, "" for none.
	Grade board.Grade `json:"grade,omitzero"`
}

func bendsOf(s board.State, r board.Robot) (Bends, bool) {
	n := Bends{Robot: r.ID}
	for _, part := range board.Sorted(s.Parts, func(p board.Part) string { return p.Name + string(p.ID) }) {
		if k := len(part.Bends); part.Robot == r.ID && !part.Retired && k > 0 {
			n.List = append(n.List, BendNow{Part: part.ID, Said: k, Says: bendSays(s, part), Grade: part.BendGrade(part.Bends[k-1])})
		}
	}
	return n, len(n.List) > 0
}

// bendSays is the last measurement beside the part's limit and the one before.
func bendSays(s board.State, part board.Part) string {
	k := len(part.Bends)
	last := part.Bends[k-1]
	text := fmt.Sprintf("%.2f mm per 100 mm, %.1f°", last.MMPer100(), last.Degrees())
	switch {
	case part.PastLimit(last):
		text += fmt.Sprintf(": past its limit of %.2f", part.BendMmPer100)
	case part.BendMmPer100 > 0:
		text += fmt.Sprintf(": within its limit of %.2f", part.BendMmPer100)
	}
	if k == 1 {
		return text + ". Not measured before."
	}
	before := part.Bends[k-2]
	return text + fmt.Sprintf(". Before that %.2f at %s.", before.MMPer100(), s.Clock(before.At))
}
