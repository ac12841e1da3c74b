package plan

import "mendline/board/random"

// chooser picks a way for every task so that the stock suffices.
type chooser struct {
	m    *model
	used []int // of each stock, by the ways being chosen
}

func newChooser(m *model) *chooser {
	return &chooser{m: m, used: make([]int, len(m.stock))}
}

// quickest gives each task its shortest way, keeping all optional work or
// none of it, and then repairs.
func (c *chooser) quickest(way []int16, keepOptional bool, r *random.Source) {
	for i := range c.m.tasks {
		t := &c.m.tasks[i]
		way[i] = t.leftOff()
		if t.grade != Must && !keepOptional {
			continue
		}
		for w := range t.ways {
			if way[i] < 0 || t.ways[w].durSec < t.ways[way[i]].durSec {
				way[i] = int16(w)
			}
		}
	}
	c.repair(way, r)
}

// leftOff is what becomes of a task that is not done.
func (t *task) leftOff() int16 {
	if t.grade == Must {
		return blocked
	}
	return skip
}

// change gives up to most random tasks another way, or leaves them off or
// takes them up again, and then repairs.
func (c *chooser) change(cand *candidate, most int, r *random.Source) {
	for range r.Below(most + 1) {
		i := r.Below(len(c.m.tasks))
		t := &c.m.tasks[i]
		choices := len(t.ways)
		if t.grade != Must {
			choices++
		}
		if choices == 0 {
			continue
		}
		pick := int16(r.Below(choices))
		if int(pick) == len(t.ways) {
			pick = skip
		}
		cand.way[i] = pick
	}
	c.repair(cand.way, r)
}

// scatter gives a random share of the tasks a random way and repairs.
func (c *chooser) scatter(way []int16, r *random.Source) {
	share := r.Below(101)
	for i, w := range way {
		if n := len(c.m.tasks[i].ways); w >= 0 && n > 1 && r.Chance(share) {
			way[i] = int16(r.Below(n))
		}
	}
	c.repair(way, r)
}

// askTeam makes a random task ask for a random one of its teams first. People
// whom a human assigned are not touched.
func (c *chooser) askTeam(cand *candidate, r *random.Source) {
	i := r.Below(len(c.m.tasks))
	t := &c.m.tasks[i]
	if w := cand.way[i]; w >= 0 && !t.assigned && len(t.ways[w].teams) > 1 {
		cand.team[i] = int16(r.Below(len(t.ways[w].teams)))
	}
}

// repair brings the use of stock down to what there is: each time by the
// single change of a way that takes most off the relative excess, ties drawn;
// by leaving off an optional task where no other way helps; by a random change
// where it is stuck. What still does not fit is left off, the last of a chain first.
func (c *chooser) repair(way []int16, r *random.Source) {
	if len(c.used) == 0 {
		return
	}
	c.count(way)
	for range 4*len(way) + 10 {
		over := c.excess(nil, nil)
		if over == 0 {
			return
		}
		if !c.bestChange(way, over, false, r) && !c.bestChange(way, over, true, r) {
			c.kick(way, r)
		}
	}
	first := r.Below(len(way))
	for k := range way {
		c.leave(way, int32((first+k)%len(way)))
	}
}

// leave leaves task i off where it uses a stock of which too much is used; before it
// what waits for it, which could not be done then and would keep its stock.
func (c *chooser) leave(way []int16, i int32) {
	if way[i] < 0 || !c.helps(way[i], i) {
		return
	}
	for _, next := range c.m.tasks[i].succs {
		c.leave(way, next)
	}
	if c.helps(way[i], i) {
		c.move(way, i, c.m.tasks[i].leftOff())
	}
}

func (c *chooser) count(way []int16) {
	clear(c.used)
	for i, w := range way {
		if w >= 0 {
			c.add(c.m.tasks[i].ways[w].uses, 1)
		}
	}
}

func (c *chooser) add(uses []Use, times int) {
	for _, u := range uses {
		c.used[u.Stock] += times * u.Count
	}
}

// excess returns the use above what there is, in thousandths of each stock,
// summed, after out is given back and in is taken.
func (c *chooser) excess(out, in []Use) int {
	for _, u := range out {
		c.used[u.Stock] -= u.Count
	}
	for _, u := range in {
		c.used[u.Stock] += u.Count
	}
	sum := 0
	for s, used := range c.used {
		if over := used - c.m.stock[s]; over > 0 {
			sum += (over*1000 + c.m.stock[s] - 1) / c.m.stock[s]
		}
	}
	c.add(out, 1)
	c.add(in, -1)
	return sum
}

// bestChange makes the best change to another way, or with off to leaving an
// optional task off. It returns false if none takes anything off over.
func (c *chooser) bestChange(way []int16, over int, off bool, r *random.Source) bool {
	best, ties := over, 0
	var task int32
	var to int16
	consider := func(i int32, w int16, in []Use) {
		after := c.excess(c.m.tasks[i].ways[way[i]].uses, in)
		if after >= over || after > best {
			return
		}
		if after < best {
			best, ties = after, 0
		}
		if ties++; r.Below(ties) == 0 {
			task, to = i, w
		}
	}
	for i := range c.m.tasks {
		t := &c.m.tasks[i]
		switch {
		case way[i] < 0 || len(t.ways[way[i]].uses) == 0:
		case off && t.grade != Must:
			consider(int32(i), skip, nil)
		case !off:
			for w := range t.ways {
				if int16(w) != way[i] {
					consider(int32(i), int16(w), t.ways[w].uses)
				}
			}
		}
	}
	if ties > 0 {
		c.move(way, task, to)
	}
	return ties > 0
}

func (c *chooser) kick(way []int16, r *random.Source) {
	i := int32(r.Below(len(way)))
	if n := len(c.m.tasks[i].ways); n > 1 && way[i] >= 0 {
		c.move(way, i, int16(r.Below(n)))
	}
}

func (c *chooser) move(way []int16, i int32, to int16) {
	t := &c.m.tasks[i]
	c.add(t.ways[way[i]].uses, -1)
	if to >= 0 {
		c.add(t.ways[to].uses, 1)
	}
	way[i] = to
}

// helps reports whether way w of task i uses a stock of which too much is used.
func (c *chooser) helps(w int16, i int32) bool {
	for _, u := range c.m.tasks[i].ways[w].uses {
		if c.used[u.Stock] > c.m.stock[u.Stock] {
			return true
		}
	}
	return false
}
