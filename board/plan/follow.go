package plan

import (
	"math/bits"
	"slices"
)

// Settings of re-planning.
const (
	noticeSec   = 60   // seconds of lateness that must be saved before people get another plan
	shiftSec    = 300  // a start that moves by more counts as a change
	frozenSec   = 180  // work told to start within this keeps its way and people
	nearMilli   = 1000 // weight of a change to work that is next
	farMilli    = 200  // the same to work an hour away or more
	weightRange = 3600 // seconds over which the weight falls
)

// follow is a compiled Followed.
type follow struct {
	way      int16  // index into task.ways, or skip; blocked if the way is no longer there
	team     int16  // index into the way's teams; -1 if it cannot be formed any more
	people   uint64 // mask
	startSec int32
}

// setFollow compiles what people follow. Work about to start is left no other
// way and no other people, unless one of them will be away before it is done.
func (m *model) setFollow() {
	for i := range m.tasks {
		t, f := &m.tasks[i], m.p.Tasks[i].Follow
		if f == nil || t.running {
			continue
		}
		m.follows = true
		t.follow = t.findFollow(f)
		if w := t.follow.way; w >= 0 && t.follow.team >= 0 && f.StartSec <= frozenSec {
			team := t.ways[w].teams[t.follow.team]
			if start := max(f.StartSec, m.p.Tasks[i].EarliestSec); m.away(team, Window{start, start + t.ways[w].durSec}) {
				continue
			}
			t.ways = []way{t.ways[w]}
			t.ways[0].teams, t.ways[0].core = []uint64{team}, team
			t.follow.way, t.follow.team, t.frozen = 0, 0, true
		}
	}
}

// away reports whether someone of team is away during w.
func (m *model) away(team uint64, w Window) bool {
	for i, who := range m.p.People {
		meets := func(a Window) bool { return a.FromSec < w.ToSec && w.FromSec < a.ToSec }
		if team&(1<<i) != 0 && slices.ContainsFunc(who.Away, meets) {
			return true
		}
	}
	return false
}

func (t *task) findFollow(f *Followed) *follow {
	out := &follow{way: blocked, team: -1, startSec: capSec(f.StartSec)}
	if f.Skipped {
		out.way = skip
		return out
	}
	for _, person := range f.People {
		out.people |= 1 << person
	}
	for w := range t.ways {
		if t.ways[w].index != f.Way {
			continue
		}
		out.way = int16(w)
		for k, team := range t.ways[w].teams {
			if team == out.people {
				out.team = int16(k)
			}
		}
	}
	return out
}

// changeMilli returns how much of what people were told about a task a
// schedule changes: one each for other people, another way and another start,
// weighted by how soon the task was to begin; two for one taken up or left off.
func (t *task) changeMilli(w, team int16, startSec int32) int64 {
	f := t.follow
	if f == nil || (w == skip || w == idle) && f.way == skip {
		return 0
	}
	weight := nearMilli - (nearMilli-farMilli)*int64(min(f.startSec, weightRange))/weightRange
	if w < 0 || f.way == skip {
		return 2 * weight
	}
	var changes int64
	if t.ways[w].teams[team] != f.people {
		changes++
	}
	if w != f.way {
		changes++
	}
	if max(startSec-f.startSec, f.startSec-startSec) > shiftSec {
		changes++
	}
	return changes * weight
}

// hold decodes the order, ways and teams that people follow; work that is new
// to it is put in by its latest start, and before what waits for it. The result stands unless the search
// finds a schedule that people would notice to be better.
func (s *search) hold() {
	s.forgetTeams()
	for i := range s.m.tasks {
		t := &s.m.tasks[i]
		s.list.key[i] = max(s.m.lftSec[i]-t.shortest(true), 0)
		s.try.way[i] = t.leftOff()
		if f := t.follow; f != nil {
			s.list.key[i] = f.startSec
			if f.way >= 0 {
				s.try.way[i] = f.way
			}
		}
	}
	for _, i := range slices.Backward(s.m.topo) {
		for _, next := range s.m.tasks[i].succs {
			if s.m.tasks[i].follow == nil {
				s.list.key[i] = min(s.list.key[i], s.list.key[next])
			}
		}
	}
	copy(s.try.list, s.m.topo)
	s.list.byKey(s.try.list)
	s.ways.repair(s.try.way, &s.r)
	s.ways.addNew(s.try.way)
	s.d.firm = true
	s.d.forward(&s.try, nil)
	s.d.firm = false
	s.held.copyFrom(&s.d.out)
	s.take()
	s.best.copyFrom(&s.got)
	copy(s.bestList, s.gotList)
	s.adopt()
}

// addNew gives each task that has no place in what people follow its quickest
// way that the stock still allows.
func (c *chooser) addNew(way []int16) {
	c.count(way)
	for _, i := range c.m.topo {
		t := &c.m.tasks[i]
		if way[i] >= 0 || t.follow != nil && t.follow.way == skip && t.grade != Must {
			continue
		}
		for w := range t.ways {
			if c.allows(t.ways[w].uses) && (way[i] < 0 || t.ways[w].durSec < t.ways[way[i]].durSec) {
				way[i] = int16(w)
			}
		}
		if way[i] >= 0 {
			c.add(t.ways[way[i]].uses, 1)
		}
	}
}

func (c *chooser) allows(uses []Use) bool {
	for _, u := range uses {
		if c.used[u.Stock]+u.Count > c.m.stock[u.Stock] {
			return false
		}
	}
	return true
}

// keepFollowed goes back to what people follow if nothing noticeably better was
// found.
func (s *search) keepFollowed() {
	if s.m.follows && !s.best.score.Noticeably(s.held.score) {
		s.best.copyFrom(&s.held)
		s.kept = true
	}
}

// Noticeably reports whether s is better than o by a step people notice: a
// group, a minute of lateness, a task kept. Ready times alone are none.
func (s Score) Noticeably(o Score) bool {
	switch {
	case s.Never != o.Never:
		return s.Never < o.Never
	case s.NotReady != o.NotReady:
		return s.NotReady < o.NotReady
	case s.LateSec <= o.LateSec-noticeSec || s.LateSec >= o.LateSec+noticeSec:
		return s.LateSec < o.LateSec
	case s.ShouldOff != o.ShouldOff:
		return s.ShouldOff < o.ShouldOff
	}
	return s.CouldOff < o.CouldOff
}

// move notes that team now is at group g.
func (d *decoder) move(team uint64, g int32) {
	if team == 0 {
		return
	}
	for k := range d.here {
		d.here[k] &^= team
	}
	d.here[g] |= team
}

// freeTeam returns the index of the team to use when busy are not available,
// -1 if every team has someone in busy: teams[pref] if it is free, else the
// one with most of here in it, else the first.
func (w *way) freeTeam(busy, here uint64, pref int) int {
	if pref >= 0 && w.teams[pref]&busy == 0 {
		return pref
	}
	best, most := -1, -1
	for i, t := range w.teams {
		if t&busy != 0 {
			continue
		}
		if n := bits.OnesCount64(t & here); n > most {
			best, most = i, n
		}
		if here == 0 {
			break
		}
	}
	return best
}
