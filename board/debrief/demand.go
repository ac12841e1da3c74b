package debrief

import "math"

// demandMost is how many pieces of one spare are looked at.
const demandMost = 60

// Demand is the chance of each number of pieces, from 0.
type Demand []float64

// PoissonDemand is the demand with mean pieces, 0 or more, hit by hit and one piece
// a hit.
func PoissonDemand(mean float64) Demand { return CompoundDemand(mean, []float64{1}) }

// CompoundDemand is the demand when damaging hits come with mean hits, and sizes[j]
// is the chance that a hit takes j+1 pieces: p₀ = e^−Λ, pₙ = (Λ/n) Σ j gⱼ pₙ₋ⱼ.
// Source: Panjer, Recursive evaluation of a family of compound distributions, ASTIN
// Bulletin 12, 1981 (from memory).
func CompoundDemand(hits float64, sizes []float64) Demand {
	d := make(Demand, demandMost+1)
	d[0] = math.Exp(-hits)
	for n := 1; n <= demandMost; n++ {
		for j := 1; j <= min(n, len(sizes)); j++ {
			d[n] += hits / float64(n) * float64(j) * sizes[j-1] * d[n-j]
		}
	}
	return d
}

// AtMost is the chance that n pieces are enough.
func (d Demand) AtMost(n int) float64 {
	sum := 0.0
	for i := 0; i <= min(n, len(d)-1); i++ {
		sum += d[i]
	}
	return sum
}

// Short is how many pieces are expected to be missing when n are there.
// Source: Sherbrooke, Optimal Inventory Modeling of Systems, "expected backorders"
// (from memory).
func (d Demand) Short(n int) float64 {
	sum := 0.0
	for i := n + 1; i < len(d); i++ {
		sum += float64(i-n) * d[i]
	}
	return sum
}

// NoMiss is the chance that no call is missed for want of this spare when n are
// there and each missing piece costs a call with chance miss, 0 to 1.
func (d Demand) NoMiss(n int, miss float64) float64 {
	sum := d.AtMost(n)
	for i := n + 1; i < len(d); i++ {
		sum += d[i] * math.Pow(1-miss, float64(i-n))
	}
	return sum
}
