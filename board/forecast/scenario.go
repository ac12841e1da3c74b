package forecast

import (
	"hash/fnv"
	"math"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/estimate"
	"mendline/board/plan"
)

// days is how many days a forecast plays: enough that a chance is off by less than
// 1 of 100 nine times of ten, where it is about 9 of 10.
const days = 2048

// sheetsBad is how much longer than likely the sheets before and after the work
// take in the bad case. Our own guess until their own times are learned.
const sheetsBad = 1.25

// scenario is the schedule as a network of the days to be played.
type scenario struct {
	net chance.Network
	// task is the network's task by the plan's, -1 for one that is not done.
	task []int
	// ready is the network's group by the plan's whose being ready is being ready for
	// the robot's next call. That of a robot that is closed up or away is a group of
	// its own: its jobs come after that fight.
	ready []int
	calls map[board.FightID]int
}

// key names the numbers of what is called so: the same on every board.
func key(kind, id string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(kind + "/" + id))
	return h.Sum64()
}

func (c *schedule) scenario() scenario {
	n := scenario{task: make([]int, len(c.whole.Tasks)), calls: map[board.FightID]int{}}
	n.net.Groups = make([]chance.Group, len(c.robots))
	before := make([]int, len(c.robots))
	for g := range c.robots {
		n.net.Groups[g] = chance.Group{Call: chance.NoCall, Last: chance.NoTask, Never: c.never(g) != (Cause{})}
		if o := c.robots[g]; o.workBy != 0 {
			n.net.Groups[g].Call = n.call(o.workCall, o, c.at)
		}
		before[g] = c.addBefore(&n, g)
	}
	after, order := chance.Flow(c.whole, c.wholePlan)
	for i := range n.task {
		n.task[i] = chance.NoTask
	}
	for _, i := range order {
		if i < len(c.jobs) {
			c.addJob(&n, i, after[i], before[c.problem.Tasks[i].Group])
		} else {
			c.addCharge(&n, i, after[i])
		}
	}
	for g := range c.robots {
		c.addAfter(&n, g)
		n.ready = append(n.ready, c.addGone(&n, g))
	}
	return n
}

// call is the index of a fight's call. Fights of one arena are late together.
func (n *scenario) call(f board.Fight, o outlook, at board.Moment) int {
	if k, ok := n.calls[f.ID]; ok {
		return k
	}
	t := o.clock[f.ID].call
	n.calls[f.ID] = len(n.net.Calls)
	n.net.Calls = append(n.net.Calls, chance.Call{
		Key: key("arena", f.Arena), LowSec: secFrom(at, t.Early), MidSec: secFrom(at, t.Median), HighSec: secFrom(at, t.Late),
	})
	return n.calls[f.ID]
}

func secFrom(at, m board.Moment) float64 { return float64(m-at) / 1000 }

// sheets are the lines that take so long in all.
func sheets(sec int) chance.Work {
	return chance.Work{Time: lognormal(estimate.TwoPoint{LikelySec: float64(sec), BadSec: sheetsBad * float64(sec)})}
}

// addBefore adds the sheets before the first job of group g.
func (c *schedule) addBefore(n *scenario, g int) int {
	o := c.robots[g]
	if o.beforeSec <= 0 {
		return chance.NoTask
	}
	task := chance.Task{
		Key: key("before", string(o.robot.ID)), Group: g, Work: sheets(o.beforeSec),
		ReleaseSec: math.Max(secFrom(c.at, o.workFrom)-float64(o.beforeSec), 0),
	}
	if o.gone && o.called() {
		task.Drift = chance.With(n.call(o.fight, o, c.at))
	}
	return n.add(task)
}

func (n *scenario) add(t chance.Task) int {
	n.net.Tasks = append(n.net.Tasks, t)
	return len(n.net.Tasks) - 1
}

// addJob adds task i of the plan. One that waits for the sheets before it waits for
// their end, whenever that is.
func (c *schedule) addJob(n *scenario, i int, after []chance.Arc, before int) {
	t := c.plan.Tasks[i]
	task := chance.Task{
		Key: key("job", string(c.jobs[i].ID)), Group: c.problem.Tasks[i].Group, Work: c.works[i][t.Way], Away: c.awayOf(n, i),
	}
	earliest := c.problem.Tasks[i].EarliestSec
	switch {
	case c.problem.Tasks[i].Running != nil:
	case before != chance.NoTask && earliest == c.sec(c.robots[task.Group].workFrom):
		task.After = append(task.After, chance.Arc{From: before, Kind: plan.ByClock, Index: -1})
	default:
		task.ReleaseSec = float64(earliest)
	}
	for _, a := range after {
		task.After = append(task.After, chance.Arc{From: n.task[a.From], Kind: a.Kind, Index: a.Index})
	}
	n.task[i] = n.add(task)
}

