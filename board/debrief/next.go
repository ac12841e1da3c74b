package debrief

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"mendline/board"
)

// Next is the event to pack for.
type Next struct {
	// Fights is how many fights each robot has still to come, 1 or more.
	Fights int
	Budget Budget
	// Guesses are demands a fight that someone states, by the spare's name, each worth
	// guessWorth fights of record.
	Guesses map[string]float64
}

// GuessMost is the largest demand a fight that anyone may state.
const GuessMost = 20

// ParseGuess reads a stated demand: a spare's name, "=", and how many are taken a
// fight, 0 to GuessMost.
func ParseGuess(text string) (spare string, perFight float64, err error) {
	at := strings.LastIndex(text, "=")
	if at < 1 {
		return "", 0, fmt.Errorf("a guess %q: give a spare's name, =, and how many a fight", text)
	}
	perFight, err = strconv.ParseFloat(strings.TrimSpace(text[at+1:]), 64)
	if err != nil || !(perFight >= 0 && perFight <= GuessMost) {
		return "", 0, fmt.Errorf("a guess %q: give how many a fight as a number from 0 to %d", text, GuessMost)
	}
	return strings.TrimSpace(text[:at]), perFight, nil
}

const (
	guessWorth = 3
	fightsMost = 30
)

// Bring is what to bring to the next event.
type Bring struct {
	Fights int         `json:"fights"`
	Grams  int         `json:"massGrams,omitzero"`
	Cents  int         `json:"moneyCents,omitzero"`
	Rows   []BringRow  `json:"rows"`
	Exact  Total       `json:"exact"`
	Greedy Total       `json:"greedy"`
	Have   Total       `json:"have"`
	None   float64     `json:"noneChance"`
	LastKg *float64    `json:"lastKilogram,omitzero"`
	Order  []BringStep `json:"order,omitempty"`
}

// BringRow is one spare: what it rests on and how many to bring.
type BringRow struct {
	Stock board.StockID `json:"stock"`
	Name  string        `json:"name"`
	// Taken is how many pieces the record asked for, in Hits hits over N fights;
	// Guess is what someone stated, a fight.
	Taken int      `json:"taken"`
	Hits  int      `json:"hits"`
	N     int      `json:"n"`
	Guess *float64 `json:"guess,omitzero"`
	// PerFight is the demand that is reckoned with, Miss the chance that a call is
	// missed for one that is not there.
	PerFight float64 `json:"perFight"`
	Miss     float64 `json:"miss"`
	Have     int     `json:"have"`
	Exact    int     `json:"exact"`
	Greedy   int     `json:"greedy"`
	Grams    int     `json:"massGrams"`
	Cents    int     `json:"listCents"`
	// Last compares, where one is left, what it is worth now and kept for a final
	// worth twice a fight, if the old one is still worth half.
	Last *Last `json:"last,omitzero"`
}

// Last is what the last piece is worth, in fights.
type Last struct {
	Now  float64 `json:"now"`
	Keep float64 `json:"keep"`
}

// Total is a whole list.
type Total struct {
	Grams  int     `json:"massGrams"`
	Cents  int     `json:"listCents"`
	Chance float64 `json:"chance"`
}

// BringStep is one step of the greedy list and the chance after it.
type BringStep struct {
	Name   string  `json:"name"`
	Chance float64 `json:"chance"`
}

// demandOf is what the record asked for of one spare.
type demandOf struct {
	pieces map[place]int
	robots map[board.RobotID]bool
}

// asked sums up by spare what was used or lost, hit by hit.
func asked(entries []Entry) map[board.StockID]*demandOf {
	of := map[board.StockID]*demandOf{}
	for _, e := range entries {
		if e.Stock == "" || e.Pieces == 0 {
			continue
		}
		if of[e.Stock] == nil {
			of[e.Stock] = &demandOf{pieces: map[place]int{}, robots: map[board.RobotID]bool{}}
		}
		of[e.Stock].pieces[place{e.Robot, e.Hit}] += e.Pieces
		of[e.Stock].robots[e.Robot] = true
	}
	return of
}

