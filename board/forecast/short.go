package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/plan"
)

// lateCause says whether any plan makes the call of group g, which misses it: what
// is proved is kept apart from what the search merely did not find.
func (c *schedule) lateCause(g int, call Call) Cause {
	last := c.lastOf(g)
	if by := c.chargedBy(g); by > c.robots[g].workBy && (last < 0 || by > c.moment(c.plan.Tasks[last].FinishSec)) {
		return c.chargeCause(g)
	}
	sheets := lastSheets(c, c.sheets.groups[g])
	own, short := c.plan.Groups[c.sheets.groups[g]], c.plan.Short
	if c.robots[g].gone || last < 0 || own.LateSec == 0 {
		if sheets >= 0 && own.LateSec > 0 && own.Cause.Kind != plan.ByClock {
			return sheetsCause(c, sheets, own.Cause)
		}
		return c.sheetsAlone(g, call)
	}
	if sec := secUntil(call.CallAt.Median, c.moment(own.BoundSec)); own.BoundSec < plan.HorizonSec && sec >= 60 {
		why := c.binding(g, own.BoundCause)
		return Cause{Kind: why.Kind, Text: fmt.Sprintf("No plan meets this call: at least %d min short. %s", sec/60, why.Text), Job: why.Job}
	}
	if slices.Contains(short.Groups, g) && short.LateSec >= 60 {
		var names []string
		for _, o := range short.Groups {
			if r := slices.Index(c.sheets.groups, o); r >= 0 && !slices.Contains(names, c.robots[r].robot.Name) {
				names = append(names, c.robots[r].robot.Name)
			} else if r < 0 {
				names = append(names, c.robots[o].robot.Name)
			}
		}
		why := c.binding(g, short.Cause)
		return Cause{Kind: why.Kind, Text: fmt.Sprintf("No plan has %s ready in time: at least %s short in all. %s", and(names), minutes(int(short.LateSec)), why.Text)}
	}
	why := c.cause(last, own.Cause)
	if c.plan.Tasks[last].Cause.Kind == plan.NoCause { // it ends by the call, its sheets do not
		why = sheetsCause(c, sheets, own.Cause)
	}
	return Cause{Kind: why.Kind, Text: fmt.Sprintf("The best plan found is %s late. %s", minutes(call.ShortSec), why.Text), Job: why.Job}
}

// lastOf is the task of group g that ends last, -1 if it has none.
func (c *schedule) lastOf(g int) int {
	last := -1
	for i, t := range c.plan.Tasks {
		if c.problem.Tasks[i].Group == g && c.kept(i) && (last < 0 || t.FinishSec > c.plan.Tasks[last].FinishSec) {
			last = i
		}
	}
	return last
}

// sheetsAlone is the cause where no job is late.
func (c *schedule) sheetsAlone(g int, call Call) Cause {
	if list := undecided(c, g); len(list) > 0 {
		return Cause{Kind: CauseClock, Text: fmt.Sprintf("%s, has no job yet, and there is no time for it.", upper(damageName(list[0])))}
	}
	o := c.robots[g]
	sheets := o.leftSec
	if !o.gone {
		sheets += o.beforeSec
	}
	left := max(secUntil(c.at, call.CallAt.Median), 0)
	when := "in " + board.MinutesLeft.Say(left)
	if left == 0 {
		when = "now"
	}
	return Cause{Kind: CauseClock, Text: fmt.Sprintf("Its sheets alone take %s, the call is %s.", minutes(sheets), when)}
}

// binding says what a proof rests on in a sentence that names no time of the plan,
// which might be another.
func (c *schedule) binding(g int, why plan.Cause) Cause {
	switch why.Kind {
	case plan.ByPerson:
		return Cause{Kind: CausePerson, Text: fmt.Sprintf("Too much of the work is for %s alone.", c.people[why.Index].Name)}
	case plan.BySkill:
		if why.Index >= len(skillOrder) {
			return Cause{Kind: CausePerson, Text: "There are not enough people who may do its sheets."}
		}
		return Cause{Kind: CausePerson, Text: fmt.Sprintf("There are not enough people for the %s work.", skillOrder[why.Index])}
	case plan.ByHands:
		return Cause{Kind: CausePerson, Text: "There are not enough hands for the work."}
	case plan.ByPool:
		if why.Index >= len(c.pools) {
			return c.chargeCause(g)
		}
		return Cause{Kind: CauseStation, Text: c.onlyRoom(why.Index)}
	case plan.ByRoom:
		o := c.robots[why.Index]
		return Cause{Kind: CauseStation, Text: fmt.Sprintf("Only %d can have their hands in %s at once.", o.robot.Hands, o.robot.Name)}
	case plan.ByStock:
		return Cause{Kind: CausePart, Text: c.onlySpares(why.Index)}
	}
	o := c.robots[g]
	have := max(secUntil(o.workFrom, o.workBy), 0)
	need := secUntil(o.workFrom, c.moment(c.plan.Groups[g].BoundSec))
	what, job := "The work needs", 0
	if t, ok := c.sheets.at(why.Index); ok && t.damage() != "" {
		return Cause{Kind: CauseClock, Text: fmt.Sprintf("%s, has no job yet, and %s has %d min.", upper(damageName(c.s.Damages[t.damage()])), o.robot.Name, board.MinutesLeft.Whole(have))}
	}
	if need -= o.afterSec; why.Index >= c.sheets.from {
		why.Index = c.lastOf(g)
	}
	if why.Index >= len(c.jobs) {
		return c.chargeCause(g)
	}
	if why.Index >= 0 {
		what = upper(jobName(c.jobs[why.Index])) + c.chained(why.Index)
		job = c.jobs[why.Index].Number
	}
	return Cause{Kind: CauseClock, Text: fmt.Sprintf("%s %s of hands-on time, and %s has %d min.", what, minutes(need), o.robot.Name, board.MinutesLeft.Whole(have)), Job: job}
}

// chained says what a task needs its time together with.
func (c *schedule) chained(i int) string {
	before := len(c.problem.Tasks[i].After) > 0
	after := slices.ContainsFunc(c.problem.Tasks, func(t plan.Task) bool { return slices.Contains(t.After, i) })
	switch {
	case before && after:
		return ", and what comes before and after it need"
	case before:
		return ", and what comes before it need"
	case after:
		return ", and what comes after it need"
	}
	return " needs"
}

func (c *schedule) onlyRoom(pool int) string {
	word, room := stationWords[c.pools[pool]], c.problem.Pools[pool].Capacity
	switch room {
	case 0:
		return fmt.Sprintf("There is no %s on the board.", word)
	case 1:
		return fmt.Sprintf("There is only one %s.", word)
	}
	return fmt.Sprintf("There are only %d places at the %s.", room, word)
}

func (c *schedule) onlySpares(stock int) string {
	if n := c.problem.Stocks[stock].Count; n > 0 {
		return fmt.Sprintf("Only %d spare %s left.", n, c.stocks[stock].Name)
	}
	return fmt.Sprintf("No spare %s left.", c.stocks[stock].Name)
}
