package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
)

// After a test a job was finished off the robot, with the pack in. The refused signature
// leads to what the job owes, and that to the one answer which closes it.
func TestBrowserARefusedSignatureLeadsToWhatTheJobOwes(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	robot := s.robot(beetleTurn.robot)
	s.closedUp(t)
	s.does(t, "Pia", board.RobotTest{Robot: robot.ID, What: "drive", Place: s.place("Test box"), Minutes: 5})
	s.does(t, "Pia", board.RobotTestEnd{Robot: robot.ID})
	s.does(t, "Wim", board.JobAdd{JobFields: board.JobFields{
		Robot: robot.ID, Name: "Dress the burrs", Triage: board.Should, Fixes: []board.Fix{boardtest.DressBurrs()},
	}})
	s.does(t, "Wim", board.JobStart{Job: s.job("Dress the burrs").ID})
	s.does(t, "Wim", board.JobFinish{Job: s.job("Dress the burrs").ID})
	s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "")
	s.does(t, "Pia", board.RobotCloseUp{Robot: robot.ID})
	s.says(t, beetleTurn, "Pia", board.ListCloseUp, "")
	s.says(t, beetleTurn, "Pia", board.ListReady, "sign")

	wim := newDevice(t, "wim", 390, 664, true)
	s.joins(wim, board.RoleCrew, "Wim")
	wim.sees("what job 1 owes")
	wim.shot("owes-next-390")
	wim.press("what job 1 owes")
	wim.sees("answers for pack N2")
	wim.shot("owes-390")

	phone := newDevice(t, "edda", 360, 640, true)
	s.joins(phone, board.RoleCrew, "Edda")
	phone.open(s.sheetPage(beetleTurn.robot, board.ListReady))
	sign := "SIGN " + strings.ToUpper(beetleTurn.robot)
	phone.hold(sign, `document.body.innerText.includes("Not done")`)
	job := s.job("Dress the burrs")
	phone.sees("it is not closed yet")
	phone.shot("owes-refused-360")
	phone.press(fmt.Sprintf("what job %d owes", job.Number))
	phone.sees("answers for pack N2")
	require.Empty(t, phone.fits("what the job owes"))
	phone.shot("owes-360")
	phone.press("ANSWER IT")
	phone.sees("which one?")
	phone.press("N2: in robot")
	phone.sees("Nobody has read the cells of pack N2")
	line := gets[string](phone, "location.hash")
	takes(phone).readsCells(s, "N2", "4.05")
	phone.open(s.url + "/" + line)
	phone.press("N2: in robot")
	phone.waits(`location.hash === "#/me"`, "my next move")
	require.Equal(t, board.JobClosed, s.job("Dress the burrs").State)
	phone.open(s.sheetPage(beetleTurn.robot, board.ListReady))
	phone.hold(sign, fmt.Sprintf(`!document.body.innerText.includes(%q)`, sign))
	require.Eventually(t, func() bool { return s.state(beetleTurn.robot) == board.Ready }, patience, 20*time.Millisecond)
}

// Work with a pack in is looked at by someone who did not do it: an official without a
// phone, on the captain's device.
func TestBrowserAnOfficialLooksAtWorkAgainOnTheCaptainsDevice(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	robot := s.robot(beetleTurn.robot).ID
	s.does(t, "Ottoline", board.PersonAdd{PersonFields: board.PersonFields{Name: "Orla", Role: board.RoleCrew, Signer: true, From: "the officials"}})
	s.cart(t, beetleTurn, "Ottoline")
	s.says(t, beetleTurn, "Ottoline", board.ListMakeSafe, "")
	s.does(t, "Ottoline", board.TagOn{Robot: robot})
	s.says(t, beetleTurn, "Ottoline", board.ListFirstIn, "")
	fix := boardtest.DressBurrs()
	fix.Name, fix.Station, fix.Where, fix.Lockout, fix.PackOut = "swap wheel", board.StationBench, board.AtRobot, true, true
	s.does(t, "Ottoline", board.JobAdd{JobFields: board.JobFields{Robot: robot, Name: "Swap the wheel", Triage: board.Should, Fixes: []board.Fix{fix}}})
	job := s.job("Swap the wheel").ID
	s.does(t, "Ottoline", board.JobStart{Job: job})
	s.does(t, "Ottoline", board.PackMove{Pack: s.pack("N2").ID, Robot: robot, Found: true})
	s.does(t, "Ottoline", board.PackMove{Pack: s.pack("N2").ID, Place: s.place("Charging shelf")})
	s.does(t, "Ottoline", board.JobFinish{Job: job})
	for id := range s.desk.View().State.Tags {
		s.does(t, "Ottoline", board.TagOff{Tag: id})
	}
	s.says(t, beetleTurn, "Ottoline", board.ListMakeSafe, "")
	s.does(t, "Ottoline", board.TagOn{Robot: robot})
	s.says(t, beetleTurn, "Ottoline", board.ListFirstIn, "")

	captain := newDevice(t, "captain", 360, 640, true)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.open(s.url + "/#/me/job/" + string(job))
	captain.sees("looks at the work again, then it closes")
	captain.shot("look-again-owes")
	captain.press("someone looks at it here")
	captain.sees("who looks at")
	captain.shot("look-again-who")
	captain.press("Orla")
	captain.typesPIN("112358")
	captain.shot("look-again-pin")
	captain.hold("orla looked again", `!location.hash.includes("look-again")`)
	s.agree(captain)
	require.Equal(t, s.person("Orla").ID, s.job("Swap the wheel").Reinspected.By)
	require.Equal(t, board.JobClosed, s.job("Swap the wheel").State)
}
