package forecast

import "mendline/board"

// Absent lists when a person is at fights of ours by the clock, or on a robot's sheets
// (absent/<personID>; there only while there are such times).
type Absent struct {
	Person board.PersonID `json:"person"`
	At     []Absence      `json:"at"`
}

// Absence is one stretch of it.
type Absence struct {
	From board.Moment `json:"from"`
	To   board.Moment `json:"to"`
	// What is where they are, in words.
	What string `json:"what"`
}

func (c *schedule) absences() []Absent {
	var list []Absent
	for i, who := range c.people {
		a := Absent{Person: who.ID}
		for k, w := range c.problem.People[i].Away {
			if w.ToSec > w.FromSec {
				a.At = append(a.At, Absence{nearest(c.moment(w.FromSec)), nearest(c.moment(w.ToSec)), c.doing(c.awayFor[i][k])})
			}
		}
		if a.At = inTurnOnce(append(a.At, onSheetsOf(c, i)...)); len(a.At) > 0 {
			list = append(list, a)
		}
	}
	return list
}

// doing says what a person is away for.
func (c *schedule) doing(a absence) string {
	if a.sheets == "" {
		return "at a fight"
	}
	return "at a fight and its sheets"
}
