package plan

import (
	"math/bits"
	"slices"
)

// tracer finds out why work ends when it ends: it walks back from a task along
// what it waited for and adds up the waits.
type tracer struct {
	m     *model
	s     *schedule
	left  []int // stock that s does not use
	waits []Cause
}

func newTracer(m *model, s *schedule) *tracer {
	tr := &tracer{m: m, s: s, left: slices.Clone(m.stock)}
	for i, w := range s.way {
		if w >= 0 {
			spend(tr.left, m.tasks[i].ways[w].uses, 1)
		}
	}
	return tr
}

// explain fills in the causes of late and blocked work in out.
func (tr *tracer) explain(out *Plan) {
	for i := range out.Tasks {
		out.Tasks[i].Cause.Index = -1
		late := out.Tasks[i].FinishSec - capSec(tr.m.p.Groups[tr.m.tasks[i].group].DeadlineSec)
		switch out.Tasks[i].State {
		case Blocked:
			out.Tasks[i].Cause = tr.blockedCause(i)
		case Kept:
			if late > 0 {
				out.Tasks[i].Cause = tr.lateCause(i, late)
			}
		}
	}
	for g := range out.Groups {
		group := &out.Groups[g]
		group.Cause.Index = -1
		if group.LateSec > 0 || group.Never {
			group.Cause = out.Tasks[tr.lastOf(g, out)].Cause
		}
	}
}

// lastOf returns the task of group g that is kept or blocked and ends last,
// the first of them in index order.
func (tr *tracer) lastOf(g int, out *Plan) int {
	last := -1
	for i, t := range out.Tasks {
		if int(tr.m.tasks[i].group) != g || t.State == Skipped || t.State == Idle {
			continue
		}
		if last < 0 || t.FinishSec > out.Tasks[last].FinishSec {
			last = i
		}
	}
	return last
}

// lateCause returns the greatest of the waits on the chain to task i and of
// the lateness that would remain without any.
func (tr *tracer) lateCause(i int, lateSec int32) Cause {
	tr.waits = tr.waits[:0]
	clock := lateSec
	for j, next := i, 0; j >= 0; j = next {
		next = tr.back(j)
	}
	for _, w := range tr.waits {
		clock -= w.WaitSec
	}
	best := Cause{ByClock, i, max(clock, 0)}
	for _, w := range tr.waits {
		if w.WaitSec > best.WaitSec {
			best = w
		}
	}
	return best
}

func (tr *tracer) wait(c Cause) {
	for i := range tr.waits {
		if w := &tr.waits[i]; w.Kind == c.Kind && w.Index == c.Index {
			w.WaitSec += c.WaitSec
			return
		}
	}
	tr.waits = append(tr.waits, c)
}

// back notes what task j waited for and returns the task that made it start
// when it did, -1 if there is none.
func (tr *tracer) back(j int) int {
	t := &tr.m.tasks[j]
	if t.running {
		return -1
	}
	var ready int32
	before := -1
	for _, p := range t.preds {
		if f := tr.s.finishSec[p]; f > ready {
			ready, before = f, int(p)
		}
	}
	w := tr.s.way[j]
	if w < 0 {
		return before
	}
	tr.waitForStock(j)
	if t.earlySec > ready {
		ready, before = t.earlySec, -1
	}
	start := tr.s.startSec[j]
	if start == ready {
		return before
	}
	tl := tr.without(j)
	cause, need, team := tr.binding(&tl, j, ready)
	cause.WaitSec = min(cause.WaitSec, start-ready)
	tr.wait(cause)
	return tr.releases(j, start, need, team)
}

// waitForStock notes how much shorter the quickest way of task j is that the
// stock does not allow.
func (tr *tracer) waitForStock(j int) {
	t := &tr.m.tasks[j]
	now := &t.ways[tr.s.way[j]]
	best := Cause{Kind: NoCause}
	for i := range tr.m.p.Tasks[j].Ways {
		w := way{durSec: tr.m.p.Tasks[j].Ways[i].lastsSec()}
		for _, u := range tr.m.p.Tasks[j].Ways[i].Uses {
			w.addUse(u)
		}
		if gain := now.durSec - w.durSec; gain > best.WaitSec {
			if short := tr.shortStock(now, &w); short >= 0 {
				best = Cause{ByStock, short, gain}
			}
		}
	}
	if best.Kind != NoCause {
		tr.wait(best)
	}
}

// shortStock returns the first stock that does not allow a change from way old
// to way w, -1 if all allow it. A nil old uses nothing.
func (tr *tracer) shortStock(old, w *way) int {
	for _, u := range w.uses {
		have := tr.left[u.Stock]
		if old != nil {
			for _, o := range old.uses {
				if o.Stock == u.Stock {
					have += o.Count
				}
			}
		}
		if u.Count > have {
			return u.Stock
		}
	}
	return -1
}

// without returns the timeline of the whole schedule but task j.
func (tr *tracer) without(j int) timeline {
	tl := newTimeline(tr.m.full, tr.m.mostSegments())
	tl.copyFrom(&tr.m.base)
	for i, w := range tr.s.way {
		if t := &tr.m.tasks[i]; w >= 0 && i != j && !t.running {
			tl.takeWay(tr.s.startSec[i], &t.ways[w], t.ways[w].teams[tr.s.team[i]])
		}
	}
	return tl
}

