package plan

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
)

// Check accepts plan as an answer to p, or names the first constraint it
// breaks. It shares no code with Solve but Validate: it replays starts and finishes against
// the problem as given and works out ready times and score itself. It does not
// judge how good a plan is, nor bounds and causes.
func Check(p Problem, plan Plan) error {
	if err := p.Validate(); err != nil {
		return err
	}
	if len(plan.Tasks) != len(p.Tasks) || len(plan.Groups) != len(p.Groups) {
		return fmt.Errorf("plan of %d tasks and %d groups for a problem of %d and %d",
			len(plan.Tasks), len(plan.Groups), len(p.Tasks), len(p.Groups))
	}
	c := checker{&p, &plan}
	for i := range p.Tasks {
		if err := c.task(i); err != nil {
			return fmt.Errorf("task %d: %w", i, err)
		}
	}
	return cmp.Or(c.pools(), c.rooms(), c.people(), c.stocks(), c.figures())
}

type checker struct {
	p    *Problem
	plan *Plan
}

func (c *checker) task(i int) error {
	t, a := &c.p.Tasks[i], &c.plan.Tasks[i]
	if t.Running != nil {
		return c.running(t.Running, a)
	}
	if err := c.called(i, a); err != nil {
		return err
	}
	switch a.State {
	case Skipped, Idle:
		return c.skipped(t, a)
	case Blocked:
		if t.Grade != Must || a.StartSec != HorizonSec || a.FinishSec != HorizonSec {
			return errors.New("blocked, but not a must at the horizon")
		}
		return nil
	case Kept:
	default:
		return fmt.Errorf("state %d does not exist", a.State)
	}
	if a.Way < 0 || a.Way >= len(t.Ways) {
		return fmt.Errorf("way %d does not exist", a.Way)
	}
	if a.StartSec < min(t.EarliestSec, HorizonSec) {
		return fmt.Errorf("starts at %d s, before its earliest start %d s", a.StartSec, t.EarliestSec)
	}
	if a.StartSec >= HorizonSec {
		return errors.New("kept, but does not start before the horizon")
	}
	lasts := int64(t.Ways[a.Way].DurationSec)
	for _, piece := range t.Ways[a.Way].Taper {
		lasts += int64(piece.DurationSec)
	}
	if int64(a.FinishSec-a.StartSec) != min(lasts, int64(HorizonSec)) || a.FinishSec > HorizonSec {
		return fmt.Errorf("from %d s to %d s, but way %d lasts %d s", a.StartSec, a.FinishSec, a.Way, lasts)
	}
	for _, b := range t.After {
		if f := c.plan.Tasks[b].FinishSec; a.StartSec < f {
			return fmt.Errorf("starts at %d s, before task %d is finished at %d s", a.StartSec, b, f)
		}
	}
	return c.team(t, a)
}

// called checks that a task which ways can call is idle exactly if none does.
func (c *checker) called(i int, a *TaskPlan) error {
	mayBe, is := false, false
	for k, t := range c.p.Tasks {
		for w := range t.Ways {
			if slices.Contains(t.Ways[w].Calls, i) {
				mayBe = true
				is = is || c.plan.Tasks[k].State == Kept && c.plan.Tasks[k].Way == w
			}
		}
	}
	if idle := mayBe && !is; idle != (a.State == Idle) {
		return errors.New("is idle though called, or not idle though not called")
	}
	return nil
}

func (c *checker) running(r *Running, a *TaskPlan) error {
	left := min(r.LeftSec, HorizonSec)
	if a.State != Kept || a.Way != r.Way || a.StartSec != 0 || a.FinishSec != left || !slices.Equal(a.People, r.People) {
		return errors.New("is running, but the plan changes it")
	}
	return nil
}

func (c *checker) skipped(t *Task, a *TaskPlan) error {
	if t.Grade == Must && a.State == Skipped {
		return errors.New("is a must, but left off")
	}
	var ready int32
	for _, b := range t.After {
		ready = max(ready, c.plan.Tasks[b].FinishSec)
	}
	if a.StartSec != ready || a.FinishSec != ready || a.Way != -1 || len(a.People) > 0 {
		return errors.New("is left off, but takes time, a way or people")
	}
	return nil
}

