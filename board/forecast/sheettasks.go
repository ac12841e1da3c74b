package forecast

import (
	"math"
	"slices"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/estimate"
	"mendline/board/plan"
	"mendline/board/work"
)

// sheetTask is a stretch of a robot's sheets as a task of the plan, or damage without a
// job. They stand behind the jobs and the charges.
type sheetTask struct {
	robot int // of posed.robots
	items []work.Item
	work  chance.Work
	// likelySec is how long it is in the plan.
	likelySec float64
	// first: before the fight that the robot is closed up for, so not of its own group.
	first bool
}

// before tells whether the jobs come after it.
func (t sheetTask) before() bool { return t.items[0].Step.Before() }

// damage is the damage without a job that it is; "" for sheets.
func (t sheetTask) damage() board.DamageID {
	if len(t.items) == 0 {
		return ""
	}
	return t.items[0].Damage
}

// sheetPlan are all of them.
type sheetPlan struct {
	tasks []sheetTask
	// from is where they begin among the tasks of the plan.
	from int
	// groups are by robot those of what is left before its next call.
	groups []int
}

// at is the stretch that task i of the whole plan is; not ok for jobs and charges.
func (p sheetPlan) at(i int) (sheetTask, bool) {
	if i < p.from {
		return sheetTask{}, false
	}
	return p.tasks[i-p.from], true
}

// sheetPoser makes tasks of the sheets.
type sheetPoser struct {
	*posed
	// may are the sets of people that have a bit among the skills.
	may []plan.SkillSet
	// scale is how much of the times of what is posed is for hands.
	scale float64
}

// poseSheets makes a task of each stretch of sheets that a call waits for, or a job, and
// holds back the jobs that wait for them.
func poseSheets(p *posed) {
	s := &sheetPoser{posed: p, scale: 1}
	p.sheets = sheetPlan{from: len(p.problem.Tasks), groups: make([]int, len(p.robots))}
	for g, o := range p.robots {
		p.sheets.groups[g] = g
		if o.gone && o.called() {
			s.poseFirst(g)
		}
		s.poseAround(g)
	}
}

// poseFirst poses what is left before the fight that robot g is closed up for: work of a
// group of its own.
func (s *sheetPoser) poseFirst(g int) {
	o := s.robots[g]
	s.sheets.groups[g] = len(s.problem.Groups)
	s.problem.Groups = append(s.problem.Groups, plan.Group{Room: 1, Weight: o.robot.Weight, DeadlineSec: s.sec(o.times.call.Median)})
	s.pose(g, s.sheets.groups[g], 0, nil, func(i work.Item) bool { return i.Step.OnSheets() && !i.Back })
}

// poseAround poses the sheets before and behind the jobs of group g.
func (s *sheetPoser) poseAround(g int) {
	o := s.robots[g]
	var all, waiting []int
	for i, t := range s.problem.Tasks {
		if t.Group != g {
			continue
		}
		all = append(all, i)
		if i < len(s.jobs) && t.Running == nil && work.Waits(s.s, s.jobs[i], o.gone) {
			waiting = append(waiting, i)
		}
	}
	turn := func(i work.Item) bool { return i.Step.OnSheets() && i.Back == o.gone }
	var last []int
	if len(waiting) > 0 || o.workBy != 0 {
		walkSec := 0
		if o.gone { // the way back is part of the time before the first job
			walkSec = min(returnSec, 2*o.beforeSec/3)
		}
		s.scale = 1 - float64(walkSec)/float64(max(o.beforeSec, 1))
		last = s.pose(g, g, s.sec(plusSec(o.workFrom, walkSec-o.beforeSec)), nil, func(i work.Item) bool { return turn(i) && i.Step.Before() })
		for _, i := range waiting {
			s.problem.Tasks[i].After = append(slices.Clone(s.problem.Tasks[i].After), last...)
		}
		all = append(all, last...)
		s.scale = 1
	}
	known := o.workBy != 0 && !uninspected(s.s, o.robot.ID) // until then it is part of what the inspection may find
	for _, i := range o.work {
		if i.Step == work.Mending && i.Back == o.gone && known {
			all = append(all, s.pose(g, g, 0, last, func(o work.Item) bool { return o.Damage == i.Damage && o.Step == i.Step && o.Back == i.Back })...)
		}
	}
	if o.workBy != 0 {
		s.pose(g, g, 0, all, func(i work.Item) bool { return turn(i) && !i.Step.Before() })
	}
}

