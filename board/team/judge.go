package team

import (
	"slices"
	"sort"

	"mendline/board"
	"mendline/board/charge"
)

// judgeMost is how many faults the board is asked for; more help nobody.
const judgeMost = 50

// judge asks the board to take what was read, and names the row of each
// noun it refuses. A noun that is refused, or whose row could not be read, has a
// stand-in put in its place, so that those that refer to it are judged by what
// they are themselves.
func (d *reading) judge() {
	for i, e := range d.entries {
		if e.anyBad() {
			d.entries[i].noun = d.standIn(e.noun)
		}
	}
	d.entries = slices.DeleteFunc(d.entries, func(e entry) bool { return e.noun == nil })
	for range judgeMost {
		if d.refused(d.entries) == nil {
			return
		}
		i := sort.Search(len(d.entries), func(n int) bool { return d.refused(d.entries[:n+1]) != nil })
		if d.entries[i].stands {
			return // nothing is left to put in its place
		}
		d.blame(i)
		if stand := d.standIn(d.entries[i].noun); stand != nil {
			d.entries[i].noun, d.entries[i].stands = stand, true
		} else {
			d.entries = slices.Delete(d.entries, i, i+1)
		}
	}
}

func (e entry) anyBad() bool {
	return e.row.bad || slices.ContainsFunc(e.parts, func(w *row) bool { return w.bad })
}

// refused is what the board says to a team of entries, or nil.
func (d *reading) refused(entries []entry) *board.Refusal {
	_, bad := board.Apply(d.on, soFar(d.loadOf(entries)), board.Ask{ID: d.cmd}, board.Actor{Role: board.RoleCaptain}, d.cmd.Moment())
	return bad
}

// soFar is a load whose parts name only parts that are in it: a part may name one
// of a later row. A ring is then closed by the last row of it.
func soFar(c board.TeamLoad) board.TeamLoad {
	in := map[board.PartID]bool{}
	for _, part := range c.Parts {
		in[part.ID] = true
	}
	known := func(ids []board.PartID) []board.PartID {
		return slices.DeleteFunc(slices.Clone(ids), func(id board.PartID) bool { return !in[id] })
	}
	for i, part := range c.Parts {
		var first []board.Access
		for _, set := range part.First {
			if parts := known(set.Parts); len(parts) > 0 || len(set.Parts) == 0 {
				first = append(first, board.Access{Parts: parts})
			}
		}
		c.Parts[i].First, c.Parts[i].Next = first, known(part.Next)
	}
	return c
}

// blame reports the row of the i-th entry, or the part of it at fault.
func (d *reading) blame(i int) {
	e := d.entries[i]
	w := e.row
	bad := d.refused(d.entries[:i+1])
	if _, is := e.noun.(board.Event); is {
		if line := d.eventRow(bad.Field); line != nil {
			line.wrong(value, bad.Sentence)
			return
		}
	}
	if bad.Field == e.field && len(e.parts) > 1 {
		for k, part := range e.parts {
			one := append(slices.Clone(d.entries[:i]), entry{noun: e.only(k), row: part})
			if own := d.refused(one); own != nil {
				w, bad = part, own
				break
			}
		}
	} else if bad.Field == e.field && len(e.parts) == 1 {
		w = e.parts[0]
	}
	if name, ok := w.layout.columnOf(bad.Field); ok {
		w.wrong(name, bad.Sentence)
		return
	}
	w.bad = true
	d.fault(RowError{File: w.layout.file, Line: w.line, Want: bad.Sentence})
}

// columnOf is the column that holds a wire field.
func (l *layout) columnOf(field string) (string, bool) {
	for _, c := range l.heads {
		if field != "" && (c.field == field || c.field == "" && c.name == field) {
			return c.name, true
		}
	}
	return "", false
}

