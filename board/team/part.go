package team

import (
	"regexp"
	"strconv"
	"strings"

	"mendline/board"
)

// Parts and joints are named on their robot: two robots may each have a "rail,
// left". A cell that names parts names those of its row's robot.
var (
	partsFile = newTable("parts.csv",
		col("robot", asRobot, func(n *board.Part) *board.RobotID { return &n.Robot }).needed().
			says("the robot", "Nettlepip"),
		col("part", asText, func(n *board.Part) *string { return &n.Name }).needed().as("name").
			says("the part, by its name on this robot", "rail left"),
		col("assembly", asText, func(n *board.Part) *string { return &n.Assembly }).
			says("the group it belongs to", "frame"),
		col("material", asText, func(n *board.Part) *string { return &n.Material }).
			says("what it is made of", "tube 20 x 20"),
		col("mass_g", asNumber, func(n *board.Part) *float64 { return &n.MassGrams }).as("massGrams").
			says("mass in g", "88"),
		col("material_list", asMoney, func(n *board.Part) *int { return &n.MaterialListCents }).as("materialListCents").
			says("its material by the list, or its price where it is bought", "29.00"),
		col("material_paid", asMoney, func(n *board.Part) *int { return &n.MaterialPaidCents }).as("materialPaidCents").
			says("what was paid for that", "25.00"),
		col("machining_list", asMoney, func(n *board.Part) *int { return &n.MachiningListCents }).as("machiningListCents").
			says("machining by others, by the list", "42.00"),
		col("machining_paid", asMoney, func(n *board.Part) *int { return &n.MachiningPaidCents }).as("machiningPaidCents").
			says("what was paid for that", "40.00"),
		col("own_min", asMinutes, func(n *board.Part) *int { return &n.OwnSec }).as("ownSec").
			says("the team's own work on one", "30"),
		col("lead_days", asWhole, func(n *board.Part) *int { return &n.LeadDays }).as("leadDays").
			says("days until another is there", "14"),
		col("spare", asSpare, func(n *board.Part) *board.StockID { return &n.Stock }).as("stock").
			says("the spare that goes in its place", "belt B2"),
		col("off_min", asMinutes, func(n *board.Part) *int { return &n.OffSec }).as("offSec").
			says("to take it off and put it back, likely, its fastenings not counted", "5"),
		col("off_bad_min", asMinutes, func(n *board.Part) *int { return &n.OffBadSec }).as("offBadSec").
			says("the same in the bad case", "15"),
		offFirst().
			says("what comes off before it", "cover"),
		partsOn("hits_next", func(n *board.Part) (board.RobotID, *[]board.PartID) { return n.Robot, &n.Next }).as("next").
			says("parts that a hit on this one runs into", "cover"),
		col("serves", asServes, func(n *board.Part) *[]board.Serve { return &n.Serves }).
			says("what the robot does by it, and how many % of that are lost with it", "drive left 40"),
		col("bend_mm_per_100", asNumber, func(n *board.Part) *float64 { return &n.BendMmPer100 }).as("bendMmPer100").
			says("how far from straight it may be, mm of gap for 100 mm of length", "0.8"),
	)
	jointsFile = newTable("joints.csv",
		col("robot", asRobot, func(n *board.Joint) *board.RobotID { return &n.Robot }).needed().
			says("the robot", "Nettlepip"),
		col("joint", asText, func(n *board.Joint) *string { return &n.Name }).needed().as("name").
			says("the joint, by its name on this robot", "cover bolts"),
		partsOn("parts", func(n *board.Joint) (board.RobotID, *[]board.PartID) { return n.Robot, &n.Parts }).needed().
			says("the parts it joins, two or more", "cover; rail left"),
		col("fastening", asText, func(n *board.Joint) *string { return &n.Fastening }).needed().
			says("how", "M3 button head"),
		col("count", asWhole, func(n *board.Joint) *int { return &n.Count }).
			says("how many of them; blank for a weld", "8"),
		col("tool", asText, func(n *board.Joint) *string { return &n.Tool }).
			says("what undoes it", "hex key 2"),
		col("off_min", asMinutes, func(n *board.Joint) *int { return &n.OffSec }).as("offSec").
			says("to undo all and fasten it again, likely", "1"),
		col("off_bad_min", asMinutes, func(n *board.Joint) *int { return &n.OffBadSec }).as("offBadSec").
			says("the same in the bad case", "3"),
	)
)

// partsOn names parts of the row's robot.
func partsOn[N any](name string, at func(*N) (board.RobotID, *[]board.PartID)) column[N] {
	return column[N]{head{name: name, kind: "names in parts.csv of this robot, a semicolon between them"},
		func(w *row, n *N) {
			robot, parts := at(n)
			*parts = w.partsOn(robot, name, w.list(name))
		},
		func(p *printing, n *N) string {
			_, parts := at(n)
			return namesText(*parts, p.part)
		},
	}
}

