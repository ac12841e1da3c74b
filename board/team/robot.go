package team

import (
	"slices"

	"mendline/board"
)

var (
	robotsFile = newTable("robots.csv",
		col("name", asText, func(n *board.Robot) *string { return &n.Name }).needed(),
		col("number", asWhole, func(n *board.Robot) *int { return &n.Number }),
		col("class", asText, func(n *board.Robot) *string { return &n.Class.Name }),
		col("limit", asNumber, func(n *board.Robot) *float64 { return &n.Class.Limit }),
		col("unit", asWord(massUnits), func(n *board.Robot) *board.MassUnit { return &n.Class.Unit }),
		col("rule_set", asText, func(n *board.Robot) *string { return &n.Class.RuleSet }),
		col("size", asWord(sizes), func(n *board.Robot) *board.Size { return &n.Size }),
		col("lead", asPerson, func(n *board.Robot) *board.PersonID { return &n.Lead }),
		col("driver", asPerson, func(n *board.Robot) *board.PersonID { return &n.Driver }),
		col("hands", asWhole, func(n *board.Robot) *int { return &n.Hands }),
		col("before_min", asMinutes, func(n *board.Robot) *int { return &n.BeforeSec }).as("beforeSec"),
		col("after_min", asMinutes, func(n *board.Robot) *int { return &n.AfterSec }).as("afterSec"),
		col("second_verifier", asYes, func(n *board.Robot) *bool { return &n.SecondVerifier }),
		col("importance", asWhole, func(n *board.Robot) *int { return &n.Weight }).as("weight").once("weight").because("how much its calls matter, 1 to 9: no mass"),
		col("withdrawn", asYes, func(n *board.Robot) *bool { return &n.Withdrawn }),
		col("bonus_pct", asNumber, func(n *board.Robot) *float64 { return &n.Class.BonusPct }),
		col("bonus", asText, func(n *board.Robot) *string { return &n.Class.Bonus }),
		col("walking_g", asNumber, func(n *board.Robot) *float64 { return &n.Class.WalkingGrams }),
		col("main_packs", asWhole, func(n *board.Robot) *int { return &n.MainPacks }),
		col("weapon_packs", asWhole, func(n *board.Robot) *int { return &n.WeaponPacks }),
		col("locks", asWords(locks), func(n *board.Robot) *[]board.Lock { return &n.Locks }),
	).without("pack_in_outside")
	energiesFile = newTable("energies.csv",
		col("robot", asRobot, func(n *energyRow) *board.RobotID { return &n.robot }).needed(),
		col("energy", asWord(energyKinds), func(n *energyRow) *board.EnergyKind { return &n.Kind }).needed().as("energies"),
		col("isolator", asText, func(n *energyRow) *string { return &n.Isolator }).needed(),
		col("reach", asWord(reaches), func(n *energyRow) *board.Reach { return &n.Reach }).needed(),
		col("moves", asText, func(n *energyRow) *string { return &n.Moves }),
		col("rest_s", asSome, func(n *energyRow) *int { return &n.RestSec }),
	)
)

type energyRow struct {
	robot board.RobotID
	board.Energy
}

var (
	massUnits = []board.MassUnit{board.Gram, board.Kilogram, board.Pound}
	sizes     = []board.Size{board.Heavy, board.Light}
	locks     = []board.Lock{board.LockPlain, board.LockPin, board.LockProp, board.LockStrap, board.LockClamp, board.LockNone}
	reaches   = []board.Reach{board.Outside, board.Inside}
)

func (d *reading) readRobots() {
	d.robots = newIndex("robot", robotsFile.layout)
	rows := d.rows(robotsFile.layout)
	robots := make([]board.Robot, len(rows))
	for i, w := range rows {
		n := robotsFile.read(w)
		usual(w, &n)
		wholeClass(w, n.Class)
		if id := d.id(board.KindRobot, n.Name); n.Name != "" && d.robots.enter(w, "name", n.Name, id) {
			n.ID = board.RobotID(id)
		}
		robots[i] = n
	}
	numberRest(rows, robots)
	energies, parts := d.readEnergies()
	for i, n := range robots {
		if n.ID == "" {
			continue
		}
		n.Energies = energies[n.ID]
		d.entries = append(d.entries, entry{
			noun: n, row: rows[i], field: "energies", parts: parts[n.ID],
			only: func(k int) board.Noun {
				one := n
				one.Energies = n.Energies[k : k+1]
				return one
			},
		})
	}
}

// usual is what stands where a robot's row says nothing, as in a fresh form.
func usual(w *row, n *board.Robot) {
	if w.said("size") == "" {
		n.Size = board.Light
	}
	if w.said("hands") == "" {
		n.Hands = 2
	}
	if w.said("importance") == "" {
		n.Weight = 5
	}
}

// wholeClass refuses half a class: whoever names one says what it may weigh. A robot
// without one is asked for it when it is weighed.
func wholeClass(w *row, c board.Class) {
	if w.bad || c == (board.Class{}) && w.said("limit") == "" {
		return
	}
	for _, need := range []struct {
		column, want string
		there        bool
	}{
		{"class", "its name", c.Name != ""}, {"limit", "a mass of more than 0", c.Limit > 0},
		{"unit", "the limit's unit, one of " + wordsOf(massUnits), c.Unit != ""}, {"rule_set", "whose rules these are", c.RuleSet != ""},
	} {
		if !need.there {
			w.wrong(need.column, need.want+"; leave class, limit, unit and rule_set blank to say them later")
			return
		}
	}
}

// numberRest gives robots without a number the lowest that are free.
func numberRest(rows []*row, robots []board.Robot) {
	free := 1
	for i, w := range rows {
		if w.said("number") != "" {
			continue
		}
		for slices.ContainsFunc(robots, func(n board.Robot) bool { return n.Number == free }) {
			free++
		}
		robots[i].Number = free
	}
}

func (d *reading) readEnergies() (map[board.RobotID][]board.Energy, map[board.RobotID][]*row) {
	energies := map[board.RobotID][]board.Energy{}
	rows := map[board.RobotID][]*row{}
	for _, w := range d.rows(energiesFile.layout) {
		n := energiesFile.read(w)
		energies[n.robot] = append(energies[n.robot], n.Energy)
		rows[n.robot] = append(rows[n.robot], w)
	}
	return energies, rows
}

func (p *printing) robots() [][]string { return robotsFile.rows(p, p.liveRobots()) }

func (p *printing) energies() [][]string {
	var all []energyRow
	for _, n := range p.liveRobots() {
		for _, energy := range n.Energies {
			all = append(all, energyRow{n.ID, energy})
		}
	}
	return energiesFile.rows(p, all)
}

func (p *printing) liveRobots() []board.Robot {
	return live(p.state.Robots, func(n board.Robot) (string, bool) { return n.Name, n.Retired })
}
