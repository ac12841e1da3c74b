package chance

import (
	"cmp"
	"slices"

	"mendline/board/plan"
)

// Flow is the resource flow of a plan: for each task that is kept, the tasks it
// waits for because they come before it, and those that have a person, a unit of a
// pool or room before it. Arcs name tasks of p. Order lists the kept tasks so that
// every arc comes from further to the front. A pool that a [plan.Way.Taper] gives
// back early counts as held to the end of the task, and is handed on by nobody
// where the plan hands it on before.
func Flow(p plan.Problem, made plan.Plan) (after [][]Arc, order []int) {
	f := flow{p: p, made: made, after: make([][]Arc, len(p.Tasks))}
	order = f.inOrder()
	f.precede(order)
	f.handPeople(order)
	for k, pool := range p.Pools {
		f.handUnits(order, plan.ByPool, k, pool.Capacity, func(i int) int { return f.needs(i, k) })
	}
	for g, group := range p.Groups {
		f.handUnits(order, plan.ByRoom, g, group.Room, func(i int) int { return f.room(i, g) })
	}
	return f.after, order
}

type flow struct {
	p     plan.Problem
	made  plan.Plan
	after [][]Arc
}

func (f *flow) kept(i int) bool { return f.made.Tasks[i].State == plan.Kept }

func (f *flow) way(i int) *plan.Way { return &f.p.Tasks[i].Ways[f.made.Tasks[i].Way] }

// inOrder lists the kept tasks by start, each behind what comes before it.
func (f *flow) inOrder() []int {
	var byStart, order []int
	for i := range f.p.Tasks {
		if f.kept(i) {
			byStart = append(byStart, i)
		}
	}
	slices.SortStableFunc(byStart, func(a, b int) int {
		x, y := f.made.Tasks[a], f.made.Tasks[b]
		return cmp.Or(cmp.Compare(x.StartSec, y.StartSec), cmp.Compare(x.FinishSec, y.FinishSec))
	})
	placed := make([]bool, len(f.p.Tasks))
	var place func(i int)
	place = func(i int) {
		if placed[i] {
			return
		}
		placed[i] = true
		for _, a := range f.before(i) {
			place(a)
		}
		order = append(order, i)
	}
	for _, i := range byStart {
		place(i)
	}
	return order
}

// before lists the kept tasks that must be finished before task i; those before
// one that is left off count in its place. A running task waits for nothing.
func (f *flow) before(i int) []int {
	if f.p.Tasks[i].Running != nil {
		return nil
	}
	var list []int
	for _, a := range f.p.Tasks[i].After {
		if f.kept(a) {
			list = append(list, a)
		} else {
			list = append(list, f.before(a)...)
		}
	}
	return list
}

func (f *flow) precede(order []int) {
	for _, i := range order {
		for _, a := range f.before(i) {
			f.wait(i, Arc{From: a, Kind: plan.ByClock, Index: -1})
		}
	}
}

// wait adds an arc to task i unless it already waits for that task.
func (f *flow) wait(i int, a Arc) {
	if a.From != i && !slices.ContainsFunc(f.after[i], func(o Arc) bool { return o.From == a.From }) {
		f.after[i] = append(f.after[i], a)
	}
}

func (f *flow) handPeople(order []int) {
	last := make([]int, len(f.p.People))
	for k := range last {
		last[k] = -1
	}
	for _, i := range order {
		for _, person := range f.made.Tasks[i].People {
			if last[person] >= 0 && f.p.Tasks[i].Running == nil {
				f.wait(i, Arc{From: last[person], Kind: plan.ByPerson, Index: person})
			}
			last[person] = i
		}
	}
}

func (f *flow) needs(i, pool int) int {
	n := 0
	for _, need := range f.way(i).Needs {
		if need.Pool == pool {
			n += need.Count
		}
	}
	return n
}

func (f *flow) room(i, group int) int {
	w := f.way(i)
	switch {
	case f.p.Tasks[i].Group != group || w.Place == plan.Off:
		return 0
	case w.Place == plan.Whole:
		return f.p.Groups[group].Room
	}
	return len(w.Team)
}

// unit is one unit of a pool with the task that had it last, -1 for none.
type unit struct {
	holder int
	free   int32
}

// handUnits hands the units of a pool from task to task: each takes, of those that
// are free when the plan starts it, the units of tasks it waits for anyway, then
// those that came free last.
func (f *flow) handUnits(order []int, kind plan.CauseKind, index, capacity int, need func(i int) int) {
	units := make([]unit, max(capacity, 0))
	for k := range units {
		units[k].holder = -1
	}
	for _, i := range order {
		t := f.made.Tasks[i]
		for range min(need(i), capacity) {
			k := f.pick(units, i, t.StartSec)
			if k < 0 {
				break
			}
			if h := units[k].holder; h >= 0 && f.p.Tasks[i].Running == nil {
				f.wait(i, Arc{From: h, Kind: kind, Index: index})
			}
			units[k] = unit{i, t.FinishSec}
		}
	}
}

func (f *flow) pick(units []unit, i int, startSec int32) int {
	best, linked := -1, false
	for k, u := range units {
		if u.free > startSec || u.holder == i {
			continue
		}
		known := u.holder < 0 || slices.ContainsFunc(f.after[i], func(a Arc) bool { return a.From == u.holder })
		if best < 0 || known && !linked || known == linked && u.free > units[best].free {
			best, linked = k, known
		}
	}
	return best
}
