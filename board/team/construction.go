package team

import "mendline/board"

// A construction has a row for each way to mend a group of its parts; what is said
// of the whole stands in its first row, and of a group in the group's first.
var constructionsFile = newTable("constructions.csv",
	col("robot", asRobot, func(n *mendRow) *board.RobotID { return &n.Robot }).needed().
		says("the robot", "Nettlepip"),
	col("construction", asText, func(n *mendRow) *string { return &n.Name }).needed().as("name").
		says("a way to build a group of its parts; one row for each way to mend one", "bolted rails"),
	ofWhole(col("built", asYes, func(n *mendRow) *bool { return &n.Built })).
		says("it is built so; blank is no", "yes"),
	ofWhole(col("guessed", asYes, func(n *mendRow) *bool { return &n.Guessed })).
		says("nobody has mended one: the times are opinions; blank is no", "no"),
	ofWhole(col("mass_g", asNumber, func(n *mendRow) *float64 { return &n.MassGrams }).as("massGrams")).
		says("mass of the whole in g", "410.5"),
	ofWhole(col("list_price", asMoney, func(n *mendRow) *int { return &n.ListCents }).as("listCents")).
		says("price of the whole by the list", "71.00"),
	ofWhole(col("notes", asRaw, func(n *mendRow) *string { return &n.Notes })).
		says("anything to remember", "As it stands."),
	col("group", asText, func(n *mendRow) *string { return &n.mend.Group }).needed().as("mends").
		says("the group of parts that a row is about", "rails"),
	col("parts", asList, func(n *mendRow) *[]string { return &n.mend.Parts }).
		says("the parts of the group, as damage is filed on them", "rail left; cover"),
	col("access_min", asMinutes, func(n *mendRow) *int { return &n.mend.AccessSec }).
		says("to reach the group, likely, once a fight", "8"),
	col("access_bad_min", asMinutes, func(n *mendRow) *int { return &n.mend.AccessBadSec }).
		says("the same in the bad case", "16"),
	col("fasteners", asWhole, func(n *mendRow) *int { return &n.mend.Joints }).
		says("how many hold the group", "24"),
	col("step", asText, func(n *mendRow) *string { return &n.mend.Name }).needed().
		says("what is done", "swap"),
	col("from", asWhole, func(n *mendRow) *int { return &n.mend.From }).needed().
		says("how many of the group's parts are hit at least for this way, from 1 up", "1"),
	col("each", asYes, func(n *mendRow) *bool { return &n.mend.Each }).
		says("time and money count for each part hit; blank is once a fight", "yes"),
	col("likely_min", asMinutes, func(n *mendRow) *int { return &n.mend.LikelySec }).needed().
		says("how long that takes, likely", "12"),
	col("bad_min", asMinutes, func(n *mendRow) *int { return &n.mend.BadSec }).needed().
		says("the same in the bad case", "30"),
	col("price", asMoney, func(n *mendRow) *int { return &n.mend.CostCents }).
		says("what it uses up", "25.00"),
)

type mendRow struct {
	board.Construction
	mend  board.PartMend
	later bool
}

// ofWhole is written in the first row of a construction.
func ofWhole(c column[mendRow]) column[mendRow] {
	write := c.write
	c.write = func(p *printing, n *mendRow) string {
		if n.later {
			return ""
		}
		return write(p, n)
	}
	return c
}

func (d *reading) readConstructions() {
	names := d.namesOn("construction", constructionsFile.layout)
	var found []board.Construction
	rows := map[board.ConstructionID][]*row{}
	for _, w := range d.rows(constructionsFile.layout) {
		n := constructionsFile.read(w)
		if k := len(found); k > 0 && found[k-1].Name == n.Name && found[k-1].Robot == n.Robot {
			last := &found[k-1]
			last.Mends = append(last.Mends, n.mend)
			rows[last.ID] = append(rows[last.ID], w)
			continue
		}
		id, ok := names.enter(w, board.KindConstruction, n.Robot, n.Name)
		if !ok {
			continue
		}
		n.ID, n.Mends = board.ConstructionID(id), []board.PartMend{n.mend}
		found = append(found, n.Construction)
		rows[n.ID] = []*row{w}
	}
	for _, construction := range found {
		own := rows[construction.ID]
		d.entries = append(d.entries, entry{noun: construction, row: own[0], field: "mends", parts: own, only: func(i int) board.Noun {
			upTo := construction // a row is judged by those before it
			upTo.Mends = construction.Mends[:i+1]
			return upTo
		}})
	}
}

func (p *printing) constructions() [][]string {
	var all []mendRow
	for _, construction := range ofRobots(p, p.state.Constructions, func(construction board.Construction) (board.RobotID, string, bool) {
		return construction.Robot, construction.Name, construction.Retired
	}) {
		for i, mend := range construction.Mends {
			all = append(all, mendRow{construction, mend, i > 0})
		}
	}
	return constructionsFile.rows(p, all)
}
