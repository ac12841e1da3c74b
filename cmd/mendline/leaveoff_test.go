package main

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// The heavyweight won't finish: the wall shows its chance in dots, the captain sees
// what would help, presses the best remedy, and it is on the board.
func TestBrowserTheCaptainAppliesTheBestRemedyByOnePress(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	phone := newDevice(t, "phone", 390, 844, true)
	captain := newDevice(t, "captain", 1280, 800, false)
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

	// Which remedy is best hangs on the minute: the text and what it sends are the
	// forecast's own, and the board is asked whether it was done.
	text := gets[string](captain, `document.querySelector(".remedy b").innerText`)
	require.Regexp(t, `helps in \d+ ± \d+ of 100 simulated days`, gets[string](captain, `document.querySelector(".remedy").innerText`))
	before := gets[string](captain, `document.querySelector(".remedies").innerText`)
	rev := s.desk.View().State.Rev
	captain.press(gets[string](captain, `document.querySelector(".remedy button").ariaLabel`))
	captain.waits(fmt.Sprintf(`document.querySelector(".slot .done.undoable")?.innerText.includes(%q)`, text), "what was done, with an undo")
	captain.waits(fmt.Sprintf(`document.querySelector(".remedies")?.innerText !== %q`, before), "a list that follows")
	captain.shot("leaveoff-captain-done")
	captain.press("undo")
	captain.sees("took back: " + text)
	deeds := []string{"job.defer", "job.fix", "job.assign", "job.hold", "station.change", "fight.postpone", "person.add"}
	require.Eventually(t, func() bool {
		did, undone := 0, 0
		for _, do := range s.done(t, rev) {
			switch {
			case slices.Contains(deeds, do):
				did++
			case do == "undo":
				undone++
			}
		}
		return did > 0 && did == undone
	}, patience, 50*time.Millisecond, "what the remedy did was taken back: %v", s.done(t, rev))
}
