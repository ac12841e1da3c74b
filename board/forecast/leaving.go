package forecast

import (
	"fmt"
	"slices"
	"strconv"

	"mendline/board"
	"mendline/board/plan"
)

// numbersMost is how many jobs a sentence names by their numbers.
const numbersMost = 6

// shares tells whether task i is on the robot of group g, or has people who work on
// it.
func (c *schedule) shares(i, g int) bool {
	if !c.kept(i) {
		return false
	}
	for k, t := range c.problem.Tasks {
		if t.Group == g && c.kept(k) && (k == i || shares(c.plan.Tasks[i].People, c.plan.Tasks[k].People)) {
			return true
		}
	}
	return false
}

// leaveOne leaves an optional job off that nobody is on. One that was begun blocks the
// signature until it is closed; the board says whether it may be left as it is.
func (c *schedule) leaveOne(i int) []remedy {
	j := c.jobs[i]
	acceptor := c.acceptor(j.Robot)
	if j.Triage == board.Must || j.State == board.JobRunning || acceptor == "" {
		return nil
	}
	text := "Leave off " + jobName(j)
	if j.Started != 0 {
		text = "Leave " + jobName(j) + " as it is"
	}
	return []remedy{{
		text: text,
		do:   []board.Command{board.JobDefer{Job: j.ID, Acceptor: acceptor, Reason: "to make the call"}},
	}}
}

// longestOff leaves the longest of the optional jobs on the robot of group g off.
func (c *schedule) longestOff(g int) []remedy {
	var longest []remedy
	most := int32(0)
	for i, t := range c.plan.Tasks {
		if lasts := t.FinishSec - t.StartSec; c.problem.Tasks[i].Group == g && c.kept(i) && lasts > most {
			if off := c.leaveOne(i); off != nil {
				longest, most = off, lasts
			}
		}
	}
	return longest
}

// leaveEvery leaves off every could on the robot of group g that nobody has begun, and
// every should too. What is left off alone only makes room for what there was no time
// for.
func (c *schedule) leaveEvery(g int) []remedy {
	could := c.leaveAll(g, "Leave off every could of ", plan.Could)
	all := c.leaveAll(g, "Leave off every should and could of ", plan.Should, plan.Could)
	var list []remedy
	for _, r := range []remedy{could, all} {
		if len(r.do) > 1 && (len(list) == 0 || len(r.do) > len(could.do)) {
			list = append(list, r)
		}
	}
	if len(list) == 2 {
		list[1].parts = []string{could.text}
	}
	return list
}

// leaveAll leaves off all jobs of some grades on the robot of group g that nobody has
// begun.
func (c *schedule) leaveAll(g int, text string, grades ...plan.Grade) remedy {
	var all remedy
	var numbers []string
	for i, j := range c.jobs {
		t := c.problem.Tasks[i]
		if t.Group != g || !slices.Contains(grades, t.Grade) {
			continue
		}
		for _, one := range c.leaveOne(i) {
			all.do = append(all.do, one.do...)
			numbers = append(numbers, strconv.Itoa(j.Number))
		}
	}
	all.text = text + c.robots[g].robot.Name + ": jobs " + and(numbers)
	if len(numbers) > numbersMost {
		all.text = fmt.Sprintf("%s%s, %d jobs", text, c.robots[g].robot.Name, len(numbers))
	}
	return all
}

// acceptor is who answers for what is left off: the robot's lead, or else its
// driver.
func (c *schedule) acceptor(robot board.RobotID) board.PersonID {
	r := c.s.Robots[robot]
	for _, id := range []board.PersonID{r.Lead, r.Driver} {
		if who, ok := c.s.People[id]; ok && !who.Minor && !who.Guest && !who.Retired {
			return id
		}
	}
	return ""
}
