package forecast

import (
	"slices"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/plan"
)

// Settings of the trials. The budgets are work, not time.
const (
	remediesMost  = 12   // remedies tried in one forecast
	remedyBudget  = 150  // schedules tried for one
	remedyDays    = 2048 // days played in all rounds
	finalistsMost = 5    // of these, that are judged as the plan is
	finalistsFew  = 3    // on a board with so much to do that judging one takes long
	muchToDo      = 60   // tasks
	eachLeast     = 300  // schedules that the plan and each of these have at least
)

// each is the share of a budget that the plan has, and each remedy that is judged. It is
// the same for both: a remedy that was judged by less would promise another plan than the
// one that comes of it.
func each(budget plan.Budget) plan.Budget {
	return max(budget/(1+finalistsMost), min(budget, eachLeast))
}

// tried is a remedy with what it does to the plan, played beside the board as it is.
type tried struct {
	remedy
	s    board.State
	made *schedule
	// robots are how they look after it.
	robots []outlook
	won    []chance.Paired // by group
}

// sum is how many more robots are ready in the mean, by their weights.
func (t *tried) sum(c *schedule) float64 {
	var sum float64
	for g, w := range t.won {
		sum += float64(c.weight(g)) * w.Gain()
	}
	return sum
}

func (c *schedule) weight(g int) int { return max(c.problem.Groups[g].Weight, 1) }

// candidates takes the remedies of the groups in turn, each only once.
func (c *schedule) candidates(flagged []int) []remedy {
	var per [][]remedy
	longest := 0
	for _, g := range flagged {
		per = append(per, c.remedies(g))
		longest = max(longest, len(per[len(per)-1]))
	}
	var list []remedy
	known := map[string]bool{}
	for k := range longest {
		for _, remedies := range per {
			if k < len(remedies) && len(list) < remediesMost && !known[remedies[k].text] {
				known[remedies[k].text] = true
				list = append(list, remedies[k])
			}
		}
	}
	return list
}

// tryAll gives each remedy to a copy of the board on which people follow the plan at hand,
// and plans again briefly. What the board refuses is no remedy.
func (c *schedule) tryAll(remedies []remedy, seed uint64) []tried {
	followed := c.followed()
	var list []tried
	for _, r := range remedies {
		if s, ok := c.with(followed, r); ok {
			robots := c.outlooksAfter(s, r)
			made := c.again(s, robots, r.moved, seed)
			list = append(list, tried{remedy: r, s: s, made: &made, robots: robots, won: make([]chance.Paired, len(c.robots))})
		}
	}
	return list
}

// followed is the board once people were given the plan at hand, where they follow one.
func (c *schedule) followed() board.State {
	next := c.replacement()
	if next == nil || c.s.Follow().At == 0 {
		return c.s
	}
	change, refusal := board.Apply(c.s, *next, board.Ask{}, board.Itself(), c.at)
	if refusal != nil {
		return c.s
	}
	return c.s.With(change)
}

// with is a board after a remedy.
func (c *schedule) with(s board.State, r remedy) (board.State, bool) {
	for k, command := range r.do {
		ask := s.Shown(command)
		ask.ID[15] = byte(k + 1)
		change, refusal := board.Apply(s, command, ask, board.Actor{Role: board.RoleCaptain}, c.at)
		if refusal != nil {
			return s, false
		}
		s = s.With(change)
	}
	return s, true
}

// outlooksAfter looks at every robot after a remedy.
func (c *schedule) outlooksAfter(s board.State, r remedy) []outlook {
	if len(c.robots) == 0 || r.clock {
		return outlooksBy(s, fightTimes(s, c.at), c.at, c.learnt)
	}
	return outlooksBy(s, c.robots[0].clock, c.at, c.learnt)
}

// again plans the board after a remedy, from the plan at hand. Who stays at a robot by
// that stays.
func (c *schedule) again(s board.State, robots []outlook, moved []board.JobID, seed uint64) schedule {
	p := poseWork(s, c.at, robots, c.learnt)
	p.stays = c.stays
	p.takeAllAway()
	for i, j := range p.jobs {
		p.problem.Tasks[i].Follow = nil
		was := c.taskOf(j.ID)
		if was < 0 || j.State == board.JobRunning || slices.Contains(moved, j.ID) {
			continue
		}
		p.problem.Tasks[i].Follow = c.followedIn(was, &p)
	}
	for k, charge := range p.charges {
		p.problem.Tasks[len(p.jobs)+k].Follow = c.followedOn(charge)
	}
	followSheets(&p, c)
	return p.scheduled(plan.Solve(p.problem, remedyBudget, seed), c.draws)
}

