package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestBrowserEventSafetySaysOnAPhoneWhatARobotHasNoMore(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	robot := s.robot(beetleTurn.robot)
	s.does(t, "Ottoline", board.RobotPlace{Robot: robot.ID, Place: s.place("Little bench")})
	juno := newDevice(t, "juno", 360, 640, true)
	s.joins(juno, board.RoleSafety, "Juno")
	juno.open(s.url + "/#/robot/" + string(robot.ID))
	juno.press("an energy is off it")
	juno.sees("what little bench is now")
	juno.types("reason", "its motor is out")
	juno.shot("less")
	juno.hold("no drive power any more", `![...document.querySelectorAll("button")].some((b) => b.innerText.includes("no drive power any more"))`)
	juno.waits(`!document.body.innerText.includes("sending")`, "the answer")
	juno.shot("less-done")
	require.NotContains(t, s.robot(beetleTurn.robot).Energies, robot.Energies[1])
	juno.press("staging")
	juno.sees("little bench: staging")
	s.agree(juno)
	require.Equal(t, board.PlaceStaging, s.desk.View().State.Places[s.place("Little bench")].Kind)
}
