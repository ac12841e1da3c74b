package team

import (
	"slices"

	"mendline/board"
	"mendline/board/charge"
)

var (
	circuitsFile = newTable("circuits.csv",
		col("name", asText, func(n *board.Circuit) *string { return &n.Name }).needed(),
		col("volts", asNumber, func(n *board.Circuit) *float64 { return &n.Volts }).needed(),
		col("rating_a", asNumber, func(n *board.Circuit) *float64 { return &n.RatingAmps }).needed().as("ratingAmps"),
		col("other_a", asNumber, func(n *board.Circuit) *float64 { return &n.OtherAmps }).as("otherAmps"),
		col("said_by", asText, func(n *board.Circuit) *string { return &n.SaidBy }).needed().as("saidBy"),
	)
	chargersFile = newTable("chargers.csv",
		col("channel", asText, func(n *board.Channel) *string { return &n.Name }).needed().as("name"),
		col("charger", asText, func(n *board.Channel) *string { return &n.Charger }).needed(),
		col("amps_most", asNumber, func(n *board.Channel) *float64 { return &n.AmpsMost }).needed().as("ampsMost").once("max_a"),
		col("watts_most", asNumber, func(n *board.Channel) *float64 { return &n.WattsMost }).needed().as("wattsMost").once("max_w"),
		col("charger_w", asNumber, func(n *board.Channel) *float64 { return &n.ChargerWatts }).needed().as("chargerWatts"),
		col("cells_most", asWhole, func(n *board.Channel) *int { return &n.CellsMost }).needed().as("cellsMost"),
		col("circuit", asCircuit, func(n *board.Channel) *board.CircuitID { return &n.Circuit }),
		col("place", asPlace, func(n *board.Channel) *board.PlaceID { return &n.Place }),
		col("power_factor", asNumber, func(n *board.Channel) *float64 { return &n.PowerFactor }).as("powerFactor"),
	)
	packsFile = newTable("packs.csv",
		col("name", asText, func(n *board.Pack) *string { return &n.Name }).needed(),
		col("chemistry", asWord(charge.Chemistries()), func(n *board.Pack) *charge.Chemistry { return &n.Chemistry }).needed(),
		col("cells", asWhole, func(n *board.Pack) *int { return &n.Cells }).needed(),
		col("parallel", asWhole, func(n *board.Pack) *int { return &n.Parallel }).needed(),
		col("capacity_ah", asNumber, func(n *board.Pack) *float64 { return &n.CapacityAh }).needed().as("capacityAh"),
		col("charge_amps_most", asNumber, func(n *board.Pack) *float64 { return &n.ChargeAmpsMost }).needed().as("chargeAmpsMost").once("max_charge_a"),
		col("use", asWord(packUses), func(n *board.Pack) *board.PackUse { return &n.Use }).needed(),
		col("fits", asNames("robots.csv", func(d *reading) *index { return d.robots }, (*printing).robot), func(n *board.Pack) *[]board.RobotID { return &n.Fits }),
		col("place", asPlace, func(n *board.Pack) *board.PlaceID { return &n.Place }),
		col("mass_g", asNumber, func(n *board.Pack) *float64 { return &n.MassGrams }).as("massGrams"),
		col("faster_by", asText, func(n *board.Pack) *string { return &n.FasterBy }).as("fasterBy"),
		col("in_robot", asRobot, func(n *board.Pack) *board.RobotID { return &n.Robot }).as("robot"),
		col("set_aside", asWord(setAside), func(n *board.Pack) *board.PackState { return &n.State }).as("state"),
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
