package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Who joined before the folder came is who it means by that name.
func TestATeamIsLoadedOntoABoardThatPeopleHaveJoined(t *testing.T) {
	joined := func(t *testing.T, role Role) (State, PersonID) {
		id := PersonID("019e0000-0000-7000-8000-00000000000a")
		change, bad := Apply(State{}, PersonClaim{Person: id, Name: "Ada", Role: role}, Ask{ID: newID(morning, 1)}, Itself(), morning)
		require.Nil(t, bad)
		return State{}.With(change), id
	}
	load := func(s State, people ...Person) (Change, *Refusal) {
		return Apply(s, TeamLoad{Event: EventFields{Name: "Small Open"}, People: people}, Ask{ID: newID(morning, 2)}, Actor{Role: RoleCaptain}, morning)
	}
	t.Run("they stay, claimed, with what the folder says of them", func(t *testing.T) {
		s, id := joined(t, RoleCaptain)
		change, bad := load(s, Person{ID: id, PersonFields: PersonFields{Name: "ada", Role: RoleCaptain, Signer: true}})
		require.Nil(t, bad)
		ada := s.With(change).People[id]
		require.True(t, ada.Signer)
		require.NotZero(t, ada.Claimed)
		require.Len(t, ada.Loosened, 1, "that the folder makes a signer of them stands in the review")
		require.Equal(t, "the team folder that was loaded says so", ada.Loosened[0].Reason)
	})
	t.Run("no folder says of the captain that they are crew", func(t *testing.T) {
		s, id := joined(t, RoleCaptain)
		_, bad := load(s, Person{ID: id, PersonFields: PersonFields{Name: "Ada", Role: RoleCrew}})
		require.NotNil(t, bad)
		require.Equal(t, "role", bad.Field)
	})
	t.Run("nor makes event safety of who joined as crew", func(t *testing.T) {
		s, id := joined(t, RoleCrew)
		_, bad := load(s, Person{ID: id, PersonFields: PersonFields{Name: "Ada", Role: RoleSafety}})
		require.NotNil(t, bad)
	})
	t.Run("nobody becomes another by their id", func(t *testing.T) {
		s, id := joined(t, RoleCrew)
		_, bad := load(s, Person{ID: id, PersonFields: PersonFields{Name: "Bo", Role: RoleCrew}})
		require.NotNil(t, bad)
	})
	t.Run("nor is anyone there twice", func(t *testing.T) {
		s, id := joined(t, RoleCrew)
		ada := Person{ID: id, PersonFields: PersonFields{Name: "Ada", Role: RoleCrew}}
		_, bad := load(s, ada, ada)
		require.NotNil(t, bad)
	})
	t.Run("and who is not in the folder stays", func(t *testing.T) {
		s, id := joined(t, RoleCaptain)
		change, bad := load(s)
		require.Nil(t, bad)
		require.Equal(t, RoleCaptain, s.With(change).People[id].Role)
	})
}
