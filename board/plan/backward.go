package plan

import "mendline/board/random"

// backward decodes c from the end: tasks are taken in the order of c.list,
// each after all that wait for it, and put as late as their group's dueSec,
// their successors and the resources allow. Times in d.out are leadSec later
// than the problem's, so that work may begin before now: its score counts what
// begins too early as a delay of its group. It gives up, with false, as soon as
// that is sure to be worse than limit.
func (d *decoder) backward(c *candidate, dueSec []int32, limit *Score, r *random.Source) bool {
	d.tl.copyFrom(&d.m.early)
	copy(d.out.way, c.way)
	copy(d.left, d.m.stock)
	for i, w := range c.way {
		if w >= 0 {
			spend(d.left, d.m.tasks[i].ways[w].uses, 1)
		}
	}
	d.resetSure()
	for _, i := range c.list {
		d.placeBack(i, c, dueSec, r)
		t := &d.m.tasks[i]
		if limit != nil && d.worsens(i, dueSec[t.group]+d.m.leadSec+t.headSec-d.out.startSec[i]) && d.sure.Compare(*limit) > 0 {
			return false
		}
	}
	d.rateBack(dueSec)
	return true
}

func (d *decoder) placeBack(i int32, c *candidate, dueSec []int32, r *random.Source) {
	t := &d.m.tasks[i]
	d.starts++
	if t.running {
		d.set(i, 0, d.m.leadSec, d.m.leadSec+t.ways[0].durSec, 0)
		return
	}
	w := c.way[i]
	if len(t.callers) > 0 && !d.m.called(i, c.way) {
		w = idle
	}
	hi := dueSec[t.group]
	if w < 0 {
		hi = HorizonSec
	}
	hi += d.m.leadSec
	for _, s := range t.succs {
		hi = min(hi, d.out.startSec[s])
	}
	if w < 0 {
		d.set(i, w, hi, hi, -1)
		return
	}
	best := d.tryBack(t, w, hi, int(c.team[i]))
	if r != nil && len(t.ways) > 1 && !t.calls && r.Chance(trialPercent) {
		for o := range t.ways {
			if int16(o) == w || !d.affords(&t.ways[w], &t.ways[o]) {
				continue
			}
			d.starts++
			if s := d.tryBack(t, int16(o), hi, -1); s.startSec > best.startSec {
				best = s
			}
		}
	}
	d.spendFor(t, w, best)
	way := &t.ways[best.way]
	d.tl.takeWay(best.startSec, way, way.teams[best.team])
	d.set(i, best.way, best.startSec, best.finishSec, best.team)
}

func (d *decoder) tryBack(t *task, w int16, hi int32, pref int) spot {
	way := &t.ways[w]
	if pref >= len(way.teams) {
		pref = -1
	}
	start, team := d.tl.latestTeam(hi, way, pref)
	return spot{way: w, team: int16(team), startSec: start, finishSec: start + way.durSec}
}

// rateBack scores as if all that begins too early delayed its group.
func (d *decoder) rateBack(dueSec []int32) {
	copy(d.readySec, dueSec)
	for g := range d.slip {
		d.slip[g] = -HorizonSec
	}
	clear(d.never)
	var s Score
	for i := range d.m.tasks {
		t := &d.m.tasks[i]
		switch d.out.way[i] {
		case skip:
			s.leaveOff(t.grade)
			continue
		case idle:
			continue
		case blocked:
			d.never[t.group] = true
			continue
		}
		d.slip[t.group] = max(d.slip[t.group], d.m.leadSec+t.headSec-d.out.startSec[i])
	}
	for g, due := range dueSec {
		group := &d.m.p.Groups[g]
		ready := max(due+d.slip[g], 0)
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

// latestTeam returns the last start at which way can be done and is over by hi,
// and which of its teams then does it. There always is one: before the times of
// the problem everything is free.
func (tl *timeline) latestTeam(hi int32, w *way, pref int) (start int32, team int) {
	if w.durSec == 0 {
		return hi, max(pref, 0)
	}
	last := tl.find(hi - 1)
	for end := hi; end > w.durSec; {
		clash, busy := tl.scanFrom(last, end-w.durSec, w, w.core)
		if clash < 0 {
			if team := w.freeTeam(busy, 0, pref); team >= 0 {
				return end - w.durSec, team
			}
			clash = last
		}
		end, last = tl.at[clash], clash-1
	}
	return 0, max(pref, 0)
}

// scanBack is scan from segment i back to the one that holds start.
func (tl *timeline) scanBack(i int, start int32, need []uint64, core uint64) (clash int, busy uint64) {
	for ; ; i-- {
		if tl.busy[i]&core != 0 || !tl.enough(i, need) {
			return i, busy
		}
		busy |= tl.busy[i]
		if tl.at[i] <= start {
			return -1, busy
		}
	}
}
