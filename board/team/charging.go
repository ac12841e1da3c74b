package team

import (
	"slices"
	"strconv"

	"mendline/board"
	"mendline/board/charge"
)

var (
	circuitsFile = &layout{"circuits.csv", []column{
		{name: "name", need: true}, {name: "volts", need: true}, {name: "rating_a", need: true, field: "ratingAmps"},
		{name: "other_a", field: "otherAmps"}, {name: "said_by", need: true, field: "saidBy"},
	}}
	chargersFile = &layout{"chargers.csv", []column{
		{name: "channel", need: true, field: "name"}, {name: "charger", need: true},
		{name: "amps_most", need: true, field: "ampsMost", was: "max_a"},
		{name: "watts_most", need: true, field: "wattsMost", was: "max_w"},
		{name: "charger_w", need: true, field: "chargerWatts"}, {name: "cells_most", need: true, field: "cellsMost"},
		{name: "circuit"}, {name: "place"}, {name: "power_factor", field: "powerFactor"},
	}}
	packsFile = &layout{"packs.csv", []column{
		{name: "name", need: true}, {name: "chemistry", need: true}, {name: "cells", need: true}, {name: "parallel", need: true},
		{name: "capacity_ah", need: true, field: "capacityAh"},
		{name: "charge_amps_most", need: true, field: "chargeAmpsMost", was: "max_charge_a"},
		{name: "use", need: true}, {name: "fits"}, {name: "place"}, {name: "mass_g", field: "massGrams"},
		{name: "faster_by", field: "fasterBy"},
	}}
)

var (
	chemistries = charge.Chemistries()
	setAside    = []board.PackState{board.PackSuspect, board.PackQuarantined, board.PackGone}
	packUses    = []board.PackUse{board.UseMain, board.UseWeapon, board.UseTransmitter, board.UseTool}
)

func (d *reading) readCharging() {
	d.readCircuits()
	d.readChargers()
	d.readPacks()
}

func (d *reading) readCircuits() {
	d.circuits = newIndex("circuit", circuitsFile)
	for _, w := range d.rows(circuitsFile) {
		name := w.text("name")
		id := d.id(board.KindCircuit, name)
		f := board.CircuitFields{
			Name: name, Volts: w.number("volts"), RatingAmps: w.number("rating_a"), OtherAmps: w.number("other_a"), SaidBy: w.text("said_by"),
		}
		if name != "" && d.circuits.enter(w, "name", name, id) {
			d.add(board.Circuit{ID: board.CircuitID(id), CircuitFields: f}, w)
		}
	}
}

func (d *reading) readChargers() {
	known := newIndex("channel", chargersFile)
	for _, w := range d.rows(chargersFile) {
		name := w.text("channel")
		id := d.id(board.KindChannel, name)
		f := board.ChannelFields{
			Name: name, Charger: w.text("charger"), AmpsMost: w.number("amps_most"), WattsMost: w.number("watts_most"),
			ChargerWatts: w.number("charger_w"), CellsMost: w.whole("cells_most"),
			Circuit: board.CircuitID(d.circuits.id(w, "circuit", w.text("circuit"))), Place: d.place(w),
			PowerFactor: w.number("power_factor"),
		}
		if name != "" && known.enter(w, "channel", name, id) {
			d.add(board.Channel{ID: board.ChannelID(id), ChannelFields: f}, w)
		}
	}
}

func (d *reading) readPacks() {
	known := newIndex("pack", packsFile)
	for _, w := range d.rows(packsFile) {
		name := w.text("name")
		id := d.id(board.KindPack, name)
		f := board.PackFields{
			Name: name, Chemistry: word(w, "chemistry", chemistries), Cells: w.whole("cells"), Parallel: w.whole("parallel"),
			CapacityAh: w.number("capacity_ah"), ChargeAmpsMost: w.number("charge_amps_most"), Use: word(w, "use", packUses), MassGrams: w.number("mass_g"),
			FasterBy: w.text("faster_by"),
		}
		for _, robot := range w.list("fits") {
			f.Fits = append(f.Fits, board.RobotID(d.robots.id(w, "fits", robot)))
		}
		at := d.place(w)
		if name != "" && known.enter(w, "name", name, id) {
			d.add(board.Pack{ID: board.PackID(id), PackFields: f, Place: at}, w)
		}
	}
}

func (d *reading) place(w *row) board.PlaceID {
	return board.PlaceID(d.places.id(w, "place", w.text("place")))
}

func (p *printing) circuits() [][]string {
	var rows [][]string
	for _, n := range live(p.state.Circuits, func(n board.Circuit) (string, bool) { return n.Name, n.Retired }) {
		rows = append(rows, []string{n.Name, numberText(n.Volts), numberText(n.RatingAmps), numberText(n.OtherAmps), n.SaidBy})
	}
	return rows
}

func (p *printing) chargers() [][]string {
	var rows [][]string
	for _, n := range live(p.state.Channels, func(n board.Channel) (string, bool) { return n.Name, n.Retired }) {
		rows = append(rows, []string{
			n.Name, n.Charger, numberText(n.AmpsMost), numberText(n.WattsMost), numberText(n.ChargerWatts), strconv.Itoa(n.CellsMost),
			p.circuit(n.Circuit), p.place(n.Place), numberText(n.PowerFactor),
		})
	}
	return rows
}

// packs leaves out those that were set aside: a folder that is loaded brings its
// packs into use, and these have none any more (rule 13).
func (p *printing) packs() [][]string {
	var rows [][]string
	for _, n := range live(p.state.Packs, func(n board.Pack) (string, bool) { return n.Name, n.Retired || slices.Contains(setAside, n.State) }) {
		var fits []string
		for _, id := range n.Fits {
			if name := p.robot(id); name != "" {
				fits = append(fits, name)
			}
		}
		rows = append(rows, []string{
			n.Name, string(n.Chemistry), strconv.Itoa(n.Cells), strconv.Itoa(n.Parallel), numberText(n.CapacityAh), numberText(n.ChargeAmpsMost),
			string(n.Use), listText(fits), p.place(n.Place), numberText(n.MassGrams), n.FasterBy,
		})
	}
	return rows
}
