package server

import (
	"slices"
	"time"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/charge"
)

// attacksByWhoMayNot are about who says what of a robot, its work and the team.
func attacksByWhoMayNot() []attack {
	less := func(d *doors, reason string, change func(f *board.JobFields)) board.JobChange {
		f := d.theJob().JobFields
		f.Fixes = slices.Clone(f.Fixes)
		change(&f)
		return board.JobChange{Job: d.theJob().ID, JobFields: f, Reason: reason}
	}
	packsIn := func(f *board.JobFields) { f.Fixes[0].PackOut = false }
	touchesNothing := func(f *board.JobFields) { f.Fixes[0].Touches = nil }
	waits := func(f *board.JobFields) { f.Triage = board.Could }
	drops := func(d *doors, reason string) board.DamageRegrade {
		return board.DamageRegrade{Damage: d.theDamage(), Grade: board.G3, Drop: true, Reason: reason}
	}
	grave := func(d *doors) { d.damaged(board.G3) }
	person := func(d *doors, who board.PersonID, change func(f *board.PersonFields)) board.PersonChange {
		f := d.state().People[who].PersonFields
		change(&f)
		return board.PersonChange{Person: who, PersonFields: f, Reason: "as the event says"}
	}
	event := func(d *doors, reason string, change func(f *board.EventFields)) board.EventSet {
		f := d.state().Event().EventFields
		change(&f)
		return board.EventSet{EventFields: f, Reason: reason}
	}
	override := func(d *doors, second board.PersonID) given {
		tag, _ := d.state().TagOf(d.cast.Moth, d.cast.Ada)
		return given{by: d.cast.Ben, proved: []board.PersonID{second}, do: board.TagOverride{Tag: tag.ID, Second: second, Override: board.Override{
			LookedWhere: "the whole hall", CalledHow: "by phone, twice", CalledAt: d.d.Now(), CheckedBy: d.cast.Ben, Reason: "she went home", Asked: true,
		}}}
	}
	live := func(d *doors) given {
		return given{by: d.cast.Ada, do: board.RobotLive{Robot: d.cast.Moth, Place: d.cast.Arena}}
	}
	raised := func(d *doors) board.EmergencyID {
		for id := range d.state().Emergencies {
			return id
		}
		return ""
	}
	ends := func(d *doors) board.EmergencyEnd {
		return board.EmergencyEnd{Emergency: raised(d), How: "a fog machine, switched off"}
	}
	stopped := func(d *doors) {
		d.by(d.cast.Dee, board.RobotStop{Robot: d.cast.Moth, Why: "a crack in the disc"})
	}
	goesOn := func(d *doors) board.RobotGoOn { return board.RobotGoOn{Robot: d.cast.Moth} }
	seconds := func(d *doors, reason string, wants bool) board.RobotChange {
		c := d.robot(func(f *board.RobotFields) { f.SecondVerifier = wants })
		c.Reason = reason
		return c
	}
	bank := func(d *doors, reason string, sec int) board.RobotChange {
		c := d.robot(func(f *board.RobotFields) {
			f.Energies = append(slices.Clone(f.Energies[:3]), board.Energy{Kind: board.EnergyCapacitor, Isolator: "bank", Reach: board.Outside, RestSec: sec})
		})
		c.Reason = reason
		return c
	}
	called := func(d *doors, name string) board.RobotChange {
		return d.robot(func(f *board.RobotFields) { f.Name = name })
	}
	return []attack{
		{"the crew has the packs stay in for a job", 8,
			func(d *doors) { d.job("") },
			func(d *doors) given { return given{by: d.cast.Ben, do: less(d, "quicker", packsIn)} }, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: less(d, "the packs are out for the day", packsIn)}
			}},
		{"a job touches nothing any more, by a guest", 8,
			func(d *doors) { d.job("") },
			func(d *doors) given { return given{by: d.cast.Gus, do: less(d, "it is only tape", touchesNothing)} }, nil,
			func(d *doors) given {
				return given{by: d.cast.Dee, do: less(d, "the blade stays on", touchesNothing)}
			}},
		{"the captain makes the must wait that they are at work on", 11,
			func(d *doors) {
				d.open()
				d.by(d.cast.Ada, board.TagOn{Robot: d.cast.Moth})
				d.by(d.cast.Ada, board.JobStart{Job: d.job("")})
			},
			func(d *doors) given { return given{by: d.cast.Ada, do: less(d, "no time", waits)} }, nil,
			func(d *doors) given { return given{by: d.cast.Dee, do: less(d, "it holds one fight", waits)} }},
		{"a guest says that there is no damage", 11, grave,
			func(d *doors) given { return given{by: d.cast.Gus, do: drops(d, "it was always so")} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: drops(d, "a shadow on the photo")} }},
		{"the captain drops damage with no reason", 11, grave,
			func(d *doors) given { return given{by: d.cast.Ada, do: drops(d, "")} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: drops(d, "a shadow on the photo")} }},
		{"the crew has damage on another robot", 11,
			func(d *doors) { d.wren(); grave(d) },
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.DamageMove{Damage: d.theDamage(), Robot: d.otherRobot()}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: board.DamageMove{Damage: d.theDamage(), Robot: d.otherRobot(), Reason: "seen on the wrong robot"}}
			}},
		{"who swapped what can hurt looks at it", 11,
			func(d *doors) {
				d.open()
				d.damaged(board.GX)
				job := madeOf[board.JobID](d, board.KindJob, d.by(d.cast.Ben, board.JobAdd{JobFields: board.JobFields{
					Robot: d.cast.Moth, Name: "swap the blade", Triage: board.Must, Fixes: []board.Fix{boardtest.SwapBlade(d.cast.Blade)}, Damages: []board.DamageID{d.theDamage()},
				}}))
				d.by(d.cast.Ben, board.JobStart{Job: job})
				d.by(d.cast.Ben, board.JobFinish{Job: job})
			},
			func(d *doors) given { return given{by: d.cast.Ben, do: board.DamageLook{Damage: d.theDamage()}} }, nil,
			func(d *doors) given { return given{by: d.cast.Dee, do: board.DamageLook{Damage: d.theDamage()}} }},
		{"two of the crew take the lead's own tag off", 6,
			func(d *doors) {
				d.by(d.cast.Ada, person(d, d.cast.Gus, func(f *board.PersonFields) { f.Guest = false }))
				d.walks(d.cast.Ben, board.ListMakeSafe)
				d.by(d.cast.Ada, board.TagOn{Robot: d.cast.Moth})
				d.clock.pass(5 * time.Minute)
			},
			func(d *doors) given { return override(d, d.cast.Gus) }, nil,
			func(d *doors) given { return override(d, d.cast.Nia) }},
		{"the last captain is made crew", 0, func(*doors) {},
			func(d *doors) given {
				return given{by: d.cast.Ada, do: person(d, d.cast.Ada, func(f *board.PersonFields) { f.Role = board.RoleCrew })}
			},
			func(d *doors) {
				d.by(d.cast.Ada, board.PersonAdd{PersonFields: board.PersonFields{Name: "Zoe", Role: board.RoleCaptain}})
			},
			func(d *doors) given {
				return given{by: d.cast.Ada, do: person(d, d.cast.Ada, func(f *board.PersonFields) { f.Role = board.RoleCrew })}
			}},
		{"a guest is made a signer", 0, func(*doors) {},
			func(d *doors) given {
				return given{by: d.cast.Ada, do: person(d, d.cast.Gus, func(f *board.PersonFields) { f.Signer = true })}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: person(d, d.cast.Gus, func(f *board.PersonFields) { f.Guest, f.Signer = false, true })}
			}},
		{"one whose name reads as another's", 0, func(*doors) {},
			func(d *doors) given {
				return given{by: d.cast.Ada, do: board.PersonAdd{PersonFields: board.PersonFields{Name: "ＢＥＮ", Role: board.RoleCrew}}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: board.PersonAdd{PersonFields: board.PersonFields{Name: "Bea", Role: board.RoleCrew}}}
			}},
		{"a robot sheds its damage by another name", 0, grave,
			func(d *doors) given { return given{by: d.cast.Ada, do: called(d, "Iron Owl")} },
			func(d *doors) { d.by(d.cast.Ada, drops(d, "a shadow on the photo")) },
			func(d *doors) given { return given{by: d.cast.Ada, do: called(d, "Iron Owl")} }},
		{"it goes live where an emergency stands", 20,
			func(d *doors) { d.ready(); d.by(d.cast.Gus, board.EmergencyRaise{Place: d.cast.Arena}) },
			live, func(d *doors) { d.by(d.cast.Dee, ends(d)) }, live},
		{"a guest ends the emergency that they raised", 0,
			func(d *doors) { d.by(d.cast.Gus, board.EmergencyRaise{What: "smoke"}) },
			func(d *doors) given { return given{by: d.cast.Gus, do: ends(d)} }, nil,
			func(d *doors) given { return given{by: d.cast.Dee, do: ends(d)} }},
		{"a test at a place that is off the board", 16,
			func(d *doors) { d.closedUp(); d.by(d.cast.Ada, board.PlaceRetire{Place: d.cast.Box}) },
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} },
			func(d *doors) {
				d.by(d.cast.Ada, board.PlaceAdd{PlaceFields: board.PlaceFields{Name: "Test  Box", Kind: board.PlaceTestBox}})
			},
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} }},
		{"the captain lifts what event safety stopped", 0, stopped,
			func(d *doors) given { return given{by: d.cast.Ada, do: goesOn(d)} }, nil,
			func(d *doors) given { return given{by: d.cast.Dee, do: goesOn(d)} }},
		{"a test of what event safety stopped", 0, func(d *doors) { stopped(d); d.closedUp() },
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} },
			func(d *doors) { d.by(d.cast.Dee, goesOn(d)) },
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} }},
		{"no second verifier any more, with no reason", 4,
			func(d *doors) { d.by(d.cast.Ada, seconds(d, "", true)) },
			func(d *doors) given { return given{by: d.cast.Ada, do: seconds(d, "", false)} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: seconds(d, "there are two of us", false)} }},
		{"one person watches more chargers, with no reason", 14, func(*doors) {},
			func(d *doors) given {
				return given{by: d.cast.Ada, do: event(d, "", func(f *board.EventFields) { f.AttendantMost = 3 })}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: event(d, "they stand side by side", func(f *board.EventFields) { f.AttendantMost = 3 })}
			}},
		{"capacitors get less time, with no reason", 8,
			func(d *doors) { d.by(d.cast.Ada, bank(d, "", 600)) },
			func(d *doors) given { return given{by: d.cast.Ada, do: bank(d, "", 60)} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: bank(d, "bleeders are fitted", 60)} }},
		{"a guest weighs it", 11, func(*doors) {},
			func(d *doors) given {
				return given{by: d.cast.Gus, do: board.RobotWeigh{Robot: d.cast.Moth, Grams: 1340, Sure: true}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.RobotWeigh{Robot: d.cast.Moth, Grams: 1340}}
			}},
		{"a robot over its limit, said once", 11, func(*doors) {},
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.RobotWeigh{Robot: d.cast.Moth, Grams: 1400}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.RobotWeigh{Robot: d.cast.Moth, Grams: 1400, Sure: true}}
			}},
	}
}

