package team

import (
	"strconv"

	"mendline/board"
)

var (
	modulesFile = &layout{"modules.csv", []column{
		{name: "robot", need: true}, {name: "slot", need: true}, {name: "module", need: true, field: "name"}, {name: "mass_g", need: true, field: "massGrams"},
		{name: "swap_min", field: "swapSec"}, {name: "swap_bad_min", field: "swapBadSec"}, {name: "lasts_fights", field: "lasts"}, {name: "spare", field: "stock"},
	}}
	setupsFile = &layout{"setups.csv", []column{
		{name: "robot", need: true}, {name: "setup", need: true, field: "name"}, {name: "modules"}, {name: "declared"},
		{name: "against"}, {name: "not_needed", field: "notNeeded"}, {name: "notes"},
	}}
)

func (d *reading) readSetups() {
	modules := d.namesOn("module", modulesFile)
	for _, w := range d.rows(modulesFile) {
		robot, id, ok := modules.named(w, "module", board.KindModule)
		f := board.ModuleFields{
			Robot: robot, Slot: w.text("slot"), Name: w.text("module"), MassGrams: w.number("mass_g"),
			SwapSec: w.minutes("swap_min"), SwapBadSec: w.minutes("swap_bad_min"), Lasts: w.whole("lasts_fights"),
			Stock: board.StockID(d.stocks.id(w, "spare", w.text("spare"))),
		}
		if ok {
			d.add(board.Module{ID: board.ModuleID(id), ModuleFields: f}, w)
		}
	}
	setups := d.namesOn("setup", setupsFile)
	for _, w := range d.rows(setupsFile) {
		robot, id, ok := setups.named(w, "setup", board.KindSetup)
		f := board.SetupFields{
			Robot: robot, Name: w.text("setup"), Declared: w.yes("declared"), Against: w.list("against"), NotNeeded: w.list("not_needed"), Notes: w.raw("notes"),
		}
		if !ok {
			continue
		}
		for _, name := range w.list("modules") {
			f.Modules = append(f.Modules, board.ModuleID(modules.on(string(robot)).id(w, "modules", name)))
		}
		d.add(board.Setup{ID: board.SetupID(id), SetupFields: f}, w)
	}
}

func (p *printing) modules() [][]string {
	var rows [][]string
	for _, n := range ofRobots(p, p.state.Modules, func(n board.Module) (board.RobotID, string, bool) { return n.Robot, n.Name, n.Retired }) {
		rows = append(rows, []string{
			p.robot(n.Robot), n.Slot, n.Name, numberText(n.MassGrams), minutesText(n.SwapSec), minutesText(n.SwapBadSec), strconv.Itoa(n.Lasts), p.spare(n.Stock),
		})
	}
	return rows
}

func (p *printing) setups() [][]string {
	var rows [][]string
	for _, n := range ofRobots(p, p.state.Setups, func(n board.Setup) (board.RobotID, string, bool) { return n.Robot, n.Name, n.Retired }) {
		var modules []string
		for _, id := range n.Modules {
			if module := p.state.Modules[id]; !module.Retired {
				modules = append(modules, module.Name)
			}
		}
		rows = append(rows, []string{p.robot(n.Robot), n.Name, listText(modules), yesText(n.Declared), listText(n.Against), listText(n.NotNeeded), n.Notes})
	}
	return rows
}
