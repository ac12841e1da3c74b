package plan_test

import (
	"slices"

	"mendline/board/plan"
)

// oracle finds the best score of a small problem by trying everything: every
// order that precedence allows, every way or leaving off, every team, each
// task at the first moment that fits among its earliest start and the moments
// at which something ends. It shares no code with the planner. Branches whose
// score so far is no better than the best known are cut: no field of a score
// falls when a task is added.
type oracle struct {
	p      plan.Problem
	placed []placed // by task; done says whether it is in
	stock  []int
	best   plan.Score
	found  bool
}

type placed struct {
	done, kept, never, idle bool
	start, finish           int32
	way                     plan.Way
	people                  []int
}

func optimum(p plan.Problem) plan.Score {
	o := oracle{p: p, placed: make([]placed, len(p.Tasks))}
	for _, s := range p.Stocks {
		o.stock = append(o.stock, s.Count)
	}
	for i, t := range p.Tasks {
		if t.Running != nil {
			o.placed[i] = placed{done: true, kept: true, finish: t.Running.LeftSec,
				way: t.Ways[t.Running.Way], people: t.Running.People}
		}
	}
	o.extend()
	return o.best
}

func (o *oracle) extend() {
	score := o.score()
	if o.found && score.Compare(o.best) >= 0 {
		return
	}
	complete := true
	for i := range o.placed {
		if o.placed[i].done {
			continue
		}
		complete = false
		if ready, never, ok := o.ready(i); ok {
			o.branch(i, ready, never)
		}
	}
	if complete {
		o.best, o.found = score, true
	}
}

// ready is not ok while something before task i is not placed.
func (o *oracle) ready(i int) (at int32, never, ok bool) {
	for _, a := range o.p.Tasks[i].After {
		if !o.placed[a].done {
			return 0, false, false
		}
		at = max(at, o.placed[a].finish)
		never = never || o.placed[a].never
	}
	return at, never, true
}

func (o *oracle) branch(i int, ready int32, never bool) {
	t := o.p.Tasks[i]
	if o.idle(i) {
		o.with(i, placed{done: true, idle: true, never: never, start: ready, finish: ready})
		return
	}
	if !never {
		for _, w := range t.Ways {
			o.branchWay(i, w, max(ready, t.EarliestSec))
		}
	}
	if t.Grade == plan.Must {
		o.with(i, placed{done: true, never: true, start: plan.HorizonSec, finish: plan.HorizonSec})
	} else {
		o.with(i, placed{done: true, never: never, start: ready, finish: ready})
	}
}

// idle reports whether ways may call task i and none that is taken does.
func (o *oracle) idle(i int) (idle bool) {
	for k, t := range o.p.Tasks {
		for _, w := range t.Ways {
			if slices.Contains(w.Calls, i) {
				idle = true
			}
		}
		if o.placed[k].kept && slices.Contains(o.placed[k].way.Calls, i) {
			return false
		}
	}
	return idle
}

// ends returns when each piece of a way ends that begins at start.
func ends(w plan.Way, start int32) []int32 {
	out := []int32{start + w.DurationSec}
	for _, p := range w.Taper {
		out = append(out, out[len(out)-1]+p.DurationSec)
	}
	return out
}

// needsAt returns what a way that begins at start needs at the moment now.
func needsAt(w plan.Way, start, now int32) []plan.Need {
	for k, end := range ends(w, start) {
		switch {
		case now >= end:
		case k == 0:
			return w.Needs
		default:
			return w.Taper[k-1].Needs
		}
	}
	return nil
}

func (o *oracle) branchWay(i int, w plan.Way, from int32) {
	for _, u := range w.Uses {
		o.stock[u.Stock] -= u.Count
	}
	if !slices.ContainsFunc(o.stock, func(n int) bool { return n < 0 }) {
		for _, team := range o.teams(w, o.p.Tasks[i].Assigned) {
			at := placed{done: true, kept: true, way: w, people: team}
			if o.putFirst(&at, i, from) {
				o.with(i, at)
			}
		}
	}
	for _, u := range w.Uses {
		o.stock[u.Stock] += u.Count
	}
}

func (o *oracle) with(i int, at placed) {
	o.placed[i] = at
	o.extend()
	o.placed[i] = placed{}
}

