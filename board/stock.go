package board

// Stock is a kind of spare with how many are left.
type Stock struct {
	ID StockID `json:"id"`
	V  Rev     `json:"v"`
	StockFields
	Retired bool `json:"retired,omitzero"`
}

// StockFields are what the captain says of a spare.
type StockFields struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
	// Where says where it lies: "drawer 3".
	Where     string `json:"where,omitzero"`
	MassGrams int    `json:"massGrams,omitzero"`
	// ListCents is the price by the list, PaidCents what was paid for one.
	ListCents int `json:"listCents,omitzero"`
	PaidCents int `json:"paidCents,omitzero"`
	LeadDays  int `json:"leadDays,omitzero"`
	// Lender is the owner, where it is on loan.
	Lender string `json:"lender,omitzero"`
}

const stockMost = 9999

func (stock Stock) Key() Key         { return KeyOf(KindStock, stock.ID) }
func (stock Stock) Rev() Rev         { return stock.V }
func (stock Stock) stamp(r Rev) Noun { stock.V = r; return stock }

func (stock Stock) called() (name, among string, inUse bool) {
	return stock.Name, "", !stock.Retired
}

func (stock Stock) valid(s State) *Refusal {
	bad := first(
		checkName("name", stock.Name),
		checkRange("count", stock.Count, 0, stockMost, "pieces"),
		checkShort("where", stock.Where),
		checkRange("massGrams", stock.MassGrams, 0, 200000, "g"),
		checkRange("listCents", stock.ListCents, 0, 100000000, "cents"),
		checkRange("paidCents", stock.PaidCents, 0, 100000000, "cents"),
		checkRange("leadDays", stock.LeadDays, 0, 999, "days"),
		checkShort("lender", stock.Lender),
	)
	return bad
}

// StockAdd enters a kind of spare.
type StockAdd struct{ StockFields }

func (c StockAdd) do(t *turn) *Refusal {
	t.put(Stock{ID: StockID(t.id(KindStock, c.Name)), StockFields: c.StockFields})
	return nil
}

// StockChange replaces what is said of a spare.
type StockChange struct {
	Stock StockID `json:"stock"`
	StockFields
}

func (c StockChange) do(t *turn) *Refusal {
	return edit(t, t.s().Stocks, c.Stock, missing("spare", "stock"), func(n *Stock) { n.StockFields = c.StockFields })
}

// StockRetire takes a kind of spare off the board.
type StockRetire struct {
	Stock StockID `json:"stock"`
}

func (c StockRetire) do(t *turn) *Refusal {
	return edit(t, t.s().Stocks, c.Stock, missing("spare", "stock"), func(n *Stock) { n.Retired = true })
}

// StockUse takes pieces out of the box.
type StockUse struct {
	Stock StockID `json:"stock"`
	Count int     `json:"count"`
}

func (c StockUse) do(t *turn) *Refusal {
	stock, ok := t.s().Stocks[c.Stock]
	if !ok {
		return missing("spare", "stock")
	}
	if c.Count < 1 {
		return badField("count", "Say how many were taken: 1 or more.")
	}
	if c.Count > stock.Count {
		return badField("count", "The board counts only %d of %s. Count the box, then correct the number.", stock.Count, stock.Name)
	}
	stock.Count -= c.Count
	t.put(stock)
	return nil
}

// StockCount corrects the number after the box has been counted.
type StockCount struct {
	Stock StockID `json:"stock"`
	Count int     `json:"count"`
}

func (c StockCount) do(t *turn) *Refusal {
	stock, ok := t.s().Stocks[c.Stock]
	if !ok {
		return missing("spare", "stock")
	}
	stock.Count = c.Count
	t.put(stock)
	return nil
}
