package team

import (
	"slices"

	"mendline/board"
)

var (
	robotsFile = newTable("robots.csv",
		col("name", asText, func(n *board.Robot) *string { return &n.Name }).needed().
			says("its name", "Nettlepip"),
		col("number", asWhole, func(n *board.Robot) *int { return &n.Number }).
			says("the short number people shout, 1 to 99; blank is the lowest that is free", "7"),
		col("class", asText, func(n *board.Robot) *string { return &n.Class.Name }).
			says("its weight class; class, limit and unit go together, or are all blank and said before it is weighed", "Beetleweight"),
		col("limit", asLimit, func(n *board.Robot) *float64 { return &n.Class.Limit }).
			says("what the class may weigh, in the unit beside it", "3"),
		col("unit", asWord(massUnits), func(n *board.Robot) *board.MassUnit { return &n.Class.Unit }).
			says("unit of the limit", "lb"),
		col("rule_set", asText, func(n *board.Robot) *string { return &n.Class.RuleSet }).
			says("whose rules these are, and which revision", "Hall rules 2"),
		col("size", asWord(sizes), func(n *board.Robot) *board.Size { return &n.Size }).
			says("which kinds of job are offered and how long they take; blank is light", "light"),
		col("lead", asPerson, func(n *board.Robot) *board.PersonID { return &n.Lead }).
			says("who answers for it", "Ottoline"),
		col("driver", asPerson, func(n *board.Robot) *board.PersonID { return &n.Driver }).
			says("who drives it", "Ottoline"),
		col("hands", asWhole, func(n *board.Robot) *int { return &n.Hands }).
			says("how many people fit at it, 1 to 8; blank is 2", "2"),
		col("before_min", asMinutes, func(n *board.Robot) *int { return &n.BeforeSec }).as("beforeSec").
			says("from the end of a fight to the first job", "9"),
		col("after_min", asMinutes, func(n *board.Robot) *int { return &n.AfterSec }).as("afterSec").
			says("from the last job to the call", "5"),
		col("second_verifier", asYes, func(n *board.Robot) *bool { return &n.SecondVerifier }).
			says("whoever isolated it does not verify it: a second person does; blank is no", "no"),
		col("importance", asWhole, func(n *board.Robot) *int { return &n.Weight }).as("weight").once("weight").because("how much its calls matter, 1 to 9, and not what it weighs").
			says("how much its calls matter beside the others', 1 to 9; blank is 5. It is not what it weighs", "5"),
		col("withdrawn", asYes, func(n *board.Robot) *bool { return &n.Withdrawn }).
			says("has no more fights; blank is no", "no"),
		col("bonus_pct", asNumber, func(n *board.Robot) *float64 { return &n.Class.BonusPct }).
			says("% that the rules allow on top of the limit, as for legs", "50"),
		col("bonus", asText, func(n *board.Robot) *string { return &n.Class.Bonus }).
			says("what that is for", "legs"),
		col("walking_g", asNumber, func(n *board.Robot) *float64 { return &n.Class.WalkingGrams }).
			says("mass in g of what carries it, where that is not the whole robot", "400"),
		col("main_packs", asWhole, func(n *board.Robot) *int { return &n.MainPacks }).
			says("packs that drive it at once; blank is 1", "1"),
		col("weapon_packs", asWhole, func(n *board.Robot) *int { return &n.WeaponPacks }).
			says("packs for its weapon alone; blank is 1, if it has such packs", "1"),
		col("locks", asWords(locks), func(n *board.Robot) *[]board.Lock { return &n.Locks }).
			says("what holds its weapon still; blank is a lock", "pin"),
	).without("pack_in_outside")
	energiesFile = newTable("energies.csv",
		col("robot", asRobot, func(n *energyRow) *board.RobotID { return &n.robot }).needed().
			says("the robot; one row for each way in which it can hurt", "Nettlepip"),
		col("energy", asWord(energyKinds), func(n *energyRow) *board.EnergyKind { return &n.Kind }).needed().as("energies").
			says("the kind of energy", "capacitor"),
		col("isolator", asText, func(n *energyRow) *string { return &n.Isolator }).needed().
			says("what takes it away", "removable link, rear"),
		col("reach", asWord(reaches), func(n *energyRow) *board.Reach { return &n.Reach }).needed().
			says("whether that is reached with the covers on (outside) or off (inside)", "outside"),
		col("moves", asText, func(n *energyRow) *string { return &n.Moves }).
			says("what moves when it goes", "the coil kicks"),
		col("rest_s", asSome, func(n *energyRow) *int { return &n.RestSec }).
			says("seconds until it is gone by itself with the power off, for capacitors and what spins", "90"),
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

// blankNone writes nothing for a limit that nobody has said.
func blankNone(limit float64) string {
	if limit == 0 {
		return ""
	}
	return numberText(limit)
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
		{"unit", "the limit's unit, one of " + wordsOf(massUnits), c.Unit != ""},
	} {
		if !need.there {
			w.wrong(need.column, need.want+"; leave class, limit, unit and all else of it blank to say them later")
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
