package server

import (
	"slices"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
)

func attacksOnHands() []attack {
	bare := func(d *doors, why string) board.JobAdd {
		fix := boardtest.SwapBlade(d.cast.Blade)
		fix.Name, fix.Lockout, fix.PackOut, fix.Touches = "tape the antenna", false, false, nil
		return board.JobAdd{JobFields: board.JobFields{Robot: d.cast.Moth, Name: "a job", Triage: board.Could, Fixes: []board.Fix{fix}}, Reason: why}
	}
	return []attack{
		{"a guest enters work in the robot that asks for no lockout", 8, func(*doors) {},
			func(d *doors) given { return given{by: d.cast.Gus, do: bare(d, "it is quick")} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: bare(d, "nothing that moves is near it")} }},
		{"a test while someone is on a job in the robot", 7,
			func(d *doors) { d.closedUp(); d.by(d.cast.Kit, board.JobStart{Job: d.job(board.AtRobot)}) },
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} },
			func(d *doors) { d.by(d.cast.Kit, board.JobHold{Job: d.theJob().ID, Why: board.HoldClock}) },
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} }},
		{"a guest holds the job that another's hands are on", 7,
			func(d *doors) { d.open(); d.by(d.cast.Ben, board.JobStart{Job: d.job("")}) },
			func(d *doors) given {
				return given{by: d.cast.Gus, do: board.JobHold{Job: d.theJob().ID, Why: board.HoldPart}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.JobHold{Job: d.theJob().ID, Why: board.HoldPart}}
			}},
		{"a second pair of hands with no tag on", 3,
			func(d *doors) { d.open(); d.by(d.cast.Ben, board.JobStart{Job: d.job("")}) },
			func(d *doors) given { return given{by: d.cast.Ada, do: board.JobJoin{Job: d.theJob().ID}} },
			func(d *doors) { d.by(d.cast.Ada, board.TagOn{Robot: d.cast.Moth}) },
			func(d *doors) given { return given{by: d.cast.Ada, do: board.JobJoin{Job: d.theJob().ID}} }},
		{"a start taken back after the work went on", 0,
			func(d *doors) {
				d.open()
				d.by(d.cast.Ben, board.JobStart{Job: d.job("")})
				d.clock.pass(2 * time.Minute)
			},
			func(d *doors) given { return given{by: d.cast.Ben, do: board.Undo{Command: d.last()}} },
			func(d *doors) {
				d.by(d.cast.Ben, board.JobHold{Job: d.theJob().ID, Why: board.HoldPart})
				d.by(d.cast.Ben, board.JobResume{Job: d.theJob().ID})
			},
			func(d *doors) given { return given{by: d.cast.Ben, do: board.Undo{Command: d.last()}} }},
		{"late work that no tag covered is signed over", 11,
			func(d *doors) {
				d.open()
				job := d.job("")
				d.clock.pass(10 * time.Minute)
				for _, late := range []given{
					{by: d.cast.Dee, do: board.JobStart{Job: job}, ago: 9 * time.Minute}, {by: d.cast.Dee, do: board.JobFinish{Job: job}, ago: 5 * time.Minute},
				} {
					require.Nil(d.t, d.gives(late, true), "what is true is taken late")
				}
				near, _ := d.state().HandsOf(d.cast.Moth, d.cast.Dee)
				d.by(d.cast.Dee, board.HandsOff{Hands: near.ID})
				d.closeUp()
				d.walks(d.cast.Ben, board.ListReady)
			},
			func(d *doors) given { return given{by: d.cast.Nia, do: d.signs()} },
			func(d *doors) { d.by(d.cast.Ada, board.JobReinspect{Job: d.theJob().ID}) },
			func(d *doors) given { return given{by: d.cast.Nia, do: d.signs()} }},
	}
}

func attacksByLoosening() []attack {
	less := func(d *doors, reason string, change func(f *board.JobFields)) board.JobChange {
		f := d.theJob().JobFields
		f.Fixes = slices.Clone(f.Fixes)
		change(&f)
		return board.JobChange{Job: d.theJob().ID, JobFields: f, Reason: reason}
	}
	noMust := func(f *board.JobFields) { f.Triage = board.Could }
	noLockout := func(f *board.JobFields) { f.Fixes[0].Lockout = false }
	noSpin := func(f *board.RobotFields) { f.Energies = f.Energies[:2] }
	arena := func(d *doors, reason string) board.PlaceChange {
		return board.PlaceChange{Place: d.cast.Bench, PlaceFields: board.PlaceFields{Name: "bench 1", Kind: board.PlaceArena}, Reason: reason}
	}
	return []attack{
		{"a guest makes a must wait", 11,
			func(d *doors) { d.job("") },
			func(d *doors) given { return given{by: d.cast.Gus, do: less(d, "no time", noMust)} }, nil,
			func(d *doors) given { return given{by: d.cast.Dee, do: less(d, "the part is off already", noMust)} }},
		{"a minor takes the lockout off a fix", 8,
			func(d *doors) { d.job("") },
			func(d *doors) given { return given{by: d.cast.Kit, do: less(d, "quicker", noLockout)} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: less(d, "the blade is off", noLockout)} }},
		{"the captain drops a must with no reason", 11,
			func(d *doors) { d.job("") },
			func(d *doors) given { return given{by: d.cast.Ada, do: board.JobDrop{Job: d.theJob().ID}} }, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: board.JobDrop{Job: d.theJob().ID, Reason: "not bent after all"}}
			}},
		{"an energy comes off the list with no reason", 8,
			func(*doors) {},
			func(d *doors) given { return given{by: d.cast.Ada, do: d.robot(noSpin)} }, nil,
			func(d *doors) given {
				c := d.robot(noSpin)
				c.Reason = "the rotor is off for the day"
				return given{by: d.cast.Ada, do: c}
			}},
		{"the bench where a robot stands becomes the arena", 8,
			func(d *doors) { d.by(d.cast.Ben, board.RobotPlace{Robot: d.cast.Moth, Place: d.cast.Bench}) },
			func(d *doors) given { return given{by: d.cast.Ada, do: arena(d, "")} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: arena(d, "the arena was set up here")} }},
		{"a crew member grades damage down", 11,
			func(d *doors) { d.damaged(board.G3) },
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.DamageRegrade{Damage: d.theDamage(), Grade: board.G0, Reason: "looks fine"}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: board.DamageRegrade{Damage: d.theDamage(), Grade: board.G1, Reason: "a scratch, seen by daylight"}}
			}},
	}
}

