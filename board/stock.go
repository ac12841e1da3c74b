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
	// Lender is whom it belongs to, where it is on loan.
	Lender string `json:"lender,omitzero"`
}

const stockMost = 9999

func (k Stock) Key() Key         { return KeyOf(KindStock, k.ID) }
func (k Stock) Rev() Rev         { return k.V }
func (k Stock) stamp(r Rev) Noun { k.V = r; return k }

func (k Stock) valid(s State) *Refusal {
	r := first(
		checkName("name", k.Name),
		checkRange("count", k.Count, 0, stockMost, "pieces"),
		checkShort("where", k.Where),
		checkRange("massGrams", k.MassGrams, 0, 200000, "g"),
		checkRange("listCents", k.ListCents, 0, 100000000, "cents"),
		checkRange("paidCents", k.PaidCents, 0, 100000000, "cents"),
		checkRange("leadDays", k.LeadDays, 0, 999, "days"),
		checkShort("lender", k.Lender),
	)
	if r == nil && !k.Retired && sameName(s.Stocks, k.ID, k.Name, func(o Stock) (string, bool) { return o.Name, !o.Retired }) {
		r = nameTaken(k.Name)
	}
	return r
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
	k, ok := t.s().Stocks[c.Stock]
	if !ok {
		return missing("spare", "stock")
	}
	k.StockFields = c.StockFields
	t.put(k)
	return nil
}

// StockRetire takes a kind of spare off the board.
type StockRetire struct {
	Stock StockID `json:"stock"`
}

func (c StockRetire) do(t *turn) *Refusal {
	k, ok := t.s().Stocks[c.Stock]
	if !ok {
		return missing("spare", "stock")
	}
	k.Retired = true
	t.put(k)
	return nil
}

// StockUse takes pieces out of the box.
type StockUse struct {
	Stock StockID `json:"stock"`
	Count int     `json:"count"`
}

func (c StockUse) do(t *turn) *Refusal {
	k, ok := t.s().Stocks[c.Stock]
	if !ok {
		return missing("spare", "stock")
	}
	if c.Count < 1 {
		return badField("count", "Say how many were taken: 1 or more.")
	}
	if c.Count > k.Count {
		return badField("count", "The board counts only %d of %s. Count the box, then correct the number.", k.Count, k.Name)
	}
	k.Count -= c.Count
	t.put(k)
	return nil
}

// StockCount corrects the number after the box has been counted.
type StockCount struct {
	Stock StockID `json:"stock"`
	Count int     `json:"count"`
}

func (c StockCount) do(t *turn) *Refusal {
	k, ok := t.s().Stocks[c.Stock]
	if !ok {
		return missing("spare", "stock")
	}
	k.Count = c.Count
	t.put(k)
	return nil
}
