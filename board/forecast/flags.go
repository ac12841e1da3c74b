package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/plan"
)

// flagged is a task's flag with its one cause. late: its planned end is past what
// makes the call.
type flagged struct {
	flag  Flag
	cause Cause
	late  bool
}

func (c *schedule) flags() []flagged {
	list := make([]flagged, len(c.jobs))
	for i := range c.jobs {
		list[i] = c.flagOf(i)
	}
	return list
}

func (c *schedule) flagOf(i int) flagged {
	j, t := c.jobs[i], c.plan.Tasks[i]
	deadline := c.jobsBySec(c.problem.Tasks[i].Group)
	tightBelow, wontBelow := c.s.Event().Thresholds()
	switch {
	case t.State == plan.Blocked:
		return flagged{flag: FlagWontFinish, cause: c.blocked(i)}
	case t.State == plan.Skipped:
		return flagged{flag: FlagWontFinish, cause: c.leftOff(i)}
	case t.FinishSec > deadline:
		why := t.Cause
		if why.Kind == plan.NoCause { // it ends by the call, and its sheets do not
			why = c.plan.Groups[c.problem.Tasks[i].Group].Cause
		}
		return flagged{flag: FlagWontFinish, cause: c.cause(i, why), late: true}
	case deadline < plan.NoDeadline && c.inTime(i) < wontBelow:
		return flagged{flag: FlagWontFinish, cause: c.tight(i)}
	case j.State == board.JobHeld && j.HeldFor == board.HoldPart:
		return flagged{flag: FlagTight, cause: c.about(i, Cause{Kind: CausePart, Text: held(j)})}
	case deadline < plan.NoDeadline && c.inTime(i) < tightBelow:
		return flagged{flag: FlagTight, cause: c.tight(i)}
	}
	return flagged{flag: FlagNone}
}

// cause says a cause of the planner's in a sentence. i is the task it is about.
func (c *schedule) cause(i int, why plan.Cause) Cause { return c.about(i, c.because(i, why)) }

// about is a cause with the job it is about.
func (c *schedule) about(i int, because Cause) Cause {
	because.Job = c.jobs[i].Number
	return because
}

// because says a cause that is about the end of task i. Where what it waited for is
// further back, it names the task that did.
func (c *schedule) because(i int, why plan.Cause) Cause {
	if why.Kind == plan.ByPool && why.Index >= len(c.pools) {
		return c.chargeCause(c.problem.Tasks[i].Group)
	}
	k := c.waiter(i, why)
	cause := c.inWords(k, why)
	if k != i {
		cause.Text = fmt.Sprintf("%s comes first. %s", upper(taskName(c, k)), cause.Text)
	}
	return cause
}

// waiter is the task that waited for the person or the pool of a cause: task i, or what
// is finished last before it, and so on.
func (c *schedule) waiter(i int, why plan.Cause) int {
	bySheets := why.Kind == plan.BySkill && why.Index >= len(skillOrder)
	waits := func(k int) bool {
		t := c.wholePlan.Tasks[k]
		return why.Kind == plan.ByPerson && slices.Contains(t.People, why.Index) ||
			bySheets && t.Way >= 0 && slices.ContainsFunc(c.whole.Tasks[k].Ways[t.Way].Team, func(hand plan.SkillSet) bool { return hand == 1<<why.Index }) ||
			why.Kind == plan.ByPool && t.Way >= 0 && slices.ContainsFunc(c.whole.Tasks[k].Ways[t.Way].Needs, func(n plan.Need) bool { return n.Pool == why.Index })
	}
	if why.Kind != plan.ByPerson && why.Kind != plan.ByPool && !bySheets {
		return i
	}
	for k := i; k >= 0; k = c.lastBefore(k) {
		if waits(k) {
			return k
		}
	}
	return i
}

// lastBefore is the task that is finished last of those that task i comes after, -1 for
// none.
func (c *schedule) lastBefore(i int) int {
	last := -1
	for _, a := range c.whole.Tasks[i].After {
		if t := c.wholePlan.Tasks[a]; t.State == plan.Kept && (last < 0 || t.FinishSec > c.wholePlan.Tasks[last].FinishSec) {
			last = a
		}
	}
	return last
}

