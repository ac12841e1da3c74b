package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// captainLists are the lists that stand beside the robots, as the hash has them.
var captainLists = []string{
	"order", "plan", "alarms", "person", "pack", "charging", "stock", "setups", "sheets", "review", "debrief",
	"event", "access", "time", "station", "place", "template", "channel", "circuit", "construction", "parts",
}

// calledAlike are what two controls in sight are called to ears, or what is called nothing.
const calledAlike = `(() => {
  const times = {};
  for (const e of document.querySelectorAll("button, a[href], summary")) {
    if (e.offsetParent === null || getComputedStyle(e).visibility === "hidden") continue;
    const name = (e.ariaLabel || e.innerText).replace(/\s+/g, " ").trim();
    times[name] = (times[name] ?? 0) + 1;
  }
  return Object.keys(times).filter((name) => times[name] > 1 || !name);
})()`

// unfold opens each thing in turn that hides acts.
const unfold = `(async (look) => {
  const found = [];
  for (const e of [...document.querySelectorAll(".row-head")]) {
    e.click();
    found.push(...look());
  }
  return [...new Set(found)];
})`

// Who hears the captain's screen hears of each button what it is about: none is called as another.
func TestBrowserNoTwoButtonsOfTheCaptainSoundAlike(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1366, 768, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.sees("running order")
	captain.press("alarm ▾")
	captain.sees("alarm ▴")
	var bad []string
	for _, list := range captainLists {
		captain.runs(fmt.Sprintf(`location.hash = "#/captain/%s"`, list))
		captain.waits(fmt.Sprintf(`!!document.querySelector(".tab-%s .beside")?.innerText && !document.querySelector(".beside").innerText.includes("reading the journal")`, list), "the list "+list)
		for _, name := range gets[[]string](captain, unfold+`(() => `+calledAlike+`)`) {
			bad = append(bad, list+": "+name)
		}
		captain.shot("captain-" + list)
	}
	require.Empty(t, bad, strings.Join(bad, "\n"))
}

// A form opens in the place of the other column, what it changes stays in sight. Escape
// closes it, and the focus is where it was.
func TestBrowserAFormOpensBesideWhatItChanges(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1024, 768, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	for _, c := range []struct{ hash, press, from string }{
		{"#/captain/order", "result: 22", ".beside"},
		{"#/captain/order", "who: 14", ".robots"},
	} {
		captain.runs(fmt.Sprintf(`location.hash = %q`, c.hash))
		captain.press(c.press)
		captain.waits(`!!document.activeElement.closest(".form")`, "the focus in the form")
		require.Equal(t, "", gets[string](captain, fmt.Sprintf(`(() => {
  const form = document.querySelector(".form").getBoundingClientRect(), from = document.querySelector(%q), was = from.getBoundingClientRect();
  if (getComputedStyle(from).visibility !== "visible") return "what it changes is hidden";
  return Math.min(form.right, was.right) - Math.max(form.left, was.left) > 1 ? "it covers what it changes" : "";
})()`, c.from)), c.press)
		captain.shot("captain-form" + strings.ReplaceAll(c.from, ".", "-"))
		for _, kind := range []input.DispatchKeyEventType{input.DispatchKeyEventTypeKeyDown, input.DispatchKeyEventTypeKeyUp} {
			_, err := chromedp.Call(captain.ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: kind, Key: "Escape", Code: "Escape", WindowsVirtualKeyCode: 27})
			require.NoError(t, err)
		}
		captain.waits(`!document.querySelector(".form")`, "no form")
		require.Contains(t, strings.ToLower(gets[string](captain, `document.activeElement.ariaLabel ?? ""`)), c.press)
	}
}

// running is a job that someone is at work on.
func (s *served) running(t *testing.T) board.Job {
	t.Helper()
	for _, job := range s.desk.View().State.Jobs {
		if job.State == board.JobRunning {
			return job
		}
	}
	t.Fatal("no job runs")
	return board.Job{}
}

