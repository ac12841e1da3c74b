package plan

import "slices"

// Ways of a task beside the indices into task.ways.
const (
	skip    = -1 // left off
	blocked = -2 // cannot be done
	idle    = -3 // not called for by any way
)

// model is a problem made ready for decoding: lanes packed, teams written out,
// ways that can never be done dropped, running tasks and absences placed.
type model struct {
	p        *Problem
	crew     *crew
	words    int      // words of lanes
	full     []uint64 // capacity of every lane, guards set
	tasks    []task
	topo     []int32 // tasks, each after those it waits for
	bounds   []limit // by group, without optional work
	stock    []int   // count of each stock
	base     timeline
	early    timeline // base, leadSec later
	leadSec  int32    // no work backwards from a moment needs longer
	optional bool     // some task may be left off
	follows  bool     // people follow a plan
	crowd    bool     // some way asks for people
	lftSec   []int32  // latest finish of each task by the deadlines, may be negative
	unitSec  int32    // a fifth of the mean duration, at least 1: the grain of sampling
}

// task is a compiled Task.
type task struct {
	group    int32
	grade    Grade
	earlySec int32
	preds    []int32
	succs    []int32
	ways     []way
	every    []way // ways for bounds: with what only the stock left by others rules out
	running  bool
	assigned bool
	callers  []int32 // tasks that may call it; idle unless one does
	calls    bool    // some way of it calls a task
	frozen   bool    // about to start: first in every list
	follow   *follow // nil if people follow nothing about it
	headSec  int32
	tailSec  int32 // its group is not ready for at least so long after it ends
}

// way is a compiled Way.
type way struct {
	index  int // in Task.Ways
	durSec int32
	need   []uint64
	teams  []uint64 // masks of people, best first; one empty team if no hands are asked for
	core   uint64   // people who are in every team
	uses   []Use    // at most one entry a stock
	pieces []piece  // nil if the way needs the same throughout; else need is the least of them
	calls  []int    // tasks it makes necessary
}

func capSec(sec int32) int32 { return min(sec, HorizonSec) }

func compile(p *Problem) *model {
	m := &model{p: p, crew: newCrew(p), tasks: make([]task, len(p.Tasks))}
	m.layLanes()
	for _, s := range p.Stocks {
		m.stock = append(m.stock, s.Count)
	}
	for i := range p.Tasks {
		m.tasks[i] = m.compileTask(&p.Tasks[i])
	}
	m.linkTasks()
	m.linkCalls()
	m.dropDoomed()
	m.dropWays()
	m.setFollow()
	m.placeFixed()
	m.setLatestFinish()
	m.setHeads()
	m.setEarly()
	m.setChoices()
	for g := range m.p.Groups {
		m.bounds = append(m.bounds, m.bound(g, false))
	}
	return m
}

// layLanes gives a lane to each pool and to the room of each group.
func (m *model) layLanes() {
	lanes := len(m.p.Pools) + len(m.p.Groups)
	m.words = (lanes + lanesWord - 1) / lanesWord
	m.full = make([]uint64, m.words)
	for i := range m.full {
		m.full[i] = guardBits
	}
	for i, pool := range m.p.Pools {
		addLane(m.full, i, pool.Capacity)
	}
	for i, g := range m.p.Groups {
		addLane(m.full, len(m.p.Pools)+i, g.Room)
	}
}

func addLane(words []uint64, lane, count int) {
	words[lane/lanesWord] += uint64(count) << (lane % lanesWord * laneBits)
}

func laneOf(words []uint64, lane int) int {
	return int(words[lane/lanesWord] >> (lane % lanesWord * laneBits) & 0x7fff)
}

func (m *model) roomLane(group int) int { return len(m.p.Pools) + group }

func (m *model) compileTask(t *Task) task {
	out := task{
		group:    int32(t.Group),
		grade:    t.Grade,
		earlySec: capSec(t.EarliestSec),
		running:  t.Running != nil,
		assigned: len(t.Assigned) > 0,
	}
	if out.running {
		out.grade = Must
		out.ways = []way{m.runningWay(t)}
		return out
	}
	for i := range t.Ways {
		if w, ok := m.compileWay(t, i); ok {
			out.ways = append(out.ways, w)
		}
	}
	return out
}

