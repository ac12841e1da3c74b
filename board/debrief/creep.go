package debrief

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mendline/board"
)

// Creep is a part that was measured for straightness more than once.
type Creep struct {
	Name string `json:"name"`
	// Says is each measurement with the fight before it.
	Says string `json:"says"`
	// MMPer100 is how much more it is bent by the last than by the first, in mm of gap
	// for each 100 mm of length; less than 0 where it was put straight, or swapped.
	MMPer100 float64 `json:"mmPer100"`
	// Past tells that the last is past the part's limit.
	Past bool `json:"past,omitzero"`
}

// creeps lists what was measured more than once, what bent most first.
func (r Record) creeps(robot board.RobotID) []Creep {
	var list []Creep
	for _, part := range board.Sorted(r.State.Parts, func(p board.Part) string { return p.Name + string(p.ID) }) {
		n := len(part.Bends)
		if n < 2 || robot != "" && part.Robot != robot {
			continue
		}
		first, last := part.Bends[0], part.Bends[n-1]
		c := Creep{Name: part.Name, MMPer100: last.MMPer100() - first.MMPer100(), Past: part.PastLimit(last)}
		if robot == "" {
			c.Name = r.robotName(part.Robot) + ": " + part.Name
		}
		var said []string
		for _, b := range part.Bends {
			said = append(said, r.measured(b))
		}
		c.Says = strings.Join(said, ", ") + " mm per 100 mm"
		if part.BendMmPer100 > 0 {
			c.Says += fmt.Sprintf("; limit %.2f", part.BendMmPer100)
		}
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(a, b Creep) int { return cmp.Compare(b.MMPer100, a.MMPer100) })
	return list
}

func (r Record) measured(b board.Bend) string {
	text := fmt.Sprintf("%.2f", b.MMPer100())
	if f := r.State.Fights[b.Fight]; f.ID != "" {
		text += fmt.Sprintf(" after %s %d", f.Arena, f.Number)
	}
	return text
}
