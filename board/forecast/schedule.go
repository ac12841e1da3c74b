package forecast

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/plan"
)

// schedule is a plan read back, by task.
type schedule struct {
	posed
	plan plan.Plan
	// problem and plan hold the jobs; whole and wholePlan the charges and the sheets behind
	// them too, charged the charges' part of the plan.
	whole     plan.Problem
	wholePlan plan.Plan
	charged   []plan.TaskPlan
	// days are the days to be played under the plan, played what became of them.
	days   scenario
	draws  *chance.Draws
	played *chance.Outcome
	// badSec is each kept task's end in the bad case, seconds from now.
	badSec []int32
	// latest is the latest end of each kept task that still lets what comes after
	// it end by the robot's last moment; none without a call.
	latest []board.Moment
}

func makeSchedule(p posed, seed uint64, budget plan.Budget) schedule {
	draws := chance.NewDraws(seed, days, chance.TiredRho)
	c := p.scheduled(choose(p, solve(p.problem, seed, budget), draws), draws)
	c.played = chance.Play(&c.days.net, c.draws, 0, days)
	c.badSec = c.badEnds()
	c.latest = make([]board.Moment, len(p.jobs))
	for _, i := range slices.Backward(byStart(c.plan)) {
		c.latest[i] = c.latestEnd(i)
	}
	return c
}

// scheduled reads a plan back and lays out its days.
func (p posed) scheduled(made plan.Plan, draws *chance.Draws) schedule {
	c := schedule{posed: p, plan: made, whole: p.problem, wholePlan: made, draws: draws}
	n := len(p.jobs)
	c.problem.Tasks, c.plan.Tasks, c.charged = p.alone, made.Tasks[:n:n], made.Tasks[n:p.sheets.from]
	c.days = c.scenario()
	return c
}

func (c *schedule) latestEnd(i int) board.Moment {
	by := c.robots[c.problem.Tasks[i].Group].workBy
	if by == 0 {
		return 0
	}
	for k, t := range c.plan.Tasks {
		if t.State == plan.Kept && slices.Contains(c.problem.Tasks[k].After, i) {
			by = min(by, plusSec(c.latest[k], -int(t.FinishSec-t.StartSec)))
		}
	}
	return by
}

func byStart(made plan.Plan) []int {
	order := make([]int, len(made.Tasks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := made.Tasks[a], made.Tasks[b]
		if x.StartSec != y.StartSec {
			return int(x.StartSec) - int(y.StartSec)
		}
		return int(x.FinishSec) - int(y.FinishSec)
	})
	return order
}

func shares[T comparable](a, b []T) bool {
	return slices.ContainsFunc(a, func(x T) bool { return slices.Contains(b, x) })
}

func sharesPool(a, b plan.Way) bool {
	return slices.ContainsFunc(a.Needs, func(n plan.Need) bool {
		return slices.ContainsFunc(b.Needs, func(o plan.Need) bool { return o.Pool == n.Pool })
	})
}

// moment is a time of the planner's as a moment.
func (c *schedule) moment(sec int32) board.Moment { return plusSec(c.at, int(sec)) }

func (c *schedule) kept(i int) bool { return c.plan.Tasks[i].State == plan.Kept }

// fixOf is the fix, an index into its job's, by which task i is begun: the planned one, or
// the chosen one of a job that is left off.
func (c *schedule) fixOf(i int) int {
	if c.kept(i) {
		return c.fixes[i][c.plan.Tasks[i].Way]
	}
	return c.jobs[i].Chosen
}

// fix is the fix by which task i is begun.
func (c *schedule) fix(i int) board.Fix { return c.jobs[i].Fixes[c.fixOf(i)] }

func (c *schedule) who(i int) []board.Person {
	var list []board.Person
	for _, k := range c.plan.Tasks[i].People {
		list = append(list, c.people[k])
	}
	return list
}

// station names where a task is done: the one station of its kind, or the kind.
func (c *schedule) station(i int) string {
	kind := c.fix(i).Station
	if kind == board.StationNone {
		return ""
	}
	var names []string
	for _, station := range board.Sorted(c.s.Stations, func(station board.Station) string { return station.Name }) {
		if station.Kind == kind && !station.Retired {
			names = append(names, station.Name)
		}
	}
	if len(names) == 1 {
		return names[0]
	}
	return stationWords[kind]
}

// plans writes the plan of every job to be done, and what finished ones owe.
func (c *schedule) plans(flags []flagged) []JobPlan {
	var list []JobPlan
	for _, j := range board.Sorted(c.s.Jobs, jobKey) {
		if j.State == board.JobFinished && c.groupOf(j.Robot) >= 0 {
			list = append(list, JobPlan{Job: j.ID, Fix: j.Chosen, People: []board.PersonID{}, Flag: FlagNone, Owes: c.s.Owes(j, c.at)})
		}
		if i := c.taskOf(j.ID); i >= 0 {
			list = append(list, c.planOf(i, flags[i]))
		}
	}
	return list
}

func (c *schedule) planOf(i int, f flagged) JobPlan {
	p := JobPlan{Job: c.jobs[i].ID, Fix: -1, People: []board.PersonID{}, Flag: f.flag, Cause: f.cause, Owes: []board.JobOwes{}}
	if !c.kept(i) {
		return p
	}
	t := c.plan.Tasks[i]
	p.Fix = c.fixOf(i)
	p.StartAt, p.EndAt, p.BadAt = c.begins(i), c.moment(t.FinishSec), c.moment(c.badSec[i])
	p.Station = c.station(i)
	for _, who := range c.who(i) {
		p.People = append(p.People, who.ID)
	}
	return p.rounded()
}

// begins is when a task begins, for a running one when the first who are on it began.
func (c *schedule) begins(i int) board.Moment {
	on := c.jobs[i].AtWork()
	if len(on) == 0 {
		return c.moment(c.plan.Tasks[i].StartSec)
	}
	return slices.MinFunc(on, func(a, b board.Stint) int { return cmp.Compare(a.From, b.From) }).From
}

// lanes draws each robot's row: the jobs the plan keeps, by start.
func (c *schedule) lanes(flags []flagged) []Lane {
	lanes := make([]Lane, len(c.robots))
	for g, o := range c.robots {
		lanes[g] = Lane{Robot: o.robot.ID, Bars: []Bar{}}
	}
	for _, i := range byStart(c.plan) {
		if !c.kept(i) {
			continue
		}
		j, t := c.jobs[i], c.plan.Tasks[i]
		bar := Bar{
			Job: j.ID, Number: j.Number, Name: j.Name, Who: []string{}, State: j.State,
			StartAt: c.begins(i), EndAt: c.moment(t.FinishSec), BadAt: c.moment(c.badSec[i]), Late: flags[i].late,
		}
		for _, who := range c.who(i) {
			bar.Who = append(bar.Who, who.Name)
		}
		lane := &lanes[c.problem.Tasks[i].Group]
		lane.Bars = append(lane.Bars, bar.rounded())
	}
	return lanes
}
