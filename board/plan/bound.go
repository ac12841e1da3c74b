package plan

import (
	"cmp"
	"maps"
	"math/bits"
	"slices"
)

// load is work that a group cannot be ready without.
type load struct {
	task     int32
	headSec  int32 // it cannot start earlier
	leastSec int32 // least duration
	tailSec  int32 // after its end the group is not ready for at least so long
}

// limit is a time before which something is not ready in any schedule, and the
// constraint that says so.
type limit struct {
	sec   int32
	cause Cause // WaitSec is not used
}

func (l *limit) raise(sec int32, kind CauseKind, index int) {
	if sec > l.sec {
		*l = limit{min(sec, HorizonSec), Cause{Kind: kind, Index: index}}
	}
}

// bound returns a time before which group g is not ready in any schedule, with
// all optional work kept or none of it. HorizonSec if work of it cannot be
// done at all. It is the greatest of the longest path on shortest ways; for
// each pool, room and set of people who alone can do some work, of
// head + tail + energy / capacity over the work with at least that head and
// tail; of work no two pieces of which can be done at once; and of the longest
// path on the ways each stock allows.
func (m *model) bound(g int, optional bool) limit {
	loads, ok := m.loads(g, optional)
	if !ok {
		return limit{HorizonSec, Cause{Kind: NoCause, Index: -1}}
	}
	best := limit{0, Cause{Kind: NoCause, Index: -1}}
	for _, l := range loads {
		best.raise(l.headSec+l.leastSec+l.tailSec, ByClock, int(l.task))
	}
	m.raiseByEnergy(&best, loads)
	m.raiseByTurns(&best, loads)
	for s := range m.stock {
		if at, ok := m.stockPath(loads, s); ok {
			best.raise(at.readySec(m.stock[s]), ByStock, s)
		}
	}
	return best
}

// raiseByEnergy raises best by what each resource says of loads, whose groups
// may be several.
func (m *model) raiseByEnergy(best *limit, loads []load) {
	slices.SortStableFunc(loads, func(a, b load) int { return cmp.Compare(b.headSec, a.headSec) })
	pools := len(m.p.Pools)
	for lane := range pools + len(m.p.Groups) {
		energy := func(w *way, _ int32) int64 { return int64(laneOf(w.need, lane)) }
		sec := m.energyBound(loads, laneOf(m.full, lane), energy)
		if lane < pools {
			best.raise(sec, ByPool, lane)
		} else {
			best.raise(sec, ByRoom, lane-pools)
		}
	}
	sets := m.specialists(loads)
	for _, set := range slices.Sorted(maps.Keys(sets)) {
		energy := func(w *way, i int32) int64 { return m.handsWithin(w, i, set) }
		sec := m.energyBound(loads, bits.OnesCount64(set), energy)
		kind, index := m.crew.named(set, sets[set])
		best.raise(sec, kind, index)
	}
}

// named says what the people of set, who have skills in common, are short of.
func (c *crew) named(set uint64, skills SkillSet) (CauseKind, int) {
	switch {
	case skills == 0:
		return ByHands, -1
	case bits.OnesCount64(set) == 1:
		return ByPerson, bits.TrailingZeros64(set)
	}
	return BySkill, c.rarest(skills)
}

// loads returns the work group g needs, with heads and tails. It is not ok if
// some of it has no way.
func (m *model) loads(g int, optional bool) (out []load, ok bool) {
	n := len(m.tasks)
	needed := make([]bool, n)
	tail, head := make([]int32, n), make([]int32, n)
	for k := n - 1; k >= 0; k-- {
		i := m.topo[k]
		t := &m.tasks[i]
		sure := t.sure(optional)
		needed[i] = needed[i] || sure && int(t.group) == g
		if !needed[i] {
			continue
		}
		if sure && len(t.every) == 0 {
			return nil, false
		}
		for _, p := range t.preds {
			needed[p] = true
			tail[p] = max(tail[p], min(tail[i]+t.shortest(optional), HorizonSec))
		}
	}
	for _, i := range m.topo {
		t := &m.tasks[i]
		if t.sure(optional) {
			head[i] = max(head[i], t.earlySec)
		}
		if t.running {
			head[i] = 0
		}
		least := t.shortest(optional)
		for _, s := range t.succs {
			head[s] = max(head[s], min(head[i]+least, HorizonSec))
		}
		if needed[i] && t.sure(optional) {
			out = append(out, load{i, head[i], least, tail[i]})
		}
	}
	return out, true
}