func (m *model) runningWay(t *Task) way {
	var team uint64
	for _, person := range t.Running.People {
		team |= 1 << person
	}
	w := &t.Ways[t.Running.Way]
	need, _ := m.packNeed(t.Group, w, len(t.Running.People))
	out := way{
		index:  t.Running.Way,
		durSec: capSec(t.Running.LeftSec),
		need:   need,
		teams:  []uint64{team},
		core:   team,
		calls:  w.Calls,
	}
	m.cut(&out, t.Group, w, len(t.Running.People))
	return out
}

// compileWay is not ok for a way that asks for more than there ever is.
func (m *model) compileWay(t *Task, index int) (way, bool) {
	w := &t.Ways[index]
	out := way{index: index, durSec: w.lastsSec(), teams: m.crew.teams(w.Team, t.Assigned), calls: w.Calls}
	var fits bool
	if out.need, fits = m.packNeed(t.Group, w, len(w.Team)); !fits || len(out.teams) == 0 {
		return out, false
	}
	m.cut(&out, t.Group, w, len(w.Team))
	out.core = ^uint64(0)
	for _, team := range out.teams {
		out.core &= team
	}
	for _, u := range w.Uses {
		out.addUse(u)
	}
	for _, u := range out.uses {
		if u.Count > m.stock[u.Stock] {
			return out, false
		}
	}
	return out, true
}

func (w *way) addUse(u Use) {
	if u.Count == 0 {
		return
	}
	for i := range w.uses {
		if w.uses[i].Stock == u.Stock {
			w.uses[i].Count += u.Count
			return
		}
	}
	w.uses = append(w.uses, u)
}

// packNeed returns the lanes that hands people need for a way, and whether
// there is ever so much. Lanes are cut at what they can hold.
func (m *model) packNeed(group int, w *Way, hands int) (need []uint64, fits bool) {
	lanes := make([]int, len(m.p.Pools)+len(m.p.Groups))
	for _, n := range w.Needs {
		lanes[n.Pool] += n.Count
	}
	switch w.Place {
	case In:
		lanes[m.roomLane(group)] = hands
	case Whole:
		lanes[m.roomLane(group)] = m.p.Groups[group].Room
	}
	need, fits = make([]uint64, m.words), true
	for lane, n := range lanes {
		if n > laneOf(m.full, lane) {
			n, fits = min(n, CapacityMost), false
		}
		addLane(need, lane, n)
	}
	return need, fits
}

// linkTasks fills in who waits for whom. Running tasks wait for nobody.
func (m *model) linkTasks() {
	waiting := make([]int, len(m.tasks))
	for i := range m.tasks {
		t := &m.tasks[i]
		if t.running {
			continue
		}
		for _, a := range m.p.Tasks[i].After {
			t.preds = append(t.preds, int32(a))
			m.tasks[a].succs = append(m.tasks[a].succs, int32(i))
		}
		waiting[i] = len(t.preds)
	}
	for i := range m.tasks {
		if waiting[i] == 0 {
			m.topo = append(m.topo, int32(i))
		}
	}
	for k := 0; k < len(m.topo); k++ {
		for _, s := range m.tasks[m.topo[k]].succs {
			if waiting[s]--; waiting[s] == 0 {
				m.topo = append(m.topo, s)
			}
		}
	}
}

// needed reports whether a task is done in any plan that does what it can.
func (t *task) needed() bool { return t.grade == Must && len(t.callers) == 0 }

// linkCalls notes who may call whom. Running tasks are called by nobody.
func (m *model) linkCalls() {
	for i := range m.p.Tasks {
		for w := range m.p.Tasks[i].Ways {
			for _, c := range m.p.Tasks[i].Ways[w].Calls {
				called := &m.tasks[c]
				m.tasks[i].calls = true
				if !called.running && !slices.Contains(called.callers, int32(i)) {
					called.callers = append(called.callers, int32(i))
				}
			}
		}
	}
}

// dropDoomed takes the ways from all work that comes after a must without any:
// it cannot be done, and must not hold stock.
func (m *model) dropDoomed() {
	doomed := make([]bool, len(m.tasks))
	for _, i := range m.topo {
		t := &m.tasks[i]
		for _, p := range t.preds {
			doomed[i] = doomed[i] || doomed[p]
		}
		if doomed[i] {
			t.ways = nil
		}
		doomed[i] = doomed[i] || t.needed() && len(t.ways) == 0
	}
}

