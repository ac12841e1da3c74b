package work

import (
	"slices"

	"mendline/board"
)

// Allows tells whether a person may do an item now, on their own phone: the board itself
// is asked, with the command that does it.
func (i Item) Allows(s board.State, who board.Person, at board.Moment) bool {
	by := board.Actor{Person: who.ID, Role: who.Role}
	if len(i.May) > 0 && !slices.Contains(i.May, who.ID) {
		return false
	}
	if i.Step == Decide && i.Asks == board.AsksJob {
		return s.MayLead(by, s.Robots[i.Robot], "decide what becomes of it") == nil
	}
	if i.Step == Recheck {
		return s.MayAnswer(by, who, s.Sheets[i.Sheet], i.Line) == nil
	}
	c := i.command(s, who.ID)
	return c == nil || s.Refuses(c, by, at) == nil
}

// command is what a person does an item with, nil where no one command does it.
func (i Item) command(s board.State, who board.PersonID) board.Command {
	switch i.Step {
	case Notice:
		return board.NoticeTake{Notice: i.Notice}
	case Decide:
		if i.Asks == board.AsksLook {
			return board.DamageLook{Damage: i.Damage}
		}
		return board.DamageAccept{Damage: i.Damage}
	case Fetch:
		if i.Stock != "" {
			return board.StockCount{Stock: i.Stock, Count: i.Count}
		}
	case PackRead:
		return board.PackRead{Pack: i.Pack, Look: board.LookFine}
	case PackMove:
		if to := placeOf(s, board.PlaceCharging, board.PlaceStore, board.PlaceBench); to != "" {
			return board.PackMove{Pack: i.Pack, Place: to}
		}
	case PackCharge:
		return board.PackCharge{Pack: i.Pack, Channel: i.Channel, Attendant: who, Cells: s.Packs[i.Pack].Cells, Amps: i.Amps, Contained: true}
	case PackAttend:
		return board.PackAttend{Pack: i.Pack}
	case PackOff:
		return board.PackOff{Pack: i.Pack}
	}
	return nil
}

// placeOf is a place of one of some kinds, of the first that there is.
func placeOf(s board.State, kinds ...board.PlaceKind) board.PlaceID {
	for _, kind := range kinds {
		for _, place := range board.Sorted(s.Places, func(p board.Place) string { return p.Name + string(p.ID) }) {
			if place.Kind == kind && !place.Retired {
				return place.ID
			}
		}
	}
	return ""
}