// standIn is a valid noun under the id of n, with nothing else of it; nil when
// there can be none.
func (d *reading) standIn(n board.Noun) board.Noun {
	_, name := n.Key().Split()
	switch n := n.(type) {
	case board.Event:
		is := d.on.Event()
		is.Name = d.eventName()
		return is
	case board.Place:
		return board.Place{ID: n.ID, PlaceFields: board.PlaceFields{Name: name, Kind: board.PlaceBench}}
	case board.Person:
		if is, there := d.on.People[n.ID]; there {
			return is
		}
		return board.Person{ID: n.ID, PersonFields: board.PersonFields{Name: name, Role: board.RoleCrew}}
	case board.Robot:
		return d.robotStandIn(n.ID)
	case board.Station:
		return board.Station{ID: n.ID, StationFields: board.StationFields{Name: name, Kind: board.StationNone, Count: 1}}
	case board.Stock:
		return board.Stock{ID: n.ID, StockFields: board.StockFields{Name: name}}
	case board.Circuit:
		return board.Circuit{ID: n.ID, CircuitFields: board.CircuitFields{Name: name, Volts: 100, RatingAmps: 1, SaidBy: name}}
	case board.Channel:
		return board.Channel{ID: n.ID, ChannelFields: board.ChannelFields{Name: name, Charger: name, AmpsMost: 1, WattsMost: 1, ChargerWatts: 1, CellsMost: 1}}
	case board.Pack:
		return board.Pack{ID: n.ID, PackFields: board.PackFields{
			Name: name, Chemistry: charge.LiPo, Cells: 1, Parallel: 1, CapacityAh: 1, ChargeAmpsMost: 1, Use: board.UseMain,
		}}
	case board.Template:
		return board.Template{ID: n.ID, TemplateFields: board.TemplateFields{Name: name, Size: board.Heavy, Triage: board.Could, Fixes: []board.Fix{{
			Name: name, Way: board.WaySwap, LikelySec: 1, BadSec: 1, Hands: []board.Skill{board.SkillAny}, Station: board.StationNone, Where: board.OffRobot,
		}}}}
	case board.Part:
		if n.Robot != "" {
			return board.Part{ID: n.ID, PartFields: board.PartFields{Robot: n.Robot, Name: name}}
		}
	case board.Joint, board.Setup, board.Construction:
		return nil // nothing refers to them
	case board.Module:
		if n.Robot != "" {
			return board.Module{ID: n.ID, ModuleFields: board.ModuleFields{Robot: n.Robot, Slot: name, Name: name}}
		}
	case board.Fight:
		return d.fightStandIn(n)
	}
	return nil
}

// robotStandIn takes a number that no row has.
func (d *reading) robotStandIn(id board.RobotID) board.Noun {
	free := 99
	for free > 1 && slices.ContainsFunc(d.entries, func(e entry) bool {
		r, is := e.noun.(board.Robot)
		return is && r.Number == free
	}) {
		free--
	}
	return board.Robot{ID: id, RobotFields: board.RobotFields{
		Name: string(id), Number: free, Class: board.Class{Name: string(id), Limit: 1, Unit: board.Gram, RuleSet: string(id)},
		Size: board.Light, Hands: 1, Weight: 1,
	}}
}

func (d *reading) fightStandIn(n board.Fight) board.Noun {
	robot := n.Robot
	for _, e := range d.entries {
		if r, is := e.noun.(board.Robot); is && robot == "" {
			robot = r.ID
		}
	}
	if robot == "" {
		return nil
	}
	return board.Fight{ID: n.ID, FightFields: board.FightFields{Robot: robot, Arena: string(n.ID), Number: 1}}
}

// loadOf makes the command of what was read. A team without event settings gets
// a name, so that the rest can be judged.
func (d *reading) loadOf(entries []entry) board.TeamLoad {
	c := board.TeamLoad{Event: d.on.Event().EventFields}
	c.Event.Name = d.eventName()
	for _, e := range entries {
		switch n := e.noun.(type) {
		case board.Event:
			c.Event = n.EventFields
		case board.Place:
			c.Places = append(c.Places, n)
		case board.Person:
			c.People = append(c.People, n)
		case board.Robot:
			c.Robots = append(c.Robots, n)
		case board.Station:
			c.Stations = append(c.Stations, n)
		case board.Stock:
			c.Stocks = append(c.Stocks, n)
		case board.Circuit:
			c.Circuits = append(c.Circuits, n)
		case board.Channel:
			c.Channels = append(c.Channels, n)
		case board.Pack:
			c.Packs = append(c.Packs, n)
		case board.Template:
			c.Templates = append(c.Templates, n)
		case board.Part:
			c.Parts = append(c.Parts, n)
		case board.Joint:
			c.Joints = append(c.Joints, n)
		case board.Module:
			c.Modules = append(c.Modules, n)
		case board.Setup:
			c.Setups = append(c.Setups, n)
		case board.Construction:
			c.Constructions = append(c.Constructions, n)
		case board.Fight:
			c.Fights = append(c.Fights, n)
		}
	}
	return c
}
