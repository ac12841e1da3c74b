package team

import (
	"strconv"

	"mendline/board"
)

var (
	robotsFile = &layout{"robots.csv", []column{
		{name: "name", need: true}, {name: "number", need: true},
		{name: "class", need: true}, {name: "limit", need: true}, {name: "unit", need: true}, {name: "rule_set", need: true},
		{name: "size", need: true}, {name: "lead"}, {name: "driver"}, {name: "hands", need: true},
		{name: "before_min", field: "beforeSec"}, {name: "after_min", field: "afterSec"},
		{name: "second_verifier"}, {name: "pack_in_outside"}, {name: "weight", need: true}, {name: "withdrawn"},
		{name: "bonus_pct"}, {name: "bonus"}, {name: "walking_g"}, {name: "main_packs"}, {name: "weapon_packs"},
	}}
	energiesFile = &layout{"energies.csv", []column{
		{name: "robot", need: true}, {name: "energy", need: true, field: "energies"}, {name: "isolator", need: true},
		{name: "reach", need: true}, {name: "moves"},
	}}
)

var (
	massUnits = []board.MassUnit{board.Gram, board.Kilogram, board.Pound}
	sizes     = []board.Size{board.Heavy, board.Light}
	reaches   = []board.Reach{board.Outside, board.Inside}
)

func (d *reading) readRobots() {
	d.robots = newIndex("robot", robotsFile)
	robots := d.rows(robotsFile)
	ids := make([]string, len(robots))
	for i, w := range robots {
		name := w.text("name")
		id := d.id(board.KindRobot, name)
		if name != "" && d.robots.enter(w, "name", name, id) {
			ids[i] = id
		}
	}
	energies, rows := d.readEnergies()
	for i, w := range robots {
		f := d.robot(w)
		if ids[i] == "" {
			continue
		}
		id := board.RobotID(ids[i])
		f.Energies = energies[id]
		d.entries = append(d.entries, entry{
			noun: board.Robot{ID: id, RobotFields: f}, row: w, field: "energies", parts: rows[id],
			only: func(k int) board.Noun {
				one := f
				one.Energies = f.Energies[k : k+1]
				return board.Robot{ID: id, RobotFields: one}
			},
		})
	}
}

func (d *reading) robot(w *row) board.RobotFields {
	f := board.RobotFields{
		Name: w.text("name"), Number: w.whole("number"),
		Class: board.Class{Name: w.text("class"), Limit: w.number("limit"), Unit: word(w, "unit", massUnits), RuleSet: w.text("rule_set"), BonusPct: w.number("bonus_pct"), Bonus: w.text("bonus"), WalkingGrams: w.number("walking_g")},
		Size:  word(w, "size", sizes), Lead: d.person(w, "lead"), Driver: d.person(w, "driver"), Hands: w.whole("hands"),
		BeforeSec: w.minutes("before_min"), AfterSec: w.minutes("after_min"),
		SecondVerifier: w.yes("second_verifier"), PackInOutside: w.yes("pack_in_outside"),
		Weight: w.whole("weight"), Withdrawn: w.yes("withdrawn"),
		MainPacks: w.whole("main_packs"), WeaponPacks: w.whole("weapon_packs"),
	}
	if f.Class.Limit <= 0 && !w.bad {
		w.wrong("limit", "a mass of more than 0")
	}
	return f
}

func (d *reading) person(w *row, column string) board.PersonID {
	return board.PersonID(d.people.id(w, column, w.text(column)))
}

func (d *reading) readEnergies() (map[board.RobotID][]board.Energy, map[board.RobotID][]*row) {
	energies := map[board.RobotID][]board.Energy{}
	rows := map[board.RobotID][]*row{}
	for _, w := range d.rows(energiesFile) {
		id := board.RobotID(d.robots.id(w, "robot", w.text("robot")))
		energies[id] = append(energies[id], board.Energy{
			Kind: word(w, "energy", energyKinds), Isolator: w.text("isolator"), Reach: word(w, "reach", reaches), Moves: w.text("moves"),
		})
		rows[id] = append(rows[id], w)
	}
	return energies, rows
}

func (p *printing) robots() [][]string {
	var rows [][]string
	for _, n := range p.liveRobots() {
		rows = append(rows, []string{
			n.Name, strconv.Itoa(n.Number), n.Class.Name, numberText(n.Class.Limit), string(n.Class.Unit), n.Class.RuleSet,
			string(n.Size), p.person(n.Lead), p.person(n.Driver), strconv.Itoa(n.Hands),
			minutesText(n.BeforeSec), minutesText(n.AfterSec),
			yesText(n.SecondVerifier), yesText(n.PackInOutside), strconv.Itoa(n.Weight), yesText(n.Withdrawn),
			numberText(n.Class.BonusPct), n.Class.Bonus, numberText(n.Class.WalkingGrams), strconv.Itoa(n.MainPacks), strconv.Itoa(n.WeaponPacks),
		})
	}
	return rows
}

func (p *printing) energies() [][]string {
	var rows [][]string
	for _, n := range p.liveRobots() {
		for _, energy := range n.Energies {
			rows = append(rows, []string{n.Name, string(energy.Kind), energy.Isolator, string(energy.Reach), energy.Moves})
		}
	}
	return rows
}

func (p *printing) liveRobots() []board.Robot {
	return live(p.state.Robots, func(n board.Robot) (string, bool) { return n.Name, n.Retired })
}
