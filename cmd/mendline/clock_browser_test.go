package main

import (
	"fmt"
	"net"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// serveSteppedDemo serves the demo on a laptop whose clock the test sets, with each module
// as it was written.
func serveSteppedDemo(t *testing.T) (s *served, step func(time.Duration)) {
	t.Helper()
	day, err := newPlay(time.Now())
	require.NoError(t, err)
	var off atomic.Int64
	now := func() time.Time { return day.now().Add(time.Duration(off.Load())) }
	return serveBoard(t, settings{now: now, boot: day.boot, pages: asWritten}, day), func(by time.Duration) { off.Store(int64(by)) }
}

// asksClock gives what an expression makes of a page's clock.
func asksClock[T any](d *device, expression string) T {
	d.t.Helper()
	return gets[T](d, fmt.Sprintf(`import("/core/clock.js").then(({ clock }) => %s)`, expression))
}

// hasTheTimeOf requires that a page has the board's time, as closely as it says itself.
func (d *device) hasTheTimeOf(s *served) {
	d.t.Helper()
	before := s.desk.Now()
	page := asksClock[[2]float64](d, "[clock.now(), clock.errorMs]")
	after := s.desk.Now()
	require.GreaterOrEqual(d.t, page[0], float64(before)-page[1]-1, d.name)
	require.LessOrEqual(d.t, page[0], float64(after)+page[1]+1, d.name)
}

// ticksOn notes how the seconds of an element change. What it gives waits for a few changes
// and requires that each second is one on from the one before, by as much as the page's
// own clock went on.
func (d *device) ticksOn(selector string, by int) (goesOn func()) {
	d.t.Helper()
	d.runs(fmt.Sprintf(`window.ticks = []; (() => {
  const sec = () => document.querySelector(%[1]q)?.textContent.split(":").reduce((sum, n) => 60 * sum + Number(n), 0);
  const look = () => { const is = sec(), last = ticks[ticks.length - 1]; if (!last || last[1] !== is) ticks.push([performance.now(), is]); };
  new MutationObserver(look).observe(document.body, { subtree: true, childList: true, characterData: true });
})()`, selector))
	return func() {
		d.t.Helper()
		d.waits(`ticks.length >= 4`, "an element that ticks: "+selector)
		ticks := gets[[][2]float64](d, `ticks`)
		for i := 1; i < len(ticks); i++ {
			require.Equal(d.t, float64(by), ticks[i][1]-ticks[i-1][1], "%s of %s: %v", selector, d.name, ticks)
		}
	}
}

func TestBrowserALaptopsClockThatIsSetIsSaidOnEveryScreenAndTimeGoesOn(t *testing.T) {
	inBrowser(t)
	s, step := serveSteppedDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	phone := newDevice(t, "phone", 390, 844, true)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Pia")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	all := []*device{wall, phone, captain}
	for _, d := range all {
		d.seesNot("The laptop's clock")
		d.waits(`!!document.querySelector("pit-age")`, "the board")
		d.hasTheTimeOf(s)
	}
	for by, said := range map[time.Duration]string{
		-20 * time.Minute: "The laptop's clock is 20 min behind the board.",
		26 * time.Hour:    "The laptop's clock is 26 h ahead of the board.",
	} {
		step(by)
		for _, d := range all {
			d.sees(said)
			d.hasTheTimeOf(s)
			d.shot(fmt.Sprintf("clock-%s-%s", by, d.name))
		}
		onWall, onPhone := wall.ticksOn("pit-clock", 1), phone.ticksOn("pit-left[data-sec]", -1)
		onWall()
		onPhone()
	}
	step(0)
	for _, d := range all {
		d.seesNot("The laptop's clock")
		d.hasTheTimeOf(s)
	}
}

// A screen draws itself as a second passes, and elements that count come into it: were the
// others told at once, it would be drawn within its own drawing.
func TestBrowserNothingTicksWithinATick(t *testing.T) {
	inBrowser(t)
	s, _ := serveSteppedDemo(t)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCrew, "Pia")
	phone.runs(`import("/core/clock.js").then(({ clock }) => {
  window.ticks = { count: 0, within: 0, most: 0, came: 0 };
  clock.each(() => {
    ticks.most = Math.max(ticks.most, ++ticks.within);
    if (++ticks.count === 2) clock.each(() => ticks.came++);
    ticks.within--;
  });
})`)
	phone.waits(`ticks.came >= 3`, "what came in a tick to go on")
	require.Equal(t, 1, gets[int](phone, `ticks.most`))
}