// finalists are the trials that promise most: they are played in rounds of which the
// worse half falls out, and then taken in turn for each robot that is flagged. A brief plan
// may miss what another pair of hands is good for, so that places left are filled by those
// that seem to gain nothing.
func (c *schedule) finalists(trials []tried, flagged []int) []tried {
	order, _ := chance.Halve(len(trials), remedyDays, days, func(i, from, to int) chance.Paired {
		return c.trial(&trials[i], from, to)
	})
	var list []tried
	most := finalistsMost
	if len(c.whole.Tasks) > muchToDo {
		most = finalistsFew
	}
	taken := make([]bool, len(trials))
	take := func(is func(t *tried) bool) {
		k := slices.IndexFunc(order, func(i int) bool { return !taken[i] && is(&trials[i]) })
		if k >= 0 && len(list) < most {
			taken[order[k]] = true
			list = append(list, trials[order[k]])
		}
	}
	for range trials {
		for _, g := range flagged {
			take(func(t *tried) bool { return t.won[g].Gain() > 0 })
		}
	}
	for range trials {
		take(func(t *tried) bool { return true })
	}
	return list
}

// trial plays a remedy on some days and adds up what it does to all groups.
func (c *schedule) trial(t *tried, from, to int) chance.Paired {
	sum := chance.Paired{Days: to - from}
	for g, p := range c.compared(t.made, from, to) {
		t.won[g] = t.won[g].Add(p)
		sum.Won, sum.Lost = sum.Won+c.weight(g)*p.Won, sum.Lost+c.weight(g)*p.Lost
	}
	return sum
}

// compared plays another schedule on some days and compares each group.
func (c *schedule) compared(o *schedule, from, to int) []chance.Paired {
	played := chance.Play(&o.days.net, c.draws, from, to)
	list := make([]chance.Paired, len(c.robots))
	for g := range list {
		if h := o.groupOf(c.robots[g].robot.ID); h >= 0 {
			list[g] = chance.Compare(c.played, played, c.days.ready[g], o.days.ready[h])
		}
	}
	return list
}

// judgeTrial judges a remedy as the forecast would once it is done: the board is posed and
// planned as any board is, and all days are played.
func (c *schedule) judgeTrial(t *tried, seed uint64, budget plan.Budget) {
	p := pose(t.s, c.at, t.robots, c.learnt)
	made := p.scheduled(choose(p, solve(p.problem, seed, budget), c.draws), c.draws)
	t.won = c.compared(&made, 0, days)
}

// followedIn is what the plan at hand says of task i, to be followed in p.
func (c *schedule) followedIn(i int, p *posed) *plan.Followed {
	t := c.plan.Tasks[i]
	switch t.State {
	case plan.Kept:
		way := slices.Index(p.fixes[p.taskOf(c.jobs[i].ID)], c.fixes[i][t.Way])
		if way < 0 {
			return nil
		}
		return &plan.Followed{Way: way, People: p.peopleOf(c.idsOf(t.People)), StartSec: t.StartSec}
	case plan.Skipped:
		return &plan.Followed{Skipped: true}
	}
	return nil
}

// followedOn is what the plan at hand says of a charge, to be followed.
func (c *schedule) followedOn(k charging) *plan.Followed {
	for i, own := range c.charges {
		t := c.charged[i]
		if own.pack.ID != k.pack.ID || t.State != plan.Kept || k.pack.State == board.PackCharging {
			continue
		}
		way := slices.IndexFunc(k.ways, func(w chargeWay) bool {
			return kindOf(w.channel) == kindOf(own.ways[t.Way].channel) && w.amps == own.ways[t.Way].amps
		})
		if way >= 0 {
			return &plan.Followed{Way: way, StartSec: t.StartSec}
		}
	}
	return nil
}
