package team

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"mendline/board"
)

// Parts and joints are named on their robot: two robots may each have a "rail,
// left". A cell that names parts names those of its row's robot.
var (
	partsFile = &layout{"parts.csv", []column{
		{name: "robot", need: true}, {name: "part", need: true, field: "name"}, {name: "assembly"}, {name: "material"}, {name: "mass_g", field: "massGrams"},
		{name: "material_list", field: "materialListCents"}, {name: "material_paid", field: "materialPaidCents"},
		{name: "machining_list", field: "machiningListCents"}, {name: "machining_paid", field: "machiningPaidCents"},
		{name: "own_min", field: "ownSec"}, {name: "lead_days", field: "leadDays"}, {name: "spare", field: "stock"},
		{name: "off_min", field: "offSec"}, {name: "off_bad_min", field: "offBadSec"},
		{name: "off_first", field: "first"}, {name: "hits_next", field: "next"}, {name: "serves"},
	}}
	jointsFile = &layout{"joints.csv", []column{
		{name: "robot", need: true}, {name: "joint", need: true, field: "name"}, {name: "parts", need: true}, {name: "fastening", need: true},
		{name: "count"}, {name: "tool"}, {name: "off_min", field: "offSec"}, {name: "off_bad_min", field: "offBadSec"},
	}}
)

// robotNames finds the ids of what is named on a robot.
type robotNames struct {
	reading *reading
	what    string
	layout  *layout
	of      map[string]*index
}

func (d *reading) namesOn(what string, l *layout) robotNames {
	return robotNames{d, what, l, map[string]*index{}}
}

func (x robotNames) on(robot string) *index {
	if x.of[robot] == nil {
		x.of[robot] = newIndex(x.what+" of this robot", x.layout)
	}
	return x.of[robot]
}

// named is the id of the row's robot and of what the row names on it; false where
// either cannot be.
func (x robotNames) named(w *row, column string, kind board.Kind) (board.RobotID, string, bool) {
	robot, name := x.reading.robots.id(w, "robot", w.text("robot")), w.text(column)
	if robot == "" || name == "" {
		return "", "", false
	}
	id := x.reading.id(kind, robot+" "+name)
	return board.RobotID(robot), id, x.on(robot).enter(w, column, name, id)
}

func (d *reading) readParts() {
	d.parts = d.namesOn("part", partsFile)
	rows := d.rows(partsFile)
	parts := make([]board.Part, len(rows))
	for i, w := range rows {
		if robot, id, ok := d.parts.named(w, "part", board.KindPart); ok {
			parts[i] = board.Part{ID: board.PartID(id), PartFields: board.PartFields{Robot: robot}}
		}
	}
	for i, w := range rows {
		f := d.part(w, parts[i].Robot)
		if parts[i].ID != "" {
			parts[i].PartFields = f
			d.add(parts[i], w)
		}
	}
}

func (d *reading) part(w *row, robot board.RobotID) board.PartFields {
	f := board.PartFields{
		Robot: robot, Name: w.text("part"), Assembly: w.text("assembly"), Material: w.text("material"), MassGrams: w.number("mass_g"),
		MaterialListCents: w.money("material_list"), MaterialPaidCents: w.money("material_paid"),
		MachiningListCents: w.money("machining_list"), MachiningPaidCents: w.money("machining_paid"),
		OwnSec: w.minutes("own_min"), LeadDays: w.whole("lead_days"), Stock: board.StockID(d.stocks.id(w, "spare", w.text("spare"))),
		OffSec: w.minutes("off_min"), OffBadSec: w.minutes("off_bad_min"), Serves: d.serves(w),
	}
	if robot == "" {
		return f
	}
	for _, set := range alternatives(w.text("off_first")) {
		f.First = append(f.First, board.Access{Parts: d.partsIn(w, "off_first", robot, listOf(set))})
	}
	f.Next = d.partsIn(w, "hits_next", robot, w.list("hits_next"))
	return f
}

func (d *reading) partsIn(w *row, column string, robot board.RobotID, names []string) []board.PartID {
	var ids []board.PartID
	for _, name := range names {
		ids = append(ids, board.PartID(d.parts.on(string(robot)).id(w, column, name)))
	}
	return ids
}