// attacksOnPackRecords are about what is said of a pack, and where it goes.
func attacksOnPackRecords() []attack {
	cool := 21.0
	read := func(d *doors, volts float64) {
		d.by(d.cast.Ben, board.PackRead{Pack: d.cast.P2, CellVolts: cells(volts), TempC: &cool})
	}
	charges := func(d *doors) given {
		return given{by: d.cast.Ben, do: board.PackCharge{Pack: d.cast.P2, Channel: d.cast.A1, Attendant: d.cast.Ben, Cells: 4, Amps: 0.6, Contained: true}}
	}
	charging := func(d *doors) { read(d, 3.7); d.by(d.cast.Ben, charges(d).do) }
	pack := func(d *doors, change func(f *board.PackFields)) board.PackChange {
		f := d.state().Packs[d.cast.P2].PackFields
		change(&f)
		return board.PackChange{Pack: d.cast.P2, PackFields: f}
	}
	in := func(robot func(d *doors) board.RobotID) func(d *doors) given {
		return func(d *doors) given {
			return given{by: d.cast.Ben, do: board.PackMove{Pack: d.cast.P2, Robot: robot(d)}}
		}
	}
	moth := func(d *doors) board.RobotID { return d.cast.Moth }
	overnight := func(line string) func(d *doors) given {
		return func(d *doors) given {
			sheet, _ := d.state().Sheet(d.cast.Moth, board.ListOvernight)
			return given{by: d.cast.Ada, do: board.SheetAnswer{Sheet: sheet.ID, Line: line, Said: board.SaidDone}}
		}
	}
	night := func(d *doors) {
		d.by(d.cast.Ada, board.RobotList{Robot: d.cast.Moth, List: board.ListOvernight})
	}
	return []attack{
		{"a pack is charged on a reading of another chemistry", 0,
			func(d *doors) {
				read(d, 3.7)
				d.by(d.cast.Ada, pack(d, func(f *board.PackFields) { f.Chemistry = charge.LiPoHV }))
			},
			charges, func(d *doors) { read(d, 3.7) }, charges},
		{"a pack that was below its floor is of another chemistry by now", 13,
			func(d *doors) {
				d.by(d.cast.Ada, pack(d, func(f *board.PackFields) { f.Chemistry = charge.LiFe }))
				read(d, 2.9)
				d.by(d.cast.Ada, pack(d, func(f *board.PackFields) { f.Chemistry = charge.LiPo }))
				d.by(d.cast.Ada, pack(d, func(f *board.PackFields) { f.Chemistry = charge.LiFe }))
			},
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.PackRead{Pack: d.cast.P2, CellVolts: cells(3.2)}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.PackSet{Pack: d.cast.P2, State: board.PackQuarantined, Why: "below its floor"}}
			}},
		{"a tool's pack goes into a robot", 11,
			func(d *doors) {
				d.by(d.cast.Ada, pack(d, func(f *board.PackFields) { f.Use = board.UseTool }))
				read(d, 3.9)
			},
			in(moth), func(d *doors) {
				d.by(d.cast.Ada, pack(d, func(f *board.PackFields) { f.Use = board.UseMain }))
			}, in(moth)},
		{"a pack goes from a fight into another robot", 11,
			func(d *doors) {
				wren := d.wren()
				d.by(d.cast.Ada, pack(d, func(f *board.PackFields) { f.Fits = []board.RobotID{d.cast.Moth, wren} }))
				d.closedUp()
				d.by(d.cast.Ada, board.FightAdd{FightFields: board.FightFields{Robot: d.cast.Moth, Arena: "north", Number: 7}})
				d.by(d.cast.Ben, board.FightNow{Arena: "north", Number: 7})
				d.by(d.cast.Ben, board.PackMove{Pack: d.cast.P2, Place: d.cast.Watch})
			},
			in((*doors).otherRobot), func(d *doors) { read(d, 3.9) }, in((*doors).otherRobot)},
		{"a guest stays with a charge", 14, charging,
			func(d *doors) given { return given{by: d.cast.Gus, do: board.PackAttend{Pack: d.cast.P2}} }, nil,
			func(d *doors) given { return given{by: d.cast.Nia, do: board.PackAttend{Pack: d.cast.P2}} }},
		{"nothing is on charge, while a pack is", 0,
			func(d *doors) { charging(d); night(d) },
			overnight("charge"), func(d *doors) { d.by(d.cast.Ben, board.PackOff{Pack: d.cast.P2}) }, overnight("charge")},
		{"every pack has its place, while one is in the robot", 0, night,
			overnight("packs"), func(d *doors) { d.by(d.cast.Ben, board.PackMove{Pack: d.cast.P1, Place: d.cast.Watch}) }, overnight("packs")},
	}
}
