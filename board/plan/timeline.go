package plan

// Pools and rooms are counted in lanes of 16 bits, four to a word. The top bit
// of a lane is its guard: it is set in what is free and survives a subtraction
// exactly if the lane had enough, so one subtraction tests four lanes.
const (
	laneBits  = 16
	lanesWord = 64 / laneBits
	guardBits = uint64(0x8000_8000_8000_8000)
)

// timeline is what is free when: segments that begin at at[i] and last until
// at[i+1], the last one for ever. busy[i] has a bit for each person who is not
// available, free[i*words:] the lanes. at[0] is 0 and at is strictly rising.
type timeline struct {
	words int
	at    []int32
	busy  []uint64
	free  []uint64
}

func newTimeline(full []uint64, capacity int) timeline {
	tl := timeline{
		words: len(full),
		at:    make([]int32, 1, capacity),
		busy:  make([]uint64, 1, capacity),
		free:  make([]uint64, len(full), capacity*len(full)),
	}
	copy(tl.free, full)
	return tl
}

func (tl *timeline) copyFrom(o *timeline) {
	tl.at = append(tl.at[:0], o.at...)
	tl.busy = append(tl.busy[:0], o.busy...)
	tl.free = append(tl.free[:0], o.free...)
}

// find returns the segment that holds the moment t >= 0. It is written so that no
// branch depends on what is compared.
func (tl *timeline) find(t int32) int {
	lo := 0
	for n := len(tl.at); n > 1; {
		half := n >> 1
		mid := lo + half
		if tl.at[mid] <= t {
			lo = mid
		}
		n -= half
	}
	return lo
}

// split makes t the beginning of a segment and returns that segment.
func (tl *timeline) split(t int32) int { return tl.splitIn(tl.find(t), t) }

// splitAfter is split for a moment at or soon after the beginning of segment i.
func (tl *timeline) splitAfter(i int, t int32) int {
	for i+1 < len(tl.at) && tl.at[i+1] <= t {
		i++
	}
	return tl.splitIn(i, t)
}

// splitIn is split where segment i holds t.
func (tl *timeline) splitIn(i int, t int32) int {
	if tl.at[i] == t {
		return i
	}
	i++
	n, w := len(tl.at), tl.words
	tl.at = append(tl.at, 0)
	copy(tl.at[i+1:], tl.at[i:n])
	tl.at[i] = t
	tl.busy = append(tl.busy, 0)
	copy(tl.busy[i:], tl.busy[i-1:n])
	tl.free = tl.free[:(n+1)*w]
	copy(tl.free[i*w:], tl.free[(i-1)*w:n*w])
	return i
}

// take holds need and team from from to to. What is not there must not be
// asked for.
func (tl *timeline) take(from, to int32, need []uint64, team uint64) {
	if from >= to {
		return
	}
	first := tl.split(from)
	last := tl.splitAfter(first, to)
	for i := first; i < last; i++ {
		tl.busy[i] |= team
		seg := tl.free[i*tl.words:]
		for k, n := range need {
			seg[k] -= n
		}
	}
}

// takeAll is take for what happens whether or not there is enough: a lane that
// falls short is left with nothing.
func (tl *timeline) takeAll(from, to int32, need []uint64, team uint64) {
	if from >= to {
		return
	}
	first := tl.split(from)
	last := tl.splitAfter(first, to)
	for i := first; i < last; i++ {
		tl.busy[i] |= team
		for k, n := range need {
			tl.free[i*tl.words+k] = drain(tl.free[i*tl.words+k], n)
		}
	}
}

// drain subtracts lane by lane and stops at nothing.
func drain(free, need uint64) uint64 {
	out := guardBits
	for lane := 0; lane < lanesWord; lane++ {
		shift := lane * laneBits
		f, n := free>>shift&0x7fff, need>>shift&0x7fff
		if f > n {
			out |= (f - n) << shift
		}
	}
	return out
}

// enough reports whether segment i has need free.
func (tl *timeline) enough(i int, need []uint64) bool {
	seg := tl.free[i*tl.words:]
	for k, n := range need {
		if (seg[k]-n)&guardBits != guardBits {
			return false
		}
	}
	return true
}

// earliest returns the first start from from on at which way can be done, and
// which of its teams then does it, see freeTeam. ok is false if it would not start before and end by HorizonSec.
func (tl *timeline) earliest(from int32, w *way, here uint64, pref int) (start int32, team int, ok bool) {
	if w.durSec == 0 {
		return from, max(pref, 0), from < HorizonSec
	}
	i := tl.find(from)
	for start = from; start <= HorizonSec-w.durSec; start = tl.at[i] {
		var clash int
		var busy uint64
		if w.pieces == nil {
			clash, busy = tl.scan(i, start+w.durSec, w.need, w.core)
		} else {
			clash, busy = tl.scanTaper(i, start, w)
		}
		if clash < 0 {
			if team = w.freeTeam(busy, here, pref); team >= 0 {
				return start, team, true
			}
			clash = i
		}
		if i = clash + 1; i == len(tl.at) {
			break
		}
	}
	return 0, 0, false
}

// scan looks from segment i up to the moment end. It returns the first segment
// that has not need free or in which one of core is busy, -1 if there is none,
// and everyone who is busy at some time.
func (tl *timeline) scan(i int, end int32, need []uint64, core uint64) (clash int, busy uint64) {
	for ; i < len(tl.at) && tl.at[i] < end; i++ {
		if tl.busy[i]&core != 0 || !tl.enough(i, need) {
			return i, busy
		}
		busy |= tl.busy[i]
	}
	return -1, busy
}

// latest returns the last start, not before lo, at which w can be done by team
// and is over by hi. Without one it returns lo.
func (tl *timeline) latest(lo, hi int32, w *way, team uint64) int32 {
	if w.durSec == 0 {
		return max(lo, hi)
	}
	last := tl.find(hi - 1)
	for end := hi; end-w.durSec > lo; {
		clash, _ := tl.scanFrom(last, end-w.durSec, w, team)
		if clash < 0 {
			return end - w.durSec
		}
		end, last = tl.at[clash], clash-1
	}
	return lo
}

// scanFrom is scanBack or scanBackTaper.
func (tl *timeline) scanFrom(i int, start int32, w *way, team uint64) (clash int, busy uint64) {
	if w.pieces == nil {
		return tl.scanBack(i, start, w.need, team)
	}
	return tl.scanBackTaper(i, start, w, team)
}
