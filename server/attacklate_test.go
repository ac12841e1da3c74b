package server

import (
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// attacksOnTime are about when something was done, and about what is taken back.
func attacksOnTime() []attack {
	var undone board.CommandID
	line := func(d *doors, list board.SheetList, id string) board.SheetAnswer {
		sheet, _ := d.state().Sheet(d.cast.Moth, list)
		return board.SheetAnswer{Sheet: sheet.ID, Line: id, Said: board.SaidDone}
	}
	tags := func(d *doors, who board.PersonID) { d.by(who, board.TagOn{Robot: d.cast.Moth}) }
	signs := func(who func(d *doors) board.PersonID) func(d *doors) given {
		return func(d *doors) given { return given{by: who(d), do: d.signs()} }
	}
	dee := func(d *doors) board.PersonID { return d.cast.Dee }
	nia := func(d *doors) board.PersonID { return d.cast.Nia }
	test := func(d *doors) given { return given{by: d.cast.Ada, do: d.drives()} }
	return []attack{
		{"who repaired it signs, by a finish from before the start", 12,
			func(d *doors) {
				d.open()
				tags(d, d.cast.Dee)
				d.by(d.cast.Dee, board.JobStart{Job: d.job("")})
				d.clock.pass(5 * time.Minute)
				require.Nil(d.t, d.gives(given{by: d.cast.Dee, do: board.JobFinish{Job: d.theJob().ID}, ago: 30 * time.Minute}, false))
				st := d.theJob().Stints[0]
				require.GreaterOrEqual(d.t, st.To, st.From, "no work ends before it began")
				d.closeUp()
				d.walks(d.cast.Ben, board.ListReady)
			},
			signs(dee), nil, signs(nia)},
		{"who held the light signs", 12,
			func(d *doors) {
				d.open()
				tags(d, d.cast.Dee)
				job := d.job("")
				d.by(d.cast.Ben, board.JobStart{Job: job})
				d.by(d.cast.Dee, board.JobJoin{Job: job})
				d.by(d.cast.Dee, board.JobLeave{Job: job})
				d.by(d.cast.Ben, board.JobFinish{Job: job})
				d.closeUp()
				d.walks(d.cast.Ben, board.ListReady)
			},
			signs(dee), nil, signs(nia)},
		{"a lock that was in before the fight was over", 2,
			func(d *doors) {
				fight := madeOf[board.FightID](d, board.KindFight, d.by(d.cast.Ada, board.FightAdd{FightFields: board.FightFields{Robot: d.cast.Moth, Arena: "north", Number: 7}}))
				d.by(d.cast.Ada, board.FightEnd{Fight: fight, Result: board.Won})
				d.clock.pass(5 * time.Minute)
			},
			func(d *doors) given {
				return given{by: d.cast.Ben, do: line(d, board.ListMakeSafe, "lock"), ago: 20 * time.Minute}
			}, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: line(d, board.ListMakeSafe, "lock"), ago: 4 * time.Minute}
			}},
		{"a test that a phone asks for a minute late", 19, (*doors).closedUp,
			func(d *doors) given { return given{by: d.cast.Ada, do: d.drives(), ago: time.Minute} }, nil, test},
		{"work is taken back that was signed over", 21,
			func(d *doors) {
				d.open()
				d.by(d.cast.Ben, board.JobStart{Job: d.job("")})
				d.by(d.cast.Ben, board.JobFinish{Job: d.theJob().ID})
				undone = d.last()
				d.closeUp()
				d.walks(d.cast.Ben, board.ListReady)
				d.by(d.cast.Dee, d.signs())
			},
			func(d *doors) given { return given{by: d.cast.Ben, do: board.Undo{Command: undone}} }, nil,
			func(d *doors) given {
				return given{by: d.cast.Ben, do: board.RobotDoubt{Robot: d.cast.Moth, Why: "a click inside"}}
			}},
	}
}