func (c *checker) team(t *Task, a *TaskPlan) error {
	hands := t.Ways[a.Way].Team
	if len(a.People) != len(hands) {
		return fmt.Errorf("%d people for %d hands", len(a.People), len(hands))
	}
	for h, person := range a.People {
		if person < 0 || person >= len(c.p.People) || slices.Contains(a.People[:h], person) {
			return fmt.Errorf("hand %d: person %d does not exist or has another hand already", h, person)
		}
		if lacks := hands[h] &^ c.p.People[person].Skills; lacks != 0 {
			return fmt.Errorf("hand %d: person %d lacks skills %b", h, person, lacks)
		}
	}
	if named := distinct(t.Assigned); len(named) > 0 && len(hands) > 0 && c.holds(hands, named, nil) {
		for _, person := range a.People {
			if len(named) >= len(hands) && !slices.Contains(named, person) {
				return fmt.Errorf("person %d is on it, but it is assigned to others who can do it", person)
			}
		}
		for _, person := range named {
			if len(named) <= len(hands) && !slices.Contains(a.People, person) {
				return fmt.Errorf("person %d is assigned and fits, but not on it", person)
			}
		}
	}
	return nil
}

func distinct(people []int) []int {
	people = slices.Clone(people)
	slices.Sort(people)
	return slices.Compact(people)
}

// holds reports whether some team for hands, of which taken fills the first,
// has all of named in it, or consists of named people only if they are more.
func (c *checker) holds(hands []SkillSet, named, taken []int) bool {
	if len(taken) == len(hands) {
		in := 0
		for _, person := range named {
			if slices.Contains(taken, person) {
				in++
			}
		}
		return in == min(len(named), len(hands))
	}
	for person := range c.p.People {
		fits := hands[len(taken)]&^c.p.People[person].Skills == 0
		if fits && !slices.Contains(taken, person) && c.holds(hands, named, append(taken, person)) {
			return true
		}
	}
	return false
}

// use is an amount of something held for a while. free is true for what people
// plan, false for what is given: running tasks, absences, what is taken.
type use struct {
	Window
	count int
	task  int // -1 if given from outside
	free  bool
}

// overload returns the moment at which uses pass capacity and something
// planned is among them. Given uses may pass it alone.
func overload(uses []use, capacity int) error {
	for _, at := range uses {
		sum, task := 0, -1
		for _, u := range uses {
			if u.FromSec <= at.FromSec && at.FromSec < u.ToSec {
				sum += u.count
				if u.free && u.count > 0 {
					task = u.task
				}
			}
		}
		if sum > capacity && task >= 0 {
			return fmt.Errorf("task %d at %d s: %d in use, there are %d", task, at.FromSec, sum, capacity)
		}
	}
	return nil
}

// uses returns what every kept task holds of something.
func (c *checker) uses(count func(i int, w *Way, a *TaskPlan) int) (out []use) {
	for i := range c.plan.Tasks {
		a := &c.plan.Tasks[i]
		if a.State != Kept {
			continue
		}
		n := count(i, &c.p.Tasks[i].Ways[a.Way], a)
		if n > 0 {
			out = append(out, use{Window{a.StartSec, a.FinishSec}, n, i, c.p.Tasks[i].Running == nil})
		}
	}
	return out
}

func (c *checker) pools() error {
	for k, pool := range c.p.Pools {
		var uses []use
		for i := range c.plan.Tasks {
			uses = append(uses, c.usesOfPool(i, k)...)
		}
		for _, t := range pool.Taken {
			uses = append(uses, use{t.Window, t.Count, -1, false})
		}
		if err := overload(uses, pool.Capacity); err != nil {
			return fmt.Errorf("pool %d: %w", k, err)
		}
	}
	return nil
}

// usesOfPool goes through the pieces of a task's way from the last to the
// first.
func (c *checker) usesOfPool(i, pool int) (out []use) {
	a := &c.plan.Tasks[i]
	if a.State != Kept {
		return nil
	}
	w := &c.p.Tasks[i].Ways[a.Way]
	end := a.FinishSec
	add := func(from int32, needs []Need) {
		n := 0
		for _, need := range needs {
			if need.Pool == pool {
				n += need.Count
			}
		}
		out = append(out, use{Window{from, end}, n, i, c.p.Tasks[i].Running == nil})
		end = from
	}
	for k := len(w.Taper) - 1; k >= 0; k-- {
		add(max(end-w.Taper[k].DurationSec, a.StartSec), w.Taper[k].Needs)
	}
	add(a.StartSec, w.Needs)
	return out
}

