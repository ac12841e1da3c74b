package team

import "mendline/board"

var (
	stationsFile = newTable("stations.csv",
		col("name", asText, func(n *board.Station) *string { return &n.Name }).needed().
			says("what people call it", "Long bench"),
		col("kind", asWord(stationKinds), func(n *board.Station) *board.StationKind { return &n.Kind }).needed().
			says("what is done there", "bench"),
		col("jobs_at_once", asWhole, func(n *board.Station) *int { return &n.Count }).needed().as("count").
			says("how many jobs fit", "2"),
		col("place", asPlace, func(n *board.Station) *board.PlaceID { return &n.Place }).
			says("where it stands", "Charging table"),
	)
	sparesFile = newTable("spares.csv",
		col("name", asText, func(n *board.Stock) *string { return &n.Name }).needed().
			says("what people call it", "belt B2"),
		col("count", asWhole, func(n *board.Stock) *int { return &n.Count }).needed().
			says("how many there are", "4"),
		col("where", asText, func(n *board.Stock) *string { return &n.Where }).
			says("where it lies", "drawer 3"),
		col("mass_g", asWhole, func(n *board.Stock) *int { return &n.MassGrams }).as("massGrams").
			says("mass of one in g", "12"),
		col("list_price", asMoney, func(n *board.Stock) *int { return &n.ListCents }).as("listCents").
			says("price of one by the list, in the event's currency", "4.90"),
		col("paid_price", asMoney, func(n *board.Stock) *int { return &n.PaidCents }).as("paidCents").
			says("what was paid for one", "3.50"),
		col("lead_days", asWhole, func(n *board.Stock) *int { return &n.LeadDays }).as("leadDays").
			says("days until another is there", "7"),
		col("lender", asText, func(n *board.Stock) *string { return &n.Lender }).
			says("whose it is, where it is on loan", "the next bench"),
	)
)

var stationKinds = []board.StationKind{
	board.StationBench, board.StationPlate, board.StationGrind, board.StationWeld, board.StationCharge, board.StationScale,
	board.StationTest, board.StationGas, board.StationPress, board.StationNone,
}

func (d *reading) readStations() {
	readNamed(d, "station", stationsFile, func(n *board.Station) (*board.StationID, string) { return &n.ID, n.Name })
}

func (d *reading) readSpares() {
	d.stocks = readNamed(d, "spare", sparesFile, func(n *board.Stock) (*board.StockID, string) { return &n.ID, n.Name })
}

func (p *printing) stations() [][]string {
	return stationsFile.rows(p, live(p.state.Stations, func(n board.Station) (string, bool) { return n.Name, n.Retired }))
}

func (p *printing) spares() [][]string {
	return sparesFile.rows(p, live(p.state.Stocks, func(n board.Stock) (string, bool) { return n.Name, n.Retired && !p.wanted[n.ID] }))
}