// binding returns the one constraint that, alone, would have held task j back
// longest from from on, with the lanes and the people it is about.
func (tr *tracer) binding(tl *timeline, j int, from int32) (Cause, []uint64, uint64) {
	w := &tr.m.tasks[j].ways[tr.s.way[j]]
	best, people := tr.bindingPeople(tl, j, from)
	var need []uint64
	pools := len(tr.m.p.Pools)
	for lane := range pools + len(tr.m.p.Groups) {
		n := laneOf(w.need, lane)
		if n == 0 {
			continue
		}
		alone := make([]uint64, tr.m.words)
		addLane(alone, lane, n)
		wait := heldBack(tl, from, w.durSec, alone, []uint64{0})
		if wait <= best.WaitSec {
			continue
		}
		best, need, people = Cause{ByPool, lane, wait}, alone, 0
		if lane >= pools {
			best = Cause{ByRoom, lane - pools, wait}
		}
	}
	return best, need, people
}

// bindingPeople is binding for people: the person who is in every team, or the
// hand that is longest in coming.
func (tr *tracer) bindingPeople(tl *timeline, j int, from int32) (Cause, uint64) {
	w := &tr.m.tasks[j].ways[tr.s.way[j]]
	none := make([]uint64, tr.m.words)
	whole := heldBack(tl, from, w.durSec, none, w.teams)
	best, people := Cause{ByHands, -1, whole}, ^uint64(0)
	if whole == 0 {
		return best, 0
	}
	for core := w.core; core != 0; core &= core - 1 {
		one := core & -core
		if heldBack(tl, from, w.durSec, none, []uint64{one}) == whole {
			return Cause{ByPerson, bits.TrailingZeros64(one), whole}, one
		}
	}
	for _, skills := range tr.m.p.Tasks[j].Ways[w.index].Team {
		able := tr.m.crew.able(skills)
		var ones []uint64
		for left := able; left != 0; left &= left - 1 {
			ones = append(ones, left&-left)
		}
		if skills != 0 && heldBack(tl, from, w.durSec, none, ones) == whole {
			return Cause{BySkill, tr.m.crew.rarest(skills), whole}, able
		}
	}
	return best, people
}

// heldBack returns how long after from one of teams and need are free.
func heldBack(tl *timeline, from, durSec int32, need []uint64, teams []uint64) int32 {
	w := way{durSec: durSec, need: need, teams: teams}
	start, _, ok := tl.earliest(from, &w, 0, -1)
	if !ok {
		return HorizonSec - from
	}
	return start - from
}

// rarest returns the skill of a set that the fewest people have.
func (c *crew) rarest(skills SkillSet) int {
	best, fewest := -1, len(c.people)+1
	eachSkill(skills, func(s int) {
		if n := bits.OnesCount64(c.able(1 << s)); n < fewest {
			best, fewest = s, n
		}
	})
	return best
}

// releases returns a task other than j that ends at the moment at and held
// some of need or one of people, -1 if there is none.
func (tr *tracer) releases(j int, at int32, need []uint64, people uint64) int {
	for i, w := range tr.s.way {
		if i == j || w < 0 || tr.s.finishSec[i] != at || tr.s.startSec[i] == at {
			continue
		}
		held := &tr.m.tasks[i].ways[w]
		if held.teams[tr.s.team[i]]&people != 0 {
			return i
		}
		for lane := range len(need) * lanesWord {
			if laneOf(need, lane) > 0 && laneOf(held.need, lane) > 0 {
				return i
			}
		}
	}
	return -1
}

// blockedCause returns why a must cannot be done.
func (tr *tracer) blockedCause(i int) Cause {
	t := &tr.m.tasks[i]
	for _, p := range t.preds {
		if tr.s.finishSec[p] == HorizonSec {
			return tr.blockedCause(int(p))
		}
	}
	for w := range t.ways {
		if short := tr.shortStock(nil, &t.ways[w]); short >= 0 {
			return Cause{ByStock, short, HorizonSec}
		}
	}
	if len(t.ways) == 0 {
		return tr.impossible(i, &tr.m.p.Tasks[i].Ways[0])
	}
	return Cause{ByClock, i, HorizonSec}
}

// impossible returns why way w of task i can never be done.
func (tr *tracer) impossible(i int, w *Way) Cause {
	for _, skills := range w.Team {
		if tr.m.crew.able(skills) == 0 {
			return Cause{BySkill, tr.m.crew.rarest(skills), HorizonSec}
		}
	}
	if teams := tr.m.crew.teams(w.Team, nil); len(teams) == 0 {
		return Cause{ByHands, -1, HorizonSec}
	}
	group := int(tr.m.tasks[i].group)
	need, _ := tr.m.packNeed(group, w, len(w.Team))
	for pool := range tr.m.p.Pools {
		if laneOf(need, pool) > tr.m.p.Pools[pool].Capacity {
			return Cause{ByPool, pool, HorizonSec}
		}
	}
	if laneOf(need, tr.m.roomLane(group)) > tr.m.p.Groups[group].Room {
		return Cause{ByRoom, group, HorizonSec}
	}
	short := way{}
	for _, u := range w.Uses {
		short.addUse(u)
	}
	return Cause{ByStock, max(tr.shortStock(nil, &short), 0), HorizonSec}
}
