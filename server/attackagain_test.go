package server

import (
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// attacksFoundLater are what people found who attacked the board anew.
func attacksFoundLater() []attack {
	line := func(d *doors, list board.SheetList, id string, said board.Said) board.SheetAnswer {
		sheet, _ := d.state().Sheet(d.cast.Moth, list)
		return board.SheetAnswer{Sheet: sheet.ID, Line: id, Said: said}
	}
	until := func(d *doors, id string) {
		for {
			sheet, _ := d.state().Sheet(d.cast.Moth, board.ListMakeSafe)
			open, _ := sheet.OpenLine()
			if open.ID == id {
				return
			}
			d.rests(open)
			d.by(d.cast.Ben, line(d, board.ListMakeSafe, open.ID, board.SaidDone))
		}
	}
	tries := func(d *doors) given {
		return given{by: d.cast.Ben, do: line(d, board.ListMakeSafe, "try", board.SaidDone)}
	}
	tagOff := func(d *doors, who board.PersonID) board.TagOff {
		tag, _ := d.state().TagOf(d.cast.Moth, who)
		return board.TagOff{Tag: tag.ID}
	}
	late := func(d *doors, who board.PersonID) {
		require.Nil(d.t, d.gives(given{by: who, do: board.TagOn{Robot: d.cast.Moth}, ago: 11 * time.Second}, true), "a late tag is a fact")
	}
	out := func(d *doors) board.PackMove { return board.PackMove{Pack: d.cast.P1, Place: d.cast.Watch} }
	cool := 21.0
	reads := func(d *doors) {
		d.by(d.cast.Ben, board.PackRead{Pack: d.cast.P2, CellVolts: cells(3.7), TempC: &cool})
	}
	charges := func(d *doors, who board.PersonID) board.PackCharge {
		return board.PackCharge{Pack: d.cast.P2, Channel: d.cast.A1, Attendant: who, Cells: 4, Amps: 0.6, Contained: true}
	}
	charging := func(d *doors) { reads(d); d.by(d.cast.Ben, charges(d, d.cast.Ben)) }
	off := func(d *doors) { d.by(d.cast.Ben, board.PackOff{Pack: d.cast.P2}) }
	settings := func(d *doors, change func(f *board.EventFields)) board.EventSet {
		f := d.state().Event().EventFields
		change(&f)
		return board.EventSet{EventFields: f}
	}
	noPlaces := func(d *doors) given {
		return given{by: d.cast.Ada, do: settings(d, func(f *board.EventFields) { f.ChargingPlaces = nil })}
	}
	bench := func(d *doors) given {
		f := d.state().Places[d.cast.Shelf].PlaceFields
		f.Kind = board.PlaceBench
		return given{by: d.cast.Ada, do: board.PlaceChange{Place: d.cast.Shelf, PlaceFields: f}}
	}
	return []attack{
		{"a try whether it starts with hands near", 7,
			func(d *doors) { until(d, "try"); d.by(d.cast.Kit, board.HandsOn{Robot: d.cast.Moth}) },
			tries,
			func(d *doors) {
				near, _ := d.state().HandsOf(d.cast.Moth, d.cast.Kit)
				d.by(d.cast.Kit, board.HandsOff{Hands: near.ID})
			},
			tries},
		{"a try whether it starts with someone on a job in it", 7,
			func(d *doors) {
				until(d, "try")
				d.by(d.cast.Kit, board.JobStart{Job: d.job(board.AtRobot)})
			},
			tries,
			func(d *doors) { d.by(d.cast.Kit, board.JobLeave{Job: d.theJob().ID}) },
			tries},
		{"two late tags go on over first in", 7,
			func(d *doors) { until(d, "try"); late(d, d.cast.Dee); late(d, d.cast.Ada) },
			tries,
			func(d *doors) {
				d.by(d.cast.Dee, tagOff(d, d.cast.Dee))
				d.by(d.cast.Ada, tagOff(d, d.cast.Ada))
				until(d, "try")
			},
			tries},
		{"a guest says that the pack is out before anyone was in", 3,
			func(d *doors) { until(d, "try") },
			func(d *doors) given { return given{by: d.cast.Gus, do: out(d)} }, nil,
			func(d *doors) given { return given{by: d.cast.Ben, do: out(d)} }},
		{"a second tag before the first one in has said that the pack is out", 3,
			func(d *doors) {
				until(d, "try")
				d.by(d.cast.Ben, out(d))
				d.walks(d.cast.Ben, board.ListMakeSafe)
				d.by(d.cast.Ben, board.TagOn{Robot: d.cast.Moth})
			},
			func(d *doors) given { return given{by: d.cast.Dee, do: board.TagOn{Robot: d.cast.Moth}} },
			func(d *doors) { d.walks(d.cast.Ben, board.ListFirstIn) },
			func(d *doors) given { return given{by: d.cast.Dee, do: board.TagOn{Robot: d.cast.Moth}} }},
		{"a job goes on under another's tag", 3,
			func(d *doors) {
				d.open()
				d.by(d.cast.Dee, board.TagOn{Robot: d.cast.Moth})
				d.by(d.cast.Ben, board.JobStart{Job: d.job("")})
				d.by(d.cast.Ben, tagOff(d, d.cast.Ben))
				require.Empty(d.t, d.theJob().AtWork(), "his work ends with his tag")
			},
			func(d *doors) given { return given{by: d.cast.Ben, do: board.JobResume{Job: d.theJob().ID}} }, nil,
			func(d *doors) given { return given{by: d.cast.Dee, do: board.JobResume{Job: d.theJob().ID}} }},
		{"a guest takes back what can hurt people", 11,
			func(d *doors) {
				d.by(d.cast.Gus, board.DamageReport{DamageFields: board.DamageFields{Robot: d.cast.Moth, Part: "blade", Grade: board.GX}})
			},
			func(d *doors) given { return given{by: d.cast.Gus, do: board.Undo{Command: d.last()}} }, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: board.DamageRegrade{Damage: d.theDamage(), Grade: board.G1, Reason: "a slip of the finger"}}
			}},
		{"the list of charging places is emptied while a pack charges", 14, charging, noPlaces, off, noPlaces},
		{"the charging table becomes a bench while a pack charges", 14, charging, bench, off, bench},
		{"who stays with a charge puts their tag on out of its sight", 14,
			func(d *doors) { d.walks(d.cast.Ben, board.ListMakeSafe); charging(d) },
			func(d *doors) given { return given{by: d.cast.Ben, do: board.TagOn{Robot: d.cast.Moth}} },
			func(d *doors) { d.by(d.cast.Dee, board.PackAttend{Pack: d.cast.P2}) },
			func(d *doors) given { return given{by: d.cast.Ben, do: board.TagOn{Robot: d.cast.Moth}} }},
		{"whose tag is on elsewhere stays with a charge", 14,
			func(d *doors) { d.open(); reads(d) },
			func(d *doors) given { return given{by: d.cast.Ben, do: charges(d, d.cast.Ben)} }, nil,
			func(d *doors) given { return given{by: d.cast.Dee, do: charges(d, d.cast.Dee)} }},
	}
}
