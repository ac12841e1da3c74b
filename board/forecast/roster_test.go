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