// placeFixed builds the timeline that every schedule starts from.
func (m *model) placeFixed() {
	m.base = newTimeline(m.full, 16)
	none := make([]uint64, m.words)
	for i, who := range m.p.People {
		for _, w := range who.Away {
			m.takeBase(w, none, 1<<i)
		}
	}
	for i, pool := range m.p.Pools {
		for _, t := range pool.Taken {
			need := make([]uint64, m.words)
			addLane(need, i, t.Count)
			m.takeBase(t.Window, need, 0)
		}
	}
	for i := range m.tasks {
		if t := &m.tasks[i]; t.running {
			w := &t.ways[0]
			for _, p := range w.parts() {
				m.takeBase(Window{p.fromSec, p.toSec}, p.need, w.teams[0])
			}
		}
	}
}

func (m *model) takeBase(w Window, need []uint64, team uint64) {
	tl := &m.base
	if n := len(tl.at) + 2; n > cap(tl.at) {
		wider := newTimeline(m.full, 2*n)
		wider.copyFrom(tl)
		*tl = wider
	}
	tl.takeAll(capSec(w.FromSec), capSec(w.ToSec), need, team)
}

// shortest returns the least duration of a task over its ways: 0 if it may be
// left off and optional is false, or if it has no way at all.
func (t *task) shortest(optional bool) int32 {
	if len(t.every) == 0 || len(t.callers) > 0 || t.grade != Must && !optional {
		return 0
	}
	least := t.every[0].durSec
	for i := range t.every {
		least = min(least, t.every[i].durSec)
	}
	return least
}

// setLatestFinish computes the latest finish times from the deadlines of all
// groups, backwards over shortest ways.
func (m *model) setLatestFinish() {
	m.lftSec = make([]int32, len(m.tasks))
	total := int64(0)
	for k := len(m.topo) - 1; k >= 0; k-- {
		i := m.topo[k]
		t := &m.tasks[i]
		lft := int64(capSec(m.p.Groups[t.group].DeadlineSec))
		for _, s := range t.succs {
			lft = min(lft, int64(m.lftSec[s])-int64(m.tasks[s].shortest(true)))
		}
		m.lftSec[i] = int32(max(lft, -1<<30))
		for _, s := range t.succs {
			if u := &m.tasks[s]; u.group == t.group {
				t.tailSec = max(t.tailSec, min(u.tailSec+u.shortest(false), HorizonSec))
			}
		}
		total += int64(t.shortest(true))
	}
	m.unitSec = int32(max(total/int64(max(len(m.tasks), 1))/5, 1))
}

// setHeads computes the earliest starts over shortest ways without optional
// work.
func (m *model) setHeads() {
	for _, i := range m.topo {
		t := &m.tasks[i]
		after := t.headSec
		t.headSec = max(t.headSec, t.earlySec)
		if t.needed() {
			after = min(t.headSec+t.shortest(false), HorizonSec)
		}
		for _, s := range t.succs {
			m.tasks[s].headSec = max(m.tasks[s].headSec, after)
		}
	}
}

// setChoices notes what kinds of choice there are.
func (m *model) setChoices() {
	for i := range m.tasks {
		m.optional = m.optional || m.tasks[i].grade != Must
		for w := range m.tasks[i].ways {
			m.crowd = m.crowd || m.tasks[i].ways[w].teams[0] != 0
		}
	}
}

// setEarly builds the timeline of backward decoding: base, with as much time
// before it as all work one after another needs.
func (m *model) setEarly() {
	var sum int64
	for i := range m.tasks {
		var longest int32
		for w := range m.tasks[i].ways {
			longest = max(longest, m.tasks[i].ways[w].durSec)
		}
		sum += int64(longest)
	}
	m.leadSec = int32(min(sum, int64(HorizonSec)))
	m.early = newTimeline(m.full, len(m.base.at)+2)
	if m.leadSec == 0 {
		m.early.copyFrom(&m.base)
		return
	}
	for i, at := range m.base.at {
		m.early.at = append(m.early.at, at+m.leadSec)
		m.early.busy = append(m.early.busy, m.base.busy[i])
	}
	m.early.free = append(m.early.free, m.base.free...)
}
