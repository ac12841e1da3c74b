package forecast

import (
	"cmp"
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/plan"
)

// taskName is what task i of the whole plan is called in a sentence.
func taskName(c *schedule, i int) string {
	t, ok := c.sheets.at(i)
	if d := c.s.Damages[t.damage()]; d.ID != "" {
		return damageName(d)
	}
	if ok {
		return "the sheets of " + c.robots[t.robot].robot.Name
	}
	if i >= len(c.jobs) {
		return "the charge of pack " + c.charges[i-len(c.jobs)].pack.Name
	}
	return jobName(c.jobs[i])
}

// undecided lists the damage without a job that is in the plan of robot g.
func undecided(c *schedule, g int) []board.Damage {
	var list []board.Damage
	for _, t := range c.sheets.tasks {
		if t.robot == g && t.damage() != "" {
			list = append(list, c.s.Damages[t.damage()])
		}
	}
	return list
}

func damageName(d board.Damage) string { return fmt.Sprintf("damage %d, %s", d.Number, d.Part) }

// sheetsCause says a cause of the planner's that is about the end of task i, a stretch of
// sheets: what it waited for, or what a job before it did.
func sheetsCause(c *schedule, i int, why plan.Cause) Cause {
	t, _ := c.sheets.at(i)
	if d := c.s.Damages[t.damage()]; d.ID != "" {
		return Cause{Kind: CauseClock, Text: fmt.Sprintf("%s, has no job yet. It may take longer than the time to the call leaves.", upper(damageName(d)))}
	}
	if why.Kind == plan.ByPool && why.Index >= len(c.pools) {
		return c.chargeCause(t.robot)
	}
	k := c.waiter(i, why)
	if k < len(c.jobs) {
		return c.about(k, c.inWords(k, why))
	}
	if why.Kind == plan.ByClock || why.Kind == plan.NoCause {
		return Cause{Kind: CauseClock, Text: "Its sheets may take longer than the time to the call leaves."}
	}
	if last := c.lastOf(t.robot); last >= 0 && why.Kind == plan.ByStock {
		return c.cause(last, why)
	}
	return c.inWords(k, why)
}

// sheetsNever is why some sheets of robot g can never be done: two people are wanted for
// them, and there are not two who may. Empty where that is not so.
func sheetsNever(c *schedule, g int) Cause {
	for i := c.sheets.from; i < len(c.whole.Tasks); i++ {
		t, _ := c.sheets.at(i)
		may := c.peopleOf(t.items[0].May)
		if hands := len(c.whole.Tasks[i].Ways[0].Team); t.robot == g && len(may) < hands {
			text := fmt.Sprintf("%s wants a second person to verify, and only %s may.", c.robots[g].robot.Name, c.people[may[0]].Name)
			return Cause{Kind: CausePerson, Text: text}
		}
	}
	return Cause{}
}

// lastSheets is the stretch of sheets that is behind everything of a group, -1 for none.
func lastSheets(c *schedule, group int) int {
	last := -1
	for i := c.sheets.from; i < len(c.wholePlan.Tasks); i++ {
		if c.whole.Tasks[i].Group == group && c.wholePlan.Tasks[i].State == plan.Kept {
			last = i
		}
	}
	return last
}

// onSheetsOf lists when person k is on sheets by the plan.
func onSheetsOf(c *schedule, k int) []Absence {
	var list []Absence
	for i := c.sheets.from; i < len(c.wholePlan.Tasks); i++ {
		if t := c.wholePlan.Tasks[i]; t.State == plan.Kept && slices.Contains(t.People, k) {
			list = append(list, Absence{nearest(c.moment(t.StartSec)), nearest(c.moment(t.FinishSec)), "on " + taskName(c, i)})
		}
	}
	return list
}

// inTurnOnce puts absences in their order, those that go on as one.
func inTurnOnce(list []Absence) []Absence {
	slices.SortStableFunc(list, func(a, b Absence) int { return cmp.Compare(a.From, b.From) })
	var joined []Absence
	for _, a := range list {
		if n := len(joined); n > 0 && joined[n-1].To == a.From && joined[n-1].What == a.What {
			joined[n-1].To = a.To
		} else {
			joined = append(joined, a)
		}
	}
	return joined
}

// onSheetsNow tells whether the plan has a person on the sheets of a robot about now.
func onSheetsNow(c *schedule, who board.PersonID, robot board.RobotID) bool {
	for i := c.sheets.from; i < len(c.wholePlan.Tasks); i++ {
		t := c.wholePlan.Tasks[i]
		sheets, _ := c.sheets.at(i)
		if c.robots[sheets.robot].robot.ID == robot && t.State == plan.Kept && t.StartSec <= soonSec && slices.Contains(c.idsOf(t.People), who) {
			return true
		}
	}
	return false
}
