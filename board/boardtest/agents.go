package boardtest

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// Agents is a pit in which people work by themselves: whoever is free takes the next
// thing on the robot whose turn it is, answers sheets step by step, works on what
// they were told, leaves for the fight of a robot that is ready, and does again what
// failed a test. It shares no code and no numbers with planner and forecast. Times are
// minutes.
type Agents struct {
	People int
	Robots []AgentRobot
	// Benches and Boxes are how many jobs and tests there is room for at once.
	Benches, Boxes int
	// Tired is the correlation of all durations of a day.
	Tired float64
	// FightMin is from the start of a fight to the robot back at its bench.
	FightMin float64
}

// AgentRobot is a robot with what has to be done on it.
type AgentRobot struct {
	Before, After []AgentStep
	Jobs          []AgentJob
	// Crew go to its fight. Hands is how many can work in it at once.
	Crew  []int
	Hands int
	// Turn is the place of the robot among those that people see to.
	Turn float64
	// Call draws when it is called, and when the fight starts.
	Call func(*rand.Rand) (call, start float64)
}

// AgentStep is a step of the sheets. In the bad case it takes BadRatio as long. One in
// so many fails, the share Fails; then it is mended and closed up and done again.
type AgentStep struct {
	Likely, BadRatio float64
	Box              bool
	Fails            float64
	Again            []AgentStep
}

// AgentJob is a job that some people were told to do, at about Told. After are jobs of
// the robot; its part comes in Part, with likely and bad case, none if it is there.
type AgentJob struct {
	Likely, Bad float64
	People      []int
	Told        float64
	After       []int
	Bench       bool
	Waits       bool // for the sheets before
	Part        [2]float64
}

// Play plays one day and tells which robots are ready by their calls.
func (a Agents) Play(r *rand.Rand) []bool {
	d := agentDay{Agents: a, r: r, tired: r.NormFloat64(), doing: make([]*agentTask, a.People), away: make([]float64, a.People)}
	for _, robot := range a.Robots {
		d.robots = append(d.robots, d.begin(robot))
	}
	d.order = make([]int, len(a.Robots))
	for k := range d.order {
		d.order[k] = k
	}
	slices.SortStableFunc(d.order, func(i, k int) int {
		return cmp.Compare(d.robots[i].Turn, d.robots[k].Turn)
	})
	for d.goOn() {
	}
	met := make([]bool, len(d.robots))
	for k, robot := range d.robots {
		met[k] = robot.ready <= robot.call
	}
	return met
}

// z90 is the normal quantile of 0.9, handbook tables.
const z90 = 1.2815515655446004

const never = 1e9

type agentDay struct {
	Agents
	r      *rand.Rand
	tired  float64
	now    float64
	robots []*agentRobot
	order  []int
	doing  []*agentTask
	away   []float64
}

type agentRobot struct {
	AgentRobot
	call, start float64
	ready       float64
	fought      bool
	steps       [2][]agentTask // before, after
	jobs        []agentTask
}

type agentTask struct {
	left    float64
	from    float64
	on      []int
	done    bool
	step    AgentStep
	arrives float64
}

func (d *agentDay) lasts(likely, bad float64) float64 {
	luck := math.Sqrt(d.Tired)*d.tired + math.Sqrt(1-d.Tired)*d.r.NormFloat64()
	return likely * math.Exp(math.Log(bad/likely)/z90*luck)
}

func (d *agentDay) begin(of AgentRobot) *agentRobot {
	robot := &agentRobot{AgentRobot: of, ready: never}
	robot.call, robot.start = of.Call(d.r)
	for k, steps := range [][]AgentStep{of.Before, of.After} {
		robot.steps[k] = d.tasks(steps)
	}
	for _, j := range of.Jobs {
		t := agentTask{left: d.lasts(j.Likely, j.Bad)}
		if j.Part[0] > 0 {
			t.arrives = d.lasts(j.Part[0], j.Part[1])
		}
		robot.jobs = append(robot.jobs, t)
	}
	return robot
}

func (d *agentDay) tasks(steps []AgentStep) []agentTask {
	var list []agentTask
	for _, s := range steps {
		list = append(list, agentTask{left: d.lasts(s.Likely, s.Likely*s.BadRatio), step: s})
	}
	return list
}

// goOn lets everyone who is free take something and goes on to the next moment at which
// anything happens; false when nothing does.
func (d *agentDay) goOn() bool {
	d.leaveForFights()
	for _, robot := range d.robots {
		if robot.ready == never && robot.over() {
			robot.ready = d.now
		}
	}
	d.leaveForFights()
	for who := range d.People {
		if d.free(who) {
			d.takeNext(who)
		}
	}
	next := float64(never)
	for _, t := range d.doing {
		if t != nil {
			next = min(next, t.from+t.left)
		}
	}
	for who := range d.away {
		if d.away[who] > d.now {
			next = min(next, d.away[who])
		}
	}
	for _, robot := range d.robots {
		if robot.call > d.now && !robot.fought {
			next = min(next, robot.call)
		}
		for _, j := range robot.jobs {
			if j.arrives > d.now {
				next = min(next, j.arrives)
			}
		}
	}
	if next >= never {
		return false
	}
	d.now = next
	d.finish()
	return true
}

