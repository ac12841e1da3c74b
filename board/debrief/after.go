package debrief

import (
	"cmp"
	"maps"
	"slices"

	"mendline/board"
)

// After is what is left to do when the event is over.
type After struct {
	Shop  []Buy    `json:"shop"`
	Loans []Loan   `json:"loans"`
	Packs []PackTo `json:"packs"`
}

// Buy is a spare or part to get, as many as were used up.
type Buy struct {
	Name      string `json:"name"`
	Pieces    int    `json:"pieces"`
	ListCents int    `json:"listCents"`
	LeadDays  int    `json:"leadDays"`
	Have      int    `json:"have"`
}

// Loan is a spare that belongs to somebody else: what is left of it goes back.
type Loan struct {
	Name  string `json:"name"`
	From  string `json:"from"`
	Left  int    `json:"left"`
	Taken int    `json:"taken"`
}

// PackTo is what a pack needs before it is put away.
type PackTo struct {
	Pack board.PackID `json:"pack"`
	Name string       `json:"name"`
	Do   string       `json:"do"`
}

// after lists what was used up, longest lead first; loans; packs by name.
func (r Record) after(entries []Entry) After {
	var a After
	taken := map[board.StockID]int{}
	for _, e := range entries {
		if e.Used == "" {
			continue
		}
		taken[e.Stock] += e.Pieces
		if r.State.Stocks[e.Stock].Lender != "" {
			continue
		}
		i := slices.IndexFunc(a.Shop, func(b Buy) bool { return b.Name == e.Used })
		if i < 0 {
			i = len(a.Shop)
			a.Shop = append(a.Shop, Buy{Name: e.Used, Have: r.State.Stocks[e.Stock].Count})
		}
		a.Shop[i].Pieces += e.Pieces
		a.Shop[i].ListCents += e.Cost.List()
		a.Shop[i].LeadDays = max(a.Shop[i].LeadDays, e.LeadDays)
	}
	slices.SortFunc(a.Shop, func(x, y Buy) int {
		return cmp.Or(cmp.Compare(y.LeadDays, x.LeadDays), cmp.Compare(x.Name, y.Name))
	})
	for _, stock := range r.spares() {
		if stock.Lender != "" {
			a.Loans = append(a.Loans, Loan{stock.Name, stock.Lender, stock.Count, taken[stock.ID]})
		}
	}
	packs := slices.SortedFunc(maps.Values(r.State.Packs), func(x, y board.Pack) int { return cmp.Compare(x.Name, y.Name) })
	for _, p := range packs {
		if do := putAway(p); do != "" && !p.Retired {
			a.Packs = append(a.Packs, PackTo{p.ID, p.Name, do})
		}
	}
	return a
}

// putAway says what a pack needs, or "" for nothing.
func putAway(p board.Pack) string {
	switch p.State {
	case board.PackGone, board.PackStorage:
		return ""
	case board.PackSuspect, board.PackQuarantined:
		return "set aside: not home with the others; dispose of it as its maker and the venue say"
	case board.PackUnread:
		return "read its cells, then to storage charge"
	}
	return "to storage charge"
}