// What was saved may take away the button that opened its form: the focus is in its row then.
func TestBrowserTheFocusIsInTheRowWhoseFormWasSaved(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1366, 768, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.sees("Swap weapon hub")
	job := s.running(t)
	captain.press(fmt.Sprintf("hold: %d", job.Number))
	captain.waits(`!!document.activeElement.closest(".form")`, "the focus in the form")
	captain.runs(`{ const why = document.querySelector(".form select"); why.value = "part"; why.dispatchEvent(new Event("change", {bubbles: true})); }`)
	captain.runs(`{ const when = document.getElementById("f-minutes"); when.value = "15"; when.dispatchEvent(new Event("change", {bubbles: true})); }`)
	captain.press("save")
	captain.sees("waits for a part, due about ")
	s.agree(captain)
	require.Equal(t, 15, s.desk.View().State.Jobs[job.ID].Part.Minutes)
	require.Equal(t, "row-"+string(job.ID), gets[string](captain, `document.activeElement.closest("[id^=row-]")?.id ?? document.activeElement.tagName`))
}

// tapNettlepip taps its tile: other buttons are called by it too.
const tapNettlepip = `[...document.querySelectorAll(".tile")].find((e) => e.innerText.includes("Nettlepip")).click()`

// toldOf notes of which nouns the board told a page.
const toldOf = `
window.told = new Set();
window.WebSocket = class extends WebSocket {
  set onmessage(hear) {
    super.onmessage = hear && ((e) => {
      const m = JSON.parse(e.data);
      for (const of of [m, ...(m.list ?? [])]) for (const key of [...Object.keys(of.put ?? {}), ...(of.del ?? [])]) told.add(key.split("/")[1]);
      hear(e);
    });
  }
};
`

// drawnRows notes which rows of jobs are drawn again, whether or not that changes a letter.
const drawnRows = `import("/vendor/preact.mjs").then(async ({ options }) => {
  for (let frame = 0; frame < 2; frame++) await new Promise(requestAnimationFrame); // what was told before is drawn
  window.drawn = new Set();
  window.jobs = [...document.querySelectorAll(".robots .row-of")].filter((e) => /^\d/.test(e.innerText)).map((e) => e.id.slice("row-".length));
  told.clear();
  options.vnode = (node) => { const id = String(node.props.id).slice("row-".length); if (jobs.includes(id)) drawn.add(id); };
  return true;
})`

// What changes on the board draws its own rows again, and no other. A tile leaves its
// robot's work alone, whatever list stands beside it.
func TestBrowserTheCaptainsScreenDrawsTheRowsThatChanged(t *testing.T) {
	inBrowser(t)
	s := serveSources(t)
	captain := s.watchedDevice(t, firstScreen{name: "captain", role: board.RoleCaptain, width: 1366, height: 768}, toldOf)
	captain.open("about:blank")
	captain.open(s.url + "/#/captain/order")
	captain.sees("Swap weapon hub")
	gets[bool](captain, drawnRows)
	job := s.job("Drive chain or belt")
	s.does(t, "Ottoline", board.JobAssign{Job: job.ID, People: []board.PersonID{s.person("Pia").ID}})
	captain.waits(fmt.Sprintf(`drawn.has(%q)`, job.ID), "its row")
	s.agree(captain)
	require.Empty(t, gets[[]string](captain, `[...drawn].filter((id) => !told.has(id))`), "rows drawn of which nothing was told")
	gets[bool](captain, drawnRows)
	captain.press("alarm ▾")
	captain.sees("alarm ▴")
	require.Empty(t, gets[[]string](captain, `[...drawn].filter((id) => !told.has(id))`), "rows drawn as the alarms unfold")

	captain.runs(tapNettlepip)
	captain.seesNot("Swap weapon hub")
	captain.press("people")
	captain.sees("add a person")
	shown := func() []string {
		return gets[[]string](captain, `[...document.querySelectorAll(".robots h2")].map((e) => e.innerText)`)
	}
	require.Equal(t, []string{"2 Nettlepip"}, shown())

	// A robot that is withdrawn has no tile to tap again: all come back by themselves.
	s.does(t, "Ottoline", board.RobotWithdraw{Robot: s.robot("Nettlepip").ID})
	captain.sees("Swap weapon hub")
	require.Len(t, shown(), len(s.desk.View().State.Robots))
}