func (r *agentRobot) over() bool {
	open := func(t agentTask) bool { return !t.done }
	return !slices.ContainsFunc(r.steps[0], open) && !slices.ContainsFunc(r.jobs, open) && !slices.ContainsFunc(r.steps[1], open)
}

func (d *agentDay) free(who int) bool { return d.doing[who] == nil && d.away[who] <= d.now }

func (d *agentDay) finish() {
	for _, robot := range d.robots {
		for _, t := range robot.all() {
			if len(t.on) == 0 || t.from+t.left > d.now+1e-9 {
				continue
			}
			for _, who := range t.on {
				d.doing[who] = nil
			}
			t.on, t.done = nil, true
		}
		for k, t := range robot.steps[1] {
			if t.done && t.step.Fails > 0 {
				robot.steps[1][k].step.Fails = 0
				if d.r.Float64() < t.step.Fails {
					again := append(slices.Clone(t.step.Again), AgentStep{Likely: t.step.Likely, BadRatio: t.step.BadRatio, Box: t.step.Box, Fails: t.step.Fails, Again: t.step.Again})
					robot.steps[1] = slices.Insert(robot.steps[1], k+1, d.tasks(again)...)
				}
				break
			}
		}
	}
}

func (r *agentRobot) all() []*agentTask {
	var list []*agentTask
	for k := range r.steps {
		for i := range r.steps[k] {
			list = append(list, &r.steps[k][i])
		}
	}
	for i := range r.jobs {
		list = append(list, &r.jobs[i])
	}
	return list
}

// leaveForFights sends the crew of each robot that is ready and called, whatever they
// are at.
func (d *agentDay) leaveForFights() {
	for _, robot := range d.robots {
		if robot.fought || robot.call > d.now {
			continue
		}
		if robot.ready > robot.call {
			robot.fought = robot.fought || robot.ready < never
			continue
		}
		robot.fought = true
		back := max(d.now, robot.start) + d.FightMin
		for _, who := range robot.Crew {
			if t := d.doing[who]; t != nil {
				t.left -= d.now - t.from
				for _, other := range t.on {
					d.doing[other] = nil
				}
				t.on = nil
			}
			d.away[who] = max(d.away[who], back)
		}
	}
}

func (d *agentDay) takeNext(who int) {
	for _, k := range d.order {
		robot := d.robots[k]
		if d.step(robot, 0, who) || d.job(robot, who) || d.step(robot, 1, who) {
			return
		}
	}
}

// step takes the first open step before the jobs, or after them.
func (d *agentDay) step(robot *agentRobot, k, who int) bool {
	if k == 1 && (slices.ContainsFunc(robot.jobs, func(t agentTask) bool { return !t.done }) || slices.ContainsFunc(robot.steps[0], func(t agentTask) bool { return !t.done })) {
		return false
	}
	for i := range robot.steps[k] {
		t := &robot.steps[k][i]
		if t.done {
			continue
		}
		if len(t.on) > 0 || t.step.Box && d.Boxes > 0 && d.used(func(t *agentTask) bool { return t.step.Box }) >= d.Boxes {
			return false
		}
		d.start(t, []int{who})
		return true
	}
	return false
}

// used counts the tasks under way that hold a place.
func (d *agentDay) used(holds func(*agentTask) bool) int {
	n := 0
	for _, robot := range d.robots {
		for _, t := range robot.all() {
			if len(t.on) > 0 && holds(t) {
				n++
			}
		}
	}
	return n
}

func (d *agentDay) start(t *agentTask, people []int) {
	t.from, t.on = d.now, people
	for _, who := range people {
		d.doing[who] = t
	}
}

// job takes the job that was told for first among those that can begin.
func (d *agentDay) job(robot *agentRobot, who int) bool {
	best := -1
	for i, j := range robot.Jobs {
		t := &robot.jobs[i]
		can := !t.done && len(t.on) == 0 && t.arrives <= d.now && slices.Contains(j.People, who) &&
			!slices.ContainsFunc(j.People, func(other int) bool { return !d.free(other) }) &&
			!slices.ContainsFunc(j.After, func(k int) bool { return !robot.jobs[k].done }) &&
			!(j.Waits && slices.ContainsFunc(robot.steps[0], func(t agentTask) bool { return !t.done }))
		if can && d.room(robot, len(j.People)) && (!j.Bench || d.benches() < d.Benches) && (best < 0 || j.Told < robot.Jobs[best].Told) {
			best = i
		}
	}
	if best < 0 {
		return false
	}
	d.start(&robot.jobs[best], robot.Jobs[best].People)
	return true
}

func (d *agentDay) room(robot *agentRobot, hands int) bool {
	for i := range robot.jobs {
		hands += len(robot.jobs[i].on)
	}
	return hands <= robot.Hands
}

func (d *agentDay) benches() int {
	n := 0
	for _, robot := range d.robots {
		for i := range robot.jobs {
			if robot.Jobs[i].Bench && len(robot.jobs[i].on) > 0 {
				n++
			}
		}
	}
	return n
}
