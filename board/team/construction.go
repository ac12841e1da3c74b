package team

import (
	"strconv"

	"mendline/board"
)

// A construction has a row for each way to mend a group of its parts; what is said
// of the whole stands in its first row, and of a group in the group's first.
var constructionsFile = &layout{"constructions.csv", []column{
	{name: "robot", need: true}, {name: "construction", need: true, field: "name"}, {name: "built"}, {name: "guessed"},
	{name: "mass_g", field: "massGrams"}, {name: "list_price", field: "listCents"}, {name: "notes"},
	{name: "group", need: true, field: "mends"}, {name: "parts"}, {name: "access_min"}, {name: "access_bad_min"}, {name: "fasteners"},
	{name: "step", need: true}, {name: "from", need: true}, {name: "each"}, {name: "likely_min", need: true}, {name: "bad_min", need: true}, {name: "price"},
}}

func (d *reading) readConstructions() {
	names := d.namesOn("construction", constructionsFile)
	var found []board.Construction
	rows := map[string][]*row{}
	for _, w := range d.rows(constructionsFile) {
		mend := board.PartMend{
			Group: w.text("group"), Parts: w.list("parts"), AccessSec: w.minutes("access_min"), AccessBadSec: w.minutes("access_bad_min"), Joints: w.whole("fasteners"),
			Name: w.text("step"), From: w.whole("from"), Each: w.yes("each"), LikelySec: w.minutes("likely_min"), BadSec: w.minutes("bad_min"), CostCents: w.money("price"),
		}
		f := board.ConstructionFields{
			Name: w.text("construction"), Built: w.yes("built"), Guessed: w.yes("guessed"), MassGrams: w.number("mass_g"), ListCents: w.money("list_price"), Notes: w.raw("notes"),
			Mends: []board.PartMend{mend},
		}
		if n := len(found); n > 0 && sameConstruction(found[n-1], d.robots, w) {
			last := &found[n-1]
			last.Mends = append(last.Mends, mend)
			rows[string(last.ID)] = append(rows[string(last.ID)], w)
			continue
		}
		robot, id, ok := names.named(w, "construction", board.KindConstruction)
		if !ok {
			continue
		}
		f.Robot = robot
		found = append(found, board.Construction{ID: board.ConstructionID(id), ConstructionFields: f})
		rows[id] = []*row{w}
	}
	for _, construction := range found {
		own := rows[string(construction.ID)]
		d.entries = append(d.entries, entry{noun: construction, row: own[0], field: "mends", parts: own, only: func(i int) board.Noun {
			upTo := construction // a row is judged by those before it
			upTo.Mends = construction.Mends[:i+1]
			return upTo
		}})
	}
}

// sameConstruction tells whether a row goes on with the construction of the row
// before it.
func sameConstruction(construction board.Construction, robots *index, w *row) bool {
	return construction.Name == w.text("construction") && string(construction.Robot) == robots.id(w, "robot", w.text("robot"))
}

func (p *printing) constructions() [][]string {
	var rows [][]string
	for _, construction := range ofRobots(p, p.state.Constructions, func(construction board.Construction) (board.RobotID, string, bool) {
		return construction.Robot, construction.Name, construction.Retired
	}) {
		whole := []string{yesText(construction.Built), yesText(construction.Guessed), numberText(construction.MassGrams), moneyTextOf(construction.ListCents), construction.Notes}
		for i, m := range construction.Mends {
			if i == 1 {
				whole = []string{"", "", "", "", ""}
			}
			row := append([]string{p.robot(construction.Robot), construction.Name}, whole...)
			rows = append(rows, append(row,
				m.Group, listText(m.Parts), minutesText(m.AccessSec), minutesText(m.AccessBadSec), strconv.Itoa(m.Joints),
				m.Name, strconv.Itoa(m.From), yesText(m.Each), minutesText(m.LikelySec), minutesText(m.BadSec), moneyTextOf(m.CostCents)))
		}
	}
	return rows
}
