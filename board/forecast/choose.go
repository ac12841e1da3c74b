package forecast

import (
	"mendline/board/chance"
	"mendline/board/plan"
)

// Settings of the choice among plans that are as good as each other by their
// scores: our decision.
const (
	plansMost   = 8
	choiceDays  = 256
	leastRobots = 0.1 // of a robot more ready in the mean, below which people keep what they follow
	leastLate   = 60  // seconds of lateness in all, weighted, that are no reason for another plan
)

// solve searches on two islands with half the budget each: two starts find the
// better plan more often than one search of twice the length does. It returns the
// best plans that differ.
func solve(p plan.Problem, seed uint64, budget plan.Budget) []plan.Plan {
	half := max(budget/2, 1)
	return plan.BestOf(plansMost,
		plan.Several(p, half, plan.Island(seed, 0), plansMost),
		plan.Several(p, half, plan.Island(seed, 1), plansMost))
}

// choose plays each of several plans on the same days and returns the one with most
// robots ready for their calls in the mean; where none is clearly ahead, the one
// with the least lateness. The first stays where no other is better by a step that
// people notice.
func choose(p posed, plans []plan.Plan, draws *chance.Draws) plan.Plan {
	if len(plans) == 1 {
		return plans[0]
	}
	first := p.playBriefly(plans[0], draws)
	least := 0.0
	if plans[0].Held {
		least = leastRobots
	}
	best, most, late := 0, 0.0, first.late()-leastLate
	for k, other := range plans[1:] {
		c := p.playBriefly(other, draws)
		switch gain, err := first.against(&c); {
		case gain >= max(2*err, least) && gain > most:
			best, most = k+1, gain
		case most == 0 && gain >= 0 && c.late() < late:
			best, late = k+1, c.late()
		}
	}
	return plans[best]
}

// playBriefly plays a plan on as many days as tell plans apart.
func (p posed) playBriefly(made plan.Plan, draws *chance.Draws) schedule {
	c := p.scheduled(made, draws)
	c.played = chance.Play(&c.days.net, draws, 0, choiceDays)
	return c
}

// against is how many more robots are ready for their calls in the mean under o,
// with its standard error: at most the sum of the robots' own.
func (c *schedule) against(o *schedule) (gain, err float64) {
	for g := range c.robots {
		p := chance.Compare(c.played, o.played, c.days.ready[g], o.days.ready[g])
		gain, err = gain+p.Gain(), err+p.ErrorOf()
	}
	return gain, err
}

// late is the mean lateness of all robots in seconds, by their weights.
func (c *schedule) late() float64 {
	var sum float64
	for g := range c.robots {
		sum += float64(max(c.problem.Groups[g].Weight, 1)) * c.played.LateSec(c.days.ready[g])
	}
	return sum
}
