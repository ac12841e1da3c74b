package debrief

import (
	"fmt"
	"math"
	"slices"
)

// Fought is one fight of the record: which members were hit and how long the pit
// had.
type Fought struct {
	Name string
	Hit  []string
	// AvailableSec is the hands-on time until the next call, seconds; +Inf where no
	// call followed.
	AvailableSec float64
}

// Question asks how two constructions would have stood the same fights.
type Question struct {
	// Built is the construction whose damage was recorded, Other the one in mind.
	Built, Other Construction
	Fights       []Fought
	// Moves is how much of the recorded damage also reaches Other: 1 is all of it
	// and no more; 0.5 half; 1.5 half as many members again, as far as the group has
	// them. 0 to 2.
	Moves   float64
	Replays int
	Seed    uint64
	// Currency is what the answer says money in.
	Currency string
}

const (
	// rho is the share of spread that the work of one fight has in common, tau what
	// the medians are uncertain by: for the team's own record, and for a guess.
	// Source: decided by us; they are stated beside every answer.
	rho      = 0.5
	tauOwn   = 0.15
	tauGuess = 0.35
	// DamagingLeast is how many damaging fights a verdict needs.
	DamagingLeast = 3
	// ReplaysUsual is how many replays an answer is made of.
	ReplaysUsual = 10000
)

func (c Construction) tau() float64 {
	if c.Guessed {
		return tauGuess
	}
	return tauOwn
}

// Range is a figure with its spread: one in ten lies below P10, half below P50,
// nine in ten below P90.
type Range struct {
	P10  float64 `json:"p10"`
	P50  float64 `json:"p50"`
	P90  float64 `json:"p90"`
	Mean float64 `json:"mean"`
}

// rangeOf sorts values and reads its quantiles, with straight lines between
// neighbours.
func rangeOf(values []float64) Range {
	if len(values) == 0 {
		return Range{}
	}
	slices.Sort(values)
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return Range{P10: quantile(values, 0.1), P50: quantile(values, 0.5), P90: quantile(values, 0.9), Mean: sum / float64(len(values))}
}

// quantile reads sorted values at share p of the way from the first to the last.
func quantile(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// Outcome is how one construction stands the recorded fights.
type Outcome struct {
	Name    string `json:"name"`
	Guessed bool   `json:"guessed"`
	Grams   int    `json:"massGrams"`
	Cents   int    `json:"costCents"`
	Joints  int    `json:"joints"`
	// Sec and Money are for all the fights together: seconds, cents.
	Sec    Range   `json:"sec"`
	Money  Range   `json:"moneyCents"`
	Missed float64 `json:"missed"`
}

// Comparison answers a Question.
type Comparison struct {
	// Fights, Damaging and Members are what the answer rests on.
	Fights   int     `json:"fights"`
	Damaging int     `json:"damaging"`
	Members  int     `json:"members"`
	Replays  int     `json:"replays"`
	Moves    float64 `json:"moves"`
	Built    Outcome `json:"built"`
	Other    Outcome `json:"other"`
	// Shares of the replays of this day, 0 to 1.
	OtherSlower float64 `json:"otherSlower"`
	OtherMisses float64 `json:"otherMisses"`
	SameMisses  float64 `json:"sameMisses"`
	OtherDearer float64 `json:"otherDearer"`
	// OtherCheaper is not the rest: both may cost the same.
	OtherCheaper float64 `json:"otherCheaper"`
	// More is other less built a fight, over days drawn from these fights.
	More Bootstrap `json:"more"`
	Turn Turn      `json:"turn"`
	// Outside lists members that were hit and belong to a group of neither or only
	// one of the two: they are left out.
	Outside []string `json:"outside,omitempty"`
	// Verdict is the answer in a sentence, or says why there is none.
	Verdict   string `json:"verdict"`
	Decided   bool   `json:"decided"`
	Assumes   string `json:"assumes"`
	Gap       string `json:"gap"`
	Condition string `json:"condition"`
}

// Bootstrap is other less built a fight, with the spread that comes from which
// fights happened to be fought.
type Bootstrap struct {
	Sec    Range   `json:"sec"`
	Money  Range   `json:"moneyCents"`
	Slower float64 `json:"slower"`
	Dearer float64 `json:"dearer"`
}

// Compare answers q. The same question gives the same answer.
func Compare(q Question) (Comparison, error) {
	for _, c := range []Construction{q.Built, q.Other} {
		if err := c.Check(); err != nil {
			return Comparison{}, fmt.Errorf("compare: %w", err)
		}
	}
	if q.Replays < 1 || q.Moves < 0 || q.Moves > 2 || math.IsNaN(q.Moves) {
		return Comparison{}, fmt.Errorf("compare: %d replays with %g of the damage moved: at least 1 replay, and 0 to 2", q.Replays, q.Moves)
	}
	fights, outside := q.common()
	a := Comparison{
		Fights: len(fights), Replays: q.Replays, Moves: q.Moves, Outside: outside,
		Built: q.Built.outcome(), Other: q.Other.outcome(),
	}
	for _, f := range fights {
		if len(f.Hit) > 0 {
			a.Damaging++
			a.Members += len(f.Hit)
		}
	}
	if a.Damaging > 0 {
		q.Fights = fights
		means := a.replay(q)
		a.More = bootstrap(means, q.Seed)
		a.Turn = q.turn(a.Members)
	}
	a.say(q.Currency)
	return a, nil
}

func (c Construction) outcome() Outcome {
	o := Outcome{Name: c.Name, Guessed: c.Guessed, Grams: c.Grams, Cents: c.Cents}
	for _, g := range c.Groups {
		o.Joints += g.Joints
	}
	return o
}

func (c Construction) has(member string) bool {
	return slices.ContainsFunc(c.Groups, func(g Group) bool { return slices.Contains(g.Members, member) })
}

// common keeps of each fight the members that both constructions have, each once.
func (q Question) common() (fights []Fought, outside []string) {
	for _, f := range q.Fights {
		kept := Fought{Name: f.Name, AvailableSec: f.AvailableSec}
		for _, m := range f.Hit {
			switch {
			case !q.Built.has(m) || !q.Other.has(m):
				if !slices.Contains(outside, m) {
					outside = append(outside, m)
				}
			case !slices.Contains(kept.Hit, m):
				kept.Hit = append(kept.Hit, m)
			}
		}
		fights = append(fights, kept)
	}
	slices.Sort(outside)
	return fights, outside
}
