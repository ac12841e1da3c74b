package server

import (
	"mendline/board"
	"mendline/board/boardtest"
)

func cells(v float64) []float64 { return []float64{v, v, v, v} }

func attacksWithPacks() []attack {
	cool := 21.0
	read := func(d *doors, id board.PackID) {
		d.by(d.cast.Ben, board.PackRead{Pack: id, CellVolts: cells(3.7), TempC: &cool})
	}
	charge := func(d *doors, who board.PersonID) board.PackCharge {
		return board.PackCharge{Pack: d.cast.P2, Channel: d.cast.A1, Attendant: who, Cells: 4, Amps: 0.6, Contained: true}
	}
	charges := func(d *doors) { read(d, d.cast.P2); d.by(d.cast.Ben, charge(d, d.cast.Ben)) }
	in := func(d *doors) board.PackMove { return board.PackMove{Pack: d.cast.P2, Robot: d.cast.Moth} }
	low := func(d *doors) { d.by(d.cast.Ben, board.PackRead{Pack: d.cast.P2, CellVolts: cells(3.1)}) }
	swollen := func(d *doors) { d.by(d.cast.Ben, board.PackRead{Pack: d.cast.P2, Look: board.LookSwollen}) }
	ends := func(d *doors) {
		for id := range d.state().Emergencies {
			d.by(d.cast.Dee, board.EmergencyEnd{Emergency: id, How: "it is out"})
		}
	}
	return []attack{
		{"a low pack goes into a robot", 11, low,
			func(d *doors) given { return given{by: d.cast.Ben, do: in(d)} },
			func(d *doors) { read(d, d.cast.P2) },
			func(d *doors) given { return given{by: d.cast.Ben, do: in(d)} }},
		{"a swollen pack is read as good again", 13, swollen,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.PackRead{Pack: d.cast.P2, CellVolts: cells(3.8)}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.PackSet{Pack: d.cast.P2, State: board.PackQuarantined, Why: "swollen"}}
			}},
		{"a pack on a charger is retired", 14, charges,
			func(d *doors) given { return given{by: d.cast.Ada, do: board.PackRetire{Pack: d.cast.P2}} },
			func(d *doors) { d.by(d.cast.Ben, board.PackOff{Pack: d.cast.P2}) },
			func(d *doors) given { return given{by: d.cast.Ada, do: board.PackRetire{Pack: d.cast.P2}} }},
		{"a minor stays with a charge", 14, charges,
			func(d *doors) given { return given{by: d.cast.Kit, do: board.PackAttend{Pack: d.cast.P2}} }, nil,
			func(d *doors) given { return given{by: d.cast.Dee, do: board.PackAttend{Pack: d.cast.P2}} }},
		{"one says that another stays with a charge", 5, charges,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.PackAttend{Pack: d.cast.P2, Person: d.cast.Dee}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.PackAttend{Pack: d.cast.P2, Person: d.cast.Dee}, proved: []board.PersonID{d.cast.Dee}}
			}},
		{"who stays with a charge works out of its sight", 14,
			func(d *doors) { d.walks(d.cast.Ben, board.ListMakeSafe); d.job(board.AtRobot); charges(d) },
			func(d *doors) given { return given{by: d.cast.Ben, do: board.JobStart{Job: d.theJob().ID}} },
			func(d *doors) { d.by(d.cast.Dee, board.PackAttend{Pack: d.cast.P2}) },
			func(d *doors) given { return given{by: d.cast.Ben, do: board.JobStart{Job: d.theJob().ID}} }},
		{"a charge where an emergency stands", 20,
			func(d *doors) { read(d, d.cast.P2); d.by(d.cast.Kit, board.EmergencyRaise{Place: d.cast.Shelf}) },
			func(d *doors) given { return given{by: d.cast.Ben, do: charge(d, d.cast.Ben)} }, ends,
			func(d *doors) given { return given{by: d.cast.Ben, do: charge(d, d.cast.Ben)} }},
	}
}

