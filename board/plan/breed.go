package plan

// Settings of breeding.
const (
	fewestMembers  = 6
	mostMembers    = 100
	mutatePercent  = 20 // children whose list is changed in a window
	alikePercent   = 50 // the same among parents of equal score
	changesInChild = 3  // ways changed in one child, at most
)

// breed is two populations: schedules that begin as early as they can, and
// schedules that end as late as they can. The children of one make up the
// other: a stretch of time is taken from one parent, what comes before and
// after it from the other, and the child is decoded in the other direction.
//
// Source: D. Debels, M. Vanhoucke, "A bi-population based genetic algorithm for
// the resource-constrained project scheduling problem", ICCSA 2005, LNCS 3483,
// 378-387 (citation from memory); there the stretch is where resources are used
// most, here it is drawn.
type breed struct {
	*search
	size  int
	early []member
	late  []member
}

// member is a schedule in a population. Times count from its first start.
type member struct {
	schedule
	readySec []int32 // by group, as the schedule of the other population had it
	filled   bool
}

func newBreed(s *search, size int) breed {
	b := breed{search: s, size: min(max(size, fewestMembers), mostMembers)}
	for range b.size {
		b.early = append(b.early, newMember(s.m))
		b.late = append(b.late, newMember(s.m))
	}
	return b
}

func newMember(m *model) member {
	return member{schedule: newSchedule(len(m.tasks)), readySec: make([]int32, len(m.p.Groups))}
}

// run breeds until so many start times have been given.
func (b *breed) run(until int64) {
	b.early[0].put(&b.best, b.d)
	for k := 1; k < b.size && b.more(until); k++ {
		b.list.sample(b.try.list, &b.r)
		b.ways.quickest(b.try.way, b.r.Chance(50), &b.r)
		b.ways.scatter(b.try.way, &b.r)
		b.forgetTeams()
		b.d.forward(&b.try, &b.r)
		b.take()
		b.remember()
		b.early[k].put(&b.got, b.d)
	}
	for b.more(until) {
		for k := 0; k < b.size && b.more(until); k++ {
			b.lateChild(k)
		}
		for k := 0; k < b.size && b.more(until); k++ {
			b.earlyChild(k)
		}
	}
}

func (b *breed) more(until int64) bool { return b.d.starts < until && b.goes() }

// lateChild replaces late[k] by a child of early[k] if it is not worse.
func (b *breed) lateChild(k int) {
	if !b.early[k].filled {
		return
	}
	mate := b.mate(b.early)
	b.mix(&b.early[k].schedule, &b.early[mate].schedule, b.early[k].finishSec, b.early[mate].finishSec)
	b.list.falling(b.try.list)
	b.mutate(b.early, k, mate, true)
	if !b.d.backward(&b.try, b.early[k].readySec, b.late[k].worth(), &b.r) {
		return
	}
	better := b.d.out.score.Compare(b.best.score) < 0
	b.late[k].put(&b.d.out, b.d)
	if better && b.goes() {
		b.list.rising(b.try.list, b.late[k].startSec)
		b.takeUp(&b.late[k].schedule)
		b.ways.repair(b.try.way, &b.r)
		b.d.forward(&b.try, &b.r)
		b.take()
		b.remember()
	}
}

// earlyChild replaces early[k] by a child of late[k] if it is not worse.
func (b *breed) earlyChild(k int) {
	if !b.late[k].filled {
		return
	}
	mate := b.mate(b.late)
	b.mix(&b.late[k].schedule, &b.late[mate].schedule, b.late[k].startSec, b.late[mate].startSec)
	b.list.rising(b.try.list, b.list.key)
	b.mutate(b.late, k, mate, false)
	if b.d.forwardFrom(&b.try, nil, 0, b.early[k].worth(), &b.r) {
		b.take()
		b.remember()
		b.early[k].put(&b.got, b.d)
	}
}

// mate returns the better of two random members that are filled.
func (b *breed) mate(pop []member) int {
	x, y := b.r.Below(b.size), b.r.Below(b.size)
	for !pop[x].filled {
		x = (x + 1) % b.size
	}
	if pop[y].filled && pop[y].score.Compare(pop[x].score) < 0 {
		return y
	}
	return x
}

// mix puts into list.key and try the order, ways and teams of a child of f and
// m, whose tasks lie at fAt and mAt: as f has them in a random stretch of a
// quarter to three quarters of its length, else as m has them.
func (b *breed) mix(f, m *schedule, fAt, mAt []int32) {
	from, to := b.stretch(f)
	for i := range fAt {
		t := &b.m.tasks[i]
		if fAt[i] >= from && fAt[i] <= to {
			b.list.key[i] = fAt[i]
			b.try.way[i], b.try.team[i] = t.resume(f.way[i], &b.r), f.team[i]
			continue
		}
		b.try.way[i], b.try.team[i] = t.resume(m.way[i], &b.r), m.team[i]
		at := mAt[i]
		if at < from {
			at -= 2 * HorizonSec
		} else if at > to {
			at += 2 * HorizonSec
		}
		b.list.key[i] = at
	}
}

func (b *breed) stretch(f *schedule) (from, to int32) {
	var end int32
	for i, w := range f.way {
		if w >= 0 {
			end = max(end, f.finishSec[i])
		}
	}
	length := end/4 + int32(b.r.Below(int(end/2)+1))
	from = int32(b.r.Below(int(end-length) + 1))
	return from, from + length
}

func (b *breed) mutate(pop []member, k, mate int, falling bool) {
	alike := k == mate || pop[k].score == pop[mate].score && b.r.Chance(alikePercent)
	if alike || b.r.Chance(mutatePercent) {
		b.list.shake(b.try.list, falling, &b.r)
	}
	b.ways.change(&b.try, changesInChild, &b.r)
	b.varyTeams()
	b.keepAssigned()
}

// worth is what a child must not be worse than; nil if anything will do.
func (m *member) worth() *Score {
	if !m.filled {
		return nil
	}
	return &m.score
}

// put makes p, which d decoded last, the member if it is not worse.
func (m *member) put(p *schedule, d *decoder) {
	if m.filled && p.score.Compare(m.score) > 0 {
		return
	}
	m.filled = true
	m.copyFrom(p)
	copy(m.readySec, d.readySec)
	first := HorizonSec
	for i, w := range m.way {
		if w >= 0 {
			first = min(first, m.startSec[i])
		}
	}
	for i := range m.startSec {
		m.startSec[i] -= first
		m.finishSec[i] -= first
	}
}
