package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// ahead moves a page's own clocks on by hand, so that a test need not wait.
const ahead = `if (!window.skip) {
  window.skip = 0;
  const now = performance.now.bind(performance), today = Date.now;
  performance.now = () => now() + skip;
  Date.now = () => today() + skip;
}`

// TestBrowserScreensSayWhenTheBoardIsGoneAndComeBackWithIt stops the board under a
// phone and a wall, and starts it again on the same data.
func TestBrowserScreensSayWhenTheBoardIsGoneAndComeBackWithIt(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Bramwell")
	wall.sees("WORK")
	running := s.runningJobOf(s.person("Bramwell").ID)
	require.NotEmpty(t, running.ID)
	phone.open(s.url + "/#/robot/" + string(s.robot("Nettlepip").ID))
	phone.waits(`!!document.querySelector(".call-left")`, "the time to the call")
	phone.keepsItsPages()
	for _, d := range []*device{wall, phone} {
		d.runs(ahead)
	}
	before := s.epoch(phone)

	s.stop()
	left := gets[string](phone, `document.querySelector(".call-left").innerText`)
	phone.runs(`skip = 25_000`)
	wall.runs(`skip = 25_000`)
	phone.sees("no connection since")
	phone.sees("UNKNOWN to this screen")
	wall.sees("no connection since")
	wall.seesNot("WORK")
	phone.waits(`document.querySelector(".call-left").innerText !== "`+left+`"`, "the countdown to go on")
	wall.runs(`skip = 70_000`)
	wall.sees("not connected since")
	wall.shot("gone-wall")
	phone.shot("gone-phone")

	again := s.restarts(t)
	wall.seesNot("not connected since")
	phone.seesNot("no connection since")
	require.NotEqual(t, before, again.epoch(phone), "the board began a new epoch")
	wall.seesNot("WORK")
	again.agree(wall, phone)
	require.Equal(t, board.JobHeld, again.desk.View().State.Jobs[running.ID].State)
	phone.open(again.url + "/#/me/job/" + string(running.ID))
	phone.sees("the robot left work")
	for _, d := range []*device{wall, phone} {
		d.forgive("ERR_CONNECTION_REFUSED")
		d.forgive("ERR_CONNECTION_RESET")
		d.forgive("WebSocket connection to")
	}
}

// epoch asks the board which epoch a device would hear of.
func (s *served) epoch(d *device) string {
	d.t.Helper()
	return gets[string](d, `fetch("/api/board").then((r) => r.json()).then((b) => b.epoch)`)
}

func TestBrowserTheWallSaysCallNow(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Wim")
	wall.sees("Nettlepip")
	wall.seesNot("call now")
	phone.open(s.url + "/#/me/order")
	phone.types("on-Little-Box", "26")
	phone.press("fight 26 is on now")
	wall.sees("call now")
	phone.open(s.url + "/#/robot/" + string(s.robot("Nettlepip").ID))
	phone.sees("call now")
	wall.shot("call-now-wall")
}

// Browsers keep sound back until someone has touched the page: the wall says so.
func TestBrowserTheWallSaysThatItsSoundIsOff(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	s.joins(wall, board.RoleViewer, "")
	wall.sees("Grobblequill")
	wall.seesNot("sound off")
	wall.open("about:blank")
	wall.open(s.url + "/")
	wall.sees("sound off")
	wall.shot("sound-off-wall")
	wall.press("sound off")
	wall.seesNot("sound off")
	require.Zero(t, gets[int](wall, `[...document.querySelectorAll("button")].filter((b) => /silence|mute|take/i.test(b.innerText)).length`),
		"what can hurt people sounds until it is over")
}
