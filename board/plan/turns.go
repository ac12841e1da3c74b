package plan

import (
	"cmp"
	"iter"
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
			out[a][b] = m.clash(loads[a].task, loads[b].task).Kind != NoCause
			out[b][a] = out[a][b]
		}
	}
	return out
}

// clash says why tasks a and b cannot be done at once whatever their ways, by
// the first pair of ways; NoCause if they can. Running tasks are as they are.
func (m *model) clash(a, b int32) Cause {
	if m.tasks[a].running && m.tasks[b].running {
		return Cause{}
	}
	var first Cause
	for v := range m.tasks[a].every {
		for w := range m.tasks[b].every {
			why := Cause{}
			for why = range m.clashes(a, v, b, w) {
				break
			}
			if why.Kind == NoCause {
				return why
			}
			if v == 0 && w == 0 {
				first = why
			}
		}
	}
	return first
}

// clashes are all reasons why way v of task a and way w of task b cannot be done
// at once: people who are in every team of both, pools and rooms too small for
// both, and hands that both ask for more of than there are. One may come twice.
func (m *model) clashes(a int32, v int, b int32, w int) iter.Seq[Cause] {
	one, other := &m.tasks[a].every[v], &m.tasks[b].every[w]
	return func(yield func(Cause) bool) {
		if one.durSec == 0 || other.durSec == 0 {
			return
		}
		for both := one.core & other.core; both != 0; both &= both - 1 {
			if !yield(Cause{Kind: ByPerson, Index: bits.TrailingZeros64(both)}) {
				return
			}
		}
		pools := len(m.p.Pools)
		for lane := range pools + len(m.p.Groups) {
			x, y := laneOf(one.need, lane), laneOf(other.need, lane)
			if x > 0 && y > 0 && x+y > laneOf(m.full, lane) && !yield(m.laneCause(lane)) {
				return
			}
		}
		for _, hands := range [][]SkillSet{m.p.Tasks[a].Ways[one.index].Team, m.p.Tasks[b].Ways[other.index].Team, {0}} {
			for _, skills := range hands {
				set := m.crew.able(skills)
				if m.handsWithin(one, a, set)+m.handsWithin(other, b, set) <= int64(bits.OnesCount64(set)) {
					continue
				}
				if kind, index := m.crew.named(set, skills); !yield(Cause{Kind: kind, Index: index}) {
					return
				}
			}
		}
	}
}

func (m *model) laneCause(lane int) Cause {
	if pools := len(m.p.Pools); lane >= pools {
		return Cause{Kind: ByRoom, Index: lane - pools}
	}
	return Cause{Kind: ByPool, Index: lane}
}

// turnsFor names what keeps most pairs in set apart, by their first ways.
func (m *model) turnsFor(loads []load, set []int) (kind CauseKind, index int) {
	votes := map[Cause]int{}
	most := 0
	for k, a := range set {
		for _, b := range set[:k] {
			counted := map[Cause]bool{}
			for why := range m.clashes(loads[a].task, 0, loads[b].task, 0) {
				if counted[why] {
					continue
				}
				counted[why] = true
				if votes[why]++; votes[why] > most {
					most, kind, index = votes[why], why.Kind, why.Index
				}
			}
		}
	}
	if most == 0 {
		return ByClock, int(loads[set[0]].task)
	}
	return kind, index
}
