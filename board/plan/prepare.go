package plan

import "slices"

// dropWays takes out, again and again until nothing changes, the ways that no
// good plan needs: those another way of the same task beats in every respect,
// and those that use more stock than the least the other musts can do with
// leaves. Bounds are kept to the first kind, as they let other groups stand
// back. The second kind stays where the musts cannot all be done.
//
// Source: A. Sprecher, S. Hartmann, A. Drexl, "An exact algorithm for project
// scheduling with multiple modes", OR Spektrum 19 (1997) 195-203 (citation from
// memory).
func (m *model) dropWays() {
	for i := range m.tasks {
		t := &m.tasks[i]
		m.dropBeaten(t, &m.p.Tasks[i])
		t.every = t.ways
	}
	for m.dropThirsty() {
	}
}

func (m *model) dropBeaten(t *task, from *Task) {
	for w := 0; w < len(t.ways); {
		told := from.Follow != nil && from.Follow.Way == t.ways[w].index
		if t.running || told || !m.beaten(t, from, w) {
			w++
			continue
		}
		t.ways = slices.Delete(t.ways, w, w+1)
	}
}

// beaten reports whether another way of t is at least as good as way w in
// everything; of two equal ones the first stays.
func (m *model) beaten(t *task, from *Task, w int) bool {
	for o := range t.ways {
		if o != w && m.covers(&t.ways[o], &t.ways[w], from) &&
			(o < w || !m.covers(&t.ways[w], &t.ways[o], from)) {
			return true
		}
	}
	return false
}

// covers reports whether whatever allows way b allows way a, which takes no
// longer.
func (m *model) covers(a, b *way, from *Task) bool {
	if a.durSec > b.durSec || a.special() || b.special() || !sameHands(from.Ways[a.index].Team, from.Ways[b.index].Team) {
		return false
	}
	for lane := range len(m.p.Pools) + len(m.p.Groups) {
		if laneOf(a.need, lane) > laneOf(b.need, lane) {
			return false
		}
	}
	for _, u := range a.uses {
		if u.Count > b.takes(u.Stock) {
			return false
		}
	}
	return true
}

// special reports whether a way does more than take up means.
func (w *way) special() bool { return w.pieces != nil || len(w.calls) > 0 }

func sameHands(a, b []SkillSet) bool {
	a, b = slices.Clone(a), slices.Clone(b)
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(a, b)
}

func (w *way) takes(stock int) int {
	for _, u := range w.uses {
		if u.Stock == stock {
			return u.Count
		}
	}
	return 0
}

// least returns the least that ways of t take of a stock: 0 if it may be left
// off.
func (t *task) least(ways []way, stock int) int {
	if len(ways) == 0 || !t.needed() {
		return 0
	}
	n := ways[0].takes(stock)
	for w := range ways {
		n = min(n, ways[w].takes(stock))
	}
	return n
}

// dropThirsty makes one round and reports whether it dropped a way.
func (m *model) dropThirsty() bool {
	spare := slices.Clone(m.stock)
	for s := range spare {
		for i := range m.tasks {
			spare[s] -= m.tasks[i].least(m.tasks[i].ways, s)
		}
	}
	var fits [][]way
	dropped := false
	for i := range m.tasks {
		t := &m.tasks[i]
		fits = append(fits, m.within(t, spare))
		if len(fits[i]) == 0 && len(t.ways) > 0 && t.grade == Must {
			return false
		}
		dropped = dropped || len(fits[i]) < len(t.ways)
	}
	for i := range fits {
		m.tasks[i].ways = fits[i]
	}
	return dropped
}

// within returns the ways of t that take no more above t's least than spare.
func (m *model) within(t *task, spare []int) (out []way) {
	for w := range t.ways {
		fits := true
		for s := range spare {
			fits = fits && t.ways[w].takes(s)-t.least(t.ways, s) <= spare[s]
		}
		if fits || t.running {
			out = append(out, t.ways[w])
		}
	}
	return out
}