// addCharge adds the charge that is task i of the whole plan. One that no robot waits
// for keeps a group of its own.
func (c *schedule) addCharge(n *scenario, i int, after []chance.Arc) {
	k, t := c.charges[i-len(c.jobs)], c.wholePlan.Tasks[i]
	task := chance.Task{Key: key("charge", string(k.pack.ID)), Group: c.whole.Tasks[i].Group, Work: k.work(k.ways[t.Way], c.at)}
	if task.Group >= len(c.robots) {
		n.net.Groups = append(n.net.Groups, chance.Group{Call: chance.NoCall, Last: chance.NoTask})
		task.Group = len(n.net.Groups) - 1
	}
	switch {
	case c.whole.Tasks[i].Running != nil:
	case len(after) == 0: // it waits for nothing but people who are away at a fight
		task.ReleaseSec = float64(t.StartSec)
	default:
		task.ReleaseSec = float64(c.whole.Tasks[i].EarliestSec)
	}
	for _, a := range after {
		task.After = append(task.After, chance.Arc{From: n.task[a.From], Kind: a.Kind, Index: a.Index})
	}
	n.task[i] = n.add(task)
}

// awayOf are the fights that the people of task i go to. To the one that the task is
// for, and to the sheets before it, they go when it is done.
func (c *schedule) awayOf(n *scenario, i int) []chance.Away {
	var list []chance.Away
	own := c.robots[c.problem.Tasks[i].Group].workCall.ID
	for _, k := range c.plan.Tasks[i].People {
		for w, window := range c.problem.People[k].Away {
			if fight := c.awayFor[k][w].fight.ID; fight != "" && fight == own {
				continue
			}
			a := chance.Away{FromSec: float64(window.FromSec), ToSec: float64(window.ToSec), Person: k}
			if fight := c.awayFor[k][w].fight; fight.ID != "" {
				a.Drift = chance.With(n.call(fight, c.robots[c.groupOf(fight.Robot)], c.at))
			}
			list = append(list, a)
		}
	}
	return list
}

// addAfter adds the sheets behind everything of group g.
func (c *schedule) addAfter(n *scenario, g int) {
	o := c.robots[g]
	if o.afterSec <= 0 {
		return
	}
	task := chance.Task{Key: key("after", string(o.robot.ID)), Group: g, Work: sheets(o.afterSec)}
	for k, t := range n.net.Tasks {
		if t.Group == g {
			task.After = append(task.After, chance.Arc{From: k, Kind: plan.ByClock, Index: -1})
		}
	}
	n.net.Groups[g].Last = n.add(task)
}

// addGone adds, for a robot that fights before it is worked on again, what its
// sheets still take until that fight. It returns the group that is ready then.
func (c *schedule) addGone(n *scenario, g int) int {
	o := c.robots[g]
	if !o.gone || !o.called() {
		return g
	}
	n.net.Groups = append(n.net.Groups, chance.Group{Call: n.call(o.fight, o, c.at), Last: chance.NoTask})
	now := len(n.net.Groups) - 1
	if o.leftSec > 0 {
		n.add(chance.Task{Key: key("after", string(o.robot.ID)), Group: now, Work: sheets(o.leftSec)})
	}
	return now
}

// ofTen is a chance as people say it: n of 10.
func ofTen(p float64) int { return int(math.Round(10 * p)) }

// inTime is how many of 10 days see task i done early enough for the call.
func (c *schedule) inTime(i int) int {
	if c.days.task[i] == chance.NoTask {
		return 0
	}
	return ofTen(c.played.InTime(c.days.task[i]))
}

// readyOf is on how many of 10 days the robot of group g is ready for its call.
func (c *schedule) readyOf(g int) int { return ofTen(c.played.Chance(c.days.ready[g])) }

// readyBadSec is when the robot of group g is ready in the bad case.
func (c *schedule) readyBad(g int) board.Moment {
	return plusSec(c.at, int(math.Round(c.played.ReadySec(c.days.ready[g], 0.9))))
}

// badEnds are the ends of the tasks in the bad case, never before the planned ones.
func (c *schedule) badEnds() []int32 {
	bad := make([]int32, len(c.jobs))
	for i, k := range c.days.task[:len(c.jobs)] {
		if k != chance.NoTask {
			end := math.Min(math.Round(c.played.FinishSec(k, 0.9)), float64(plan.HorizonSec))
			bad[i] = max(int32(end), c.plan.Tasks[i].FinishSec)
		}
	}
	return bad
}

// why is the one thing that matters most for group g on the days it is late.
func (c *schedule) why(g int) Cause {
	w := c.played.Why(c.days.ready[g])
	for i, k := range c.days.task {
		if k == w.Task && k != chance.NoTask && i >= len(c.jobs) {
			return c.chargeCause(g)
		}
		if k == w.Task && k != chance.NoTask {
			if w.Kind == plan.ByClock {
				return c.mayTake(i, upper(jobName(c.jobs[i])))
			}
			return c.cause(i, plan.Cause{Kind: w.Kind, Index: w.Index, WaitSec: int32(w.MeanSec)})
		}
	}
	return Cause{Kind: CauseClock, Text: "Its sheets may take longer than the time to the call leaves."}
}
