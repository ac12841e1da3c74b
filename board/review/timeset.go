package review

import (
	"github.com/go-json-experiment/json"

	"mendline/board"
)

// timeSet goes on by the time that a line sets, where it sets one: what was noted so far
// moves along. A restore does where the time was set since the backup, once or more often.
func (w *walk) timeSet(l board.JournalLine) error {
	data, set := l.Put[board.Clock{}.Key()]
	if !set {
		return nil
	}
	var clock board.Clock
	if err := json.Unmarshal(data, &clock); err != nil {
		return err
	}
	by := board.Moment(clock.ShiftSec-w.latest().TimeOf().ShiftSec) * 1000
	w.alarms.until(w, l.At-by)
	move := func(moments ...*board.Moment) {
		for _, m := range moments {
			if *m != 0 {
				*m += by
			}
		}
	}
	for i := range w.turns {
		move(&w.turns[i].From, &w.turns[i].To, &w.turns[i].ReadyAt)
	}
	for i := range w.relaxed {
		move(&w.relaxed[i].From, &w.relaxed[i].To)
	}
	for i := range w.left {
		move(&w.left[i].On, &w.left[i].Off)
	}
	for i := range w.late {
		move(&w.late[i].At, &w.late[i].Heard)
	}
	for i := range w.marked {
		move(&w.marked[i].At)
	}
	for i := range w.alarms.rises {
		move(&w.alarms.rises[i].at)
	}
	move(&w.alarms.from, &w.alarms.to, &w.alarms.next)
	for id, at := range w.alarms.seen {
		w.alarms.seen[id] = at + by
	}
	for id, at := range w.acted {
		w.acted[id] = at + by
	}
	for id, power := range w.powers {
		move(&power.FoughtAt)
		w.powers[id] = power
	}
	return nil
}
