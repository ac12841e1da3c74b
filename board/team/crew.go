package team

import (
	"cmp"

	"mendline/board"
)

var (
	placesFile = newTable("places.csv",
		col("name", asText, func(n *board.Place) *string { return &n.Name }).needed(),
		col("kind", asWord(placeKinds), func(n *board.Place) *board.PlaceKind { return &n.Kind }).needed(),
		col("in_sight", asNames("places.csv", func(d *reading) *index { return d.places }, (*printing).place), func(n *board.Place) *[]board.PlaceID { return &n.InSight }).as("inSight"),
	)
	crewFile = newTable("crew.csv",
		col("name", asText, func(n *board.Person) *string { return &n.Name }).needed(),
		col("role", asWord(roles), func(n *board.Person) *board.Role { return &n.Role }),
		col("skills", asWords(skills), func(n *board.Person) *[]board.Skill { return &n.Skills }),
		col("authorised", asWords(energyKinds), func(n *board.Person) *[]board.EnergyKind { return &n.Authorised }),
		col("minor", asYes, func(n *board.Person) *bool { return &n.Minor }),
		col("guest", asYes, func(n *board.Person) *bool { return &n.Guest }),
		col("signer", asYes, func(n *board.Person) *bool { return &n.Signer }),
		col("from", asText, func(n *board.Person) *string { return &n.From }),
	).known("people.csv")
)

var (
	placeKinds = []board.PlaceKind{
		board.PlaceBench, board.PlaceTestBox, board.PlaceStaging, board.PlaceArena, board.PlaceAway,
		board.PlaceCharging, board.PlaceWatch, board.PlaceStore,
	}
	roles  = []board.Role{board.RoleCaptain, board.RoleCrew, board.RoleSafety}
	skills = []board.Skill{
		board.SkillMechanical, board.SkillElectrical, board.SkillRadio, board.SkillWeld,
		board.SkillPressure, board.SkillFabricate, board.SkillDrive, board.SkillAny,
	}
	energyKinds = []board.EnergyKind{
		board.EnergyWeapon, board.EnergyDrive, board.EnergyGas, board.EnergyHydraulic, board.EnergySpring,
		board.EnergySpin, board.EnergyArm, board.EnergyCapacitor, board.EnergyHeat,
	}
)

// readPlaces enters all names first: from a place one of a later row may be seen.
func (d *reading) readPlaces() {
	d.places = newIndex("place", placesFile.layout)
	rows := d.rows(placesFile.layout)
	ids := map[*row]string{}
	for _, w := range rows {
		name := w.said("name")
		if id := d.id(board.KindPlace, name); name != "" && d.places.enter(w, "name", name, id) {
			ids[w] = id
		}
	}
	for _, w := range rows {
		n := placesFile.read(w)
		if n.ID = board.PlaceID(ids[w]); n.ID != "" {
			d.add(n, w)
		}
	}
}

func (d *reading) readCrew() {
	d.people = newIndex("person", crewFile.layout)
	for _, w := range d.rows(crewFile.layout) {
		n := crewFile.read(w)
		is, joined := d.onRoster(n.Name)
		switch {
		case n.Role == "" && !w.bad:
			n.Role = cmp.Or(is.Role, board.RoleCrew)
		case joined && n.Role != is.Role && n.Role != "":
			w.wrong("role", string(is.Role)+", as "+is.Name+" is on the board: change it there, or here")
		}
		n.ID = board.PersonID(d.id(board.KindPerson, n.Name))
		if n.Name != "" && d.people.enter(w, "name", n.Name, string(n.ID)) {
			d.add(n, w)
		}
	}
}

func (p *printing) places() [][]string {
	return placesFile.rows(p, live(p.state.Places, func(n board.Place) (string, bool) { return n.Name, n.Retired }))
}

func (p *printing) crew() [][]string {
	return crewFile.rows(p, live(p.state.People, func(n board.Person) (string, bool) { return n.Name, n.Retired }))
}
