package view

import (
	"mendline/board"
	"mendline/board/debrief"
)

// Cost is what the hits of a robot's fights of today have cost so far, in the event's
// currency (cost/<robotID>); not there for a robot that took none.
type Cost struct {
	Robot     board.RobotID `json:"robot"`
	Hits      int           `json:"hits"`
	ListCents int           `json:"listCents"`
	PaidCents int           `json:"paidCents"`
}

func costsOf(s board.State, at board.Moment) []Cost {
	today := debrief.Today(s, at)
	var all []Cost
	for _, r := range robotsOf(s) {
		if h, hit := today[r.ID]; hit {
			all = append(all, Cost{r.ID, h.Hits, h.List(), h.Paid()})
		}
	}
	return all
}
