package team

import "mendline/board"

var (
	modulesFile = newTable("modules.csv",
		col("robot", asRobot, func(n *board.Module) *board.RobotID { return &n.Robot }).needed(),
		col("slot", asText, func(n *board.Module) *string { return &n.Slot }).needed(),
		col("module", asText, func(n *board.Module) *string { return &n.Name }).needed().as("name"),
		col("mass_g", asNumber, func(n *board.Module) *float64 { return &n.MassGrams }).needed().as("massGrams"),
		col("swap_min", asMinutes, func(n *board.Module) *int { return &n.SwapSec }).as("swapSec"),
		col("swap_bad_min", asMinutes, func(n *board.Module) *int { return &n.SwapBadSec }).as("swapBadSec"),
		col("lasts_fights", asWhole, func(n *board.Module) *int { return &n.Lasts }).as("lasts"),
		col("spare", asSpare, func(n *board.Module) *board.StockID { return &n.Stock }).as("stock"),
	)
	setupsFile = newTable("setups.csv",
		col("robot", asRobot, func(n *board.Setup) *board.RobotID { return &n.Robot }).needed(),
		col("setup", asText, func(n *board.Setup) *string { return &n.Name }).needed().as("name"),
		setupModules(),
		col("declared", asYes, func(n *board.Setup) *bool { return &n.Declared }),
		col("against", asList, func(n *board.Setup) *[]string { return &n.Against }),
		col("not_needed", asList, func(n *board.Setup) *[]string { return &n.NotNeeded }).as("notNeeded"),
		col("notes", asRaw, func(n *board.Setup) *string { return &n.Notes }),
	)
)

// setupModules names modules of the setup's robot.
func setupModules() column[board.Setup] {
	return column[board.Setup]{head{name: "modules", kind: "names in modules.csv of this robot, a semicolon between them"},
		func(w *row, n *board.Setup) {
			if n.Robot != "" {
				n.Modules = idsOf[board.ModuleID](w, "modules", w.reading.modules.on(n.Robot), w.list("modules"))
			}
		},
		func(p *printing, n *board.Setup) string { return namesText(n.Modules, p.module) },
	}
}

func (d *reading) readSetups() {
	d.modules = readOnRobots(d, "module", modulesFile, func(n *board.Module) (*board.ModuleID, board.RobotID, string) { return &n.ID, n.Robot, n.Name })
	readOnRobots(d, "setup", setupsFile, func(n *board.Setup) (*board.SetupID, board.RobotID, string) { return &n.ID, n.Robot, n.Name })
}

func (p *printing) modules() [][]string {
	return modulesFile.rows(p, ofRobots(p, p.state.Modules, func(n board.Module) (board.RobotID, string, bool) { return n.Robot, n.Name, n.Retired }))
}

func (p *printing) setups() [][]string {
	return setupsFile.rows(p, ofRobots(p, p.state.Setups, func(n board.Setup) (board.RobotID, string, bool) { return n.Robot, n.Name, n.Retired }))
}

func (p *printing) module(id board.ModuleID) string {
	if n := p.state.Modules[id]; !n.Retired {
		return n.Name
	}
	return ""
}
