package debrief

import "mendline/board"

// Hits is what hits have cost so far, and how many they were.
type Hits struct {
	Cost
	Hits int
}

// Today is what the hits of the day that now lies in have cost each robot so far, by its
// own fights. It is read off the board as it stands, without the journal: a spare counts
// at the price of now, and once for a job that was finished twice.
func Today(s board.State, now board.Moment) map[board.RobotID]Hits {
	r := Record{State: s, To: now}
	for _, j := range r.jobs() {
		if !handsDone(j.State) {
			continue
		}
		for _, need := range j.Fix().Stock {
			r.uses = append(r.uses, use{job: j.ID, stock: s.Stocks[need.Stock], count: need.Count})
		}
	}
	offset := s.Event().OffsetMin
	day := now.Day(offset)
	today := func(h Hit) bool {
		f, ok := s.Fights[h.Fight]
		return ok && f.OnAt != 0 && f.OnAt.Day(offset) == day
	}
	all := map[board.RobotID]Hits{}
	for _, e := range append(r.used(), r.lost()...) {
		if today(e.Hit) {
			sum := all[e.Robot]
			sum.Cost = sum.Plus(e.Cost)
			all[e.Robot] = sum
		}
	}
	counted := map[Hit]bool{}
	for _, d := range r.damages() {
		if h := (Hit{d.Fight, d.Hit}); damaging(d) && today(h) && !counted[h] {
			counted[h] = true
			sum := all[d.Robot]
			sum.Hits++
			all[d.Robot] = sum
		}
	}
	return all
}
