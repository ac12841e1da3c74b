package chance

import (
	"cmp"
	"math"
	"slices"
)

// Paired compares two outcomes day by day.
type Paired struct {
	Days int
	// Won are the days on which only the second met the call, Lost those on which
	// only the first did.
	Won, Lost int
}

// Compare compares group g on the days of other, which base has played too. The
// group is index h in other.
func Compare(base, other *Outcome, g, h int) Paired {
	p := Paired{Days: other.days}
	for r, met := range other.met[h] {
		switch was := base.met[g][other.from-base.from+r]; {
		case met && !was:
			p.Won++
		case was && !met:
			p.Lost++
		}
	}
	return p
}

// Add is p with the days of o.
func (p Paired) Add(o Paired) Paired { return Paired{p.Days + o.Days, p.Won + o.Won, p.Lost + o.Lost} }

// Gain is by how much the second chance is greater, -1 to 1; 0 without days.
func (p Paired) Gain() float64 {
	if p.Days == 0 {
		return 0
	}
	return float64(p.Won-p.Lost) / float64(p.Days)
}

// ErrorOf is the standard error of the gain, √((b + c − (b−c)²)/n) with b and c the
// shares won and lost.
func (p Paired) ErrorOf() float64 {
	if p.Days == 0 {
		return 0
	}
	n, gain := float64(p.Days), p.Gain()
	return math.Sqrt((float64(p.Won+p.Lost)/n - gain*gain) / n)
}

// Clear tells whether the gain is more than two errors above 0.
func (p Paired) Clear() bool { return p.Gain() > 0 && p.Gain() >= 2*p.ErrorOf() }

// rounds of halving, each of equal cost.
const rounds = 3

// Halve ranks n remedies by trials that together play days days: three rounds of
// equal cost, each with the better half of those before it, on days they have not
// seen. trial plays remedy i on the days from up to, not including, to; no day is
// at or past most. It returns the remedies, the best first, and what each has
// shown. Those that fell out early rest on fewer days.
func Halve(n, days, most int, trial func(i, from, to int) Paired) (order []int, shown []Paired) {
	shown = make([]Paired, n)
	for i := range n {
		order = append(order, i)
	}
	alive, from := n, 0
	for range rounds {
		if alive == 0 {
			break
		}
		to := min(from+days/(rounds*alive), most)
		for _, i := range order[:alive] {
			shown[i] = shown[i].Add(trial(i, from, to))
		}
		slices.SortStableFunc(order[:alive], func(a, b int) int { return cmp.Compare(shown[b].Gain(), shown[a].Gain()) })
		alive, from = (alive+1)/2, to
	}
	return order, shown
}
