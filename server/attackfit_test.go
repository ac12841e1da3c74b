package server

import (
	"slices"
	"time"

	"mendline/board"
)

// attacksOnSheetsThatFit are about what a robot has for a lock, what takes its time to
// come to rest, and what lines and places are called.
func attacksOnSheetsThatFit() []attack {
	line := func(d *doors, list board.SheetList, id string, said board.Said) board.SheetAnswer {
		sheet, _ := d.state().Sheet(d.cast.Moth, list)
		return board.SheetAnswer{Sheet: sheet.ID, Line: id, Said: said}
	}
	down := func(d *doors) {
		for _, id := range []string{"lock", "link-1", "radio"} {
			d.by(d.cast.Ben, line(d, board.ListMakeSafe, id, board.SaidDone))
		}
	}
	rotor := func(d *doors) board.SheetAnswer {
		return line(d, board.ListMakeSafe, "spinning-mass-3", board.SaidDone)
	}
	wait := func(d *doors) { d.clock.pass(time.Minute) }
	locks := func(d *doors, reason string, locks ...board.Lock) board.RobotChange {
		f := d.state().Robots[d.cast.Moth].RobotFields
		f.Locks = locks
		return board.RobotChange{Robot: d.cast.Moth, RobotFields: f, Reason: reason}
	}
	bench := func(d *doors, name string) board.PlaceChange {
		return board.PlaceChange{Place: d.cast.Bench, PlaceFields: board.PlaceFields{Name: name, Kind: board.PlaceBench}}
	}
	tried := func(d *doors, ask string) board.WordingSet {
		set := board.WordingSet{List: board.ListMakeSafe}
		i := slices.IndexFunc(board.Lists(), func(l board.Listed) bool { return l.List == board.ListMakeSafe })
		for _, l := range board.Lists()[i].Lines {
			set.Lines = append(set.Lines, board.WordedLine{ID: l.ID})
			if l.ID == "try" {
				set.Lines[len(set.Lines)-1].Ask = ask
			}
		}
		return set
	}
	return []attack{
		{"a rotor is at rest the moment the link is out", 3, down,
			func(d *doors) given { return given{by: d.cast.Ben, do: rotor(d)} }, wait,
			func(d *doors) given { return given{by: d.cast.Ben, do: rotor(d)} }},
		{"a rotor is at rest by a phone that dates it back", 3, down,
			func(d *doors) given { return given{by: d.cast.Ben, do: rotor(d), ago: 5 * time.Second} }, wait,
			func(d *doors) given { return given{by: d.cast.Ben, do: rotor(d)} }},
		{"one of two locks comes off with no reason", 8,
			func(d *doors) { d.by(d.cast.Ada, locks(d, "", board.LockPlain, board.LockStrap)) },
			func(d *doors) given { return given{by: d.cast.Ada, do: locks(d, "", board.LockPlain)} }, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: locks(d, "the new lock does both", board.LockPlain)}
			}},
		{"the captain words a line all clear", 23, func(*doors) {},
			func(d *doors) given { return given{by: d.cast.Ada, do: tried(d, "All clear?")} }, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: tried(d, "People away, stick moved: all still?")}
			}},
		{"the captain calls a bench safe", 23, func(*doors) {},
			func(d *doors) given { return given{by: d.cast.Ada, do: bench(d, "safe bench")} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: bench(d, "bench by the door")} }},
	}
}