func (c *schedule) inWords(i int, why plan.Cause) Cause {
	never := why.WaitSec >= plan.HorizonSec
	switch why.Kind {
	case plan.ByPerson:
		return Cause{Kind: CausePerson, Text: c.personCause(i, why.Index)}
	case plan.BySkill:
		if why.Index < 0 { // anyone would do, and nobody is there
			return Cause{Kind: CausePerson, Text: fmt.Sprintf("There is nobody for %s.", taskName(c, i))}
		}
		if why.Index >= len(skillOrder) {
			return Cause{Kind: CausePerson, Text: fmt.Sprintf("Nobody who may do %s is free before %s.", taskName(c, i), c.startTime(i))}
		}
		return Cause{Kind: CausePerson, Text: c.skillCause(i, skillOrder[why.Index], never)}
	case plan.ByHands:
		if never {
			return Cause{Kind: CausePerson, Text: fmt.Sprintf("There are not enough people for %s.", taskName(c, i))}
		}
		return Cause{Kind: CausePerson, Text: fmt.Sprintf("No free hands for %s before %s.", taskName(c, i), c.startTime(i))}
	case plan.ByPool:
		return Cause{Kind: CauseStation, Text: c.poolCause(i, why.Index)}
	case plan.ByRoom:
		o := c.robots[why.Index]
		return Cause{Kind: CauseStation, Text: fmt.Sprintf("Only %d can have their hands in %s at once.", o.robot.Hands, o.robot.Name)}
	case plan.ByStock:
		return Cause{Kind: CausePart, Text: c.stockCause(i, why.Index)}
	}
	return Cause{Kind: CauseClock, Text: c.clockCause(i)}
}

func (c *schedule) startTime(i int) string {
	return c.s.Clock(c.moment(c.wholePlan.Tasks[i].StartSec))
}

// personCause says what the person is on, or at, before task i.
func (c *schedule) personCause(i, person int) string {
	name := c.people[person].Name
	start := c.wholePlan.Tasks[i].StartSec
	for k, w := range c.problem.People[person].Away {
		if w.ToSec == start {
			return fmt.Sprintf("%s is %s until %s.", name, c.doing(c.awayFor[person][k]), c.startTime(i))
		}
	}
	busy := -1
	for k, t := range c.wholePlan.Tasks {
		if k != i && t.State == plan.Kept && slices.Contains(t.People, person) && t.FinishSec <= start && !slices.Contains(c.whole.Tasks[i].After, k) &&
			(busy < 0 || t.FinishSec > c.wholePlan.Tasks[busy].FinishSec) {
			busy = k
		}
	}
	if busy < 0 {
		return c.leaverCause(i, person)
	}
	what := taskName(c, busy)
	if busy < len(c.jobs) {
		what = fmt.Sprintf("job %d", c.jobs[busy].Number)
	}
	return fmt.Sprintf("%s is on %s until %s.", name, what, c.s.Clock(c.moment(c.wholePlan.Tasks[busy].FinishSec)))
}

// leaverCause says what takes the person away from task i before it may be done.
func (c *schedule) leaverCause(i, person int) string {
	name, bad := c.people[person].Name, c.wholePlan.Tasks[i].FinishSec
	if i < len(c.jobs) {
		bad = c.badSec[i]
	}
	for k, w := range c.problem.People[person].Away {
		if w.FromSec >= c.wholePlan.Tasks[i].StartSec && w.FromSec < bad && w.ToSec > w.FromSec {
			from := c.s.Clock(c.moment(w.FromSec))
			return fmt.Sprintf("%s is %s from %s, and %s may not be done by then.", name, c.doing(c.awayFor[person][k]), from, taskName(c, i))
		}
	}
	return fmt.Sprintf("Only %s can do %s.", name, taskName(c, i))
}

func (c *schedule) skillCause(i int, k board.Skill, never bool) string {
	able := 0
	for _, who := range c.problem.People {
		if who.Skills&skillBit(k) != 0 {
			able++
		}
	}
	if able == 0 || never {
		return fmt.Sprintf("Nobody here can do the %s work of %s.", k, taskName(c, i))
	}
	return fmt.Sprintf("Nobody for the %s work of %s is free before %s.", k, taskName(c, i), c.startTime(i))
}

func (c *schedule) poolCause(i, pool int) string {
	word, room := stationWords[c.pools[pool]], c.problem.Pools[pool].Capacity
	switch room {
	case 0:
		return c.onlyRoom(pool)
	case 1:
		return fmt.Sprintf("There is only one %s, taken until %s.", word, c.startTime(i))
	}
	return fmt.Sprintf("All %d places at the %s are taken until %s.", room, word, c.startTime(i))
}

func (c *schedule) stockCause(i, stock int) string {
	k := c.stocks[stock]
	if c.problem.Stocks[stock].Count == 0 {
		return fmt.Sprintf("No spare %s left.", k.Name)
	}
	return fmt.Sprintf("Only %d spare %s left, not enough for %s.", c.problem.Stocks[stock].Count, k.Name, jobName(c.jobs[i]))
}

// clockCause says that the work is too long for what is left.
func (c *schedule) clockCause(i int) string {
	o := c.robots[c.problem.Tasks[i].Group]
	t := c.plan.Tasks[i]
	have := max(secUntil(o.workFrom, o.workBy), 0)
	need := max(secUntil(o.workFrom, c.moment(t.FinishSec)), 60)
	return fmt.Sprintf("%s needs %s of hands-on time, and %s has %d min.", upper(jobName(c.jobs[i])), minutes(need), o.robot.Name, board.MinutesLeft.Whole(have))
}

