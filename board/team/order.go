package team

import (
	"cmp"
	"slices"
	"strconv"

	"mendline/board"
)

// A row of order.csv is a fight of ours. The columns from only_if on are for one
// that takes place only if another of ours is won or lost; blank, after_arena
// and after_robot are this row's own, and after_branch is told only where two
// branches share one place.
var orderFile = &layout{"order.csv", []column{
	{name: "arena", need: true}, {name: "number", need: true}, {name: "robot", need: true}, {name: "opponent"},
	{name: "not_before", field: "notBefore"}, {name: "only_if", field: "if"},
	{name: "after_arena"}, {name: "after_number", field: "after"}, {name: "after_robot"}, {name: "after_branch"},
	{name: "opponent_kind", field: "opponentKind"},
}}

var branches = []board.Result{board.Won, board.Lost}

// place is where a fight stands in the running order.
type fightPlace struct {
	arena  string
	number int
	robot  board.RobotID
	branch board.Result
}

type fightRow struct {
	board.Fight
	row *row
}

func (d *reading) readOrder() {
	var fights []fightRow
	at := map[fightPlace]*row{}
	for _, w := range d.rows(orderFile) {
		f := board.FightFields{
			Arena: w.text("arena"), Number: w.whole("number"), Robot: board.RobotID(d.robots.id(w, "robot", w.text("robot"))),
			Opponent: w.text("opponent"), OpponentKind: w.text("opponent_kind"), NotBefore: w.clock("not_before", d.offsetMin), If: word(w, "only_if", branches),
		}
		here := placeOf(f)
		if first := at[here]; first != nil && f.Robot != "" {
			w.wrong("number", "a place of its own; line "+strconv.Itoa(first.line)+" has this robot there already")
			continue
		}
		at[here] = w
		fights = append(fights, fightRow{board.Fight{ID: d.fightID(here), FightFields: f}, w})
	}
	for i := range fights {
		d.depend(&fights[i], fights)
	}
	d.addInTurn(fights)
}

func placeOf(f board.FightFields) fightPlace { return fightPlace{f.Arena, f.Number, f.Robot, f.If} }

func (d *reading) fightID(at fightPlace) board.FightID {
	return board.FightID(d.id(board.KindFight, at.arena+" "+strconv.Itoa(at.number)+" "+string(at.robot)+" "+string(at.branch)))
}

// depend finds the fight that f hangs on.
func (d *reading) depend(f *fightRow, fights []fightRow) {
	w := f.row
	arena, robot, branch := w.text("after_arena"), w.text("after_robot"), word(w, "after_branch", branches)
	number := w.whole("after_number")
	if number == 0 {
		if f.If != "" || arena != "" || robot != "" || branch != "" {
			w.wrong("after_number", "the number of the fight that this one hangs on")
		}
		return
	}
	if f.If == "" {
		w.wrong("only_if", "won or lost, as the row names a fight it hangs on")
		return
	}
	want := fightPlace{cmp.Or(arena, f.Arena), number, f.Robot, branch}
	if robot != "" {
		want.robot = board.RobotID(d.robots.id(w, "after_robot", robot))
	}
	var found []board.FightID
	for _, o := range fights {
		if o.Arena == want.arena && o.Number == number && o.Robot == want.robot && (branch == "" || o.If == branch) {
			found = append(found, o.ID)
		}
	}
	switch {
	case len(found) == 0:
		w.wrong("after_number", "a fight of that robot in this file, at "+want.arena+" "+strconv.Itoa(number))
	case len(found) > 1:
		w.wrong("after_branch", "won or lost: two branches stand at "+want.arena+" "+strconv.Itoa(number))
	default:
		f.After = found[0]
	}
}

// addInTurn adds the fights, each after the one it hangs on.
func (d *reading) addInTurn(fights []fightRow) {
	added := map[board.FightID]bool{"": true}
	for len(fights) > 0 {
		var rest []fightRow
		for _, f := range fights {
			if !added[f.After] {
				rest = append(rest, f)
				continue
			}
			added[f.ID] = true
			d.add(f.Fight, f.row)
		}
		if len(rest) == len(fights) {
			for _, f := range rest {
				f.row.wrong("after_number", "a fight that does not hang on this one in turn; these hang on each other in a ring")
			}
			return
		}
		fights = rest
	}
}

func (p *printing) order() [][]string {
	offset := p.state.Event().OffsetMin
	var rows [][]string
	for _, f := range p.fights() {
		after := p.state.Fights[f.After]
		if f.After == "" {
			after.Number = 0
		}
		rows = append(rows, []string{
			f.Arena, strconv.Itoa(f.Number), p.robot(f.Robot), f.Opponent, clockText(f.NotBefore, offset), string(f.If),
			after.Arena, blankZero(after.Number), p.robot(after.Robot), string(after.If), f.OpponentKind,
		})
	}
	return rows
}

func blankZero(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// fights lists the fights that stand, in the running order: not those that were
// dropped, whose robot is off the board, or that hang on such a one.
func (p *printing) fights() []board.Fight {
	var stands func(id board.FightID, depth int) bool
	stands = func(id board.FightID, depth int) bool {
		f, ok := p.state.Fights[id]
		if !ok || f.State == board.FightDropped || p.robot(f.Robot) == "" || depth > len(p.state.Fights) {
			return false
		}
		return f.After == "" || stands(f.After, depth+1)
	}
	var all []board.Fight
	for id, f := range p.state.Fights {
		if stands(id, 0) {
			all = append(all, f)
		}
	}
	slices.SortFunc(all, func(a, b board.Fight) int {
		return cmp.Or(cmp.Compare(a.Arena, b.Arena), cmp.Compare(a.Number, b.Number), cmp.Compare(p.robot(a.Robot), p.robot(b.Robot)),
			cmp.Compare(a.If, b.If), cmp.Compare(a.ID, b.ID))
	})
	return all
}
