package debrief

import (
	"math"
	"math/rand/v2"

	"mendline/board/estimate"
)

// work is a stretch of work of a fight: e^mu seconds, count times over.
type work struct {
	mu, sigma float64
	count     int
}

// ways holds, for one fight and one group, the work and the money for each number
// of members hit; access is the work to reach it, count 0 where there is none.
type ways struct {
	hit, most int
	access    work
	work      []work
	cents     []int
}

// laid is one construction laid out for replaying: ways[fight][group].
type laid struct {
	tau  float64
	ways [][]ways
}

func lay(c Construction, fights []Fought) laid {
	l := laid{tau: c.tau(), ways: make([][]ways, len(fights))}
	for i, f := range fights {
		for _, g := range c.Groups {
			if n := g.hits(f.Hit); n > 0 {
				l.ways[i] = append(l.ways[i], g.lay(n))
			}
		}
	}
	return l
}

func (g Group) hits(members []string) int {
	n := 0
	for _, m := range members {
		for _, own := range g.Members {
			if own == m {
				n++
			}
		}
	}
	return n
}

func (g Group) lay(hit int) ways {
	w := ways{hit: hit, most: len(g.Members)}
	if g.Access.LikelySec > 0 {
		w.access = workOf(g.Access, 1)
	}
	for n := 0; n <= w.most; n++ {
		var k work
		if n > 0 {
			s := g.Steps[g.step(n)]
			k = workOf(s.Times, s.times(n))
		}
		w.work = append(w.work, k)
		w.cents = append(w.cents, g.cents(n))
	}
	return w
}

func workOf(t estimate.TwoPoint, count int) work {
	l, err := t.Lognormal()
	if err != nil {
		panic("debrief: a construction that was not checked: " + err.Error())
	}
	return work{mu: l.Mu, sigma: l.Sigma, count: count}
}

// severity is what both constructions share of a fight: how hard it went, and how
// the way in went.
type severity struct{ hit, access float64 }

// fight draws seconds and cents of one fight. The way in is the same for both and
// its time is known: the factor on the medians is on the mending alone.
func (l laid) fight(i int, factor float64, z severity, moves float64, rng *rand.Rand) (sec, cents float64) {
	common, own := math.Sqrt(rho)*z.hit, math.Sqrt(1-rho)
	for _, w := range l.ways[i] {
		n := w.moved(moves, rng)
		if n == 0 {
			continue
		}
		for range w.access.count {
			sec += math.Exp(w.access.mu + w.access.sigma*z.access)
		}
		k := w.work[n]
		for range k.count {
			sec += factor * math.Exp(k.mu+k.sigma*(common+own*rng.NormFloat64()))
		}
		cents += float64(w.cents[n])
	}
	return sec, cents
}

// moved is how many members are hit when a share of the damage moves.
func (w ways) moved(moves float64, rng *rand.Rand) int {
	if moves == 1 {
		return w.hit
	}
	n := 0
	for range w.hit {
		u := rng.Float64()
		if moves < 1 && u < moves {
			n++
		}
		if moves > 1 {
			n++
			if u < moves-1 {
				n++
			}
		}
	}
	return min(n, w.most)
}

// mean is a fight's mean difference, other less built.
type mean struct{ sec, cents float64 }

// replay plays the day q.Replays times through both constructions and fills in the
// outcomes. It returns each fight's mean difference.
func (a *Comparison) replay(q Question) []mean {
	built, other := lay(q.Built, q.Fights), lay(q.Other, q.Fights)
	common := rand.New(rand.NewPCG(q.Seed, 1))
	builtRNG, otherRNG := rand.New(rand.NewPCG(q.Seed, 2)), rand.New(rand.NewPCG(q.Seed, 3))
	means := make([]mean, len(q.Fights))
	var days [2]struct{ sec, cents []float64 }
	for range q.Replays {
		var sec, cents [2]float64
		var missed [2]int
		factors := [2]float64{math.Exp(built.tau * common.NormFloat64()), math.Exp(other.tau * common.NormFloat64())}
		for i, f := range q.Fights {
			z := severity{hit: common.NormFloat64(), access: common.NormFloat64()}
			bs, bc := built.fight(i, factors[0], z, 1, builtRNG)
			os, oc := other.fight(i, factors[1], z, q.Moves, otherRNG)
			means[i].sec += os - bs
			means[i].cents += oc - bc
			for c, s := range [2]float64{bs, os} {
				sec[c] += s
				if s > f.AvailableSec {
					missed[c]++
				}
			}
			cents[0] += bc
			cents[1] += oc
		}
		a.count(sec, cents, missed)
		for c := range days {
			days[c].sec = append(days[c].sec, sec[c])
			days[c].cents = append(days[c].cents, cents[c])
		}
	}
	n := float64(q.Replays)
	for i := range means {
		means[i].sec /= n
		means[i].cents /= n
	}
	for c, o := range []*Outcome{&a.Built, &a.Other} {
		o.Sec, o.Money = rangeOf(days[c].sec), rangeOf(days[c].cents)
		o.Missed /= n
	}
	a.OtherSlower /= n
	a.OtherMisses /= n
	a.SameMisses /= n
	a.OtherDearer /= n
	a.OtherCheaper /= n
	return means
}

func (a *Comparison) count(sec, cents [2]float64, missed [2]int) {
	a.Built.Missed += float64(missed[0])
	a.Other.Missed += float64(missed[1])
	if sec[1] > sec[0] {
		a.OtherSlower++
	}
	if cents[1] > cents[0] {
		a.OtherDearer++
	}
	if cents[1] < cents[0] {
		a.OtherCheaper++
	}
	if missed[1] > missed[0] {
		a.OtherMisses++
	}
	if missed[1] == missed[0] {
		a.SameMisses++
	}
}

// exactMost is the most fights whose bootstrap is counted out in full.
const exactMost = 6

// bootstrap draws as many fights as there were, with replacement: every way there
// is for few fights, else as many as a replay of the day has.
func bootstrap(fights []mean, seed uint64) Bootstrap {
	n := len(fights)
	days := ReplaysUsual
	if n <= exactMost {
		days = int(math.Pow(float64(n), float64(n)))
	}
	rng := rand.New(rand.NewPCG(seed, 4))
	var b Bootstrap
	sec, cents := make([]float64, days), make([]float64, days)
	for d := range days {
		at := d
		for range n {
			i := at % n
			if n > exactMost {
				i = rng.IntN(n)
			}
			at /= n
			sec[d] += fights[i].sec / float64(n)
			cents[d] += fights[i].cents / float64(n)
		}
		if sec[d] > 0 {
			b.Slower += 1 / float64(days)
		}
		if cents[d] > 0 {
			b.Dearer += 1 / float64(days)
		}
	}
	b.Sec, b.Money = rangeOf(sec), rangeOf(cents)
	return b
}