// bring works out what to bring, spare by spare in the order of names.
func (r Record) bring(entries []Entry, next Next) (Bring, error) {
	next.Fights = min(max(next.Fights, 1), fightsMost)
	b := Bring{Fights: next.Fights, Grams: next.Budget.Grams, Cents: next.Budget.Cents}
	for name := range next.Guesses {
		if !slices.ContainsFunc(r.spares(), func(stock board.Stock) bool { return stock.Name == name }) {
			return Bring{}, fmt.Errorf("no spare is called %q", name)
		}
	}
	demand := asked(entries)
	var spares []Spare
	for _, stock := range r.spares() {
		row, s := r.spare(stock, demand[stock.ID], next)
		if row.PerFight == 0 {
			continue
		}
		b.Rows = append(b.Rows, row)
		spares = append(spares, s)
	}
	if len(spares) == 0 {
		return b, nil
	}
	have := make([]int, len(spares))
	for i, s := range spares {
		have[i] = s.Have
	}
	b.Have, b.None = pack(spares, have).total(), pack(spares, make([]int, len(spares))).Chance
	exact, err := Exact(spares, next.Budget)
	if err != nil {
		return Bring{}, err
	}
	greedy, order := Greedy(spares, next.Budget)
	b.Exact, b.Greedy = exact.total(), greedy.total()
	for i := range b.Rows {
		b.Rows[i].Exact, b.Rows[i].Greedy = exact.Counts[i], greedy.Counts[i]
	}
	for _, s := range order {
		b.Order = append(b.Order, BringStep{spares[s.Spare].Name, s.Chance})
	}
	if next.Budget.Grams > 0 {
		kg, err := LastKilogram(spares, next.Budget)
		if err != nil {
			return Bring{}, err
		}
		b.LastKg = &kg
	}
	return b, nil
}

func (p Packed) total() Total { return Total{p.Grams, p.Cents, p.Chance} }

// spares are the kinds of spare on the board, by name.
func (r Record) spares() []board.Stock {
	all := slices.SortedFunc(maps.Values(r.State.Stocks), func(a, b board.Stock) int {
		return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	return slices.DeleteFunc(all, func(stock board.Stock) bool { return stock.Retired })
}

func (r Record) spare(stock board.Stock, d *demandOf, next Next) (BringRow, Spare) {
	row := BringRow{Stock: stock.ID, Name: stock.Name, Have: stock.Count, Grams: stock.MassGrams, Cents: stock.ListCents, Miss: r.missed(stock.ID)}
	sizes := []float64{}
	if d != nil {
		for _, pieces := range d.pieces {
			row.Taken += pieces
			row.Hits++
			sizes = slices.Grow(sizes, pieces)[:max(len(sizes), pieces)]
			sizes[pieces-1]++
		}
		for robot := range d.robots {
			row.N += len(r.fought(robot))
		}
	}
	hits, n := float64(row.Hits), float64(row.N)
	if guess, ok := next.Guesses[stock.Name]; ok {
		row.Guess = &guess
		hits += guess * guessWorth
		n += guessWorth
		sizes = slices.Grow(sizes, 1)[:max(len(sizes), 1)]
		sizes[0] += guess * guessWorth
	}
	s := Spare{Name: stock.Name, Miss: row.Miss, Grams: stock.MassGrams, Cents: stock.ListCents, Have: stock.Count, Demand: PoissonDemand(0)}
	if n == 0 || hits == 0 {
		return row, s
	}
	pieces := 0.0
	for i := range sizes {
		sizes[i] /= hits
		pieces += float64(i+1) * sizes[i]
	}
	row.PerFight = hits / n * pieces
	s.Demand = CompoundDemand(hits/n*float64(next.Fights), sizes)
	if stock.Count == 1 {
		now, keep := LastPiece{PerFight: row.PerFight, Between: next.Fights - 1, Now: 1, Final: 2, Old: .5}.Worth()
		row.Last = &Last{now, keep}
	}
	return row, s
}

// missed is the chance that a call is missed when the spare is not there, by how
// much the kinds of job that take it matter: must 1, a must that can be done
// another way 0.5, should 0.25, could 0.05. Decided by us; 0.5 where no kind of job
// takes it.
func (r Record) missed(id board.StockID) float64 {
	most := -1.0
	for _, template := range r.State.Templates {
		takes := func(fix board.Fix) bool {
			return slices.ContainsFunc(fix.Stock, func(need board.Need) bool { return need.Stock == id })
		}
		if template.Retired || !slices.ContainsFunc(template.Fixes, takes) {
			continue
		}
		miss := map[board.Triage]float64{board.Must: 1, board.Should: .25, board.Could: .05}[template.Triage]
		if slices.ContainsFunc(template.Fixes, func(fix board.Fix) bool { return !takes(fix) }) {
			miss /= 2
		}
		most = max(most, miss)
	}
	if most < 0 {
		return .5
	}
	return most
}
