package plan

import (
	"slices"
)

// mostStock is the largest count of a stock that is shared out one by one; of
// what there is more of, there is enough.
const mostStock = 500

// stockPath is a chain of tasks by what it may take of one stock.
type stockPath struct {
	aroundSec int64   // before the first and after the last of the chain
	otherUse  int     // least use of the group's work beside the chain
	leastSec  []int64 // of the chain, by use; HorizonSec where it cannot be done
}

// readySec is a time before which the group is not ready with count of the
// stock.
func (p *stockPath) readySec(count int) int32 {
	left := min(count-p.otherUse, len(p.leastSec)-1)
	if left < 0 {
		return HorizonSec
	}
	return int32(min(p.aroundSec+p.leastSec[left], int64(HorizonSec)))
}

// stockPath shares stock s out along the longest path through loads: the least
// duration over the ways that together use at most so much. It is not ok
// if the path does not use the stock.
func (m *model) stockPath(loads []load, s int) (p stockPath, ok bool) {
	if m.stock[s] > mostStock {
		return p, false
	}
	chain := m.longestChain(loads)
	if !slices.ContainsFunc(chain, func(l load) bool { return m.tasks[l.task].thirsty(s) }) {
		return p, false
	}
	p.aroundSec = int64(chain[0].headSec) + int64(chain[len(chain)-1].tailSec)
	for _, l := range loads {
		if !slices.Contains(chain, l) {
			p.otherUse += m.tasks[l.task].least(m.tasks[l.task].every, s)
		}
	}
	p.leastSec = make([]int64, m.stock[s]+1)
	for _, l := range chain {
		p.leastSec = m.tasks[l.task].spread(p.leastSec, s)
	}
	return p, true
}

func (t *task) thirsty(s int) bool {
	return slices.ContainsFunc(t.every, func(w way) bool { return w.takes(s) > 0 })
}

// spread adds a task to a chain: out[u] is the least of leastSec[u-use] +
// duration over its ways.
func (t *task) spread(leastSec []int64, s int) []int64 {
	out := make([]int64, len(leastSec))
	for u := range out {
		out[u] = int64(HorizonSec)
		for w := range t.every {
			if use := t.every[w].takes(s); use <= u {
				out[u] = min(out[u], leastSec[u-use]+int64(t.every[w].durSec))
			}
		}
	}
	return out
}

// longestChain returns a longest path through loads from the last task on it
// whose start nothing before it decides.
func (m *model) longestChain(loads []load) (chain []load) {
	at := map[int32]load{}
	var last load
	var most int32 = -1
	for _, l := range loads {
		at[l.task] = l
		if all := l.headSec + l.leastSec + l.tailSec; l.tailSec == 0 && all > most {
			last, most = l, all
		}
	}
	for l, more := last, most >= 0; more; {
		chain = append(chain, l)
		more = false
		for _, p := range m.tasks[l.task].preds {
			if b, ok := at[p]; ok && b.headSec+b.leastSec == l.headSec {
				l, more = b, true
				break
			}
		}
	}
	slices.Reverse(chain)
	return chain
}

// shortage returns what no plan can do for several groups at once, where that
// is more than the groups' own bounds say: the worst over stocks shared out and
// over resources that the groups with the first calls ask for.
func (m *model) shortage() (worst Shortage) {
	for s := range m.stock {
		worst.take(m.stockShortage(s))
	}
	order := make([]int, 0, len(m.p.Groups))
	for g := range m.p.Groups {
		if capSec(m.p.Groups[g].DeadlineSec) < NoDeadline && m.bounds[g].sec < HorizonSec {
			order = append(order, g)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(m.p.Groups[a].DeadlineSec) - int(m.p.Groups[b].DeadlineSec) })
	for k := 2; k <= len(order); k++ {
		worst.take(m.loadShortage(order[:k]))
	}
	return worst
}

func (s *Shortage) take(o Shortage) {
	if o.LateSec > s.LateSec {
		*s = o
	}
}

func (m *model) ownLateSec(g int) int64 {
	return int64(max(m.bounds[g].sec-capSec(m.p.Groups[g].DeadlineSec), 0))
}

// loadShortage says how late the last of groups, in the order of their calls,
// must be for the resources they share.
func (m *model) loadShortage(groups []int) Shortage {
	var loads []load
	var own int64
	for _, g := range groups {
		l, _ := m.loads(g, false)
		loads = append(loads, l...)
		own += m.ownLateSec(g)
	}
	slices.SortFunc(loads, func(a, b load) int { return int(a.task - b.task) })
	loads = slices.CompactFunc(loads, func(a, b load) bool { return a.task == b.task })
	all := limit{cause: Cause{Index: -1}}
	m.raiseByEnergy(&all, loads)
	late := int64(all.sec) - int64(capSec(m.p.Groups[groups[len(groups)-1]].DeadlineSec))
	if late <= own {
		return Shortage{}
	}
	return Shortage{Groups: slices.Sorted(slices.Values(groups)), LateSec: late, Cause: all.cause}
}

// stockShortage shares stock s out among the groups so that the sum of their
// lateness is least.
func (m *model) stockShortage(s int) Shortage {
	var groups []int
	var own int64
	least := make([]int64, min(m.stock[s], mostStock)+1)
	for g := range m.p.Groups {
		loads, ok := m.loads(g, false)
		if !ok || m.stock[s] > mostStock || m.borrows(loads, g, s) {
			continue
		}
		path, ok := m.stockPath(loads, s)
		if !ok || path.readySec(m.stock[s]) >= HorizonSec {
			continue
		}
		groups = append(groups, g)
		own += m.ownLateSec(g)
		least = m.shareOut(least, g, &path)
	}
	if late := least[len(least)-1]; len(groups) > 1 && late > own {
		return Shortage{Groups: groups, LateSec: late, Cause: Cause{Kind: ByStock, Index: s}}
	}
	return Shortage{}
}

// borrows reports whether work of another group that g waits for may take of
// stock s: it would be counted twice.
func (m *model) borrows(loads []load, g, s int) bool {
	return slices.ContainsFunc(loads, func(l load) bool {
		return int(m.tasks[l.task].group) != g && m.tasks[l.task].thirsty(s)
	})
}

// shareOut adds group g: out[u] is the least lateness of the groups so far if
// they use no more than u.
func (m *model) shareOut(least []int64, g int, path *stockPath) []int64 {
	out := make([]int64, len(least))
	for u := range out {
		out[u] = int64(1) << 60
		for k := 0; k <= u; k++ {
			ready := max(path.readySec(k), m.bounds[g].sec)
			late := int64(max(ready-capSec(m.p.Groups[g].DeadlineSec), 0))
			out[u] = min(out[u], least[u-k]+late)
		}
	}
	return out
}
