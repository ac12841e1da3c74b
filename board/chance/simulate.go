package chance

import (
	"math"
	"slices"

	"mendline/board/estimate"
)

// Outcome is what became of a network on each day.
type Outcome struct {
	net        *Network
	draws      *Draws
	from, days int
	// By task and day.
	work, start, finish [][]float64
	// By call and day.
	call, shift [][]float64
	// By group and day.
	ready [][]float64
	met   [][]bool
}

// Play plays the days of d from up to, not including, to.
func Play(n *Network, d *Draws, from, to int) *Outcome {
	o := &Outcome{net: n, draws: d, from: from, days: to - from}
	o.drawCalls()
	o.work = make([][]float64, len(n.Tasks))
	for i, t := range n.Tasks {
		o.work[i] = d.TimesSec(t.Key, t.Work)[from:to]
		if t.Again.Share > 0 {
			o.work[i] = d.withAgain(o.work[i], t, from)
		}
	}
	o.start, o.finish = columns(len(n.Tasks), o.days), columns(len(n.Tasks), o.days)
	for i := range n.Tasks {
		o.playTask(i)
	}
	o.ready = columns(len(n.Groups), o.days)
	for i, t := range n.Tasks {
		later(o.ready[t.Group], o.finish[i])
	}
	o.met = make([][]bool, len(n.Groups))
	for g := range n.Groups {
		o.met[g] = o.inTime(g)
	}
	return o
}

// columns are n columns of rows zeros in one piece.
func columns(n, rows int) [][]float64 {
	all := make([]float64, n*rows)
	list := make([][]float64, n)
	for i := range list {
		list[i] = all[i*rows : (i+1)*rows : (i+1)*rows]
	}
	return list
}

// later moves each time of col to that of other, if that is later.
func later(col, other []float64) {
	other = other[:len(col)]
	for i, t := range other {
		if t > col[i] {
			col[i] = t
		}
	}
}

// drawCalls draws a call to either side of its median, never before now unless
// the median is.
func (o *Outcome) drawCalls() {
	o.call, o.shift = columns(len(o.net.Calls), o.days), columns(len(o.net.Calls), o.days)
	z90 := estimate.NormalQuantile(0.9)
	for c, k := range o.net.Calls {
		z := o.draws.Normal(k.Key)[o.from:]
		early, late := (k.MidSec-k.LowSec)/z90, (k.HighSec-k.MidSec)/z90
		for i := range o.days {
			at := k.MidSec + z[i]*late
			if z[i] < 0 {
				at = max(k.MidSec+z[i]*early, min(k.MidSec, 0))
			}
			o.call[c][i], o.shift[c][i] = at, at-k.MidSec
		}
	}
}

func (o *Outcome) playTask(i int) {
	t := &o.net.Tasks[i]
	start, finish, work := o.start[i], o.finish[i], o.work[i]
	for r := range start {
		start[r] = t.ReleaseSec
	}
	if t.Drift > 0 {
		for r, s := range o.shift[t.Drift-1] {
			start[r] = max(t.ReleaseSec+s, 0)
		}
	}
	if t.WaitKey != 0 {
		later(start, o.draws.TimesSec(t.WaitKey, t.Wait)[o.from:])
	}
	for _, a := range t.After {
		later(start, o.finish[a.From])
	}
	for r, from := range start {
		finish[r] = from + work[r]
	}
	for _, a := range t.Away {
		o.interrupt(i, a)
	}
}

// interrupt puts task i off on days on which it would begin within an absence, and
// makes it longer on days on which the absence comes while it runs.
func (o *Outcome) interrupt(i int, a Away) {
	start, finish := o.start[i], o.finish[i]
	for r := range start {
		var shift float64
		if a.Drift > 0 {
			shift = o.shift[a.Drift-1][r]
		}
		from, to := a.FromSec+shift, a.ToSec+shift
		switch {
		case start[r] >= from && start[r] < to:
			finish[r] += to - start[r]
			start[r] = to
		case start[r] < from && finish[r] > from:
			finish[r] += to - from
		}
	}
}

func (o *Outcome) inTime(g int) []bool {
	met := make([]bool, o.days)
	group := o.net.Groups[g]
	if group.Never || group.Call == NoCall {
		return met
	}
	for r, call := range o.call[group.Call] {
		met[r] = o.ready[g][r] <= call
	}
	return met
}

// Chance is the share of days, 0 to 1, on which group g is ready by its call; 0
// without one.
func (o *Outcome) Chance(g int) float64 {
	return share(o.met[g])
}

func share(days []bool) float64 {
	n := 0
	for _, met := range days {
		if met {
			n++
		}
	}
	return float64(n) / float64(len(days))
}

// InTime is the share of days on which task i ends so early that the tasks behind all
// others of its group could follow before the call; 1 without a call.
func (o *Outcome) InTime(i int) float64 {
	group := o.net.Groups[o.net.Tasks[i].Group]
	if group.Call == NoCall {
		return 1
	}
	n := 0
	for r, end := range o.finish[i] {
		for _, k := range group.Behind {
			if k != i {
				end += o.work[k][r]
			}
		}
		if end <= o.call[group.Call][r] {
			n++
		}
	}
	return float64(n) / float64(o.days)
}

// FinishSec is the time by which task i is finished on the share p of days.
func (o *Outcome) FinishSec(i int, p float64) float64 { return quantile(o.finish[i], p) }

// ReadySec is the time by which group g is ready on the share p of days.
func (o *Outcome) ReadySec(g int, p float64) float64 { return quantile(o.ready[g], p) }

// LateSec is the mean lateness of group g in seconds, 0 without a call.
func (o *Outcome) LateSec(g int) float64 {
	group := o.net.Groups[g]
	if group.Call == NoCall {
		return 0
	}
	var sum float64
	for r, ready := range o.ready[g] {
		sum += max(ready-o.call[group.Call][r], 0)
	}
	return sum / float64(o.days)
}

// quantile is the value that the share p of col does not exceed.
func quantile(col []float64, p float64) float64 {
	sorted := slices.Clone(col)
	k := min(max(int(math.Ceil(p*float64(len(col))))-1, 0), len(col)-1)
	return nth(sorted, k)
}

// nth reorders col and returns its k-th smallest value. Source: C. A. R. Hoare,
// "Algorithm 65: Find", Communications of the ACM 4, 1961, 321-322 (from memory).
func nth(col []float64, k int) float64 {
	lo, hi := 0, len(col)-1
	for lo < hi {
		pivot := col[k]
		i, j := lo, hi
		for i <= j {
			for col[i] < pivot {
				i++
			}
			for pivot < col[j] {
				j--
			}
			if i <= j {
				col[i], col[j] = col[j], col[i]
				i, j = i+1, j-1
			}
		}
		if j < k {
			lo = i
		}
		if k < i {
			hi = j
		}
	}
	return col[k]
}