func TestBrowserAPageThatSleptCountsTheTime(t *testing.T) {
	inBrowser(t)
	s, _ := serveSteppedDemo(t)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCrew, "Pia")
	phone.waits(`!!document.querySelector("pit-age")`, "the board")
	phone.offline(true)
	before := asksClock[float64](phone, "clock.now()")
	phone.runs(`{ const today = Date.now; Date.now = () => today() + 600_000; }`) // performance.now stood
	phone.waits(`!!document.querySelector("pit-age[data-old]")`, "an old board")
	require.GreaterOrEqual(t, asksClock[float64](phone, "clock.now()"), before+600_000)
	phone.runs(`{ const today = Date.now; Date.now = () => today() - 900_000; }`) // someone set the phone
	phone.offline(false)
	phone.waits(`!document.querySelector("pit-age[data-old]")`, "the board again")
	phone.waits(`!!document.querySelector("pit-age")`, "the board")
	phone.hasTheTimeOf(s)
}

// away is a way to the board that a test can cut, which ends what goes over it.
type away struct {
	*served
	mu    sync.Mutex
	gone  bool
	lines map[net.Conn]bool
}

func (s *served) away(t testing.TB) *away {
	t.Helper()
	a := &away{lines: map[net.Conn]bool{}}
	a.served = s.by(t, func(phone, hall net.Conn) {
		a.mu.Lock()
		a.lines[phone] = true
		gone := a.gone
		a.mu.Unlock()
		if !gone {
			pass(phone, hall, func([]byte) {})
		}
	})
	t.Cleanup(func() { a.cut(true) })
	return a
}

// cut ends all that goes over it, and lets nothing through until it is mended.
func (a *away) cut(gone bool) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.gone = gone
	for line := range a.lines {
		line.Close()
	}
	clear(a.lines)
}

func TestBrowserTheCaptainSetsTheTimeAndEveryPageGoesByIt(t *testing.T) {
	inBrowser(t)
	s, step := serveSteppedDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	phone := newDevice(t, "phone", 390, 844, true)
	away := newDevice(t, "away", 390, 844, true)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Pia")
	way := s.away(t)
	way.joins(away, board.RoleCrew, "Wim")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	step(-20 * time.Minute)
	captain.press("set the board’s time")
	// What the captain's page asks for once a minute has to come without that as well.
	captain.runs(`setInterval = ((set) => (act, ms) => (ms >= 60_000 ? 0 : set(act, ms)))(setInterval)`)
	captain.runs(`location.hash = "#/me"`)
	captain.sees("my next move")
	captain.runs(`location.hash = "#/captain/time"`)
	captain.sees("The laptop's clock is 20 min behind the board.")
	captain.press("go by the laptop’s clock")
	captain.sees("The board's time goes back 20 min")
	captain.sees("become unknown, and each is made safe again")
	captain.shot("clock-moves")
	captain.press("cancel")
	captain.seesNot("goes back 20 min")
	require.Zero(t, s.desk.View().State.TimeOf())

	robot := s.robot("Tumsy Vole")
	away.open(way.url + "/#/robot/" + string(robot.ID))
	away.find("my hands are near")
	away.forgive("WebSocket connection to")
	away.forgive("net::ERR_")
	way.cut(true)
	away.press("my hands are near")
	away.sees("1 thing not sent yet")
	given := s.desk.Now()

	captain.press("go by the laptop’s clock")
	captain.press("SET THE TIME")
	for _, d := range []*device{wall, phone, captain} {
		d.seesNot("The laptop's clock is")
		d.waits(fmt.Sprintf(`document.documentElement.dataset.rev >= %d`, s.desk.View().State.TimeOf().V), "the set time")
		d.hasTheTimeOf(s)
	}
	require.Equal(t, -1200, s.desk.View().State.TimeOf().ShiftSec)
	for _, power := range s.desk.View().State.Powers {
		require.Equal(t, board.Unknown, power.State)
	}
	captain.sees("Set last by Ottoline")
	captain.shot("clock-set")
	wall.ticksOn("pit-clock", 1)()
	wall.shot("clock-set-wall")

	way.cut(false)
	away.seesNot("not sent yet")
	away.hasTheTimeOf(s)
	require.Eventually(t, func() bool { return s.near(robot.ID, s.person("Wim").ID) }, patience, 20*time.Millisecond)
	hands, _ := s.desk.View().State.HandsOf(robot.ID, s.person("Wim").ID)
	require.LessOrEqual(t, hands.At, given.Add(-20*time.Minute), "near since they were, on the time that was set meanwhile")
	require.Greater(t, hands.At, given.Add(-21*time.Minute))
}
