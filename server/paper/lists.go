package paper

import (
	"cmp"
	"fmt"
	"slices"

	"mendline/board"
)

// tagsEach is how many tags and slips are printed for each robot.
const tagsEach = 4

// tag is a tag or a slip with the robot on it and blanks for the person.
type tag struct {
	Robot     board.Robot
	Isolators []string
}

func (p *Printer) tags() []tag {
	var list []tag
	for _, r := range p.robots() {
		t := tag{Robot: r}
		for _, energy := range r.Energies {
			if !slices.Contains(t.Isolators, energy.Isolator) {
				t.Isolators = append(t.Isolators, energy.Isolator)
			}
		}
		for range tagsEach {
			list = append(list, t)
		}
	}
	return list
}

// fight is one line of the running order.
type fight struct {
	Arena    string
	Number   int
	Robot    string
	Opponent string
	// When is what is known of its time; Call when the robot must be at staging.
	When, Call string
	Result     string
}

func (p *Printer) order() []fight {
	var all []board.Fight
	for _, f := range p.State.Fights {
		if f.State != board.FightDropped {
			all = append(all, f)
		}
	}
	slices.SortFunc(all, func(a, b board.Fight) int {
		return cmp.Or(cmp.Compare(a.Arena, b.Arena), a.Number-b.Number, cmp.Compare(a.ID, b.ID))
	})
	list := []fight{}
	for _, f := range all {
		list = append(list, p.fight(f))
	}
	return list
}

func (p *Printer) fight(f board.Fight) fight {
	out := fight{Arena: f.Arena, Number: f.Number, Robot: p.State.Robots[f.Robot].Name, Opponent: f.Opponent, Result: string(f.Result)}
	switch {
	case f.State == board.FightDone:
		out.When = "over"
	case f.OnAt != 0:
		out.When = "on since " + p.hour(f.OnAt)
	case f.NotBefore != 0:
		out.When = "not before " + p.hour(f.NotBefore)
	}
	if after, ok := p.State.Fights[f.After]; ok && f.If != "" && f.State == board.FightPlanned {
		out.When = fmt.Sprintf("only if fight %d is %s", after.Number, f.If)
	}
	if c := p.Calls[f.Robot]; c.Fight == f.ID && c.CallAt.Median != 0 && f.State == board.FightPlanned {
		out.Call = fmt.Sprintf("%s (%s–%s)", p.hour(c.CallAt.Median), p.hour(c.CallAt.Early), p.hour(c.CallAt.Late))
	}
	return out
}

// pack is one pack's lines of the log.
type pack struct {
	Name, Cells, Now string
}

func (p *Printer) packs() []pack {
	var all []board.Pack
	for _, k := range p.State.Packs {
		if !k.Retired && k.State != board.PackGone {
			all = append(all, k)
		}
	}
	slices.SortFunc(all, func(a, b board.Pack) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) })
	list := []pack{}
	for _, k := range all {
		now := k.State.String()
		switch {
		case k.Robot != "":
			now += ", " + p.State.Robots[k.Robot].Name
		case k.Place != "":
			now += ", " + p.State.Places[k.Place].Name
		}
		list = append(list, pack{Name: k.Name, Cells: fmt.Sprintf("%s %d cells", k.Chemistry, k.Cells), Now: now})
	}
	return list
}
