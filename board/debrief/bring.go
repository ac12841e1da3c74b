package debrief

import (
	"fmt"
	"math"
	"slices"
)

// Spare is what may be brought of one kind.
type Spare struct {
	Name   string
	Demand Demand
	// Miss is the chance that a call is missed when one is needed and none is left.
	Miss         float64
	Grams, Cents int
	// Have lies in the box already: it weighs, and costs nothing more.
	Have int
}

// Budget limits what may be brought; 0 is no limit.
type Budget struct{ Grams, Cents int }

// Packed is a list of what to bring: Counts[i] of spare i.
type Packed struct {
	Counts []int
	Grams  int
	Cents  int
	// Chance is the chance of no missed call for want of a spare.
	Chance float64
}

func pack(spares []Spare, counts []int) Packed {
	p := Packed{Counts: counts, Chance: 1}
	for i, s := range spares {
		p.Grams += counts[i] * s.Grams
		p.Cents += max(0, counts[i]-s.Have) * s.Cents
		p.Chance *= s.Demand.NoMiss(counts[i], s.Miss)
	}
	return p
}

// Bought is one step of the greedy list.
type Bought struct {
	Spare  int
	Chance float64 // afterwards
}

// Greedy adds one piece at a time, the one with most gain in ln(chance) for the
// share of the budget it takes, and skips what no longer fits, until nothing gains.
// Without a budget it weighs the gain by mass.
func Greedy(spares []Spare, b Budget) (Packed, []Bought) {
	counts := make([]int, len(spares))
	now := pack(spares, counts)
	var order []Bought
	for {
		best, most := -1, 0.0
		for i, s := range spares {
			if counts[i] >= demandMost || !b.holds(now, s, counts[i]) {
				continue
			}
			gain := math.Log(s.Demand.NoMiss(counts[i]+1, s.Miss)/s.Demand.NoMiss(counts[i], s.Miss)) / b.share(s, counts[i])
			if gain > most && s.Demand.Short(counts[i])*s.Miss > leastGain {
				best, most = i, gain
			}
		}
		if best < 0 {
			return now, order
		}
		counts[best]++
		now = pack(spares, counts)
		order = append(order, Bought{Spare: best, Chance: now.Chance})
	}
}

// leastGain is the smallest gain in chance that a list with room to spare still
// takes a piece for.
const leastGain = 0.0005

func (b Budget) holds(now Packed, s Spare, count int) bool {
	return (b.Grams == 0 || now.Grams+s.Grams <= b.Grams) && (b.Cents == 0 || now.Cents+s.price(count) <= b.Cents)
}

// price is what the next piece after count costs.
func (s Spare) price(count int) int {
	if count < s.Have {
		return 0
	}
	return s.Cents
}

// share is how much of the budget the next piece takes; never 0.
func (b Budget) share(s Spare, count int) float64 {
	share := 1e-9
	if b.Grams > 0 || b.Cents == 0 {
		share += float64(s.Grams) / float64(max(b.Grams, 1))
	}
	if b.Cents > 0 {
		share += float64(s.price(count)) / float64(b.Cents)
	}
	return share
}

const (
	// gramStep is the finest mass, and cells the most steps, of the exact search.
	gramStep = 10
	cells    = 400
)

// Exact finds the list with the most chance inside the budget, by dynamic
// programming over mass and money. Mass is counted in steps of 10 g, or of a
// 400th of the budget where that is more, money likewise of its budget; pieces are
// rounded up, so that the list always fits. It needs at least one limit.
func Exact(spares []Spare, b Budget) (Packed, error) {
	if b.Grams <= 0 && b.Cents <= 0 {
		return Packed{}, fmt.Errorf("what to bring: give a limit of mass, of money, or both")
	}
	mass := gridOf(b.Grams, gramStep)
	money := gridOf(b.Cents, 1)
	if b.Grams > 0 && b.Cents > 0 {
		money = gridOf(b.Cents, max(1, b.Cents/100))
	}
	wide := money.cells + 1
	best := make([]float64, (mass.cells+1)*wide)
	var took [][]uint8
	for _, s := range spares {
		next := make([]float64, len(best))
		chosen := make([]uint8, len(best))
		for i := range next {
			next[i] = math.Inf(-1)
		}
		for n := 0; n <= demandMost; n++ {
			value := math.Log(s.Demand.NoMiss(n, s.Miss))
			needMass, needMoney := mass.need(n*s.Grams), money.need(max(0, n-s.Have)*s.Cents)
			if needMass > mass.cells || needMoney > money.cells || (n > 0 && s.Demand.Short(n-1)*s.Miss < leastGain) {
				break
			}
			for g := needMass; g <= mass.cells; g++ {
				for c := needMoney; c <= money.cells; c++ {
					if v := best[(g-needMass)*wide+c-needMoney] + value; v > next[g*wide+c]+1e-12 {
						next[g*wide+c], chosen[g*wide+c] = v, uint8(n)
					}
				}
			}
		}
		best = next
		took = append(took, chosen)
	}
	counts := make([]int, len(spares))
	g, c := mass.cells, money.cells
	for i, s := range slices.Backward(spares) {
		n := int(took[i][g*wide+c])
		counts[i] = n
		g -= mass.need(n * s.Grams)
		c -= money.need(max(0, n-s.Have) * s.Cents)
	}
	return pack(spares, counts), nil
}

// grid counts a limit in cells of step; no cells where there is no limit.
type grid struct{ step, cells int }

func gridOf(limit, finest int) grid {
	if limit <= 0 {
		return grid{}
	}
	step := max(finest, (limit+cells-1)/cells)
	return grid{step: step, cells: limit / step}
}

func (g grid) need(amount int) int {
	if g.step == 0 {
		return 0
	}
	return (amount + g.step - 1) / g.step
}

// LastKilogram is how much of the chance the last kilogram of a mass budget bought:
// the best list within it less the best list a kilogram lighter.
func LastKilogram(spares []Spare, b Budget) (float64, error) {
	all, err := Exact(spares, b)
	if err != nil {
		return 0, err
	}
	less := b
	less.Grams -= 1000
	if less.Grams <= 0 {
		return all.Chance - pack(spares, make([]int, len(spares))).Chance, nil
	}
	lighter, err := Exact(spares, less)
	return all.Chance - lighter.Chance, err
}

// LastPiece asks whether the last spare of a kind goes in now or waits for a later
// fight that matters more.
type LastPiece struct {
	// PerFight is the demand a fight; Between is how many fights lie between this one
	// and the one that matters.
	PerFight float64
	Between  int
	// Now and Final weigh the two fights; Old is how much of a fight is still worth
	// with what is in it: 0 nothing, 1 all.
	Now, Final, Old float64
}

// Worth compares the two: what is to be expected of both fights when the piece goes
// in now, and when it is kept. A piece that is in must last until the final, and
// none is left; a kept one replaces what is lost on the way, once.
func (l LastPiece) Worth() (now, keep float64) {
	lost := PoissonDemand(l.PerFight * float64(l.Between+1))
	now = l.Now + l.Final*lost.AtMost(0)
	keep = l.Now*l.Old + l.Final*lost.AtMost(1)
	return now, keep
}
