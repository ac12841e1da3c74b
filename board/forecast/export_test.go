package forecast

import (
	"mendline/board"
	"mendline/board/plan"
	"mendline/board/view"
)

// RemedyCommands names the commands of all that the list of any robot could hold.
func RemedyCommands(s board.State, at board.Moment, seed uint64, budget plan.Budget) (names []string) {
	on := view.RecordsOf(s).Learnt(s)
	c := makeSchedule(pose(s, at, outlooks(s, at, on), on), seed, budget)
	for g := range c.robots {
		for _, r := range c.remedies(g) {
			for _, offered := range written(r.do) {
				names = append(names, offered.Do)
			}
		}
	}
	return names
}

// Replan only searches: neither days nor remedies.
func Replan(s board.State, at board.Moment, seed uint64, budget plan.Budget) plan.Plan {
	on := view.RecordsOf(s).Learnt(s)
	return solve(pose(s, at, outlooks(s, at, on), on).problem, seed, budget)[0]
}
