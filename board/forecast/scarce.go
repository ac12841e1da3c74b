package forecast

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mendline/board"
	"mendline/board/plan"
	"mendline/board/work"
)

// Scarce is a spare that may not last for the fights that are still possible: now,
// or a later fight? (scarce/<stockID>)
type Scarce struct {
	Stock board.StockID `json:"stock"`
	Name  string        `json:"name"`
	// Left is in the box, less what running jobs hold.
	Left int `json:"left"`
	// Jobs may take it now.
	Jobs []ScarceJob `json:"jobs"`
	// Fights may still come for the robots that use it, the first call first.
	Fights []board.FightID `json:"fights"`
	// Used is how many went into finished jobs of these robots, in Fought fights.
	Used   int    `json:"used"`
	Fought int    `json:"fought"`
	Text   string `json:"text"`
}

// ScarceJob is a job that may take a scarce spare: whether the plan has it take
// one, and how much longer the quickest fix without it takes, -1 where there is
// none.
type ScarceJob struct {
	Job       board.JobID   `json:"job"`
	Robot     board.RobotID `json:"robot"`
	Takes     bool          `json:"takes"`
	LongerSec int           `json:"longerSec"`
}

// scarceMost is how many pieces left are still scarce: our own guess.
const scarceMost = 2

// scarce lists the spares that a job may take now and of which fewer are left than
// there are fights still possible after that.
func (c *schedule) scarce() []Scarce {
	var list []Scarce
	for k, stock := range c.stocks {
		v := Scarce{Stock: stock.ID, Name: stock.Name, Left: c.problem.Stocks[k].Count, Jobs: c.takers(k)}
		after := v.Left
		for _, j := range v.Jobs {
			if j.Takes {
				after--
			}
		}
		users := c.users(stock.ID)
		v.Fights = c.fightsOf(users)
		if len(v.Jobs) == 0 || v.Left == 0 || v.Left > scarceMost || after >= len(v.Fights) {
			continue
		}
		v.Used, v.Fought = c.usedIn(stock.ID, users)
		v.Text = c.scarceText(v)
		list = append(list, v)
	}
	return list
}

// takers are the jobs to be done that may take of a stock by one of their fixes.
func (c *schedule) takers(stock int) []ScarceJob {
	list := []ScarceJob{}
	for i, j := range c.jobs {
		t := c.problem.Tasks[i]
		if t.Running != nil {
			continue
		}
		with, without := int32(-1), int32(-1)
		for _, w := range t.Ways {
			least := &without
			if takes(w, stock) {
				least = &with
			}
			if *least < 0 || w.DurationSec < *least {
				*least = w.DurationSec
			}
		}
		if with < 0 {
			continue
		}
		job := ScarceJob{Job: j.ID, Robot: j.Robot, LongerSec: -1, Takes: c.kept(i) && takes(t.Ways[c.plan.Tasks[i].Way], stock)}
		if without >= 0 {
			job.LongerSec = workMinutes(int(max(without-with, 0)))
		}
		list = append(list, job)
	}
	return list
}

func takes(w plan.Way, stock int) bool {
	return slices.ContainsFunc(w.Uses, func(u plan.Use) bool { return u.Stock == stock && u.Count > 0 })
}

// users are the robots that use the spare: by one of their jobs, or by a part.
func (c *schedule) users(stock board.StockID) map[board.RobotID]bool {
	users := map[board.RobotID]bool{}
	for _, j := range c.s.Jobs {
		for _, fix := range j.Fixes {
			if slices.ContainsFunc(fix.Stock, func(need board.Need) bool { return need.Stock == stock }) {
				users[j.Robot] = true
			}
		}
	}
	for _, part := range c.s.Parts {
		if part.Stock == stock && !part.Retired {
			users[part.Robot] = true
		}
	}
	return users
}

// fightsOf are the fights that may still come for some robots, branches too; those
// a spare fitted now is for are among them.
func (c *schedule) fightsOf(robots map[board.RobotID]bool) []board.FightID {
	list := []board.FightID{}
	var clock map[board.FightID]times
	for _, o := range c.robots {
		clock = o.clock
		if !robots[o.robot.ID] {
			continue
		}
		for _, f := range work.OpenFights(c.s, o.robot) {
			if f.State == board.FightPlanned {
				list = append(list, f.ID)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b board.FightID) int { return cmp.Compare(clock[a].call.Median, clock[b].call.Median) })
	return list
}

// usedIn counts the pieces that finished jobs of some robots took, and their fights.
func (c *schedule) usedIn(stock board.StockID, robots map[board.RobotID]bool) (used, fought int) {
	for _, j := range c.s.Jobs {
		if robots[j.Robot] && (j.State == board.JobFinished || j.State == board.JobClosed) {
			for _, need := range j.Fix().Stock {
				if need.Stock == stock {
					used += need.Count
				}
			}
		}
	}
	for _, f := range c.s.Fights {
		if robots[f.Robot] && f.State == board.FightDone && (f.Result == board.Won || f.Result == board.Lost || f.Result == board.Drawn) {
			fought++
		}
	}
	return used, fought
}

func (c *schedule) scarceText(v Scarce) string {
	var says []string
	for _, j := range v.Jobs {
		job := c.s.Jobs[j.Job]
		says = append(says, fmt.Sprintf("Job %d on %s %s", job.Number, c.s.Robots[j.Robot].Name, j.words()))
	}
	text := fmt.Sprintf("%d %s left. %s.", v.Left, v.Name, strings.Join(says, "; "))
	if n := len(v.Fights); n == 1 {
		text += " One fight is still possible."
	} else {
		text += fmt.Sprintf(" Up to %d fights are still possible.", n)
	}
	if v.Fought >= 3 {
		text += fmt.Sprintf(" %d used in %d fights so far.", v.Used, v.Fought)
	}
	return text
}

func (j ScarceJob) words() string {
	switch {
	case j.Takes && j.LongerSec >= 0:
		return fmt.Sprintf("takes it now; without it %d min longer", j.LongerSec/60)
	case j.Takes:
		return "takes it now and has no other fix"
	case j.LongerSec >= 0:
		return fmt.Sprintf("does without it, %d min longer", j.LongerSec/60)
	}
	return "needs it and is planned without one"
}