// alternatives splits a cell at its bars; a bar inside a name has a backslash
// before it, which stays for listOf.
func alternatives(text string) []string {
	if text == "" {
		return nil
	}
	var all []string
	from, escaped := 0, false
	for i, r := range text {
		if r == '|' && !escaped {
			all = append(all, text[from:i])
			from = i + 1
		}
		escaped = r == '\\' && !escaped
	}
	return append(all, text[from:])
}

var serveText = regexp.MustCompile(`^(.+?)\s+(\d{1,3})\s?%?$`)

// serves reads functions with the share of the part in each: "drive left 50;
// weapon 100".
func (d *reading) serves(w *row) []board.Serve {
	var all []board.Serve
	for _, text := range w.list("serves") {
		m := serveText.FindStringSubmatch(text)
		if m == nil {
			w.wrong("serves", "functions, each with how many % of it go with the part, such as drive left 50; weapon 100")
			continue
		}
		all = append(all, board.Serve{Function: m[1], Share: atoi(m[2])})
	}
	return all
}

func (d *reading) readJoints() {
	joints := d.namesOn("joint", jointsFile)
	for _, w := range d.rows(jointsFile) {
		robot, id, ok := joints.named(w, "joint", board.KindJoint)
		f := board.JointFields{
			Robot: robot, Name: w.text("joint"), Fastening: w.text("fastening"), Count: w.whole("count"), Tool: w.text("tool"),
			OffSec: w.minutes("off_min"), OffBadSec: w.minutes("off_bad_min"),
		}
		if ok {
			f.Parts = d.partsIn(w, "parts", robot, w.list("parts"))
			d.add(board.Joint{ID: board.JointID(id), JointFields: f}, w)
		}
	}
}

// ofRobots lists a table's nouns that are on the board and whose robot is, by
// robot and name.
func ofRobots[ID ~string, N any](p *printing, table map[ID]N, of func(N) (board.RobotID, string, bool)) []N {
	return live(table, func(n N) (string, bool) {
		robot, name, off := of(n)
		return p.robot(robot) + " " + name, off || p.robot(robot) == ""
	})
}

func (p *printing) parts() [][]string {
	var rows [][]string
	for _, n := range ofRobots(p, p.state.Parts, func(n board.Part) (board.RobotID, string, bool) { return n.Robot, n.Name, n.Retired }) {
		var first, serves []string
		for _, set := range n.First {
			first = append(first, strings.ReplaceAll(listText(p.partNames(set.Parts)), "|", `\|`))
		}
		for _, v := range n.Serves {
			serves = append(serves, v.Function+" "+strconv.Itoa(v.Share))
		}
		rows = append(rows, []string{
			p.robot(n.Robot), n.Name, n.Assembly, n.Material, numberText(n.MassGrams),
			moneyTextOf(n.MaterialListCents), moneyTextOf(n.MaterialPaidCents), moneyTextOf(n.MachiningListCents), moneyTextOf(n.MachiningPaidCents),
			minutesText(n.OwnSec), strconv.Itoa(n.LeadDays), p.spare(n.Stock), minutesText(n.OffSec), minutesText(n.OffBadSec),
			strings.Join(first, " | "), listText(p.partNames(n.Next)), listText(serves),
		})
	}
	return rows
}

func (p *printing) joints() [][]string {
	var rows [][]string
	for _, n := range ofRobots(p, p.state.Joints, func(n board.Joint) (board.RobotID, string, bool) { return n.Robot, n.Name, n.Retired }) {
		rows = append(rows, []string{
			p.robot(n.Robot), n.Name, listText(p.partNames(n.Parts)), n.Fastening, strconv.Itoa(n.Count), n.Tool, minutesText(n.OffSec), minutesText(n.OffBadSec),
		})
	}
	return rows
}

// partNames names parts that are on the map; those taken off it are left out.
func (p *printing) partNames(ids []board.PartID) []string {
	var names []string
	for _, id := range ids {
		if n := p.state.Parts[id]; !n.Retired && !slices.Contains(names, n.Name) {
			names = append(names, n.Name)
		}
	}
	return names
}

// spare names a spare that is written; "" for one that is not.
func (p *printing) spare(id board.StockID) string {
	if n := p.state.Stocks[id]; !n.Retired || p.wanted[id] {
		return n.Name
	}
	return ""
}
