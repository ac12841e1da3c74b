package team

import "mendline/board"

var (
	modulesFile = newTable("modules.csv",
		col("robot", asRobot, func(n *board.Module) *board.RobotID { return &n.Robot }).needed().
			says("the robot", "Nettlepip"),
		col("slot", asText, func(n *board.Module) *string { return &n.Slot }).needed().
			says("where it goes; a slot holds one", "front"),
		col("module", asText, func(n *board.Module) *string { return &n.Name }).needed().as("name").
			says("the module, by its name on this robot", "wide fork"),
		col("mass_g", asNumber, func(n *board.Module) *float64 { return &n.MassGrams }).needed().as("massGrams").
			says("mass in g", "90.5"),
		col("swap_min", asMinutes, func(n *board.Module) *int { return &n.SwapSec }).as("swapSec").
			says("to put it on in place of another, likely", "4"),
		col("swap_bad_min", asMinutes, func(n *board.Module) *int { return &n.SwapBadSec }).as("swapBadSec").
			says("the same in the bad case", "10"),
		col("lasts_fights", asWhole, func(n *board.Module) *int { return &n.Lasts }).as("lasts").
			says("how many fights one is good for; blank is not known", "3"),
		col("spare", asSpare, func(n *board.Module) *board.StockID { return &n.Stock }).as("stock").
			says("the spare it is", "belt B2"),
	)
	setupsFile = newTable("setups.csv",
		col("robot", asRobot, func(n *board.Setup) *board.RobotID { return &n.Robot }).needed().
			says("the robot", "Nettlepip"),
		col("setup", asText, func(n *board.Setup) *string { return &n.Name }).needed().as("name").
			says("the choice of modules, by its name on this robot", "against spinners"),
		setupModules().
			says("one for a slot at most", "wide fork"),
		col("declared", asYes, func(n *board.Setup) *bool { return &n.Declared }).
			says("named to the officials; blank is no", "yes"),
		col("against", asList, func(n *board.Setup) *[]string { return &n.Against }).
			says("kinds of opponent it is for, in your own words", "spinner; drum"),
		col("not_needed", asList, func(n *board.Setup) *[]string { return &n.NotNeeded }).as("notNeeded").
			says("what a fight in it does not ask for", "self-righting"),
		col("notes", asRaw, func(n *board.Setup) *string { return &n.Notes }).
			says("anything to remember", "Low, and slow."),
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
