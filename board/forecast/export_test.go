package forecast

import (
	"slices"

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

// ListedRemedy is a remedy that is listed, with the shares it promises.
type ListedRemedy struct {
	Remedy
	Shares map[board.RobotID]float64
}

// Listed are the remedies of all lists, with the shares of days that each promises for
// every robot.
func Listed(s board.State, at board.Moment, seed uint64, budget plan.Budget) []ListedRemedy {
	at = forMoment(at)
	on := view.RecordsOf(s).Learnt(s)
	c := makeSchedule(pose(s, at, outlooks(s, at, on), on), seed, budget)
	calls := c.calls()
	flagged := c.inTrouble(calls)
	trials := c.finalists(c.tryAll(c.candidates(flagged), seed), flagged)
	var list []ListedRemedy
	for i := range trials {
		c.judgeTrial(&trials[i], seed, budget)
	}
	seen := map[string]bool{}
	for _, g := range flagged {
		for _, x := range c.listFor(g, calls[g], trials).List {
			for _, t := range trials {
				if upper(t.text) != x.Text || seen[x.Text] {
					continue
				}
				seen[x.Text] = true
				l := ListedRemedy{x, map[board.RobotID]float64{}}
				for o := range c.robots {
					l.Shares[c.robots[o].robot.ID] = c.played.Chance(c.days.ready[o]) + t.won[o].Gain()
				}
				list = append(list, l)
			}
		}
	}
	return list
}

// AmongTheFirstTwo tells whether of all remedies that could be tried the best by the
// weighted sum is among the first two that are listed, where any helps clearly.
func AmongTheFirstTwo(s board.State, at board.Moment, seed uint64, budget plan.Budget) (is, any bool) {
	at = forMoment(at)
	on := view.RecordsOf(s).Learnt(s)
	c := makeSchedule(pose(s, at, outlooks(s, at, on), on), seed, budget)
	calls := c.calls()
	flagged := c.inTrouble(calls)
	all := c.tryAll(c.candidates(flagged), seed)
	best, most := "", 0.0
	for i := range all {
		t := &all[i]
		c.judgeTrial(t, seed, budget)
		if clear := slices.ContainsFunc(flagged, func(g int) bool { return t.won[g].Clear() && points(t.won[g].Gain()) > 0 }); clear && t.sum(&c) > most+1e-9 {
			best, most = t.text, t.sum(&c)
		}
	}
	if best == "" {
		return false, false
	}
	trials := c.finalists(c.tryAll(c.candidates(flagged), seed), flagged)
	for i := range trials {
		c.judgeTrial(&trials[i], seed, budget)
	}
	for _, g := range flagged {
		for k, x := range c.listFor(g, calls[g], trials).List {
			for _, t := range trials {
				if k < 2 && upper(t.text) == x.Text && t.sum(&c) >= most-joinedLeast {
					return true, true
				}
			}
		}
	}
	return false, true
}

// Offered is a piece of work that nobody has yet.
type Offered struct {
	Robot     board.RobotID
	By        board.Moment
	LikelySec int
}

// SheetsOffered are the sheets that could be offered to whoever is free, in the order in which
// they are offered.
func SheetsOffered(s board.State, at board.Moment, seed uint64, budget plan.Budget) []Offered {
	on := view.RecordsOf(s).Learnt(s)
	c := makeSchedule(pose(s, at, outlooks(s, at, on), on), seed, budget)
	m := moves{schedule: &c}
	var list []Offered
	for _, o := range m.offers() {
		for _, r := range c.robots {
			if o.name == onSheets(r.robot.ID) {
				list = append(list, Offered{r.robot.ID, o.by, o.likelySec})
			}
		}
	}
	return list
}
