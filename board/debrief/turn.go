package debrief

import "math"

// Turn says where the answer turns, everything else as it is. A figure is absent
// where nothing turns it.
type Turn struct {
	// Price is what the other construction's costliest step, named Step, would have
	// to cost for equal money, in cents.
	Step  string   `json:"step,omitzero"`
	Price *float64 `json:"priceCents,omitzero"`
	Paid  float64  `json:"nowCents"`
	// Loss is how many members a fight the other construction may lose for equal
	// expected minutes, MoneyLoss for equal money; Lost is what it lost in the replay.
	Lost      float64  `json:"lostPerFight"`
	Loss      *float64 `json:"lossPerFight,omitzero"`
	MoneyLoss *float64 `json:"moneyLossPerFight,omitzero"`
}

// expected is the sum over all fights and groups of what worth gives for the
// number of members hit, in expectation when a share of the damage moves.
func (q Question) expected(c Construction, moves float64, worth func(g Group, hit int) float64) float64 {
	sum := 0.0
	for _, f := range q.Fights {
		for _, g := range c.Groups {
			h := g.hits(f.Hit)
			if h == 0 {
				continue
			}
			sure, p := 0, moves
			if moves > 1 {
				sure, p = h, moves-1
			}
			for n := 0; n <= h; n++ {
				sum += binomial(h, n, p) * worth(g, min(sure+n, len(g.Members)))
			}
		}
	}
	return sum
}

func binomial(n, k int, p float64) float64 {
	choose := 1.0
	for i := range k {
		choose = choose * float64(n-i) / float64(i+1)
	}
	return choose * math.Pow(p, float64(k)) * math.Pow(1-p, float64(n-k))
}

func groupSec(g Group, hit int) float64   { return g.meanSec(hit) }
func groupCents(g Group, hit int) float64 { return float64(g.cents(hit)) }

// turn finds the price and the loss rates at which the answer turns. members is
// how many were hit.
func (q Question) turn(members int) Turn {
	perFight := float64(members) / float64(len(q.Fights))
	t := Turn{Lost: q.Moves * perFight}
	builtCents := q.expected(q.Built, 1, groupCents)
	step, at := q.Other.costliest()
	if step.Cents > 0 {
		uses := q.expected(q.Other, q.Moves, func(g Group, hit int) float64 {
			if hit == 0 || g.Name != at || g.Steps[g.step(hit)] != step {
				return 0
			}
			return float64(step.times(hit))
		})
		t.Step, t.Paid = step.Name, float64(step.Cents)
		rest := q.expected(q.Other, q.Moves, groupCents) - uses*t.Paid
		if price := (builtCents - rest) / uses; uses > 0 && price >= 0 {
			t.Price = &price
		}
	}
	t.Loss = q.turnsAt(groupSec, perFight)
	t.MoneyLoss = q.turnsAt(groupCents, perFight)
	return t
}

// costliest is the dearest single step and its group's name.
func (c Construction) costliest() (s Step, group string) {
	for _, g := range c.Groups {
		for _, o := range g.Steps {
			if o.Cents > s.Cents {
				s, group = o, g.Name
			}
		}
	}
	return s, group
}

// turnsAt is the number of members lost a fight at which both are worth the same:
// the first crossing from 0 to twice the recorded damage, or nil.
func (q Question) turnsAt(worth func(Group, int) float64, perFight float64) *float64 {
	const steps = 200
	built := q.expected(q.Built, 1, worth)
	above := func(m float64) bool { return q.expected(q.Other, m, worth) > built }
	if above(0) || built == 0 {
		return nil
	}
	for i := 1; i <= steps; i++ {
		low, high := 2*float64(i-1)/steps, 2*float64(i)/steps
		if !above(high) {
			continue
		}
		for range 40 {
			if mid := (low + high) / 2; above(mid) {
				high = mid
			} else {
				low = mid
			}
		}
		at := high * perFight
		return &at
	}
	return nil
}
