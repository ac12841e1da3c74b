package fightclock

import (
	"math"

	"mendline/board/estimate"
)

const (
	gridCells = 800
	gridTail  = 1e-5 // what may lie beyond the grid
	leastTail = 1e-3 // from here on silence no longer makes the rest longer
)

// wait is the time, from a moment at which the fight on now had been on for
// heldSec, until the k-th next start (k ≥ 1). Playing time: breaks don't count.
type wait struct {
	pace    pace
	k       int
	heldSec float64

	stepSec float64
	// Mass of the playing time in each grid cell, while no hold-up is under way at
	// that moment and while one is, and the chance that hold-ups add no more than
	// so many steps.
	free, held         []float64
	freeHold, heldHold []float64
}

func (p pace) wait(k int, heldSec float64) wait {
	w := wait{pace: p, k: k, heldSec: math.Min(heldSec, p.longestSec())}
	if !w.closed() {
		w.fillGrid()
	}
	return w
}

// longestSec bounds the time a fight is taken to have been on, so that the chance
// of it stays a number.
func (p pace) longestSec() float64 {
	longest := p.upperSec(1, 1e-12)
	if p.hold.share > 0 {
		longest += 30 * p.hold.meanSec
	}
	return longest
}

// closed says whether the beta quantile alone is exact.
func (w wait) closed() bool {
	return w.pace.hold.share == 0 && (w.k == 1 || w.heldSec == 0)
}

// quantileSec returns quantile p of the wait, given that it is longer than
// silentSec.
func (w wait) quantileSec(p, silentSec float64) float64 {
	from := math.Max(silentSec, 0)
	over := w.over(from)
	if over < leastTail {
		from = w.atTail(leastTail)
		over = w.over(from)
	}
	left := math.Max(w.atTail((1-p)*over)-from, 0)
	return math.Max(silentSec, 0) + left
}

// over returns the chance that the wait is longer than sec.
func (w wait) over(sec float64) float64 {
	if sec <= 0 {
		return 1
	}
	if w.closed() {
		return w.pace.beyond(w.k, w.heldSec+sec) / w.pace.beyond(w.k, w.heldSec)
	}
	at := sec / w.stepSec
	m := min(int(at), gridCells-1)
	lo, hi := w.gridOver(m), w.gridOver(m+1)
	return lo + (hi-lo)*math.Min(at-float64(m), 1)
}

// atTail returns the time that the wait exceeds with chance tail.
func (w wait) atTail(tail float64) float64 {
	if w.closed() {
		return w.pace.upperSec(w.k, tail*w.pace.beyond(w.k, w.heldSec)) - w.heldSec
	}
	lo, hi := 0, gridCells
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; w.gridOver(mid) > tail {
			lo = mid
		} else {
			hi = mid
		}
	}
	above, below := w.gridOver(lo), w.gridOver(hi)
	share := 1.0
	if above > below {
		share = math.Min(math.Max((above-tail)/(above-below), 0), 1)
	}
	return (float64(lo) + share) * w.stepSec
}

// gridOver returns the chance that the wait is longer than m steps.
func (w wait) gridOver(m int) float64 {
	within := 0.0
	for i := range m {
		within += w.free[i]*w.freeHold[m-1-i] + w.held[i]*w.heldHold[m-1-i]
	}
	return 1 - within
}

func (w *wait) fillGrid() {
	p := w.pace
	freeCounts := p.hold.counts(w.k)
	heldCounts := append([]float64{0}, p.hold.counts(w.k-1)...) // one is certain
	play := p.upperSec(w.k, gridTail) + p.meanSec(1)
	w.stepSec = (play + p.hold.reachSec(heldCounts, gridTail)) / gridCells
	w.free, w.held = make([]float64, gridCells), make([]float64, gridCells)
	w.freeHold, w.heldHold = make([]float64, gridCells), make([]float64, gridCells)

	shift := 0.5 // a cell's mass lies about its middle
	for j := range gridCells {
		w.freeHold[j] = p.hold.within(freeCounts, (float64(j)+shift)*w.stepSec)
	}
	if w.k == 1 {
		shift = 1 // a hold-up's end is the start itself: all its mass is at 0
	}
	for j := range gridCells {
		w.heldHold[j] = p.hold.within(heldCounts, (float64(j)+shift)*w.stepSec)
	}
	inPlay, inHoldUp := w.odds()
	w.fillFree(inPlay / (inPlay + inHoldUp))
	w.fillHeld(inHoldUp / (inPlay + inHoldUp))
}

