package main

import (
	"testing"

	"mendline/board"
)

func TestBrowserTheCaptainLocksTheDoorAndEndsManyAtOnce(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCrew, "Pia")
	captain.open(s.url + "/#/captain/access")
	captain.sees("Whoever has a code can join under a new name.")
	captain.press("lock the door")
	captain.sees("Only people on the roster can join.")

	guest := newDevice(t, "guest", 390, 844, true)
	guest.forgive("403 (Forbidden)")
	guest.open(s.url + "/j#" + testCodes[board.RoleCrew])
	guest.press("my name is not here")
	guest.types("name", "Wilhelmina")
	guest.types("pin", "135790")
	guest.press("JOIN AS Wilhelmina")
	guest.sees("The captain has locked the door")
	guest.shot("door-guest")

	captain.press("let new names in for a minute")
	captain.sees("Open to new names for")
	captain.shot("door-captain")
	guest.press("JOIN AS Wilhelmina")
	guest.seesNot("join the board")

	phone.forgive("401 (Unauthorized)")
	guest.forgive("401 (Unauthorized)")
	captain.press("look again")
	captain.sees("end all 2 with the crew code")
	captain.find("end all 2 with the crew code")
	captain.shot("door-ends")
	captain.hold("end all 2 with the crew code", `!document.body.innerText.includes("end all 2 with")`)
	phone.sees("join the board")
	guest.sees("join the board")
	captain.sees("connected now")
}
