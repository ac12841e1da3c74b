package team

import (
	"strconv"

	"mendline/board"
)

var (
	stationsFile = &layout{"stations.csv", []column{
		{name: "name", need: true}, {name: "kind", need: true}, {name: "jobs_at_once", need: true, field: "count"},
		{name: "place"},
	}}
	sparesFile = &layout{"spares.csv", []column{
		{name: "name", need: true}, {name: "count", need: true}, {name: "where"}, {name: "mass_g", field: "massGrams"},
		{name: "list_price", field: "listCents"}, {name: "paid_price", field: "paidCents"}, {name: "lead_days", field: "leadDays"}, {name: "lender"},
	}}
)

var stationKinds = []board.StationKind{
	board.StationBench, board.StationPlate, board.StationGrind, board.StationWeld, board.StationCharge, board.StationScale,
	board.StationTest, board.StationGas, board.StationPress, board.StationNone,
}

func (d *reading) readStations() {
	known := newIndex("station", stationsFile)
	for _, w := range d.rows(stationsFile) {
		name := w.text("name")
		id := d.id(board.KindStation, name)
		f := board.StationFields{
			Name: name, Kind: word(w, "kind", stationKinds), Count: w.whole("jobs_at_once"),
			Place: board.PlaceID(d.places.id(w, "place", w.text("place"))),
		}
		if name != "" && known.enter(w, "name", name, id) {
			d.add(board.Station{ID: board.StationID(id), StationFields: f}, w)
		}
	}
}

func (d *reading) readSpares() {
	d.stocks = newIndex("spare", sparesFile)
	for _, w := range d.rows(sparesFile) {
		name := w.text("name")
		id := d.id(board.KindStock, name)
		f := board.StockFields{
			Name: name, Count: w.whole("count"), Where: w.text("where"), MassGrams: w.whole("mass_g"),
			ListCents: w.money("list_price"), PaidCents: w.money("paid_price"), LeadDays: w.whole("lead_days"), Lender: w.text("lender"),
		}
		if name != "" && d.stocks.enter(w, "name", name, id) {
			d.add(board.Stock{ID: board.StockID(id), StockFields: f}, w)
		}
	}
}

func (p *printing) stations() [][]string {
	var rows [][]string
	for _, n := range live(p.state.Stations, func(n board.Station) (string, bool) { return n.Name, n.Retired }) {
		rows = append(rows, []string{n.Name, string(n.Kind), strconv.Itoa(n.Count), p.place(n.Place)})
	}
	return rows
}

func (p *printing) spares() [][]string {
	var rows [][]string
	for _, n := range live(p.state.Stocks, func(n board.Stock) (string, bool) { return n.Name, n.Retired && !p.wanted[n.ID] }) {
		rows = append(rows, []string{
			n.Name, strconv.Itoa(n.Count), n.Where, strconv.Itoa(n.MassGrams),
			moneyTextOf(n.ListCents), moneyTextOf(n.PaidCents), strconv.Itoa(n.LeadDays), n.Lender,
		})
	}
	return rows
}