// odds weighs the two ways in which the fight on now can have been on for
// heldSec: its gamma part still runs, or ended before and a hold-up runs.
func (w wait) odds() (inPlay, inHoldUp float64) {
	p := w.pace
	inPlay = p.beyond(1, w.heldSec)
	if w.heldSec == 0 || p.hold.share == 0 {
		return inPlay, 0
	}
	upTo := math.Min(w.heldSec, p.upperSec(1, 1e-9))
	const nodes = 400
	for i := range nodes {
		g := (float64(i) + 0.5) / nodes * upTo
		inHoldUp += math.Exp(p.logDensity(1, g)-(w.heldSec-g)/p.hold.meanSec) * upTo / nodes
	}
	return inPlay, p.hold.share * inHoldUp
}

// holdUpChance returns the chance that the interval under way carries a hold-up.
func (w wait) holdUpChance() float64 {
	inPlay, inHoldUp := w.odds()
	return (w.pace.hold.share*inPlay + inHoldUp) / (inPlay + inHoldUp)
}

// fillFree spreads mass over the play left while no hold-up is under way: the
// density of the whole sum s, times the chance that the first interval's share of
// it is more than what has gone by.
func (w *wait) fillFree(mass float64) {
	rest := float64(w.k-1) * w.pace.shape
	logs := make([]float64, gridCells)
	for i := range logs {
		s := w.heldSec + (float64(i)+0.5)*w.stepSec
		logs[i] = w.pace.logDensity(w.k, s)
		if w.k > 1 && w.heldSec > 0 {
			logs[i] += math.Log(estimate.BetaCDF(1-w.heldSec/s, rest, w.pace.shape))
		}
	}
	spread(w.free, logs, mass)
}

// fillHeld spreads mass over the play left while a hold-up is under way: k−1
// intervals, after a first one of g seconds, g weighed by the hold-up since.
func (w *wait) fillHeld(mass float64) {
	if mass == 0 {
		return
	}
	if w.k == 1 {
		w.held[0] = mass
		return
	}
	p := w.pace
	rest, all := float64(w.k-1)*p.shape, p.a+float64(w.k)*p.shape
	upTo := math.Min(w.heldSec, p.upperSec(1, 1e-6))
	nodes := max(int(math.Ceil(upTo/w.stepSec)), 12)
	g := make([]float64, nodes)
	logG := make([]float64, nodes)
	for j := range g {
		g[j] = (float64(j) + 0.5) / float64(nodes) * upTo
		logG[j] = (p.shape-1)*math.Log(g[j]) + g[j]/p.hold.meanSec
	}
	logs := make([]float64, gridCells)
	terms := make([]float64, nodes)
	for i := range logs {
		y := (float64(i) + 0.5) * w.stepSec
		for j := range g {
			terms[j] = logG[j] - all*math.Log(p.b+g[j]+y)
		}
		logs[i] = (rest-1)*math.Log(y) + logSum(terms)
	}
	spread(w.held, logs, mass)
}

// spread fills cells in proportion to e^logs, to the sum mass.
func spread(cells, logs []float64, mass float64) {
	total := logSum(logs)
	for i, l := range logs {
		cells[i] = mass * math.Exp(l-total)
	}
}

// logSum returns ln Σ e^l without overflow.
func logSum(logs []float64) float64 {
	most := math.Inf(-1)
	for _, l := range logs {
		most = math.Max(most, l)
	}
	if math.IsInf(most, 0) {
		return most
	}
	var sum float64
	for _, l := range logs {
		sum += math.Exp(l - most)
	}
	return most + math.Log(sum)
}
