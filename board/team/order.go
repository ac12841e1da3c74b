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
var orderFile = newTable("order.csv",
	col("arena", asText, func(n *fightRow) *string { return &n.Arena }).needed().
		says("the arena, as the event calls it", "Box"),
	col("number", asWhole, func(n *fightRow) *int { return &n.Number }).needed().
		says("the fight's place in the arena's running order", "9"),
	col("robot", asRobot, func(n *fightRow) *board.RobotID { return &n.Robot }).needed().
		says("which of ours fights", "Nettlepip"),
	col("opponent", asText, func(n *fightRow) *string { return &n.Opponent }).
		says("against whom", "Mopsy"),
	col("not_before", asClock, func(n *fightRow) *board.Moment { return &n.NotBefore }).as("notBefore").
		says("no earlier than this", "2026-05-09 10:15"),
	col("only_if", asWord(branches), func(n *fightRow) *board.Result { return &n.If }).as("if").
		says("it takes place only if we won or lost the fight before", "won"),
	col("after_arena", asText, func(n *fightRow) *string { return &n.after.arena }).
		says("arena of that fight; blank is this one's", "Box"),
	col("after_number", asSome, func(n *fightRow) *int { return &n.after.number }).as("after").
		says("number of that fight", "4"),
	col("after_robot", asRobot, func(n *fightRow) *board.RobotID { return &n.after.robot }).
		says("our robot in that fight; blank is this one's", "Nettlepip"),
	col("after_branch", asWord(branches), func(n *fightRow) *board.Result { return &n.after.branch }).
		says("for two fights of one number, which of them", "won"),
	col("opponent_kind", asText, func(n *fightRow) *string { return &n.OpponentKind }).as("opponentKind").
		says("what kind of robot that is, in your own words", "spinner"),
)

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
	after fightPlace
	row   *row
}

func (d *reading) readOrder() {
	var fights []fightRow
	at := map[fightPlace]*row{}
	for _, w := range d.rows(orderFile.layout) {
		f := orderFile.read(w)
		here := placeOf(f.FightFields)
		if first := at[here]; first != nil && f.Robot != "" {
			w.wrong("number", "a place of its own; line "+strconv.Itoa(first.line)+" has this robot there already")
			continue
		}
		at[here] = w
		f.ID, f.row = d.fightID(here), w
		fights = append(fights, f)
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

// depend finds the fight that decides whether f happens.
func (d *reading) depend(f *fightRow, fights []fightRow) {
	w := f.row
	want := f.after
	if want.number == 0 {
		if f.If != "" || want != (fightPlace{}) {
			w.wrong("after_number", "the number of the fight that this one hangs on")
		}
		return
	}
	if f.If == "" {
		w.wrong("only_if", "won or lost, as the row names a fight it hangs on")
		return
	}
	want.arena, want.robot = cmp.Or(want.arena, f.Arena), cmp.Or(want.robot, f.Robot)
	var found []board.FightID
	for _, o := range fights {
		if o.Arena == want.arena && o.Number == want.number && o.Robot == want.robot && (want.branch == "" || o.If == want.branch) {
			found = append(found, o.ID)
		}
	}
	switch {
	case len(found) == 0:
		w.wrong("after_number", "a fight of that robot in this file, at "+want.arena+" "+strconv.Itoa(want.number))
	case len(found) > 1:
		w.wrong("after_branch", "won or lost: two branches stand at "+want.arena+" "+strconv.Itoa(want.number))
	default:
		f.After = found[0]
	}
}

// addInTurn adds the fights, each after the one that decides whether it happens.
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
	var all []fightRow
	for _, f := range p.fights() {
		row := fightRow{Fight: f}
		if f.After != "" {
			row.after = placeOf(p.state.Fights[f.After].FightFields)
		}
		all = append(all, row)
	}
	return orderFile.rows(p, all)
}

func blankZero(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// fights lists the fights that stand, in the running order: not those that were
// dropped, whose robot is off the board, or that depend on one of those.
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
