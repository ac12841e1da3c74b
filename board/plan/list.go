package plan

import (
	"slices"

	"mendline/board/random"
)

// lister makes activity lists: orders of all tasks in which each comes after
// those it waits for.
type lister struct {
	m    *model
	key  []int32 // by task
	old  []int32 // the list before the change
	sort []uint64
	open []int32 // tasks whose predecessors are in the list
	wait []int32 // by task: predecessors not yet in the list
}

func newLister(m *model) *lister {
	n := len(m.tasks)
	return &lister{
		m:    m,
		key:  make([]int32, n),
		old:  make([]int32, n),
		sort: make([]uint64, n),
		open: make([]int32, 0, n),
		wait: make([]int32, n),
	}
}

// byKey rewrites list in the order of l.key, as if the task with the smallest
// key among those that may come next were taken each time; equal keys keep
// their order; frozen tasks come as soon as they can. It changes l.key: a task's key is at least that of each task
// before it.
func (l *lister) byKey(list []int32) {
	for i, j := range list {
		if l.m.tasks[j].frozen {
			l.key[j] = -1 << 30
		}
		for _, p := range l.m.tasks[j].preds {
			l.key[j] = max(l.key[j], l.key[p])
		}
		l.note(i, j)
	}
	l.rewrite(list)
}

// byKeyBack is byKey for a list in which each task comes after those that wait
// for it.
func (l *lister) byKeyBack(list []int32) {
	for i, j := range list {
		for _, s := range l.m.tasks[j].succs {
			l.key[j] = max(l.key[j], l.key[s])
		}
		l.note(i, j)
	}
	l.rewrite(list)
}

func (l *lister) note(i int, j int32) {
	l.sort[i] = uint64(uint32(l.key[j])^1<<31)<<32 | uint64(uint32(i))
	l.old[i] = j
}

func (l *lister) rewrite(list []int32) {
	slices.Sort(l.sort)
	for i, s := range l.sort {
		list[i] = l.old[uint32(s)]
	}
}

// rising fills list by rising key.
func (l *lister) rising(list, key []int32) {
	copy(list, l.m.topo)
	copy(l.key, key)
	l.byKey(list)
}

// falling fills list by falling l.key, each task after those that wait for it.
func (l *lister) falling(list []int32) {
	for i, j := range l.m.topo {
		list[len(list)-1-i] = j
		l.key[i] = -l.key[i]
	}
	l.byKeyBack(list)
}

// latestFinish fills list by the LFT rule: least latest finish time first.
func (l *lister) latestFinish(list []int32) {
	copy(list, l.m.topo)
	copy(l.key, l.m.lftSec)
	l.byKey(list)
}

// byStart orders list by the start times of a schedule decoded from it.
func (l *lister) byStart(list, startSec []int32) {
	copy(l.key, startSec)
	l.byKey(list)
}

// sample fills list by regret-biased sampling of the LFT rule: among the tasks
// that may come next, one is drawn with weight 1 + regret, the regret being
// how much earlier its latest finish is than the latest of them.
func (l *lister) sample(list []int32, r *random.Source) {
	l.open = l.open[:0]
	for j := range l.m.tasks {
		l.wait[j] = int32(len(l.m.tasks[j].preds))
		if l.wait[j] == 0 {
			l.open = append(l.open, int32(j))
		}
	}
	for i := range list {
		k := l.draw(r)
		j := l.open[k]
		l.open[k] = l.open[len(l.open)-1]
		l.open = l.open[:len(l.open)-1]
		list[i] = j
		for _, s := range l.m.tasks[j].succs {
			if l.wait[s]--; l.wait[s] == 0 {
				l.open = append(l.open, s)
			}
		}
	}
}

func (l *lister) draw(r *random.Source) int {
	last, sum := l.m.lftSec[l.open[0]], int64(0)
	for k, j := range l.open {
		if l.m.tasks[j].frozen {
			return k
		}
		last = max(last, l.m.lftSec[j])
	}
	for _, j := range l.open {
		sum += l.weight(j, last)
	}
	pick := int64(r.Next() >> 1 % uint64(sum))
	for k, j := range l.open {
		if pick -= l.weight(j, last); pick < 0 {
			return k
		}
	}
	return len(l.open) - 1
}

func (l *lister) weight(j, last int32) int64 {
	return 1 + (int64(last)-int64(l.m.lftSec[j]))/int64(l.m.unitSec)
}

// perturb moves the tasks of a random window of list, 3 tasks to a third of
// the list, by up to 2 to 14 places.
func (l *lister) perturb(list []int32, r *random.Source) { l.shake(list, false, r) }

// shake is perturb; with falling for a list of which each task comes after
// those that wait for it.
func (l *lister) shake(list []int32, falling bool, r *random.Source) {
	n := len(list)
	width := min(3+r.Below(max(n/3-2, 1)), n)
	first := r.Below(n - width + 1)
	reach := 2 + r.Below(13)
	for i, j := range list {
		l.key[j] = int32(i)
		if i >= first && i < first+width {
			l.key[j] += int32(r.Below(2*reach+1) - reach)
		}
	}
	if falling {
		l.byKeyBack(list)
	} else {
		l.byKey(list)
	}
}
