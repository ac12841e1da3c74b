package forecast

import (
	"cmp"
	"slices"

	"mendline/board"
	"mendline/board/plan"
)

// poseFollow tells the planner what people follow: the order they were given,
// with the starts that are still possible.
func (p *posed) poseFollow() {
	follow := p.s.Follow()
	starts := p.stillPossible(follow)
	for i, j := range p.jobs {
		told, ok := follow.Task(j.ID)
		way := slices.Index(p.fixes[i], told.Fix)
		switch {
		case !ok || j.State == board.JobRunning:
		case told.Off:
			p.problem.Tasks[i].Follow = &plan.Followed{Skipped: true}
		case way >= 0:
			p.problem.Tasks[i].Follow = &plan.Followed{Way: way, People: p.peopleOf(told.People), StartSec: starts[i]}
		}
	}
}

// stillPossible gives each task that people follow the start they were told, or
// where that cannot be any more the earliest that what comes before it and what
// its people are on allow. Starts at the same second keep the order they were
// told in.
func (p *posed) stillPossible(follow board.Follow) []int32 {
	starts := make([]int32, len(p.jobs))
	order := p.inOrderTold(follow)
	for _, i := range order {
		told, _ := follow.Task(p.jobs[i].ID)
		starts[i] = max(p.sec(told.StartAt), p.problem.Tasks[i].EarliestSec)
		for _, a := range p.problem.Tasks[i].After {
			starts[i] = max(starts[i], p.endsAt(a, starts[a]))
		}
		for k, t := range p.problem.Tasks {
			if t.Running != nil && shares(t.Running.People, p.peopleOf(told.People)) {
				starts[i] = max(starts[i], p.endsAt(k, 0))
			}
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(starts[a], starts[b]) })
	for k := 1; k < len(order); k++ {
		if starts[order[k]] <= starts[order[k-1]] {
			starts[order[k]] = min(starts[order[k-1]]+1, plan.HorizonSec)
		}
	}
	return starts
}

// inOrderTold lists the tasks that people follow, each behind what must be
// finished first.
func (p *posed) inOrderTold(follow board.Follow) []int {
	var order []int
	placed := make([]bool, len(p.jobs))
	var place func(i int)
	place = func(i int) {
		if placed[i] {
			return
		}
		placed[i] = true
		for _, a := range p.problem.Tasks[i].After {
			place(a)
		}
		if told, ok := follow.Task(p.jobs[i].ID); ok && !told.Off && p.problem.Tasks[i].Running == nil {
			order = append(order, i)
		}
	}
	byStart := slices.SortedStableFunc(slices.Values(follow.Tasks), func(a, b board.FollowTask) int { return cmp.Compare(a.StartAt, b.StartAt) })
	for _, told := range byStart {
		if i := p.taskOf(told.Job); i >= 0 {
			place(i)
		}
	}
	return order
}

// endsAt is when task i ends if it starts at startSec, by its quickest fix.
func (p *posed) endsAt(i int, startSec int32) int32 {
	t := p.problem.Tasks[i]
	if t.Running != nil {
		return t.Running.LeftSec
	}
	least := t.Ways[0].DurationSec
	for _, w := range t.Ways {
		least = min(least, w.DurationSec)
	}
	return min(startSec+least, plan.HorizonSec)
}

// replacement is the command that gives people the plan of the schedule: where
// it is better than what they follow by a step they notice, or where something
// of what they follow cannot be or is not all there is to do. It is nil while
// they may follow what they have.
func (c *schedule) replacement() *board.PlanReplace {
	follow := c.s.Follow()
	next := board.PlanReplace{Tasks: []board.PlanTask{}}
	next.Charges = c.toldCharges()
	if len(c.jobs) == 0 && len(next.Charges) == 0 {
		return nil
	}
	follows := slices.ContainsFunc(c.whole.Tasks, func(t plan.Task) bool { return t.Follow != nil })
	same := follow.At != 0 && (c.plan.Held || !follows) && c.sameCharges(next.Charges)
	for i, j := range c.jobs {
		task, ok := c.told(i)
		if !ok {
			continue
		}
		was, had := follow.Task(j.ID)
		same = same && had && (j.State == board.JobRunning || was.SameHands(task.Told))
		next.Tasks = append(next.Tasks, task)
	}
	if same || follow.At != 0 && says(follow, next) {
		return nil
	}
	slices.SortStableFunc(next.Tasks, func(a, b board.PlanTask) int { return cmp.Compare(a.StartAt, b.StartAt) })
	return &next
}

// says tells whether people were told all of next, to the same starts.
func says(follow board.Follow, next board.PlanReplace) bool {
	for _, k := range next.Tasks {
		if was, had := follow.Task(k.Job); !had || !was.SameHands(k.Told) || was.StartAt != k.StartAt {
			return false
		}
	}
	for _, k := range next.Charges {
		if was, had := follow.Charge(k.Pack); !had || !was.Same(k.ToldCharge) || was.StartAt != k.StartAt {
			return false
		}
	}
	return true
}

// told is what the schedule says of task i to those who are to do it. Nothing is
// said of work that cannot be done at all.
func (c *schedule) told(i int) (board.PlanTask, bool) {
	t, j := c.plan.Tasks[i], c.jobs[i]
	switch t.State {
	case plan.Kept:
	case plan.Skipped, plan.Idle:
		return board.PlanTask{Job: j.ID, Told: board.Told{Off: true}}, true
	default:
		return board.PlanTask{}, false
	}
	task := board.PlanTask{Job: j.ID, EndAt: nearest(c.moment(t.FinishSec))}
	task.Fix, task.StartAt = c.fixOf(i), min(nearest(c.begins(i)), task.EndAt)
	for _, who := range c.who(i) {
		task.People = append(task.People, who.ID)
	}
	return task, true
}