// sure reports whether a task is done if optional work is, or is not.
func (t *task) sure(optional bool) bool {
	return len(t.callers) == 0 && (t.grade == Must || optional)
}

// energyBound returns the best head + tail + energy / capacity. loads are in
// falling order of head; use is what a way takes of the resource.
func (m *model) energyBound(loads []load, capacity int, use func(w *way, task int32) int64) int32 {
	if capacity == 0 {
		return 0
	}
	energy := make([]int64, len(loads))
	crowded := m.crowded(loads, capacity, use)
	for k, l := range loads {
		t := &m.tasks[l.task]
		if t.running && crowded {
			continue
		}
		energy[k] = int64(t.every[0].durSec) * use(&t.every[0], l.task)
		for w := range t.every {
			energy[k] = min(energy[k], int64(t.every[w].durSec)*use(&t.every[w], l.task))
		}
	}
	var best int64
	for _, from := range loads {
		var sum int64
		for k, l := range loads {
			if l.tailSec < from.tailSec || energy[k] == 0 {
				continue
			}
			sum += energy[k]
			length := (sum + int64(capacity) - 1) / int64(capacity)
			best = max(best, int64(l.headSec)+int64(from.tailSec)+length)
		}
	}
	return int32(min(best, int64(HorizonSec)))
}

// crowded reports whether the running tasks hold more than there is, which
// they may, or share people.
func (m *model) crowded(loads []load, capacity int, use func(w *way, task int32) int64) bool {
	var sum int64
	var people uint64
	for _, l := range loads {
		t := &m.tasks[l.task]
		if !t.running {
			continue
		}
		w := &t.every[0]
		if people&w.core != 0 {
			return true
		}
		people |= w.core
		sum += use(w, l.task)
	}
	return sum > int64(capacity)
}

// specialists returns the sets of people that hands of the loads ask for, and
// everyone, with the skills that make each set.
func (m *model) specialists(loads []load) map[uint64]SkillSet {
	sets := map[uint64]SkillSet{}
	for _, l := range loads {
		for _, w := range m.tasks[l.task].every {
			for _, skills := range m.p.Tasks[l.task].Ways[w.index].Team {
				sets[m.crew.able(skills)] = skills
			}
		}
	}
	sets[m.crew.able(0)] = 0
	return sets
}

// handsWithin returns how many hands of a way only people of set can fill.
func (m *model) handsWithin(w *way, i int32, set uint64) (hands int64) {
	if m.tasks[i].running {
		return int64(bits.OnesCount64(w.core & set))
	}
	for _, skills := range m.p.Tasks[i].Ways[w.index].Team {
		if m.crew.able(skills)&^set == 0 {
			hands++
		}
	}
	return hands
}

// goal returns a score that no schedule beats: lateness by the bounds, nothing
// left off.
func (m *model) goal() Score {
	var s Score
	for g := range m.p.Groups {
		group := &m.p.Groups[g]
		_, possible := m.loads(g, false)
		late := max(m.bounds[g].sec-capSec(group.DeadlineSec), 0)
		if !possible {
			s.Never++
		}
		if !possible || late > 0 {
			s.NotReady++
		}
		s.LateSec += int64(late) * int64(max(group.Weight, 1))
		s.ReadySec += int64(m.bound(g, true).sec)
	}
	return s
}
