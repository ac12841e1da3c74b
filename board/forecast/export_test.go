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

// ReadyShares are the shares of the days played on which each robot is ready for its
// next call.
func ReadyShares(s board.State, at board.Moment, seed uint64, budget plan.Budget) map[board.RobotID]float64 {
	on := view.RecordsOf(s).Learnt(s)
	c := makeSchedule(pose(s, at, outlooks(s, at, on), on), seed, budget)
	shares := map[board.RobotID]float64{}
	for g, o := range c.robots {
		shares[o.robot.ID] = c.played.Chance(c.days.ready[g])
	}
	return shares
}

// Shares are ReadyShares with the plan of the jobs, and when each robot is ready by it.
func Shares(s board.State, at board.Moment, seed uint64, budget plan.Budget) (shares map[board.RobotID]float64, plans []JobPlan, turns map[board.RobotID]float64) {
	on := view.RecordsOf(s).Learnt(s)
	c := makeSchedule(pose(s, at, outlooks(s, at, on), on), seed, budget)
	shares, turns = map[board.RobotID]float64{}, map[board.RobotID]float64{}
	for g, o := range c.robots {
		shares[o.robot.ID] = c.played.Chance(c.days.ready[g])
		turns[o.robot.ID] = float64(c.wholePlan.Groups[c.sheets.groups[g]].ReadySec)
	}
	return shares, c.plans(c.flags()), turns
}
