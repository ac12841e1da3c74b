package forecast

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestWhoIsEnteredForARobotAndCannotBeItIsListedForTheCaptain(t *testing.T) {
	kit := board.Person{ID: "kit", PersonFields: board.PersonFields{Name: "Kit", Role: board.RoleCrew, Minor: true}}
	ada := board.Person{ID: "ada", PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCaptain}}
	moth := board.Robot{ID: "moth", RobotFields: board.RobotFields{Name: "Tin Moth", Lead: "kit", Driver: "kit"}}
	slugs := func(e board.EventFields, r board.Robot) []string {
		var list []string
		for _, a := range rosterAlarms(board.FromNouns(1, []board.Noun{kit, ada, r, board.Event{EventFields: e}}, nil), r) {
			require.Contains(t, a.Act, "Ada")
			list = append(list, a.Slug)
		}
		return slices.Sorted(slices.Values(list))
	}
	require.Equal(t, []string{"lead-moth", "minor-drives-moth"}, slugs(board.EventFields{}, moth))
	require.Equal(t, []string{"lead-moth"}, slugs(board.EventFields{MinorsDrive: true}, moth))
	moth.Lead = "ada"
	require.Empty(t, slugs(board.EventFields{MinorsDrive: true}, moth))
}

func TestAMinorWhoIsNoneAnyMoreIsHeardOfBySafetyOrALeadButWhoSaidIt(t *testing.T) {
	kit := board.Person{ID: "kit", PersonFields: board.PersonFields{Name: "Kit", Role: board.RoleCrew}, Loosened: []board.Loosened{{What: "no minor any more", Reason: "eighteen today", By: "ada", At: 1000}}}
	ada := board.Person{ID: "ada", PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCaptain}}
	dee := board.Person{ID: "dee", PersonFields: board.PersonFields{Name: "Dee", Role: board.RoleSafety}}
	moth := board.Robot{ID: "moth", RobotFields: board.RobotFields{Name: "Tin Moth", Lead: "ada"}}
	alarms := func(more ...board.Noun) []Alarm {
		return grownAlarms(board.FromNouns(1, append([]board.Noun{kit, ada, moth, board.Event{}}, more...), nil))
	}
	require.Empty(t, alarms(), "the captain is alone")
	said := alarms(dee)
	require.Len(t, said, 1)
	require.Contains(t, said[0].What, "Kit is no minor any more, entered by Ada")
	require.Contains(t, said[0].What, "eighteen today")
	require.Contains(t, said[0].Act, "Dee:")
	require.Len(t, alarms(dee, board.Mark{ID: "B-grown-kit", TakenBy: "ada", TakenAt: 2000}), 1, "who said it hears nothing new")
	require.Len(t, alarms(dee, board.Mark{ID: "B-grown-kit", TakenBy: "dee", TakenAt: 500}), 1, "what was taken before")
	require.Empty(t, alarms(dee, board.Mark{ID: "B-grown-kit", TakenBy: "dee", TakenAt: 2000}))
}