// The three that pull against each other stand together: what works, the minutes, and
// what the day's hits have cost.
func TestBrowserCaptainAndDriverSeeWhatTodaysHitsCost(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1366, 768, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.sees("Nettlepip")
	captain.runs(tapNettlepip)
	captain.sees("less than whole: armour top")
	captain.sees("2 hits today: 18.30 crowns at list price, 18.30 crowns paid")
	robot := s.robot("Nettlepip")
	driver := newDevice(t, "driver", 390, 664, true)
	s.joins(driver, s.desk.View().State.People[robot.Driver].Role, s.desk.View().State.People[robot.Driver].Name)
	driver.open(s.url + "/#/robot/" + string(robot.ID))
	driver.sees("2 hits today: 18.30 crowns at list price, 18.30 crowns paid")
	driver.sees("what works now")
}

// fullPit is the demo's day with six robots and 86 jobs to do.
func fullPit(t testing.TB) *served {
	t.Helper()
	s := serveDemo(t)
	like := s.robot("Nettlepip").RobotFields
	for n := 4; n <= 6; n++ {
		like.Number, like.Name = n, fmt.Sprintf("Quibbler %d", n)
		s.does(t, s.person(s.named(board.RoleCaptain)).Name, board.RobotAdd{RobotFields: like})
	}
	manyJobs(t, s, 86)
	return s
}

// BenchmarkCaptain is how long the captain's screen holds the processor with six robots
// and 86 jobs: as it comes, as jobs change, and from one list to another. Its table of
// medians says by how much the machine was slowed by its other work meanwhile.
func BenchmarkCaptain(b *testing.B) {
	s := fullPit(b)
	d := newDevice(b, "captain", 1366, 768, false)
	s.joins(d, board.RoleCaptain, s.named(board.RoleCaptain))
	_, err := chromedp.Call(d.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: longTasks})
	require.NoError(b, err)
	jobs := board.Sorted(s.desk.View().State.Jobs, func(j board.Job) string { return fmt.Sprintf("%04d", j.Number) })
	jobs = slices.DeleteFunc(jobs, func(j board.Job) bool { return j.State != board.JobOpen })
	var loads, patches, turns, machine []float64
	for b.Loop() {
		d.open("about:blank")
		d.open(s.url + "/#/captain/order")
		d.waits(`document.querySelectorAll(".row-of").length > 86`, "all rows")
		loads = append(loads, gets[float64](d, longest))
		machine = append(machine, gets[float64](d, `(() => { const t = performance.now(); let x = 0; for (let i = 0; i < 2e7; i++) x += i % 7; return performance.now() - t + 0 * x; })()`))
		gets[float64](d, longest)
		for i, j := range jobs[:8] {
			s.does(b, s.person(s.named(board.RoleCaptain)).Name, board.JobAssign{Job: j.ID, People: []board.PersonID{s.person([]string{"Wim", "Pia"}[i%2]).ID}})
			s.agree(d)
		}
		patches = append(patches, gets[float64](d, longest))
		for _, list := range []string{"plan", "person", "template", "order"} {
			turns = append(turns, gets[float64](d, fmt.Sprintf(`new Promise((done) => {
  const began = performance.now();
  addEventListener("hashchange", () => requestAnimationFrame(() => setTimeout(() => done(performance.now() - began))), { once: true });
  location.hash = "#/captain/%s";
})`, list)))
		}
	}
	for _, all := range [][]float64{loads, patches, turns, machine} {
		slices.Sort(all)
	}
	b.Logf("\nlongest task: as it comes %.0f ms (least %.0f), as jobs change %.0f ms; a turn to another list %.0f ms (least %.0f, most %.0f); a loop of this machine's %.0f ms (least %.0f)",
		loads[len(loads)/2], loads[0], patches[len(patches)/2], turns[len(turns)/2], turns[0], turns[len(turns)-1], machine[len(machine)/2], machine[0])
}

// longTasks notes what held the page's processor for over 50 ms (W3C Long Tasks, from memory).
const longTasks = `window.longest = 0; new PerformanceObserver((l) => { for (const e of l.getEntries()) longest = Math.max(longest, e.duration); }).observe({ type: "longtask", buffered: true });`

// longest is the longest of them since it was last asked, 0 for none.
const longest = `new Promise((done) => setTimeout(() => { const was = window.longest; window.longest = 0; done(was); }, 1000))`
