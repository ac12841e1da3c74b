package plan

// piece is a stretch of a way with needs of its own.
type piece struct {
	fromSec, toSec int32 // from the start of the way
	need           []uint64
}

// lastsSec is how long a way takes with its taper.
func (w *Way) lastsSec() int32 {
	sum := int64(w.DurationSec)
	for _, p := range w.Taper {
		sum += int64(p.DurationSec)
	}
	return int32(min(sum, int64(HorizonSec)))
}

// cut gives way out the pieces of w, so that the last ends with it: of a
// running way the beginning is over. out.need becomes what all pieces need.
func (m *model) cut(out *way, group int, w *Way, hands int) {
	if len(w.Taper) == 0 {
		return
	}
	at := w.lastsSec() - out.durSec // of the whole, before out begins
	from := int32(0)
	add := func(durSec int32, needs []Need) {
		to := min(from+durSec, HorizonSec)
		if to > at {
			part := *w
			part.Needs = needs
			need, _ := m.packNeed(group, &part, hands)
			out.pieces = append(out.pieces, piece{max(from-at, 0), to - at, need})
		}
		from = to
	}
	add(w.DurationSec, w.Needs)
	for _, p := range w.Taper {
		add(p.DurationSec, p.Needs)
	}
	if len(out.pieces) > 0 {
		out.pieces[0].fromSec = 0
		out.need = out.pieces[len(out.pieces)-1].need
	}
}

// parts returns the pieces of a way, or all of it as one.
func (w *way) parts() []piece {
	if w.pieces != nil {
		return w.pieces
	}
	return []piece{{0, w.durSec, w.need}}
}

// mostSegments returns how many segments a timeline with all tasks can have.
func (m *model) mostSegments() int {
	n := len(m.base.at) + 1
	for i := range m.tasks {
		most := 1
		for w := range m.tasks[i].ways {
			most = max(most, len(m.tasks[i].ways[w].pieces))
		}
		n += most + 1
	}
	return n
}

// takeWay holds what w needs from start on, and team.
func (tl *timeline) takeWay(start int32, w *way, team uint64) {
	if w.pieces == nil {
		tl.take(start, start+w.durSec, w.need, team)
		return
	}
	for _, p := range w.pieces {
		tl.take(start+p.fromSec, start+p.toSec, p.need, team)
	}
}

// enoughFor reports whether segment i has free what the pieces of w need in it
// if w begins at start. Pieces that begin later need no more than those before.
func (tl *timeline) enoughFor(i int, start int32, w *way) bool {
	for k := range w.pieces {
		p := &w.pieces[k]
		if start+p.toSec > tl.at[i] && !tl.enough(i, p.need) {
			return false
		}
	}
	return true
}

// scanTaper is scan for a way with pieces. As no piece needs more than the one
// before, a later start never helps in the segment it names.
func (tl *timeline) scanTaper(i int, start int32, w *way) (clash int, busy uint64) {
	for ; i < len(tl.at) && tl.at[i] < start+w.durSec; i++ {
		if tl.busy[i]&w.core != 0 || !tl.enoughFor(i, start, w) {
			return i, busy
		}
		busy |= tl.busy[i]
	}
	return -1, busy
}

// scanBackTaper is scanBack for a way with pieces.
func (tl *timeline) scanBackTaper(i int, start int32, w *way, team uint64) (clash int, busy uint64) {
	for ; ; i-- {
		if tl.busy[i]&team != 0 || !tl.enoughFor(i, start, w) {
			return i, busy
		}
		busy |= tl.busy[i]
		if tl.at[i] <= start {
			return -1, busy
		}
	}
}
