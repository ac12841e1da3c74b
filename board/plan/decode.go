package plan

import (
	"slices"

	"mendline/board/random"
)

// candidate is what the search changes: an order of all tasks, and for each
// task a way and the team to ask first.
type candidate struct {
	list []int32
	way  []int16 // index into task.ways, or skip, or blocked
	team []int16 // index into way.teams; of no effect if the way has no such team
}

func newCandidate(n int) candidate {
	return candidate{list: make([]int32, n), way: make([]int16, n), team: make([]int16, n)}
}

// schedule is what a candidate decodes to, by task.
type schedule struct {
	startSec  []int32
	finishSec []int32
	way       []int16
	team      []int16
	score     Score
}

func newSchedule(n int) schedule {
	return schedule{
		startSec:  make([]int32, n),
		finishSec: make([]int32, n),
		way:       make([]int16, n),
		team:      make([]int16, n),
	}
}

func (s *schedule) copyFrom(o *schedule) {
	copy(s.startSec, o.startSec)
	copy(s.finishSec, o.finishSec)
	copy(s.way, o.way)
	copy(s.team, o.team)
	s.score = o.score
}

// trialPercent is how often a task tries its other ways while it is placed.
const trialPercent = 30

// decoder turns candidates into schedules. It allocates when it is made and
// never again.
type decoder struct {
	m        *model
	tl       timeline
	left     []int   // stock not used by the ways in out
	readySec []int32 // by group, of the schedule scored last
	never    []bool  // by group
	keys     []uint64
	slip     []int32  // by group, of the schedule scored last backward
	here     []uint64 // by group: people whose last work was there
	firm     bool     // people stay on what they were told
	sure     Score    // no completion of the schedule being built is better
	starts   int64    // start times given so far
	out      schedule
}

func newDecoder(m *model) *decoder {
	n := len(m.tasks)
	return &decoder{
		m:        m,
		tl:       newTimeline(m.full, m.mostSegments()),
		left:     make([]int, len(m.stock)),
		readySec: make([]int32, len(m.p.Groups)),
		slip:     make([]int32, len(m.p.Groups)),
		here:     make([]uint64, len(m.p.Groups)),
		never:    make([]bool, len(m.p.Groups)),
		keys:     make([]uint64, 0, n),
		out:      newSchedule(n),
	}
}

// forward decodes c into d.out by serial schedule generation. With r, tasks
// now and then try their other ways, and optional work that would have its group late
// drops out; without, the ways of c stand. The ways of c must not use
// more stock than there is.
func (d *decoder) forward(c *candidate, r *random.Source) {
	d.forwardFrom(c, nil, 0, nil, r)
}

// forwardFrom is forward, but the first keep tasks of the list stand as they
// do in old, and it gives up, with false, as soon as the schedule is sure to be
// worse than limit.
func (d *decoder) forwardFrom(c *candidate, old *schedule, keep int, limit *Score, r *random.Source) bool {
	d.tl.copyFrom(&d.m.base)
	clear(d.here)
	copy(d.out.way, c.way)
	copy(d.left, d.m.stock)
	for i, w := range c.way {
		if w >= 0 {
			spend(d.left, d.m.tasks[i].ways[w].uses, 1)
		}
	}
	if limit != nil {
		d.resetSure()
	}
	for k, i := range c.list {
		if k < keep {
			d.repeat(i, c.way[i], old)
		} else {
			d.place(i, c, r)
		}
		if limit != nil && d.worsens(i, d.out.finishSec[i]+d.m.tasks[i].tailSec) && d.sure.Compare(*limit) > 0 {
			return false
		}
	}
	d.rate()
	return true
}

// repeat places task i, for which way now was set aside, as it is in old.
func (d *decoder) repeat(i int32, now int16, old *schedule) {
	t := &d.m.tasks[i]
	d.spendFor(t, now, spot{way: old.way[i]})
	d.set(i, old.way[i], old.startSec[i], old.finishSec[i], old.team[i])
	w := old.way[i]
	if w < 0 {
		return
	}
	team := t.ways[w].teams[old.team[i]]
	d.move(team, t.group)
	if !t.running {
		d.tl.takeWay(old.startSec[i], &t.ways[w], team)
	}
}