func attacksByName() []attack {
	override := func(d *doors) board.TagOverride {
		d.clock.pass(time.Minute)
		c := board.TagOverride{Second: d.cast.Dee, Override: board.Override{
			LookedWhere: "the whole hall", CalledHow: "by phone, twice", CalledAt: d.d.Now(), CheckedBy: d.cast.Dee, Reason: "he went home", Asked: true,
		}}
		for id := range d.state().Tags {
			c.Tag = id
		}
		return c
	}
	tagOff := func(d *doors) board.TagOff {
		for id := range d.state().Tags {
			return board.TagOff{Tag: id}
		}
		return board.TagOff{}
	}
	raised := func(d *doors) board.EmergencyID {
		for id := range d.state().Emergencies {
			return id
		}
		return ""
	}
	ends := func(d *doors) board.EmergencyEnd {
		return board.EmergencyEnd{Emergency: raised(d), How: "a hot rag, taken out"}
	}
	live := func(d *doors) board.RobotLive { return board.RobotLive{Robot: d.cast.Moth, Place: d.cast.Arena} }
	return []attack{
		{"a new PIN takes off a tag from before it", 5,
			func(d *doors) {
				d.open()
				d.give(board.Itself(), board.PersonForget{Person: d.cast.Ben, By: d.cast.Ada})
			},
			func(d *doors) given { return given{by: d.cast.Ben, do: tagOff(d)} }, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: override(d), proved: []board.PersonID{d.cast.Dee}}
			}},
		{"a tag goes on past a notice, by coming back under the same name", 6,
			func(d *doors) {
				d.open()
				d.give(board.Actor{Person: d.cast.Ada, Role: board.RoleCaptain, Proved: []board.PersonID{d.cast.Dee}}, override(d))
				was := d.state().People[d.cast.Ben].PersonFields
				d.by(d.cast.Ada, board.PersonRetire{Person: d.cast.Ben})
				d.by(d.cast.Ada, board.PersonAdd{PersonFields: was})
				d.devices[d.cast.Ben] = d.join(board.RoleCrew, "Ben")
				d.socks[d.cast.Ben] = d.dial(d.devices[d.cast.Ben])
				d.socks[d.cast.Ben].resume("", 0)
			},
			func(d *doors) given { return given{by: d.cast.Ben, do: board.TagOn{Robot: d.cast.Moth}} },
			func(d *doors) {
				for id := range d.state().Notices {
					d.by(d.cast.Ben, board.NoticeTake{Notice: id})
				}
			},
			func(d *doors) given { return given{by: d.cast.Ben, do: board.TagOn{Robot: d.cast.Moth}} }},
		{"a minor is made lead", 5,
			func(*doors) {},
			func(d *doors) given {
				return given{by: d.cast.Ada, do: d.robot(func(f *board.RobotFields) { f.Lead = d.cast.Kit })}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ada, do: d.robot(func(f *board.RobotFields) { f.Driver = d.cast.Kit })}
			}},
		{"a minor who drives says it is live", 5,
			func(d *doors) {
				d.by(d.cast.Ada, d.robot(func(f *board.RobotFields) { f.Driver = d.cast.Kit }))
				d.minorsDrive()
				d.ready()
			},
			func(d *doors) given { return given{by: d.cast.Kit, do: live(d)} }, nil,
			func(d *doors) given { return given{by: d.cast.Ada, do: live(d)} }},
		{"a test where an emergency stands", 20,
			func(d *doors) { d.closedUp(); d.by(d.cast.Gus, board.EmergencyRaise{Place: d.cast.Box}) },
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} },
			func(d *doors) { d.by(d.cast.Dee, ends(d)) },
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} }},
		{"a guest takes the alarm that they raised", 24,
			func(d *doors) { d.by(d.cast.Gus, board.EmergencyRaise{What: "smoke"}) },
			func(d *doors) given {
				return given{by: d.cast.Gus, do: board.AlarmTake{Alarm: board.AlarmID("A-emergency-" + string(raised(d)))}}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.AlarmTake{Alarm: board.AlarmID("A-emergency-" + string(raised(d)))}}
			}},
	}
}