func (c *checker) rooms() error {
	for g, group := range c.p.Groups {
		uses := c.uses(func(i int, w *Way, a *TaskPlan) int {
			switch {
			case c.p.Tasks[i].Group != g || w.Place == Off:
				return 0
			case w.Place == Whole:
				return group.Room
			}
			return len(a.People)
		})
		if err := overload(uses, group.Room); err != nil {
			return fmt.Errorf("room of group %d: %w", g, err)
		}
	}
	return nil
}

func (c *checker) people() error {
	for k, who := range c.p.People {
		uses := c.uses(func(_ int, _ *Way, a *TaskPlan) int {
			if slices.Contains(a.People, k) {
				return 1
			}
			return 0
		})
		for _, w := range who.Away {
			uses = append(uses, use{w, 1, -1, false})
		}
		if err := overload(uses, 1); err != nil {
			return fmt.Errorf("person %d: %w", k, err)
		}
	}
	return nil
}

func (c *checker) stocks() error {
	used := make([]int, len(c.p.Stocks))
	for i, a := range c.plan.Tasks {
		if a.State != Kept || c.p.Tasks[i].Running != nil {
			continue
		}
		for _, u := range c.p.Tasks[i].Ways[a.Way].Uses {
			used[u.Stock] += u.Count
		}
	}
	for k, n := range used {
		if n > c.p.Stocks[k].Count {
			return fmt.Errorf("stock %d: %d used, there are %d", k, n, c.p.Stocks[k].Count)
		}
	}
	return nil
}

// figures works out ready times and score itself.
func (c *checker) figures() error {
	var s Score
	groups := make([]GroupPlan, len(c.p.Groups))
	for i, a := range c.plan.Tasks {
		g := &groups[c.p.Tasks[i].Group]
		switch a.State {
		case Kept, Blocked:
			g.ReadySec = max(g.ReadySec, a.FinishSec)
			g.Never = g.Never || a.State == Blocked
		case Skipped:
			if c.p.Tasks[i].Grade == Should {
				s.ShouldOff++
			} else {
				s.CouldOff++
			}
		}
	}
	for k, g := range groups {
		g.LateSec = max(0, g.ReadySec-min(c.p.Groups[k].DeadlineSec, HorizonSec))
		if g.Never {
			s.Never++
		}
		if g.LateSec > 0 || g.Never {
			s.NotReady++
		}
		s.LateSec += int64(g.LateSec) * int64(max(1, c.p.Groups[k].Weight))
		s.ReadySec += int64(g.ReadySec)
		if said := c.plan.Groups[k]; said.ReadySec != g.ReadySec || said.LateSec != g.LateSec || said.Never != g.Never {
			return fmt.Errorf("group %d: said to be ready at %d s, %d s late; it is %d s, %d s",
				k, said.ReadySec, said.LateSec, g.ReadySec, g.LateSec)
		}
	}
	s.ChangeMilli = c.changes()
	if s != c.plan.Score {
		return fmt.Errorf("score said to be %+v, it is %+v", c.plan.Score, s)
	}
	return nil
}

// changes works out how much of the plan people follow is changed.
func (c *checker) changes() (milli int64) {
	for i, t := range c.p.Tasks {
		f, a := t.Follow, &c.plan.Tasks[i]
		if f == nil || t.Running != nil {
			continue
		}
		n := int64(0)
		switch {
		case f.Skipped && (a.State == Skipped || a.State == Idle):
		case f.Skipped || a.State != Kept:
			n = 2
		default:
			told, now := distinct(f.People), distinct(a.People)
			n = count(!slices.Equal(told, now)) + count(f.Way != a.Way) +
				count(a.StartSec > f.StartSec+300 || f.StartSec > a.StartSec+300)
		}
		milli += n * (1000 - int64(min(f.StartSec, 3600))*800/3600)
	}
	return milli
}

func count(is bool) int64 {
	if is {
		return 1
	}
	return 0
}
