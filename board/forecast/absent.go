package forecast

import "mendline/board"

// Absent lists when a person is at fights of ours by the clock (absent/<personID>;
// there only while there are such times).
type Absent struct {
	Person board.PersonID `json:"person"`
	At     []Absence      `json:"at"`
}

// Absence is one stretch of it.
type Absence struct {
	From board.Moment `json:"from"`
	To   board.Moment `json:"to"`
}

func (c *schedule) absences() []Absent {
	var list []Absent
	for i, who := range c.people {
		a := Absent{Person: who.ID}
		for _, w := range c.problem.People[i].Away {
			if w.ToSec > w.FromSec {
				a.At = append(a.At, Absence{nearest(c.moment(w.FromSec)), nearest(c.moment(w.ToSec))})
			}
		}
		if len(a.At) > 0 {
			list = append(list, a)
		}
	}
	return list
}