// offFirst is the sets of parts of which one comes off first.
func offFirst() column[board.Part] {
	const name = "off_first"
	return column[board.Part]{head{name: name, field: "first", kind: "names in parts.csv of this robot; a bar | between two ways in"},
		func(w *row, n *board.Part) {
			for _, set := range alternatives(w.text(name)) {
				n.First = append(n.First, board.Access{Parts: w.partsOn(n.Robot, name, listOf(set))})
			}
		},
		func(p *printing, n *board.Part) string {
			var sets []string
			for _, set := range n.First {
				sets = append(sets, strings.ReplaceAll(namesText(set.Parts, p.part), "|", `\|`))
			}
			return strings.Join(sets, " | ")
		},
	}
}

// partsOn finds parts by their names on a robot, if that is known.
func (w *row) partsOn(robot board.RobotID, column string, names []string) []board.PartID {
	if robot == "" {
		return nil
	}
	return idsOf[board.PartID](w, column, w.reading.parts.on(robot), names)
}

// robotNames finds the ids of what is named on a robot.
type robotNames struct {
	reading *reading
	what    string
	layout  *layout
	of      map[board.RobotID]*index
}

func (d *reading) namesOn(what string, l *layout) robotNames {
	return robotNames{d, what, l, map[board.RobotID]*index{}}
}

func (x robotNames) on(robot board.RobotID) *index {
	if x.of[robot] == nil {
		x.of[robot] = newIndex(x.what+" of this robot", x.layout)
	}
	return x.of[robot]
}

// enter takes what a row names on a robot, and gives its id; false where there is
// none, or the name is taken.
func (x robotNames) enter(w *row, kind board.Kind, robot board.RobotID, name string) (string, bool) {
	if robot == "" || name == "" {
		return "", false
	}
	id := x.reading.id(kind, string(robot)+" "+name)
	return id, x.on(robot).enter(w, x.what, name, id)
}

// readParts enters all names first: a part may name one of a later row.
func (d *reading) readParts() {
	d.parts = d.namesOn("part", partsFile.layout)
	rows := d.rows(partsFile.layout)
	ids := map[*row]string{}
	for _, w := range rows {
		robot := board.RobotID(d.robots.ids[board.Folded(w.said("robot"))])
		if id, ok := d.parts.enter(w, board.KindPart, robot, w.said("part")); ok {
			ids[w] = id
		}
	}
	for _, w := range rows {
		n := partsFile.read(w)
		if n.ID = board.PartID(ids[w]); n.ID != "" {
			d.add(n, w)
		}
	}
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

var asServes = plain("functions with % of each, a semicolon between them", serves, servesText)

var serveText = regexp.MustCompile(`^(.+?)\s+(\d{1,3})\s?%?$`)

// serves reads functions with the share of the part in each: "drive left 50;
// weapon 100".
func serves(w *row, column string) []board.Serve {
	var all []board.Serve
	for _, text := range w.list(column) {
		m := serveText.FindStringSubmatch(text)
		if m == nil {
			w.wrong(column, "functions, each with how many % of it go with the part, such as drive left 50; weapon 100")
			continue
		}
		all = append(all, board.Serve{Function: m[1], Share: atoi(m[2])})
	}
	return all
}

func servesText(all []board.Serve) string {
	var parts []string
	for _, one := range all {
		parts = append(parts, one.Function+" "+strconv.Itoa(one.Share))
	}
	return listText(parts)
}

func (d *reading) readJoints() {
	readOnRobots(d, "joint", jointsFile, func(n *board.Joint) (*board.JointID, board.RobotID, string) { return &n.ID, n.Robot, n.Name })
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
	return partsFile.rows(p, ofRobots(p, p.state.Parts, func(n board.Part) (board.RobotID, string, bool) { return n.Robot, n.Name, n.Retired }))
}

func (p *printing) joints() [][]string {
	return jointsFile.rows(p, ofRobots(p, p.state.Joints, func(n board.Joint) (board.RobotID, string, bool) { return n.Robot, n.Name, n.Retired }))
}

// part names a part that is on the map.
func (p *printing) part(id board.PartID) string {
	if n := p.state.Parts[id]; !n.Retired {
		return n.Name
	}
	return ""
}

// spare names a spare that is written; "" for one that is not.
func (p *printing) spare(id board.StockID) string {
	if n := p.state.Stocks[id]; !n.Retired || p.wanted[id] {
		return n.Name
	}
	return ""
}