func (d *decoder) resetSure() {
	clear(d.readySec)
	clear(d.never)
	d.sure = Score{}
}

// worsens adds task i, just placed, to the score that is sure, and reports
// whether that made it worse.
func (d *decoder) worsens(i, is int32) bool {
	t := &d.m.tasks[i]
	g := t.group
	group := &d.m.p.Groups[g]
	s := &d.sure
	switch d.out.way[i] {
	case skip:
		s.leaveOff(t.grade)
		return true
	case idle:
		return false
	case blocked:
		if !d.never[g] {
			d.never[g] = true
			s.Never++
			if d.readySec[g] <= capSec(group.DeadlineSec) {
				s.NotReady++
			}
		}
	}
	is = min(is, HorizonSec)
	was := d.readySec[g]
	if is <= was {
		return false
	}
	d.readySec[g] = is
	s.ReadySec += int64(is - was)
	if due := capSec(group.DeadlineSec); is > due {
		if was <= due && !d.never[g] {
			s.NotReady++
		}
		s.LateSec += int64(is-max(was, due)) * int64(max(group.Weight, 1))
	}
	return true
}

func spend(left []int, uses []Use, times int) {
	for _, u := range uses {
		left[u.Stock] -= times * u.Count
	}
}

// place gives task i its start, finish, way and team.
func (d *decoder) place(i int32, c *candidate, r *random.Source) {
	t := &d.m.tasks[i]
	if t.running {
		d.starts++
		d.set(i, 0, 0, t.ways[0].durSec, 0)
		d.move(t.ways[0].teams[0], t.group)
		return
	}
	var ready int32
	for _, p := range t.preds {
		ready = max(ready, d.out.finishSec[p])
	}
	now := c.way[i]
	if len(t.callers) > 0 {
		if !d.m.called(i, d.out.way) {
			d.starts++
			d.spendFor(t, now, spot{way: idle})
			d.set(i, idle, ready, ready, -1)
			return
		}
		now = d.called(t, now)
	}
	at := d.bestWay(i, now, max(ready, t.earlySec), c, r)
	switch {
	case at.way >= 0:
		w := &t.ways[at.way]
		d.tl.takeWay(at.startSec, w, w.teams[at.team])
		d.move(w.teams[at.team], t.group)
		d.set(i, at.way, at.startSec, at.startSec+w.durSec, at.team)
	case t.grade == Must:
		d.set(i, blocked, HorizonSec, HorizonSec, -1)
	default:
		d.set(i, skip, ready, ready, -1)
	}
}

func (d *decoder) set(i int32, way int16, startSec, finishSec int32, team int16) {
	d.out.way[i], d.out.team[i] = way, team
	d.out.startSec[i], d.out.finishSec[i] = startSec, finishSec
}

// called reports whether a task before i is done in a way that calls i.
func (m *model) called(i int32, way []int16) bool {
	for _, p := range m.tasks[i].callers {
		if w := way[p]; w >= 0 && slices.Contains(m.tasks[p].ways[w].calls, int(i)) {
			return true
		}
	}
	return false
}

// called returns the way of a must that is called: the one set aside, or the
// first that the stock left allows.
func (d *decoder) called(t *task, now int16) int16 {
	for w := 0; now < 0 && t.grade == Must && w < len(t.ways); w++ {
		if d.affords(&way{}, &t.ways[w]) {
			spend(d.left, t.ways[w].uses, 1)
			return int16(w)
		}
	}
	return now
}

// spot is a place for a task: a way, a start and a team. way is skip if there
// is none.
type spot struct {
	way       int16
	team      int16
	startSec  int32
	finishSec int32
}

