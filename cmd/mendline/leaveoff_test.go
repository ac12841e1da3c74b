package main

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// The heavyweight won't finish: the wall shows its chance in dots, the captain sees
// what would help, presses the best remedy, and it is on the board.
func TestBrowserTheCaptainAppliesTheBestRemedyByOnePress(t *testing.T) {
	t.Parallel()
	s := serveDemo(t)
	browser := newBrowser(t)
	wall := newDevice(t, browser, "wall", 1920, 1080, false)
	phone := newDevice(t, browser, "phone", 390, 844, true)
	captain := newDevice(t, browser, "captain", 1280, 800, false)
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Bramwell")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	heavy := s.robot("Grobblequill")

	wall.sees("WON’T FINISH")
	wall.waits(`[...document.querySelectorAll(".band .dots")].some((x) => x.children.length === 10)`, "ten dots on the wall")
	wall.shot("leaveoff-wall")
	phone.open(s.url + "/#/robot/" + string(heavy.ID))
	phone.sees("of 10 we make the call")
	phone.sees("why:")
	phone.shot("leaveoff-phone")

	captain.open(s.url + "/#/captain")
	captain.sees("leave off, or do otherwise")
	captain.sees("of 10 we make the call")
	captain.shot("leaveoff-captain")
	require.Empty(t, captain.accessible("leave-off list"))
	captain.open(s.url + "/#/captain/plan")
	captain.sees("will we make it")
	captain.shot("leaveoff-captain-plan")

	text := gets[string](captain, `document.querySelector(".remedy b").innerText`)
	require.Equal(t, "Borrow a spare G drive pod", text, "the part is what it waits for")
	require.Regexp(t, `(better on |no clear gain \()\d+ ± \d+ of 100 such days`, gets[string](captain, `document.querySelector(".remedy").innerText`))
	before := s.count("G drive pod")
	captain.press("do this: " + text)
	captain.waits(fmt.Sprintf(`document.querySelector(".acts .done.undoable")?.innerText.includes(%q)`, text), "what was done, with an undo")
	require.Equal(t, before+1, s.count("G drive pod"))
	captain.waits(fmt.Sprintf(`![...document.querySelectorAll(".remedy b")].some((x) => x.innerText === %q)`, text), "a list that follows")
	captain.shot("leaveoff-captain-done")
	captain.press("undo")
	captain.sees("took back: " + text)
	require.Equal(t, before, s.count("G drive pod"))
}

// count is how many there are of a spare.
func (s *served) count(spare string) int {
	for _, k := range s.desk.View().State.Stocks {
		if k.Name == spare {
			return k.Count
		}
	}
	return -1
}
