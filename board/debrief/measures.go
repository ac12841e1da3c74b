package debrief

import (
	"cmp"
	"slices"

	"mendline/board/estimate"
)

// RateLeast is how many cases a rate needs before it is printed.
const RateLeast = 3

// Figure is a measure with what it rests on. It has no value where there is
// nothing to measure: never 0 in its place.
type Figure struct {
	Name  string   `json:"name"`
	Value *float64 `json:"value,omitzero"`
	Unit  string   `json:"unit"`
	N     int      `json:"n"`
	// Of says what n counts and where the figure comes from, Trap how it misleads.
	Of   string `json:"of"`
	Trap string `json:"trap,omitzero"`
}

// rate is a figure that is printed from RateLeast cases on.
func rate(name, unit string, n int, of string, value func() float64) Figure {
	f := Figure{Name: name, Unit: unit, N: n, Of: of}
	if n >= RateLeast {
		v := value()
		f.Value = &v
	} else {
		f.Trap = "no figure from under 3"
	}
	return f
}

// per is an amount over a count; absent where the count is 0.
func per(amount float64, count int) *float64 {
	if count == 0 {
		return nil
	}
	v := amount / float64(count)
	return &v
}

// FightCost is what one fight cost, in cents, and how many damaging hits it had.
type FightCost struct {
	Cents float64
	Hits  int
}

// PerHit is the cost of all fights over all their damaging hits, cents; nil where
// there were none.
func PerHit(fights []FightCost) *float64 {
	cents, hits := 0.0, 0
	for _, f := range fights {
		cents += f.Cents
		hits += f.Hits
	}
	return per(cents, hits)
}

// PerFight is the mean and the median cost of a fight, cents; nil where there was
// no fight.
func PerFight(fights []FightCost) (mean, median *float64) {
	if len(fights) == 0 {
		return nil, nil
	}
	var all []float64
	for _, f := range fights {
		all = append(all, f.Cents)
	}
	r := rangeOf(all)
	return &r.Mean, &r.P50
}

// MTTR is the mean time to repair of jobs of which some are unfinished, seconds:
// dropped, the mean of the finished; Censored, all time spent over the number
// finished, which is right if jobs end at a constant rate. Both are nil while none
// is finished.
type MTTR struct {
	Dropped, Censored *float64
	Finished, Open    int
}

// MeanRepair measures jobs.
func MeanRepair(jobs []estimate.Worked) MTTR {
	var m MTTR
	sum := 0.0
	for _, j := range jobs {
		if j.Open {
			m.Open++
			continue
		}
		m.Finished++
		sum += j.Sec
	}
	m.Dropped = per(sum, m.Finished)
	if mean, err := estimate.MeanSecExponential(jobs); err == nil {
		m.Censored = &mean
	}
	return m
}

// Share is one item of a ranking: its amount, and the share of the whole that it
// and all above it make, 0 to 1.
type Share struct {
	Name       string  `json:"name"`
	Amount     float64 `json:"amount"`
	Cumulative float64 `json:"cumulative"`
	N          int     `json:"n"`
}

// Pareto ranks items by amount, most first, and leaves out those that are 0.
func Pareto(items []Share) []Share {
	ranked := slices.DeleteFunc(slices.Clone(items), func(s Share) bool { return s.Amount <= 0 })
	slices.SortStableFunc(ranked, func(a, b Share) int {
		return cmp.Or(cmp.Compare(b.Amount, a.Amount), cmp.Compare(a.Name, b.Name))
	})
	sum, whole := 0.0, 0.0
	for _, s := range ranked {
		whole += s.Amount
	}
	for i := range ranked {
		sum += ranked[i].Amount
		ranked[i].Cumulative = sum / whole
	}
	return ranked
}