// bestWay returns where task i goes if it may start at from: by way now,
// or by the way that ends first if it tries the others.
func (d *decoder) bestWay(i int32, now int16, from int32, c *candidate, r *random.Source) spot {
	t := &d.m.tasks[i]
	best := d.try(t, now, from, int(c.team[i]))
	if r == nil || now < 0 || len(t.ways) == 1 && t.grade == Must || !r.Chance(trialPercent) {
		return d.spendFor(t, now, best)
	}
	for w := range t.ways {
		if int16(w) == now || !d.affords(&t.ways[now], &t.ways[w]) {
			continue
		}
		if s := d.try(t, int16(w), from, -1); s.way >= 0 && (best.way < 0 || s.finishSec < best.finishSec) {
			best = s
		}
	}
	if t.grade != Must && best.way >= 0 && best.finishSec+t.tailSec > capSec(d.m.p.Groups[t.group].DeadlineSec) {
		best.way = skip
	}
	return d.spendFor(t, now, best)
}

// spendFor counts the stock when task t takes s instead of way now.
func (d *decoder) spendFor(t *task, now int16, s spot) spot {
	if now >= 0 && s.way != now {
		spend(d.left, t.ways[now].uses, -1)
		if s.way >= 0 {
			spend(d.left, t.ways[s.way].uses, 1)
		}
	}
	return s
}

func (d *decoder) try(t *task, w int16, from int32, pref int) spot {
	d.starts++
	if w < 0 {
		return spot{way: skip}
	}
	if pref >= len(t.ways[w].teams) {
		pref = -1
	}
	if pref < 0 && t.follow != nil && t.follow.way == w {
		pref = int(t.follow.team)
	}
	if d.firm && t.follow != nil && t.follow.way == w && t.follow.team >= 0 {
		return d.tryTeam(t, w, from, t.follow.team)
	}
	here := d.here[t.group]
	if t.assigned {
		here = 0
	}
	start, team, ok := d.tl.earliest(from, &t.ways[w], here, pref)
	if !ok {
		return spot{way: skip}
	}
	return spot{way: w, team: int16(team), startSec: start, finishSec: start + t.ways[w].durSec}
}

// tryTeam is try with one team alone.
func (d *decoder) tryTeam(t *task, w int16, from int32, team int16) spot {
	one := t.ways[w]
	one.teams = one.teams[team : team+1]
	one.core = one.teams[0]
	start, _, ok := d.tl.earliest(from, &one, 0, -1)
	if !ok {
		return spot{way: skip}
	}
	return spot{way: w, team: team, startSec: start, finishSec: start + one.durSec}
}

// affords reports whether the stock left allows a task to change from way old
// to way w.
func (d *decoder) affords(old, w *way) bool {
	for _, u := range w.uses {
		have := d.left[u.Stock]
		for _, o := range old.uses {
			if o.Stock == u.Stock {
				have += o.Count
			}
		}
		if u.Count > have {
			return false
		}
	}
	return true
}

// rate fills in d.out.score, d.readySec and d.never.
func (d *decoder) rate() {
	clear(d.readySec)
	clear(d.never)
	var s Score
	for i := range d.m.tasks {
		t := &d.m.tasks[i]
		s.ChangeMilli += t.changeMilli(d.out.way[i], d.out.team[i], d.out.startSec[i])
		switch d.out.way[i] {
		case skip:
			s.leaveOff(t.grade)
			continue
		case idle:
			continue
		case blocked:
			d.never[t.group] = true
		}
		d.readySec[t.group] = max(d.readySec[t.group], d.out.finishSec[i])
	}
	for g, ready := range d.readySec {
		group := &d.m.p.Groups[g]
		late := max(ready-capSec(group.DeadlineSec), 0)
		if d.never[g] {
			s.Never++
		}
		if late > 0 || d.never[g] {
			s.NotReady++
		}
		s.LateSec += int64(late) * int64(max(group.Weight, 1))
		s.ReadySec += int64(ready)
	}
	d.out.score = s
}
