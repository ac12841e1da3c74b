package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// A slow phone on a poor network: a processor so many times slower, a round trip, and
// bytes a second.
const (
	slowCPU        = 4
	slowRoundTrip  = 150 // ms
	slowThroughput = 1_600_000 / 8
)

// paint is how a page came to be seen, in milliseconds after it was asked for, and by
// how much it moved while it came (cumulative layout shift).
type paint struct {
	First, Largest, Shown float64
	Moved                 float64
	Requests, Bytes       int
	// Later is what was asked for before the screen was shown and the page does not name,
	// or a second time: it came a round trip later.
	Later []string
}

// paints notes what a page's own account does not keep.
const paints = `
window.paints = { largest: 0, moved: 0 };
new PerformanceObserver((l) => { for (const e of l.getEntries()) paints.largest = e.startTime; }).observe({ type: "largest-contentful-paint", buffered: true });
new PerformanceObserver((l) => { for (const e of l.getEntries()) if (!e.hadRecentInput) paints.moved += e.value; }).observe({ type: "layout-shift", buffered: true });
`

// lateForecast keeps back what the socket brings of a forecast, as a poor network does.
const lateForecast = `
window.WebSocket = class extends WebSocket {
  set onmessage(hear) {
    super.onmessage = hear && ((e) => (JSON.parse(e.data).t === "forecast" ? setTimeout(() => hear(e), 700) : hear(e)));
  }
};
`

const painted = `new Promise((done) => setTimeout(done, 1500)).then(() => fetch("/")).then((a) => a.text()).then((page) => {
  const shown = performance.getEntriesByType("mark").filter((e) => e.name.startsWith("shown"))[0].startTime;
  const all = [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")]
    .filter((e) => e.startTime < shown && !e.name.endsWith("icon.svg"));
  return {
    First: performance.getEntriesByName("first-contentful-paint")[0].startTime, Largest: paints.largest, Shown: shown, Moved: paints.moved,
    Later: all.slice(1).map((e) => new URL(e.name).pathname).filter((name, i, names) => !page.includes(name + '"') || names.indexOf(name) < i),
    Requests: all.length, Bytes: all.reduce((sum, e) => sum + e.transferSize, 0),
  };
})`

// firstScreen is a page that a person opens first, with what they then see.
type firstScreen struct {
	name          string
	role          board.Role
	sees          string
	width, height int64
	mobile        bool
}

var firstScreens = []firstScreen{
	{"phone", board.RoleCrew, "my next move", 390, 664, true},
	{"wall", board.RoleViewer, "Grobblequill", 1920, 1080, false},
	{"captain", board.RoleCaptain, "Grobblequill", 1366, 768, false},
}

// slow makes a device as slow as those above.
func (d *device) slow() {
	d.t.Helper()
	_, err := chromedp.Call(d.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slowCPU})
	require.NoError(d.t, err)
	_, err = chromedp.Call(d.ctx, network.SetCacheDisabled, network.SetCacheDisabledParams{CacheDisabled: true})
	require.NoError(d.t, err)
	_, err = chromedp.Call(d.ctx, cdp.Command[network.OverrideNetworkStateParams, cdp.Empty]{Method: "Network.emulateNetworkConditions"},
		network.OverrideNetworkStateParams{Latency: slowRoundTrip, DownloadThroughput: slowThroughput, UploadThroughput: slowThroughput})
	require.NoError(d.t, err)
}

// opensFirst opens the first page without a cache, and says how it came to be seen.
func (d *device) opensFirst(url, sees string) paint {
	d.t.Helper()
	d.open("about:blank")
	d.open(url)
	d.sees(sees)
	came := gets[paint](d, painted)
	d.open("about:blank") // or it would slow the next
	return came
}

// manyJobs adds work to the demo's first robot, as a bad day does.
func manyJobs(t testing.TB, s *served, more int) {
	t.Helper()
	robot := s.robot("Grobblequill")
	for n := range more {
		s.does(t, s.person(s.named(board.RoleCaptain)).Name, board.JobAdd{JobFields: board.JobFields{
			Robot: robot.ID, Name: fmt.Sprintf("Dress the edge of plate %d", n+1), Triage: board.Should,
			Fixes: []board.Fix{{Name: "file it", Way: board.WayMend, LikelySec: 180, BadSec: 400, Hands: []board.Skill{board.SkillMechanical}, Station: "bench", Where: board.OffRobot}},
		}})
	}
}

// movedMost is how much a page may move while it comes (cumulative layout shift): below
// what is called good in "Cumulative Layout Shift", web.dev, from memory.
const movedMost = 0.05

// What stands on a screen stays where it is: a thumb is on its way there.
func TestBrowserNothingMovesWhileAScreenComes(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	manyJobs(t, s, 80)
	for _, screen := range firstScreens {
		d := s.watchedDevice(t, screen, paints+lateForecast)
		s.foresees(d)
		p := d.opensFirst(s.url+"/", screen.sees)
		t.Logf("%s: %+v", screen.name, p)
		require.LessOrEqual(t, p.Moved, movedMost, screen.name)
		require.Subset(t, []string{"/api/health"}, p.Later, "%s: what it draws first, the board too, is asked for at once, and once", screen.name)
	}
}

// foresees waits until the forecast is of all that was entered.
func (s *served) foresees(d *device) {
	d.t.Helper()
	d.waits(fmt.Sprintf(`fetch("/api/forecast").then((r) => r.json()).then((f) => f.of >= %d)`, s.desk.View().State.Rev), "the forecast of all that was entered")
}

// watchedDevice joins as someone of a screen's role, and runs a script before each page.
func (s *served) watchedDevice(t testing.TB, screen firstScreen, script string) *device {
	t.Helper()
	d := newDevice(t, screen.name, screen.width, screen.height, screen.mobile)
	s.joins(d, screen.role, s.named(screen.role))
	_, err := chromedp.Call(d.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
	require.NoError(t, err)
	return d
}

// BenchmarkFirstPaint opens each screen as a slow phone on a poor network does. One run
// opens each once; the table of medians comes at the end.
func BenchmarkFirstPaint(b *testing.B) {
	s := serveDemo(b)
	manyJobs(b, s, 80)
	got := map[string][]paint{}
	for b.Loop() {
		for _, screen := range firstScreens {
			d := s.watchedDevice(b, screen, paints)
			s.foresees(d)
			d.slow()
			got[screen.name] = append(got[screen.name], d.opensFirst(s.url+"/", screen.sees))
		}
	}
	var table strings.Builder
	fmt.Fprintf(&table, "\n%8s %8s %8s %8s %8s %8s %8s\n", "screen", "first", "largest", "shown", "moved", "requests", "bytes")
	for _, screen := range firstScreens {
		middle := func(of func(paint) float64) float64 {
			var all []float64
			for _, p := range got[screen.name] {
				all = append(all, of(p))
			}
			slices.Sort(all)
			return all[len(all)/2]
		}
		fmt.Fprintf(&table, "%8s %8.0f %8.0f %8.0f %8.3f %8.0f %8.0f\n", screen.name,
			middle(func(p paint) float64 { return p.First }), middle(func(p paint) float64 { return p.Largest }), middle(func(p paint) float64 { return p.Shown }),
			middle(func(p paint) float64 { return p.Moved }), middle(func(p paint) float64 { return float64(p.Requests) }), middle(func(p paint) float64 { return float64(p.Bytes) }))
	}
	b.Log(table.String())
}
