package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestBrowserAHardlyLikelyWeightIsAskedAgainOnPhoneAndForm(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	robot := s.robot(beetleTurn.robot).ID
	s.closedUp(t)
	s.says(t, beetleTurn, "Pia", board.ListReady, "mass")
	weighed := func() board.Weighing { return s.desk.View().State.Fits[robot].Weighed }
	phone := newDevice(t, "phone", 360, 640, true)
	s.joins(phone, board.RoleCrew, "Pia")
	phone.open(s.sheetPage(beetleTurn.robot, board.ListReady))
	for _, key := range "13" {
		phone.press(string(key))
	}
	phone.press("the scale reads 13 g")
	phone.sees("13 g is under half of the")
	phone.inReach("yes · nettlepip 13 g")
	phone.shot("scale-asked")
	require.Zero(t, weighed().At, "a number that was asked about is not kept")
	phone.press("5")
	phone.seesNot("under half")
	phone.press("back")
	phone.press("the scale reads 13 g")
	phone.hold("yes · nettlepip 13 g", `!document.body.innerText.includes("as it will fight")`)
	s.agree(phone)
	require.Equal(t, 13.0, weighed().Grams)
	require.True(t, weighed().Sure)

	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.open(s.url + "/#/captain/setups/" + string(robot))
	captain.press("enter a reading")
	captain.types("f-grams", "13600")
	captain.press("save")
	captain.sees("13600 g is over the")
	captain.shot("scale-asked-captain")
	require.Equal(t, 13.0, weighed().Grams)
	captain.press("yes, that is so")
	captain.seesNot("what does the scale read of")
	s.agree(captain)
	require.Equal(t, 13600.0, weighed().Grams)
}