// blocked says why a must cannot be done at all.
func (c *schedule) blocked(i int) Cause {
	if stock := c.missing(i); stock >= 0 {
		return c.about(i, Cause{Kind: CausePart, Text: c.stockCause(i, stock)})
	}
	for _, a := range c.problem.Tasks[i].After {
		if c.plan.Tasks[a].State == plan.Blocked {
			return c.blocked(a)
		}
	}
	return c.cause(i, c.plan.Tasks[i].Cause)
}

// missing is a spare that every fix of task i lacks, -1 if one fix has all its
// spares.
func (c *schedule) missing(i int) int {
	short := -1
	for _, w := range c.problem.Tasks[i].Ways {
		lacks := slices.IndexFunc(w.Uses, func(u plan.Use) bool { return u.Count > c.problem.Stocks[u.Stock].Count })
		if lacks < 0 {
			return -1
		}
		if short < 0 {
			short = w.Uses[lacks].Stock
		}
	}
	return short
}

// leftOff says why the plan leaves an optional task off.
func (c *schedule) leftOff(i int) Cause {
	if stock := c.missing(i); stock >= 0 {
		return Cause{Kind: CausePart, Text: c.stockCause(i, stock)}
	}
	w := c.problem.Tasks[i].Ways[0]
	for _, hand := range w.Team {
		switch {
		case len(c.people) == 0:
			return Cause{Kind: CausePerson, Text: fmt.Sprintf("There is nobody for %s.", jobName(c.jobs[i]))}
		case !slices.ContainsFunc(c.problem.People, func(who plan.Person) bool { return who.Skills&hand == hand }):
			return Cause{Kind: CausePerson, Text: fmt.Sprintf("Nobody here has the skill for %s.", jobName(c.jobs[i]))}
		}
	}
	for _, n := range w.Needs {
		if c.problem.Pools[n.Pool].Capacity < n.Count {
			return Cause{Kind: CauseStation, Text: c.poolCause(i, n.Pool)}
		}
	}
	if other := c.lastSpare(i); other != "" {
		return Cause{Kind: CausePart, Text: other}
	}
	o := c.robots[c.problem.Tasks[i].Group]
	return Cause{Kind: CauseClock, Text: fmt.Sprintf("There is no time for %s before the call of %s.", jobName(c.jobs[i]), o.robot.Name)}
}

// lastSpare says which job of the plan takes a spare that task i needs, or "".
func (c *schedule) lastSpare(i int) string {
	for _, u := range c.problem.Tasks[i].Ways[0].Uses {
		left, by := c.problem.Stocks[u.Stock].Count, -1
		for k, t := range c.plan.Tasks {
			if t.State != plan.Kept || c.problem.Tasks[k].Running != nil {
				continue
			}
			for _, o := range c.problem.Tasks[k].Ways[t.Way].Uses {
				if o.Stock == u.Stock {
					left, by = left-o.Count, k
				}
			}
		}
		if u.Count > left && by >= 0 {
			return fmt.Sprintf("The last spare %s goes to %s.", c.stocks[u.Stock].Name, jobName(c.jobs[by]))
		}
	}
	return ""
}

// tight names what task i, planned in time but not in the bad case, waits for
// before it begins; if nothing, it is the clock.
func (c *schedule) tight(i int) Cause {
	t := c.plan.Tasks[i]
	ready := c.problem.Tasks[i].EarliestSec
	for _, a := range c.problem.Tasks[i].After {
		ready = max(ready, c.plan.Tasks[a].FinishSec)
	}
	for k, before := range c.plan.Tasks {
		if t.StartSec <= ready || k == i || before.State != plan.Kept || before.FinishSec != t.StartSec {
			continue
		}
		for _, person := range t.People {
			if slices.Contains(before.People, person) {
				return c.about(i, Cause{Kind: CausePerson, Text: c.personCause(i, person)})
			}
		}
		if a, b := c.problem.Tasks[i].Ways[t.Way], c.problem.Tasks[k].Ways[before.Way]; sharesPool(a, b) {
			return c.about(i, Cause{Kind: CauseStation, Text: c.poolCause(i, a.Needs[0].Pool)})
		}
	}
	return c.mayTake(i, "It")
}

// mayTake says that task i is too long in the bad case, or that it leaves nothing for
// a call that comes early. called is what the sentence calls it.
func (c *schedule) mayTake(i int, called string) Cause {
	o := c.robots[c.problem.Tasks[i].Group]
	end, by, early := c.moment(c.badSec[i]), c.latest[i], ""
	if call := o.clock[o.workCall.ID].call; end <= by && call.Early < call.Median {
		by, early = by-(call.Median-call.Early), " if the call comes early"
	}
	text := fmt.Sprintf("%s may take until %s, and must be done by %s%s.", called, c.s.Clock(end), c.s.Clock(by), early)
	return c.about(i, Cause{Kind: CauseClock, Text: text})
}
