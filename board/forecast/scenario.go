package forecast

import (
	"hash/fnv"
	"math"
	"slices"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/plan"
)

// days is how many days a forecast plays: enough that a chance is off by less than
// 1 of 100 nine times of ten, where it is about 9 of 10.
const days = 2048

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
	for g, o := range c.robots {
		n.net.Groups[g] = chance.Group{Call: chance.NoCall, Never: c.never(g) != (Cause{})}
		if o.workBy != 0 {
			n.net.Groups[g].Call = n.call(o.workCall, o, c.at)
		}
	}
	for g, o := range c.robots {
		n.ready = append(n.ready, g)
		if c.sheets.groups[g] != g {
			n.ready[g] = len(n.net.Groups)
			n.net.Groups = append(n.net.Groups, chance.Group{Call: n.call(o.fight, o, c.at)})
		}
	}
	after, order := chance.Flow(c.whole, c.wholePlan)
	for i := range n.task {
		n.task[i] = chance.NoTask
	}
	for _, i := range order {
		sheets, isSheets := c.sheets.at(i)
		switch {
		case isSheets:
			addSheets(c, &n, i, sheets, after[i])
		case i < len(c.jobs):
			c.addJob(&n, i, after[i])
		default:
			c.addCharge(&n, i, after[i])
		}
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

func (n *scenario) add(t chance.Task) int {
	n.net.Tasks = append(n.net.Tasks, t)
	return len(n.net.Tasks) - 1
}

// addJob adds task i of the plan. One that waits for the sheets before it waits for
// their end, whenever that is.
func (c *schedule) addJob(n *scenario, i int, after []chance.Arc) {
	t := c.plan.Tasks[i]
	task := chance.Task{
		Key: key("job", string(c.jobs[i].ID)), Group: c.problem.Tasks[i].Group, Work: c.works[i][t.Way],
		Away: c.awayOf(n, i, c.robots[c.problem.Tasks[i].Group].workCall.ID),
	}
	waits := slices.ContainsFunc(after, func(a chance.Arc) bool { return a.From >= c.sheets.from && a.Kind == plan.ByClock })
	part, comes := partOf(c.jobs[i], c.at)
	switch {
	case comes:
		task.Wait, task.WaitKey = part, key("part", string(c.jobs[i].ID))
		if !waits {
			task.ReleaseSec = float64(c.sec(c.earliest(c.jobs[i])))
		}
	case c.problem.Tasks[i].Running == nil && !waits:
		task.ReleaseSec = float64(c.problem.Tasks[i].EarliestSec)
	}
	n.task[i] = n.add(n.behind(task, after))
}

// behind is a task with the arcs of the plan that lead to it.
func (n *scenario) behind(task chance.Task, after []chance.Arc) chance.Task {
	for _, a := range after {
		task.After = append(task.After, chance.Arc{From: n.task[a.From], Kind: a.Kind, Index: a.Index})
	}
	return task
}

// addSheets adds the stretch of sheets that is task i of the whole plan.
func addSheets(c *schedule, n *scenario, i int, t sheetTask, after []chance.Arc) {
	o, group, fight := c.robots[t.robot], t.robot, c.robots[t.robot].workCall.ID
	if t.first {
		group, fight = n.ready[t.robot], o.fight.ID
	}
	task := chance.Task{
		Key: key(string(t.items[0].Step), string(o.robot.ID)), Group: group, Work: t.work,
		Away: c.awayOf(n, i, fight), ReleaseSec: float64(c.whole.Tasks[i].EarliestSec),
	}
	if t.damage() != "" {
		task.Key = key("damage", string(t.damage()))
	}
	task.Again = c.testedAgain(t)
	if !t.before() && t.damage() == "" && len(c.s.BarsPower()) > 0 {
		task.Wait, task.WaitKey = chance.Work{Time: lognormal(settingsTimes)}, key("settings", "event")
	}
	if t.before() && o.gone && o.called() {
		task.Drift = chance.With(n.call(o.fight, o, c.at))
	}
	n.task[i] = n.add(n.behind(task, after))
	if !t.before() && t.damage() == "" {
		n.net.Groups[group].Behind = append(n.net.Groups[group].Behind, n.task[i])
	}
}

// addCharge adds the charge that is task i of the whole plan. One that no robot waits
// for keeps a group of its own.
func (c *schedule) addCharge(n *scenario, i int, after []chance.Arc) {
	k, t := c.charges[i-len(c.jobs)], c.wholePlan.Tasks[i]
	task := chance.Task{Key: key("charge", string(k.pack.ID)), Group: c.whole.Tasks[i].Group, Work: k.work(k.ways[t.Way], c.at)}
	if task.Group >= len(c.robots) {
		n.net.Groups = append(n.net.Groups, chance.Group{Call: chance.NoCall})
		task.Group = len(n.net.Groups) - 1
	}
	switch {
	case c.whole.Tasks[i].Running != nil:
	case len(after) == 0: // it waits for nothing but people who are away at a fight
		task.ReleaseSec = float64(t.StartSec)
	default:
		task.ReleaseSec = float64(c.whole.Tasks[i].EarliestSec)
	}
	n.task[i] = n.add(n.behind(task, after))
}

// awayOf are the fights that the people of task i of the whole plan go to. To own, the
// one that the task is for, they go when it is done.
func (c *schedule) awayOf(n *scenario, i int, own board.FightID) []chance.Away {
	var list []chance.Away
	for _, k := range c.wholePlan.Tasks[i].People {
		for w, window := range c.problem.People[k].Away {
			fight := c.awayFor[k][w].fight
			if fight.ID == own {
				continue
			}
			drift := chance.With(n.call(fight, c.robots[c.groupOf(fight.Robot)], c.at))
			list = append(list, chance.Away{FromSec: float64(window.FromSec), ToSec: float64(window.ToSec), Drift: drift, Person: k})
		}
	}
	return list
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

// badEnds are the ends of the jobs in the bad case.
func (c *schedule) badEnds() []int32 {
	bad := make([]int32, len(c.jobs))
	for i := range bad {
		bad[i] = c.badEnd(i)
	}
	return bad
}

// badEnd is the end of task i of the whole plan in the bad case, never before the planned
// one; 0 for one that is not done.
func (c *schedule) badEnd(i int) int32 {
	k := c.days.task[i]
	if k == chance.NoTask {
		return 0
	}
	end := math.Min(math.Round(c.played.FinishSec(k, 0.9)), float64(plan.HorizonSec))
	return max(int32(end), c.wholePlan.Tasks[i].FinishSec)
}

// why is the one thing that matters most for group g on the days it is late.
func (c *schedule) why(g int) Cause {
	w := c.played.Why(c.days.ready[g])
	i := slices.Index(c.days.task, w.Task)
	if w.Task == chance.NoTask || i < 0 {
		return Cause{Kind: CauseClock, Text: "Its sheets may take longer than the time to the call leaves."}
	}
	_, isSheets := c.sheets.at(i)
	switch {
	case isSheets && w.Kind == plan.ByStock:
		return c.barred()
	case i < len(c.jobs) && w.Kind == plan.ByStock:
		return c.about(i, Cause{Kind: CausePart, Text: held(c.jobs[i])})
	case i < len(c.jobs) && w.Kind == plan.ByClock:
		return c.mayTake(i, upper(jobName(c.jobs[i])))
	case i < len(c.jobs):
		return c.cause(i, plan.Cause{Kind: w.Kind, Index: w.Index, WaitSec: int32(w.MeanSec)})
	case !isSheets:
		return c.chargeCause(g)
	}
	return sheetsCause(c, i, plan.Cause{Kind: w.Kind, Index: w.Index, WaitSec: int32(w.MeanSec)})
}
