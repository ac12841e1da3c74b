package fightclock

import (
	"math"
	"slices"
	"time"
)

// Sighting is somebody's word that Fight is on now in an arena. The first for a
// fight is taken as its start; a later one says that it is still on. A later
// sighting of a lower number takes back the higher ones before it.
type Sighting struct {
	Arena string
	Fight int
	At    time.Time
}

// start is a fight seen to be on: from when, and until when we know it was.
type start struct {
	fight         int
	at, confirmed time.Time
}

// starts puts an arena's sightings up to now in order of time and drops what was
// taken back.
func starts(arena string, all []Sighting, now time.Time) []start {
	var of []Sighting
	for _, s := range all {
		if s.Arena == arena && !s.At.After(now) {
			of = append(of, s)
		}
	}
	slices.SortStableFunc(of, func(a, b Sighting) int { return a.At.Compare(b.At) })
	var kept []start
	for _, s := range of {
		for len(kept) > 0 && kept[len(kept)-1].fight > s.Fight {
			kept = kept[:len(kept)-1]
		}
		if n := len(kept); n > 0 && kept[n-1].fight == s.Fight {
			kept[n-1].confirmed = s.At
			continue
		}
		kept = append(kept, start{s.Fight, s.At, s.At})
	}
	return kept
}

// span is what two neighbouring sightings say: fights intervals took sec.
type span struct {
	fights int
	sec    float64
}

// spans returns the spans between starts that cover no break, and how many do.
func spans(ss []start, breaks []Window) (usable []span, covering int) {
	for i := 1; i < len(ss); i++ {
		whole := ss[i].at.Sub(ss[i-1].at)
		if between(ss[i-1].at, ss[i].at, breaks) < whole {
			covering++
			continue
		}
		usable = append(usable, span{ss[i].fight - ss[i-1].fight, whole.Seconds()})
	}
	return usable, covering
}

// learn returns the pace after the spans, and the spans it used. The span least
// likely to be plain play, judged by prior and all the others, is set aside, then
// the rest are judged again, until all are plausible.
func (p pace) learn(all []span) (pace, []span) {
	used := slices.Clone(all)
	for {
		after := p
		for _, s := range used {
			after = after.seen(s.fights, s.sec)
		}
		worst, most := -1, 0.0
		for i, s := range used {
			if d := after.seen(-s.fights, -s.sec).doubt(s); d > most {
				worst, most = i, d
			}
		}
		if worst < 0 {
			return after, used
		}
		used = slices.Delete(used, worst, worst+1)
	}
}

// tooShort is the chance below which a span is taken for a corrected number.
const tooShort = 1e-3

// doubt returns how much speaks against a span as plain play, as a logarithm of
// odds: above 0 it is set aside. A long span: the odds of a hold-up in it, which
// for one interval are the posterior odds; for more, those of one interval times
// the weight of the evidence, or else the mere length of a span would condemn it.
func (p pace) doubt(s span) float64 {
	short := math.Inf(1)
	if within := p.within(s.fights, s.sec); within > 0 {
		short = math.Log(tooShort / within)
	}
	if p.hold.share == 0 || s.sec <= 0 {
		return short
	}
	odds := math.Log(p.hold.share / (1 - p.hold.share))
	long := odds + p.logDensityHeldUp(s) - p.logDensity(s.fights, s.sec)
	return math.Max(short, long)
}

// logDensityHeldUp is the log density of a span's length given that at least one
// hold-up is in it.
func (p pace) logDensityHeldUp(s span) float64 {
	counts := p.hold.counts(s.fights)
	const nodes = 300
	step := s.sec / nodes
	logs := make([]float64, nodes)
	for i := range logs {
		play := (float64(i) + 0.5) * step
		logs[i] = p.logDensity(s.fights, play) + math.Log(p.hold.density(counts, s.sec-play)*step)
	}
	return logSum(logs) - math.Log(1-counts[0])
}
