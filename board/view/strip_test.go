package view_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/view"
)

func TestThePhaseFollowsThePowerState(t *testing.T) {
	robot := board.Robot{ID: "r", RobotFields: board.RobotFields{Name: "Sprat", Number: 1, Size: board.Light, Hands: 1}}
	for state, want := range map[board.PowerState]view.Phase{
		board.Unknown: view.PhaseMakeSafe, board.PoweredDown: view.PhaseMakeSafe, board.Isolated: view.PhaseMakeSafe,
		board.Verified: view.PhaseWork, board.Work: view.PhaseWork, board.ClosingUp: view.PhaseCloseUp,
		board.Test: view.PhaseTest, board.Ready: view.PhaseReady, board.Live: view.PhaseArena,
	} {
		s := board.FromNouns(1, []board.Noun{robot, board.Power{Robot: "r", State: state, Since: noon}}, nil)
		strip := view.Of(s, nil, noon).Strips[0]
		require.Equal(t, want, strip.Phase, state)
		require.NotEmpty(t, strip.Said)
	}
}
