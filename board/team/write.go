package team

import (
	"cmp"
	"errors"
	"slices"

	"mendline/board"
)

// printing is one board being written out.
type printing struct {
	state board.State
	// wanted are the spares that kinds of job name.
	wanted map[board.StockID]bool
}

// Write gives the files of the team on the board, by name, and what their columns mean. Read
// takes them into the same team. What was taken off the board or set aside is left out, and
// so is its name where others refer to it; a spare that a kind of job still names is kept.
// What the day brought (results, jobs, states) is not a team's and is not in it. It is an
// error when the board holds no event yet.
func Write(s board.State) (map[string][]byte, error) {
	if s.Event().Name == "" {
		return nil, errors.New("write team: the board holds no team yet: load one first")
	}
	p := &printing{state: s, wanted: map[board.StockID]bool{}}
	for _, template := range s.Templates {
		for _, fix := range template.Fixes {
			for _, need := range fix.Stock {
				p.wanted[need.Stock] = p.wanted[need.Stock] || !template.Retired
			}
		}
	}
	p.dropTwins()
	written := map[string][]byte{}
	for _, f := range files {
		if err := enter(written, f.file, append([][]string{f.names()}, f.rows(p)...)); err != nil {
			return nil, err
		}
	}
	written[ReadMe] = ReadMeText()
	return written, nil
}

// dropTwins leaves a retired spare out when one in use has its name, which then
// stands for it.
func (p *printing) dropTwins() {
	taken := map[string]bool{}
	for _, stock := range p.state.Stocks {
		if !stock.Retired {
			taken[board.Folded(stock.Name)] = true
		}
	}
	for _, stock := range live(p.state.Stocks, func(stock board.Stock) (string, bool) { return stock.Name, !p.wanted[stock.ID] }) {
		if key := board.Folded(stock.Name); stock.Retired && taken[key] {
			p.wanted[stock.ID] = false
		} else {
			taken[key] = true
		}
	}
}

// live lists a table's nouns that are not off the board, by name.
func live[ID cmp.Ordered, N any](table map[ID]N, of func(N) (name string, off bool)) []N {
	type named struct {
		name string
		id   ID
		noun N
	}
	var all []named
	for id, n := range table {
		if name, off := of(n); !off {
			all = append(all, named{name, id, n})
		}
	}
	slices.SortFunc(all, func(a, b named) int { return cmp.Or(cmp.Compare(a.name, b.name), cmp.Compare(a.id, b.id)) })
	list := make([]N, len(all))
	for i, n := range all {
		list[i] = n.noun
	}
	return list
}

// place, person, robot and circuit name what is on the board; "" for what is not.
func (p *printing) place(id board.PlaceID) string {
	if n := p.state.Places[id]; !n.Retired {
		return n.Name
	}
	return ""
}

func (p *printing) person(id board.PersonID) string {
	if n := p.state.People[id]; !n.Retired {
		return n.Name
	}
	return ""
}

func (p *printing) robot(id board.RobotID) string {
	if n := p.state.Robots[id]; !n.Retired {
		return n.Name
	}
	return ""
}

func (p *printing) circuit(id board.CircuitID) string {
	if n := p.state.Circuits[id]; !n.Retired {
		return n.Name
	}
	return ""
}
