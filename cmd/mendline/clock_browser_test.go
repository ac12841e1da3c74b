package main

import (
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// serveSteppedDemo serves the demo on a laptop whose clock the test sets.
func serveSteppedDemo(t *testing.T) (s *served, step func(time.Duration)) {
	t.Helper()
	day, err := newPlay(time.Now())
	require.NoError(t, err)
	var off atomic.Int64
	now := func() time.Time { return day.now().Add(time.Duration(off.Load())) }
	return serveBoard(t, settings{now: now, boot: day.boot}, day), func(by time.Duration) { off.Store(int64(by)) }
}

// asksClock gives what an expression makes of a page's clock.
func asksClock[T any](d *device, expression string) T {
	d.t.Helper()
	got, err := chromedp.Run(d.ctx, chromedp.Evaluate[T](
		fmt.Sprintf(`import("/core/clock.js").then(({ clock }) => %s)`, expression), chromedp.EvalAwaitPromise))
	if err != nil {
		d.fail("ask the page's clock: %v", err)
	}
	return got
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

// ticksOn waits while the seconds of an element change a few times and requires that each
// is one on from the one before, by as much as the page's own clock went on.
func (d *device) ticksOn(selector string, by int) {
	d.t.Helper()
	d.runs(fmt.Sprintf(`window.ticks = []; (() => {
  const sec = () => document.querySelector(%[1]q)?.textContent.split(":").reduce((sum, n) => 60 * sum + Number(n), 0);
  const look = () => { const is = sec(), last = ticks[ticks.length - 1]; if (!last || last[1] !== is) ticks.push([performance.now(), is]); };
  new MutationObserver(look).observe(document.body, { subtree: true, childList: true, characterData: true });
})()`, selector))
	d.waits(`ticks.length >= 5`, "an element that ticks: "+selector)
	ticks, err := chromedp.Run(d.ctx, chromedp.Evaluate[[][2]float64](`ticks`))
	require.NoError(d.t, err)
	for i := 1; i < len(ticks); i++ {
		require.Equal(d.t, float64(by), ticks[i][1]-ticks[i-1][1], "%s of %s: %v", selector, d.name, ticks)
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
		wall.ticksOn("pit-clock", 1)
		phone.ticksOn("pit-left[data-sec]", -1)
		step(0)
		for _, d := range all {
			d.seesNot("The laptop's clock")
			d.hasTheTimeOf(s)
		}
	}
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
