package team

import (
	"cmp"

	"mendline/board"
)

var (
	placesFile = newTable("places.csv",
		col("name", asText, func(n *board.Place) *string { return &n.Name }).needed().
			says("what people call the place", "Charging table"),
		col("kind", asWord(placeKinds), func(n *board.Place) *board.PlaceKind { return &n.Kind }).needed().
			says("what is done there; staging and arena are the event's", "charging"),
		col("in_sight", asNames("places.csv", func(d *reading) *index { return d.places }, (*printing).place), func(n *board.Place) *[]board.PlaceID { return &n.InSight }).as("inSight").
			says("charging places that are seen from here: whoever stays with a charge there may work here", "Charging table"),
	)
	crewFile = newTable("crew.csv",
		col("name", asText, func(n *board.Person) *string { return &n.Name }).needed().
			says("first name, or what people call them; no two that sound alike", "Ottoline"),
		col("role", asWord(roles), func(n *board.Person) *board.Role { return &n.Role }).
			says("blank is crew", "captain"),
		col("skills", asWords(skills), func(n *board.Person) *[]board.Skill { return &n.Skills }).
			says("what they can do; any is a helping hand", "mechanical; drive"),
		col("authorised", asWords(energyKinds), func(n *board.Person) *[]board.EnergyKind { return &n.Authorised }).
			says("the kinds of energy they may lock out and verify", "weapon-power; drive-power"),
		col("minor", asYes, func(n *board.Person) *bool { return &n.Minor }).
			says("under age: says that hands are near, signs nothing; blank is no", "no"),
		col("guest", asYes, func(n *board.Person) *bool { return &n.Guest }).
			says("a guest: says that hands are near, signs nothing; blank is no", "no"),
		col("signer", asYes, func(n *board.Person) *bool { return &n.Signer }).
			says("may sign a robot ready, as a second pair of eyes; blank is no", "yes"),
		col("from", asText, func(n *board.Person) *string { return &n.From }).
			says("another team or the event, for somebody who is not ours", "the hall"),
	).known("people.csv").atMost(crewMost)
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
	for _, person := range d.on.People {
		if key := board.Folded(person.Name); !person.Retired && d.people.ids[key] == "" {
			d.people.ids[key] = string(person.ID)
		}
	}
}

func (p *printing) places() [][]string {
	return placesFile.rows(p, live(p.state.Places, func(n board.Place) (string, bool) { return n.Name, n.Retired }))
}

func (p *printing) crew() [][]string {
	return crewFile.rows(p, live(p.state.People, func(n board.Person) (string, bool) { return n.Name, n.Retired }))
}
