package server

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestRule8EnergiesAndPlacesOverHTTPAreForTheLeadAndEventSafety(t *testing.T) {
	p := newPit(t)
	ben, dee := p.crew(), p.safety()
	p.told(board.PlaceAdd{PlaceFields: board.PlaceFields{Name: "bench 1", Kind: board.PlaceBench}})
	var bench board.PlaceID
	for id := range p.d.View().State.Places {
		bench = id
	}
	ben.do(board.RobotPlace{Robot: p.moth, Place: bench}).ok()
	off := board.RobotEnergyOff{Robot: p.moth, Energy: board.EnergyWeapon, Reason: "it is off"}
	arena := board.PlaceTurn{Place: bench, Kind: board.PlaceArena, Reason: "set up here"}
	for _, c := range []board.Command{off, arena} {
		for _, d := range []device{ben, p.join(board.RoleCrew, "Kit")} {
			require.Equal(t, 8, d.do(c).refused(http.StatusConflict, board.CodeSafety).Rule)
		}
	}
	off.Reason = ""
	require.Equal(t, "reason", dee.do(off).refused(http.StatusConflict, board.CodeSafety).Field)
	off.Reason = "it is off"
	dee.do(off).ok()
	dee.do(arena).ok()
	state := p.d.View().State
	require.Empty(t, state.Robots[p.moth].Energies)
	require.Equal(t, board.PlaceArena, state.Places[bench].Kind)
	require.Equal(t, p.dee, state.Places[bench].Loosened[0].By)
}
