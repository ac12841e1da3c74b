package team

import (
	"slices"

	"mendline/board"
	"mendline/board/charge"
)

var (
	circuitsFile = newTable("circuits.csv",
		col("name", asText, func(n *board.Circuit) *string { return &n.Name }).needed().
			says("what people call the circuit", "Wall left"),
		col("volts", asNumber, func(n *board.Circuit) *float64 { return &n.Volts }).needed().
			says("its voltage in V", "230"),
		col("rating_a", asNumber, func(n *board.Circuit) *float64 { return &n.RatingAmps }).needed().as("ratingAmps").
			says("what its breaker holds, in A", "16"),
		col("other_a", asNumber, func(n *board.Circuit) *float64 { return &n.OtherAmps }).as("otherAmps").
			says("what else runs on it, in A", "1.5"),
		col("said_by", asText, func(n *board.Circuit) *string { return &n.SaidBy }).needed().as("saidBy").
			says("who said so", "hall keeper"),
	)
	chargersFile = newTable("chargers.csv",
		col("channel", asText, func(n *board.Channel) *string { return &n.Name }).needed().as("name").
			says("one output of a charger; one row for each", "K1"),
		col("charger", asText, func(n *board.Channel) *string { return &n.Charger }).needed().
			says("the charger; channels with the same one share its power", "Kettle"),
		col("amps_most", asNumber, func(n *board.Channel) *float64 { return &n.AmpsMost }).needed().as("ampsMost").once("max_a").
			says("the most it gives, in A", "10"),
		col("watts_most", asNumber, func(n *board.Channel) *float64 { return &n.WattsMost }).needed().as("wattsMost").once("max_w").
			says("the most it gives, in W", "200"),
		col("charger_w", asNumber, func(n *board.Channel) *float64 { return &n.ChargerWatts }).needed().as("chargerWatts").
			says("the most all its channels give together, in W", "400"),
		col("cells_most", asWhole, func(n *board.Channel) *int { return &n.CellsMost }).needed().as("cellsMost").
			says("the most cells in series it charges", "6"),
		col("circuit", asCircuit, func(n *board.Channel) *board.CircuitID { return &n.Circuit }).
			says("what it is plugged into", "Wall left"),
		col("place", asPlace, func(n *board.Channel) *board.PlaceID { return &n.Place }).
			says("where it stands", "Charging table"),
		col("power_factor", asNumber, func(n *board.Channel) *float64 { return &n.PowerFactor }).as("powerFactor").
			says("0 to 1, from its label; blank where nobody knows", "0.95"),
	)
	packsFile = newTable("packs.csv",
		col("name", asText, func(n *board.Pack) *string { return &n.Name }).needed().
			says("what stands on the pack", "P1"),
		col("chemistry", asWord(charge.Chemistries()), func(n *board.Pack) *charge.Chemistry { return &n.Chemistry }).needed().
			says("the kind of cells", "lipo"),
		col("cells", asWhole, func(n *board.Pack) *int { return &n.Cells }).needed().
			says("cells in series", "4"),
		col("parallel", asWhole, func(n *board.Pack) *int { return &n.Parallel }).needed().
			says("cells side by side", "1"),
		col("capacity_ah", asNumber, func(n *board.Pack) *float64 { return &n.CapacityAh }).needed().as("capacityAh").
			says("capacity in Ah: 650 mAh is 0.65", "0.65"),
		col("charge_amps_most", asNumber, func(n *board.Pack) *float64 { return &n.ChargeAmpsMost }).needed().as("chargeAmpsMost").once("max_charge_a").
			says("the most it is charged with, in A, from its label", "1.3"),
		col("use", asWord(packUses), func(n *board.Pack) *board.PackUse { return &n.Use }).needed().
			says("what it drives", "main"),
		col("fits", asNames("robots.csv", func(d *reading) *index { return d.robots }, (*printing).robot), func(n *board.Pack) *[]board.RobotID { return &n.Fits }).
			says("the robots it is for", "Nettlepip"),
		col("place", asPlace, func(n *board.Pack) *board.PlaceID { return &n.Place }).
			says("where it lies", "Charging table"),
		col("mass_g", asNumber, func(n *board.Pack) *float64 { return &n.MassGrams }).as("massGrams").
			says("mass in g", "61.5"),
		col("faster_by", asText, func(n *board.Pack) *string { return &n.FasterBy }).as("fasterBy").
			says("who allowed more than 1C; blank is nobody", "Nia (label)"),
		col("in_robot", asRobot, func(n *board.Pack) *board.RobotID { return &n.Robot }).as("robot").
			says("the robot it is in; it comes in unread", "Nettlepip"),
		col("set_aside", asWord(setAside), func(n *board.Pack) *board.PackState { return &n.State }).as("state").
			says("why it is out of use for good; blank for the others, and none comes in charged", "suspect"),
	)
)

var (
	setAside = []board.PackState{board.PackSuspect, board.PackQuarantined, board.PackGone}
	packUses = []board.PackUse{board.UseMain, board.UseWeapon, board.UseTransmitter, board.UseTool}
)

func (d *reading) readCharging() {
	d.circuits = readNamed(d, "circuit", circuitsFile, func(n *board.Circuit) (*board.CircuitID, string) { return &n.ID, n.Name })
	readNamed(d, "channel", chargersFile, func(n *board.Channel) (*board.ChannelID, string) { return &n.ID, n.Name })
	readNamed(d, "pack", packsFile, func(n *board.Pack) (*board.PackID, string) { return &n.ID, n.Name })
}

func (p *printing) circuits() [][]string {
	return circuitsFile.rows(p, live(p.state.Circuits, func(n board.Circuit) (string, bool) { return n.Name, n.Retired }))
}

func (p *printing) chargers() [][]string {
	return chargersFile.rows(p, live(p.state.Channels, func(n board.Channel) (string, bool) { return n.Name, n.Retired }))
}

// packs says of those alone that were set aside what state they are in: they come in set
// aside, and any other unread (rule 13).
func (p *printing) packs() [][]string {
	list := live(p.state.Packs, func(n board.Pack) (string, bool) { return n.Name, n.Retired })
	for i, n := range list {
		if !slices.Contains(setAside, n.State) {
			list[i].State = ""
		}
		if p.state.Robots[n.Robot].Retired {
			list[i].Robot = ""
		}
	}
	return packsFile.rows(p, list)
}
