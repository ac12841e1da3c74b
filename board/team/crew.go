package team

import "mendline/board"

var (
	placesFile = &layout{"places.csv", []column{{name: "name", need: true}, {name: "kind", need: true}}}
	crewFile   = &layout{"crew.csv", []column{
		{name: "name", need: true}, {name: "role", need: true}, {name: "skills"}, {name: "authorised"},
		{name: "minor"}, {name: "guest"}, {name: "signer"}, {name: "from"},
	}}
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

func (d *reading) readPlaces() {
	d.places = newIndex("place", placesFile)
	for _, w := range d.rows(placesFile) {
		name := w.text("name")
		id := d.id(board.KindPlace, name)
		f := board.PlaceFields{Name: name, Kind: word(w, "kind", placeKinds)}
		if name != "" && d.places.enter(w, "name", name, id) {
			d.add(board.Place{ID: board.PlaceID(id), PlaceFields: f}, w)
		}
	}
}

func (d *reading) readCrew() {
	d.people = newIndex("person", crewFile)
	for _, w := range d.rows(crewFile) {
		name := w.text("name")
		id := d.id(board.KindPerson, name)
		f := board.PersonFields{
			Name: name, Role: word(w, "role", roles), Skills: words(w, "skills", skills), Authorised: words(w, "authorised", energyKinds),
			Minor: w.yes("minor"), Guest: w.yes("guest"), Signer: w.yes("signer"), From: w.text("from"),
		}
		if name != "" && d.people.enter(w, "name", name, id) {
			d.add(board.Person{ID: board.PersonID(id), PersonFields: f}, w)
		}
	}
}

func (p *printing) places() [][]string {
	var rows [][]string
	for _, n := range live(p.state.Places, func(n board.Place) (string, bool) { return n.Name, n.Retired }) {
		rows = append(rows, []string{n.Name, string(n.Kind)})
	}
	return rows
}

func (p *printing) crew() [][]string {
	var rows [][]string
	for _, n := range live(p.state.People, func(n board.Person) (string, bool) { return n.Name, n.Retired }) {
		rows = append(rows, []string{
			n.Name, string(n.Role), listText(n.Skills), listText(n.Authorised),
			yesText(n.Minor), yesText(n.Guest), yesText(n.Signer), n.From,
		})
	}
	return rows
}
