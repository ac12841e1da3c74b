package plan

import (
	"cmp"
	"math/bits"
	"slices"
)

// raiseByTurns raises best by sets of work no two pieces of which can be done
// at once, built greedily from each piece, longest first: least head, all
// durations, least tail.
func (m *model) raiseByTurns(best *limit, loads []load) {
	loads = slices.Clone(loads)
	slices.SortStableFunc(loads, func(a, b load) int { return cmp.Compare(b.leastSec, a.leastSec) })
	apart := m.apart(loads)
	for first := range loads {
		set := []int{first}
		head, tail, sum := loads[first].headSec, loads[first].tailSec, int64(loads[first].leastSec)
		for k := range loads {
			if !apart[first][k] || slices.ContainsFunc(set[1:], func(o int) bool { return !apart[o][k] }) {
				continue
			}
			set = append(set, k)
			head, tail = min(head, loads[k].headSec), min(tail, loads[k].tailSec)
			sum += int64(loads[k].leastSec)
		}
		if sec := min(int64(head)+sum+int64(tail), int64(HorizonSec)); sec > int64(best.sec) {
			kind, index := m.turnsFor(loads, set)
			best.raise(int32(sec), kind, index)
		}
	}
}

func (m *model) apart(loads []load) [][]bool {
	out := make([][]bool, len(loads))
	for a := range loads {
		out[a] = make([]bool, len(loads))
		for b := range a {
			kind, _ := m.clash(loads[a].task, loads[b].task)
			out[a][b] = kind != NoCause
			out[b][a] = out[a][b]
		}
	}
	return out
}

// clash says why tasks a and b cannot be done at once whatever their ways, by
// the first pair of ways; NoCause if they can. Running tasks are as they are.
func (m *model) clash(a, b int32) (kind CauseKind, index int) {
	if m.tasks[a].running && m.tasks[b].running {
		return NoCause, -1
	}
	for v := range m.tasks[a].every {
		for w := range m.tasks[b].every {
			k, i := m.clashOf(&m.tasks[a].every[v], &m.tasks[b].every[w])
			if k == NoCause {
				k, i = m.handsClash(a, &m.tasks[a].every[v], b, &m.tasks[b].every[w])
			}
			if k == NoCause {
				return NoCause, -1
			}
			if v == 0 && w == 0 {
				kind, index = k, i
			}
		}
	}
	return kind, index
}

func (m *model) clashOf(v, w *way) (CauseKind, int) {
	if both := v.core & w.core; both != 0 && v.durSec > 0 && w.durSec > 0 {
		return ByPerson, bits.TrailingZeros64(both)
	}
	pools := len(m.p.Pools)
	for lane := range pools + len(m.p.Groups) {
		a, b := laneOf(v.need, lane), laneOf(w.need, lane)
		if v.durSec == 0 || w.durSec == 0 || a == 0 || b == 0 || a+b <= laneOf(m.full, lane) {
			continue
		}
		if lane < pools {
			return ByPool, lane
		}
		return ByRoom, lane - pools
	}
	return NoCause, -1
}

// handsClash says whose hands two ways together ask for more of than there
// are.
func (m *model) handsClash(a int32, v *way, b int32, w *way) (CauseKind, int) {
	if v.durSec == 0 || w.durSec == 0 {
		return NoCause, -1
	}
	for _, hands := range [][]SkillSet{m.p.Tasks[a].Ways[v.index].Team, m.p.Tasks[b].Ways[w.index].Team, {0}} {
		for _, skills := range hands {
			set := m.crew.able(skills)
			x, y := m.handsWithin(v, a, set), m.handsWithin(w, b, set)
			if x+y > int64(bits.OnesCount64(set)) {
				return m.crew.named(set, skills)
			}
		}
	}
	return NoCause, -1
}

// turnsFor names what keeps most neighbours in set apart.
func (m *model) turnsFor(loads []load, set []int) (kind CauseKind, index int) {
	votes := map[Cause]int{}
	most := 0
	for k, a := range set {
		for _, b := range set[:k] {
			kd, i := m.clash(loads[a].task, loads[b].task)
			c := Cause{Kind: kd, Index: i}
			if votes[c]++; votes[c] > most {
				most, kind, index = votes[c], kd, i
			}
		}
	}
	if most == 0 {
		return ByClock, int(loads[set[0]].task)
	}
	return kind, index
}
