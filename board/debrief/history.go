package debrief

// History sets the parts and joints of several events side by side.
type History struct {
	Events []string
	Parts  []HistoryRow
	Joints []HistoryRow
}

// HistoryRow is in how many fights of each event one part or joint was damaged.
type HistoryRow struct {
	Name   string
	Fights []int
}

// HistoryOf is the history of several accounts, in their order; what was damaged in
// most fights of all comes first.
func HistoryOf(accounts []Account) History {
	var h History
	for _, a := range accounts {
		h.Events = append(h.Events, a.Event)
	}
	h.Parts = across(accounts, func(a Account) []Share { return a.All.ByRepeat })
	h.Joints = across(accounts, func(a Account) []Share { return a.All.ByJoint })
	return h
}

func across(accounts []Account, of func(Account) []Share) []HistoryRow {
	var all []Share
	fights := map[string][]int{}
	for i, a := range accounts {
		for _, s := range of(a) {
			if fights[s.Name] == nil {
				fights[s.Name] = make([]int, len(accounts))
				all = append(all, Share{Name: s.Name})
			}
			fights[s.Name][i] = int(s.Amount)
		}
	}
	for k := range all {
		for _, n := range fights[all[k].Name] {
			all[k].Amount += float64(n)
		}
	}
	var rows []HistoryRow
	for _, s := range Pareto(all) {
		rows = append(rows, HistoryRow{s.Name, fights[s.Name]})
	}
	return rows
}
