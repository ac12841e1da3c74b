package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// typesPIN types a PIN on the pad of a page.
func (d *device) typesPIN(pin string) {
	d.t.Helper()
	for _, key := range pin {
		d.press(string(key))
	}
}

func TestBrowserAnOfficialWithoutAPhoneSignsOnTheCaptainsDevice(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	robot := s.robot(beetleTurn.robot).ID
	s.does(t, "Ottoline", board.PersonAdd{PersonFields: board.PersonFields{Name: "Orla", Role: board.RoleCrew, Signer: true, From: "the officials"}})
	s.closedUp(t)
	s.does(t, "Pia", board.DamageReport{DamageFields: board.DamageFields{Robot: robot, Part: "rail", Grade: board.G1}})
	s.says(t, beetleTurn, "Pia", board.ListReady, "sign")
	desk := newDevice(t, "desk", 1280, 800, false)
	s.joins(desk, board.RoleCaptain, "Ottoline")
	desk.open(s.url + "/#/captain/alarms")
	desk.sees("to put right")
	desk.sees("damage 1 rail: left as it is, and nobody has accepted that")
	desk.shot("one-device-owed")
	captain := newDevice(t, "captain", 390, 664, true)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.open(s.sheetPage(beetleTurn.robot, board.ListReady))
	captain.press("someone else, or paper")
	captain.sees("a signer without a phone")
	captain.shot("one-device-who")
	captain.press("Orla sets a PIN here")
	captain.typesPIN("112358")
	captain.shot("one-device-pin")
	captain.press("this is orla’s pin")
	captain.sees("Orla answers on this phone")

	// The small damage wants a name first: she accepts it, by the same PIN.
	damage := string(s.damage("rail").ID)
	captain.open(s.url + "/#/me/standing/" + damage)
	captain.shot("one-device-damage")
	captain.press("someone else accepts it here")
	captain.sees("who accepts it")
	captain.press("Orla")
	captain.typesPIN("112358")
	captain.shot("one-device-accept")
	captain.hold("orla accepts it", `!location.hash.includes("standing-pin")`)
	s.agree(captain)
	require.Equal(t, s.person("Orla").ID, s.damage("rail").Acceptor)

	captain.open(s.sheetPage(beetleTurn.robot, board.ListReady))
	captain.press("someone else, or paper")
	captain.press("Orla")
	captain.typesPIN("112358")
	captain.press("orla answers")
	captain.sees("your own eyes")
	captain.hold("sign "+beetleTurn.robot, `!document.body.innerText.includes("your own eyes")`)
	s.agree(captain)
	require.Equal(t, s.person("Orla").ID, s.desk.View().State.Powers[robot].ReadyBy)
	captain.open(s.url + "/#/robot/" + string(robot))
	captain.sees("signed by Orla")
	captain.sees("on one device with Ottoline")
	captain.shot("one-device-signed")
	captain.open(s.url + "/sheet/robot/" + string(robot))
	captain.sees("accepted by Orla")
	captain.sees("on one device with Ottoline")
	captain.shot("one-device-printed")
	desk.seesNot("to put right")
	captain.open(s.url + "/#/captain/review")
	captain.sees("signed on one device with Ottoline")
}