// teams returns every set of people that fills the hands, each once; with
// assigned people who fit, those sets only.
func (o *oracle) teams(w plan.Way, assigned []int) [][]int {
	var all [][]int
	var fill func(team []int)
	fill = func(team []int) {
		if len(team) == len(w.Team) {
			set := slices.Sorted(slices.Values(team))
			if !slices.ContainsFunc(all, func(s []int) bool { return slices.Equal(s, set) }) {
				all = append(all, set)
			}
			return
		}
		for person, who := range o.p.People {
			if who.Skills&w.Team[len(team)] == w.Team[len(team)] && !slices.Contains(team, person) {
				fill(append(slices.Clone(team), person))
			}
		}
	}
	fill(nil)
	var fitting [][]int
	for _, team := range all {
		n := 0
		for _, a := range assigned {
			if slices.Contains(team, a) {
				n++
			}
		}
		if n == min(len(assigned), len(team)) {
			fitting = append(fitting, team)
		}
	}
	if len(fitting) > 0 {
		return fitting
	}
	return all
}

// putFirst puts a task at the first moment that fits.
func (o *oracle) putFirst(at *placed, i int, from int32) bool {
	moments := []int32{from}
	for _, b := range o.placed {
		for _, end := range ends(b.way, b.start) {
			if b.kept && end > from {
				moments = append(moments, end)
			}
		}
		if b.kept && b.finish > from {
			moments = append(moments, b.finish)
		}
	}
	for _, who := range o.p.People {
		for _, w := range who.Away {
			moments = append(moments, max(w.ToSec, from))
		}
	}
	for _, pool := range o.p.Pools {
		for _, t := range pool.Taken {
			moments = append(moments, max(t.ToSec, from))
		}
	}
	slices.Sort(moments)
	for _, start := range moments {
		at.start, at.finish = start, slices.Max(ends(at.way, start))
		if at.finish <= plan.HorizonSec && o.fits(at, i) {
			return true
		}
	}
	return false
}

// fits looks at every moment at which something begins while the task runs.
func (o *oracle) fits(at *placed, i int) bool {
	moments := []int32{at.start}
	for _, b := range o.placed {
		moments = append(moments, b.start)
	}
	for _, who := range o.p.People {
		for _, w := range who.Away {
			moments = append(moments, w.FromSec)
		}
	}
	for _, pool := range o.p.Pools {
		for _, t := range pool.Taken {
			moments = append(moments, t.FromSec)
		}
	}
	for _, now := range moments {
		if at.start <= now && now < at.finish && !o.fitsAt(at, i, now) {
			return false
		}
	}
	return true
}

func (o *oracle) fitsAt(at *placed, i int, now int32) bool {
	in := func(from, to int32) bool { return from <= now && now < to }
	pools := make([]int, len(o.p.Pools))
	for k, pool := range o.p.Pools {
		pools[k] = pool.Capacity
		for _, t := range pool.Taken {
			if in(t.FromSec, t.ToSec) {
				pools[k] -= t.Count
			}
		}
	}
	group := o.p.Tasks[i].Group
	room := o.p.Groups[group].Room - hands(at.way, at.people, o.p.Groups[group].Room)
	for k, b := range o.placed {
		if !b.kept || !in(b.start, b.finish) {
			continue
		}
		for _, person := range b.people {
			if slices.Contains(at.people, person) {
				return false
			}
		}
		for _, n := range needsAt(b.way, b.start, now) {
			pools[n.Pool] -= n.Count
		}
		if o.p.Tasks[k].Group == group {
			room -= hands(b.way, b.people, o.p.Groups[group].Room)
		}
	}
	for _, person := range at.people {
		for _, w := range o.p.People[person].Away {
			if in(w.FromSec, w.ToSec) {
				return false
			}
		}
	}
	for _, n := range needsAt(at.way, at.start, now) {
		if pools[n.Pool] -= n.Count; pools[n.Pool] < 0 {
			return false
		}
	}
	return room >= 0 || hands(at.way, at.people, o.p.Groups[group].Room) == 0
}

func hands(w plan.Way, people []int, room int) int {
	switch w.Place {
	case plan.Off:
		return 0
	case plan.Whole:
		return room
	}
	return len(people)
}

// score judges what is placed.
func (o *oracle) score() (s plan.Score) {
	ready, never := make([]int32, len(o.p.Groups)), make([]bool, len(o.p.Groups))
	for i, at := range o.placed {
		t := o.p.Tasks[i]
		switch {
		case !at.done, at.idle:
		case at.kept:
			ready[t.Group] = max(ready[t.Group], at.finish)
		case t.Grade == plan.Should:
			s.ShouldOff++
		case t.Grade == plan.Could:
			s.CouldOff++
		default:
			ready[t.Group], never[t.Group] = plan.HorizonSec, true
		}
	}
	for g, group := range o.p.Groups {
		late := max(ready[g]-group.DeadlineSec, 0)
		if never[g] {
			s.Never++
		}
		if late > 0 || never[g] {
			s.NotReady++
		}
		s.LateSec += int64(late) * int64(max(group.Weight, 1))
		s.ReadySec += int64(ready[g])
	}
	return s
}