func attacksOnTheSignature() []attack {
	toSign := func(d *doors) { d.closedUp(); d.walks(d.cast.Ben, board.ListReady) }
	off := func(d *doors) board.DamageOff {
		return board.DamageOff{Damage: d.theDamage(), What: "blade in the box"}
	}
	line := func(d *doors, list board.SheetList, id string, said board.Said) board.SheetAnswer {
		sheet, _ := d.state().Sheet(d.cast.Moth, list)
		return board.SheetAnswer{Sheet: sheet.ID, Line: id, Said: said}
	}
	weighs := func(d *doors, grams float64, sure bool) board.RobotWeigh {
		return board.RobotWeigh{Robot: d.cast.Moth, Grams: grams, Sure: sure}
	}
	sign := func(who func(d *doors) board.PersonID) func(d *doors) given {
		return func(d *doors) given { return given{by: who(d), do: d.signs()} }
	}
	dee := func(d *doors) board.PersonID { return d.cast.Dee }
	return []attack{
		{"who finished the last must signs", 12,
			func(d *doors) {
				d.open()
				d.by(d.cast.Dee, board.TagOn{Robot: d.cast.Moth})
				job := d.job("")
				d.by(d.cast.Dee, board.JobStart{Job: job})
				d.by(d.cast.Dee, board.JobFinish{Job: job})
				d.closeUp()
				d.walks(d.cast.Ben, board.ListReady)
			},
			sign(dee), nil, sign(func(d *doors) board.PersonID { return d.cast.Nia })},
		{"a hard hit with no job is signed over", 11,
			func(d *doors) { d.open(); d.damaged(board.G3); d.closeUp(); d.walks(d.cast.Ben, board.ListReady) },
			sign(dee),
			func(d *doors) {
				d.by(d.cast.Ada, board.DamageRegrade{Damage: d.theDamage(), Grade: board.G1, Reason: "a scratch"})
			},
			sign(dee)},
		{"a small damage that nobody accepted is signed over", 11,
			func(d *doors) { d.open(); d.damaged(board.G2); d.closeUp(); d.walks(d.cast.Ben, board.ListReady) },
			sign(dee),
			func(d *doors) { d.by(d.cast.Ada, board.DamageAccept{Damage: d.theDamage()}) },
			sign(dee)},
		{"a test with damage that can hurt", 17,
			func(d *doors) { d.closedUp(); d.damaged(board.GX) },
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} },
			func(d *doors) {
				d.by(d.cast.Ada, board.RobotReopen{Robot: d.cast.Moth})
				d.walks(d.cast.Ben, board.ListReopen)
				d.by(d.cast.Ben, board.TagOn{Robot: d.cast.Moth})
				d.walks(d.cast.Ben, board.ListFirstIn)
				d.by(d.cast.Ada, off(d))
				d.closeUp()
			},
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} }},
		{"a failsafe is proven on a robot that never had power", 11,
			func(d *doors) { d.closedUp() },
			func(d *doors) given {
				return given{by: d.cast.Ben, do: line(d, board.ListReady, "failsafe", board.SaidDone)}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: line(d, board.ListReady, "failsafe", board.SaidOwed)}
			}},
		{"a robot that weighs a gram", 11,
			func(*doors) {},
			func(d *doors) given { return given{by: d.cast.Ben, do: weighs(d, 1, false)} }, nil,
			func(d *doors) given { return given{by: d.cast.Ben, do: weighs(d, 1340, false)} }},
		{"one who signs for another", 5,
			toSign,
			func(d *doors) given {
				c := d.signs()
				c.Person = d.cast.Nia
				return given{by: d.cast.Ada, do: c}
			}, nil,
			func(d *doors) given {
				c := d.signs()
				c.Person = d.cast.Nia
				return given{by: d.cast.Ada, do: c, proved: []board.PersonID{d.cast.Nia}}
			}},
		{"a withdrawn robot goes live", 0,
			func(d *doors) { d.ready(); d.by(d.cast.Ada, board.RobotWithdraw{Robot: d.cast.Moth}) },
			func(d *doors) given {
				return given{by: d.cast.Ada, do: board.RobotLive{Robot: d.cast.Moth, Place: d.cast.Arena}}
			},
			func(d *doors) { d.by(d.cast.Ada, board.RobotBackIn{Robot: d.cast.Moth}) },
			func(d *doors) given {
				return given{by: d.cast.Ada, do: board.RobotLive{Robot: d.cast.Moth, Place: d.cast.Arena}}
			}},
		{"who says that they told themselves", 7,
			func(d *doors) {
				d.open()
				d.walks(d.cast.Ben, board.ListInspect)
				for _, tag := range d.state().Tags {
					d.by(tag.Person, board.TagOff{Tag: tag.ID})
				}
				d.by(d.cast.Ada, board.RobotCloseUp{Robot: d.cast.Moth})
				for {
					sheet, _ := d.state().Sheet(d.cast.Moth, board.ListCloseUp)
					open, _ := sheet.OpenLine()
					if open.Kind == board.LineTold {
						return
					}
					if open.Kind == board.LinePack {
						d.by(d.cast.Ben, board.PackRead{Pack: d.cast.P2, CellVolts: cells(4.18), Charged: true})
					}
					d.by(d.cast.Ben, boardtest.AnswerTo(d.state(), sheet, open, d.cast.Ben))
				}
			},
			func(d *doors) given {
				c := line(d, board.ListCloseUp, "told", board.SaidDone)
				c.Told = d.cast.Ben
				return given{by: d.cast.Ben, do: c}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: line(d, board.ListCloseUp, "told", board.SaidAlone)}
			}},
	}
}