// pose poses some items of robot g, those that one person does in one go as one task. It returns
// what comes last.
func (s *sheetPoser) pose(g, group int, fromSec int32, after []int, is func(work.Item) bool) []int {
	var stretch sheetTask
	last := after
	end := func() {
		if len(stretch.items) > 0 {
			last = []int{len(s.problem.Tasks)}
			stretch.inARow(s.scale)
			s.problem.Tasks = append(s.problem.Tasks, s.task(stretch, group, fromSec, after))
			s.sheets.tasks = append(s.sheets.tasks, stretch)
			after = last
		}
	}
	for _, i := range s.robots[g].work {
		if !is(i) {
			continue
		}
		if n := len(stretch.items); n == 0 || !goesOn(stretch.items[0], i) {
			end()
			stretch = sheetTask{robot: g, first: group != g}
		}
		stretch.items = append(stretch.items, i)
	}
	end()
	return last
}

// goesOn tells whether whoever does a may go on with b.
func goesOn(a, b work.Item) bool {
	barred := func(who board.PersonID) bool { return !slices.Contains(b.May, who) }
	return a.Hands == 1 && b.Hands == 1 && a.Station == board.StationNone && b.Station == board.StationNone &&
		(len(a.May) > 0) == (len(b.May) > 0) && !slices.ContainsFunc(a.May, barred)
}

// inARow is how long a stretch takes, step after step, on the days that are played.
// By the plan its likely times add up: half of the days are a little longer.
func (t *sheetTask) inARow(scale float64) {
	var list []estimate.Lognormal
	for _, i := range t.items {
		list = append(list, lognormal(i.Times))
		t.likelySec += scale * i.Times.LikelySec
	}
	sum, err := estimate.InARow(chance.TiredRho, list...)
	if err != nil {
		panic("forecast: sheets in a row: " + err.Error())
	}
	t.work = chance.Work{Time: estimate.Lognormal{Mu: sum.Mu + math.Log(scale), Sigma: sum.Sigma}}
}

// leaveSec is how long people leave the job that they are at work on, for sheets that
// nobody else may do: our own guess.
const leaveSec = 5 * 60

// task is a stretch as a task of the plan. Where nobody here may do it, someone has to be
// asked over, and where all who may are at work, one of them leaves it for a few minutes:
// it takes its time and nobody's hands.
func (s *sheetPoser) task(t sheetTask, group int, fromSec int32, after []int) plan.Task {
	i := t.items[0]
	way := plan.Way{DurationSec: int32(max(math.Round(t.likelySec), 1)), Place: plan.Off}
	if may := s.peopleOf(i.May); len(may) > 0 && (way.DurationSec > leaveSec || !s.allAtWork(may)) {
		way.Team = slices.Repeat([]plan.SkillSet{s.bitOf(may)}, i.Hands)
	}
	switch i.Step {
	case work.Test:
		way.Place = plan.Whole
	case work.Mending:
		way.Place = plan.In
	}
	if k := slices.Index(s.pools, i.Station); k >= 0 {
		way.Needs = []plan.Need{{Pool: k, Count: 1}}
	}
	task := plan.Task{Group: group, Ways: []plan.Way{way}, After: slices.Clone(after), EarliestSec: fromSec}
	if on := s.personOf(i.On); on >= 0 {
		task.Running = &plan.Running{People: []int{on}, LeftSec: way.DurationSec}
	}
	return task
}

// allAtWork tells whether all of some people are on jobs that are running.
func (s *sheetPoser) allAtWork(people []int) bool {
	return !slices.ContainsFunc(people, func(k int) bool {
		return !slices.ContainsFunc(s.problem.Tasks[:len(s.jobs)], func(t plan.Task) bool { return t.Running != nil && slices.Contains(t.Running.People, k) })
	})
}

// bitOf is the bit of those who may do something, among the skills of each of them. Where
// a board has more such sets than there are bits, the last bit is for all of theirs.
func (s *sheetPoser) bitOf(people []int) plan.SkillSet {
	var set plan.SkillSet
	for _, k := range people {
		set |= 1 << k
	}
	n := slices.Index(s.may, set)
	if n < 0 {
		n = min(len(s.may), 63-len(skillOrder))
		s.may = append(s.may[:n], set)
		for _, k := range people {
			s.problem.People[k].Skills |= 1 << (len(skillOrder) + n)
		}
	}
	return 1 << (len(skillOrder) + n)
}

// followSheets has p follow what the plan at hand says of the sheets.
func followSheets(p *posed, c *schedule) {
	for k, t := range p.sheets.tasks {
		was := slices.IndexFunc(c.sheets.tasks, func(o sheetTask) bool {
			return c.robots[o.robot].robot.ID == p.robots[t.robot].robot.ID && o.first == t.first && o.items[0].Step == t.items[0].Step && o.damage() == t.damage()
		})
		if was < 0 || p.problem.Tasks[p.sheets.from+k].Running != nil {
			continue
		}
		if told := c.wholePlan.Tasks[c.sheets.from+was]; told.State == plan.Kept {
			p.problem.Tasks[p.sheets.from+k].Follow = &plan.Followed{People: p.peopleOf(c.idsOf(told.People)), StartSec: told.StartSec}
		}
	}
}
