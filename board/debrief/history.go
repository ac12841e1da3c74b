package debrief

// History sets the parts and joints of several events side by side.
type History struct {
	Events []string
	// Fought is how many fights each event had.
	Fought []int
	Parts  []HistoryRow
	Joints []HistoryRow
}

// HistoryRow is in how many fights of each event one part or joint of a robot was
// damaged.
type HistoryRow struct {
	Name   string
	Fights []int
}

// HistoryOf is the history of several accounts, in their order; what was damaged in
// most fights of all comes first.
func HistoryOf(accounts []Account) History {
	var h History
	for _, a := range accounts {
		h.Events, h.Fought = append(h.Events, a.Event), append(h.Fought, a.Fought)
	}
	h.Parts = across(accounts, func(s Section) []Share { return s.ByRepeat })
	h.Joints = across(accounts, func(s Section) []Share { return s.ByJoint })
	return h
}

func across(accounts []Account, of func(Section) []Share) []HistoryRow {
	var all []Share
	fights := map[string][]int{}
	for i, a := range accounts {
		for _, robot := range a.Robots {
			for _, s := range of(robot) {
				name := robot.Name + ", " + s.Name
				if fights[name] == nil {
					fights[name] = make([]int, len(accounts))
					all = append(all, Share{Name: name})
				}
				fights[name][i] += int(s.Amount)
			}
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
