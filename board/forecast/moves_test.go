package forecast_test

import (
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// thing is what a move takes from everyone else, "" for one that takes nothing: jobs may
// have several hands.
func thing(t forecast.Todo) string {
	switch t.Act {
	case forecast.ActSheet, forecast.ActFirstIn:
		return "sheet of " + string(t.Robot)
	case forecast.ActTag:
		if t.Job == "" {
			return "sheet of " + string(t.Robot)
		}
	case forecast.ActCloseUp:
		return "close " + string(t.Robot)
	}
	return t.Work
}

// command is what a person does a move with, nil for a sheet's line and what no one command
// does.
func command(s board.State, t forecast.Todo) board.Command {
	switch t.Act {
	case forecast.ActTag:
		return board.TagOn{Robot: t.Robot}
	case forecast.ActHandsNear:
		return board.HandsOn{Robot: t.Robot}
	case forecast.ActStart:
		return board.JobStart{Job: t.Job, Fix: t.Fix}
	case forecast.ActResume:
		return board.JobResume{Job: t.Job}
	case forecast.ActJoin:
		return board.JobJoin{Job: t.Job}
	case forecast.ActFinish:
		return board.JobFinish{Job: t.Job}
	case forecast.ActCloseUp:
		return board.RobotCloseUp{Robot: t.Robot}
	case forecast.ActTagOff:
		for _, h := range s.HandsOn(t.Robot) {
			switch {
			case h.Person != t.Person:
			case h.Tag != "":
				return board.TagOff{Tag: h.Tag}
			case h.Near != "":
				return board.HandsOff{Hands: h.Near}
			}
		}
	case forecast.ActRead:
		return board.PackRead{Pack: t.Pack, CellVolts: cells(s.Packs[t.Pack].Cells, 3.8), TempC: new(20.0)}
	case forecast.ActAttend:
		return board.PackAttend{Pack: t.Pack}
	case forecast.ActOff:
		return board.PackOff{Pack: t.Pack}
	case forecast.ActDecide:
		if s.DamageAsks(s.Damages[t.Damage]) == board.AsksLook {
			return board.DamageLook{Damage: t.Damage}
		}
		if s.DamageAsks(s.Damages[t.Damage]) == board.AsksAccept {
			return board.DamageAccept{Damage: t.Damage}
		}
	}
	return nil
}

func cells(n int, volts float64) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = volts
	}
	return list
}

// movesAreTaken looks whether the board takes what each phone offers, and nobody else is
// sent to the same.
func (d *day) movesAreTaken(f forecast.Forecast) {
	had := map[string]board.PersonID{}
	for _, t := range f.Todos {
		if what := thing(t); what != "" {
			require.Empty(d.rt, had[what], "%s: %+v", what, t)
			had[what] = t.Person
		}
		who := d.s.People[t.Person]
		by := board.Actor{Person: who.ID, Role: who.Role}
		if sheet, ok := d.s.Sheets[t.Sheet]; ok {
			l, open := sheet.OpenLine()
			require.True(d.rt, open || t.Act == forecast.ActRecheck)
			if t.Act != forecast.ActRecheck {
				require.Nil(d.rt, d.s.MayAnswer(by, who, sheet, l))
			}
		}
		if c := command(d.s, t); c != nil {
			require.Nil(d.rt, d.s.Refuses(c, by, d.now), "%+v", t)
		}
	}
}
