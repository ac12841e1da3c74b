package chance

import (
	"math"

	"mendline/board/estimate"
	"mendline/board/random"
)

// TiredRho is the correlation of the logarithms of durations within one day. Our
// own choice until a team's record says otherwise.
const TiredRho = 0.2

// dayKey is the key of the column that all durations share.
const dayKey = 0x6461790000000000

// Work is a duration: Time, of which SpentSec have gone by without finishing it.
type Work struct {
	Time     estimate.Lognormal
	SpentSec float64
}

// Draws hands out the numbers of the days. Not for use by several goroutines.
type Draws struct {
	seed     uint64
	rows     int
	rho      float64
	quantile []float64
	columns  map[uint64][]float64
	lucks    map[uint64][]float64
	times    map[drawn][]float64
}

type drawn struct {
	key  uint64
	work Work
}

// NewDraws makes the numbers of rows days (1 or more) with the correlation rho,
// 0 to 1, between durations.
func NewDraws(seed uint64, rows int, rho float64) *Draws {
	d := &Draws{seed: seed, rows: rows, rho: rho, quantile: make([]float64, rows),
		columns: map[uint64][]float64{}, lucks: map[uint64][]float64{}, times: map[drawn][]float64{}}
	for i := range d.quantile {
		d.quantile[i] = estimate.NormalQuantile((float64(i) + 0.5) / float64(rows))
	}
	return d
}

// Normal is the column of key: a shuffled table of normal quantiles. It must not
// be changed.
func (d *Draws) Normal(key uint64) []float64 {
	if col, ok := d.columns[key]; ok {
		return col
	}
	col := make([]float64, d.rows)
	copy(col, d.quantile)
	r := random.Source(random.Mix(key) ^ d.seed)
	for i := d.rows - 1; i > 0; i-- {
		j := r.Below(i + 1)
		col[i], col[j] = col[j], col[i]
	}
	d.columns[key] = col
	return col
}

// TimesSec is how long w, of the task with key, still takes on each day, in
// seconds. It must not be changed.
func (d *Draws) TimesSec(key uint64, w Work) []float64 {
	at := drawn{key, w}
	if col, ok := d.times[at]; ok {
		return col
	}
	col := make([]float64, d.rows)
	left := w.Time.After(w.SpentSec)
	for i, z := range d.luck(key) {
		if w.SpentSec > 0 {
			col[i] = left.LeftSec(estimate.NormalCDF(z))
		} else {
			col[i] = math.Exp(w.Time.Mu + w.Time.Sigma*z)
		}
	}
	d.times[at] = col
	return col
}

// Keys of a task's numbers beside its own.
const (
	failsKey = 0x6661696c73000000
	againKey = 0x616761696e000000
)

// withAgain is work on the days from from on, longer where the task has to be done again.
func (d *Draws) withAgain(work []float64, t Task, from int) []float64 {
	fails, again := d.Normal(t.Key^failsKey), d.TimesSec(t.Key^againKey, t.Again.Work)
	most := estimate.NormalQuantile(t.Again.Share)
	col := make([]float64, len(work))
	for r, sec := range work {
		if col[r] = sec; fails[from+r] < most {
			col[r] += again[from+r]
		}
	}
	return col
}

// luck is √ρ Z₀ + √(1−ρ) Z of the task with key, put back on the table of normal
// quantiles by rank, so that it is as evenly spread as each of the two.
func (d *Draws) luck(key uint64) []float64 {
	if col, ok := d.lucks[key]; ok {
		return col
	}
	own, day := d.Normal(key), d.Normal(dayKey)
	ownShare, dayShare := math.Sqrt(1-d.rho), math.Sqrt(d.rho)
	col := make([]float64, d.rows)
	below := make([]int32, rankCells+1)
	cell := make([]int32, d.rows)
	for i := range col {
		z := ownShare*own[i] + dayShare*day[i]
		cell[i] = int32(min(max((z/rankReach+1)/2*rankCells, 0), rankCells-1))
		below[cell[i]+1]++
	}
	for k := range rankCells {
		below[k+1] += below[k]
	}
	for i, k := range cell {
		col[i] = d.quantile[below[k]]
		below[k]++
	}
	d.lucks[key] = col
	return col
}

// Numbers are ranked by cells so small that two in one are the same luck.
const (
	rankCells = 1 << 14
	rankReach = 6.0
)
