package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// The most that it takes from an empty board to a countdown and one job on a crew phone,
// the joining of both devices with it: our decision, no source.
const (
	firstTaps   = 12
	firstFields = 6
)

// newcomer is a hand that fills in fields too.
type newcomer struct {
	*hand
	fields int
}

// arrives opens the join page of a new board and begins the count.
func (s *served) arrives(d *device, role board.Role) *newcomer {
	d.t.Helper()
	d.open(s.url + "/j#" + testCodes[role])
	d.waits(`!!document.querySelector(".names, #name")`, "the names, or a field for one")
	return &newcomer{hand: takes(d)}
}

func (n *newcomer) fills(id, text string) {
	n.t.Helper()
	n.types(id, text)
	n.fields++
}

// ticked waits until a step is done.
func (n *newcomer) ticked(step int) {
	n.t.Helper()
	n.waits(fmt.Sprintf(`document.querySelectorAll(".first-steps .step-mark")[%d]?.textContent === "✓"`, step), fmt.Sprintf("step %d done", step+1))
}

// brokenNumbers are the numbers to press that do not stand in one line.
const brokenNumbers = `[...document.querySelectorAll(".numbers .words")].filter((e) => {
  const range = document.createRange();
  range.selectNodeContents(e);
  return range.getClientRects().length !== 1;
}).map((e) => e.innerText)`

// A captain who has never seen the board comes from an empty folder to a countdown and one
// job on a crew phone, on a laptop and on a phone of their own.
func TestBrowserANewCaptainComesFromNothingToACountdownAndAJob(t *testing.T) {
	for _, c := range []struct {
		device string
		width  int64
		mobile bool
	}{{"laptop", 1280, false}, {"phone", 390, true}} {
		t.Run(c.device, func(t *testing.T) {
			inBrowser(t)
			s := serveBoard(t, settings{now: time.Now}, nil)
			ada := s.arrives(newDevice(t, "ada", c.width, 800, c.mobile), board.RoleCaptain)
			ada.fills("name", "Ada")
			ada.fills("pin", "135790")
			ada.shot("first-join-" + c.device)
			ada.tap("join as Ada")
			ada.sees("First steps · 0 of 5")
			ada.shot("first-empty-" + c.device)

			ada.fills("first-names", "Bo\nCy")
			ada.shot("first-people-" + c.device)
			ada.tap("add Bo")
			ada.ticked(0)
			ada.fills("first-robot", "Moth")
			ada.shot("first-robots-" + c.device)
			ada.tap("beetleweight 3 lb")
			ada.tap("add Moth")
			ada.ticked(1)
			ada.tap("12")
			ada.shot("first-fights-" + c.device)
			require.Empty(t, ada.accessible("the first steps"))
			ada.tap("add 12")
			ada.ticked(2)
			ada.shot("first-on-" + c.device)
			require.Empty(t, gets[[]string](ada.device, brokenNumbers), "numbers whose digits stand below each other")
			ada.tap("3 is on now")
			ada.ticked(3)
			ada.shot("first-safety-" + c.device)
			ada.waits(`!!document.querySelector(".robots .call-left, .tile-call pit-left")`, "the countdown")
			ada.tap("add a job")
			ada.fills("f-name", "Swap wheel")
			ada.tap("Bo")
			ada.shot("first-job-" + c.device)
			ada.tap("save")
			ada.sees("1 Swap wheel")
			ada.shot("first-captain-" + c.device)

			bo := s.arrives(newDevice(t, "bo", 390, 740, true), board.RoleCrew)
			bo.tap("Bo")
			bo.fills("pin", "246802")
			bo.tap("join as Bo")
			bo.sees("1 Swap wheel")
			bo.shot("first-crew-" + c.device)
			for _, n := range []*newcomer{ada, bo} {
				n.tap("? help")
				n.sees("treat it as live")
				n.shot("first-help-" + n.name + "-" + c.device)
				n.taps--
				n.again++ // help is no part of the way
			}

			taps, fields := ada.taps+bo.taps, ada.fields+bo.fields
			t.Logf("%d taps of %d, %d fields of %d", taps, firstTaps, fields, firstFields)
			require.LessOrEqual(t, taps, firstTaps)
			require.LessOrEqual(t, fields, firstFields)
			for _, n := range []*newcomer{ada, bo} {
				require.Equal(t, n.taps+n.again, gets[int](n.device, `counted.pointers`), "%s: pointers that the page felt", n.name)
			}
		})
	}
}
