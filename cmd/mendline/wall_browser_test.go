package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// monitors are walls as they are set up: pixels, inches, and metres to the reader.
var monitors = []struct {
	width, height int64
	inches, away  float64
}{{1920, 1080, 43, 4}, {1280, 720, 32, 3}, {1920, 1080, 24, 2}, {1920, 1080, 24, 4}, {3840, 2160, 55, 4}, {1920, 1080, 55, 3}}

// wallFaults tells what a wall cuts, lays over something or shows too small.
const wallFaults = `(() => {
  const found = [], am = Number(document.documentElement.style.getPropertyValue("--am"));
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT, (n) => n.data.trim() && n.parentElement.offsetParent !== null && !n.parentElement.closest(".unseen, #said") ? 1 : 2);
  const seen = [];
  for (let n; (n = texts.nextNode());) {
    const e = n.parentElement, range = document.createRange();
    range.selectNodeContents(n);
    const size = parseFloat(getComputedStyle(e).fontSize) * .7 / am;
    if (size < 9.9 && !e.closest(".notice.emergency")) found.push("too small, " + size.toFixed(1) + "′: " + n.data);
    for (let r of range.getClientRects()) {
      if (r.width < 1) continue;
      if (e.closest(".figures")) r = new DOMRect(r.x, r.y + .2 * r.height, r.width, .6 * r.height); // figures have no tails
      const slack = r.height * .16;
      for (let box = e; box; box = box.parentElement) {
        const b = box.getBoundingClientRect();
        if (box !== document.documentElement && getComputedStyle(box).overflow === "visible") continue;
        const clip = box === document.documentElement ? {left: 0, top: 0, right: innerWidth, bottom: innerHeight} : b;
        if (r.left < clip.left - 2 || r.right > clip.right + 2 || r.top < clip.top - slack || r.bottom > clip.bottom + slack) { found.push("cut: " + n.data + " by " + (box.className || box.tagName)); break; }
      }
      if (!e.closest(".lane")) seen.push({r, e, text: n.data});
    }
  }
  for (const [i, a] of seen.entries()) for (const b of seen.slice(i + 1)) {
    if (a.e.contains(b.e) || b.e.contains(a.e)) continue;
    const wide = Math.min(a.r.right, b.r.right) - Math.max(a.r.left, b.r.left), high = Math.min(a.r.bottom, b.r.bottom) - Math.max(a.r.top, b.r.top);
    if (wide > 4 && high > .35 * Math.min(a.r.height, b.r.height)) found.push("overlap: " + a.text + " / " + b.text);
  }
  return [...new Set(found)];
})()`

func (d *device) wallFaults(url, what string) []string {
	d.t.Helper()
	var all []string
	for _, m := range monitors {
		d.do(chromedp.EmulateViewport(m.width, m.height))
		d.runs(fmt.Sprintf(`localStorage.setItem("wall", JSON.stringify({inches: %g, metres: %g}))`, m.inches, m.away))
		d.open("about:blank")
		d.open(url + "/#/wall")
		d.waits(`!!document.querySelector("main.wall .board")`, "the wall at this size")
		d.runs(`new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))`)
		at := fmt.Sprintf("%s, %g in at %g m, %dx%d", what, m.inches, m.away, m.width, m.height)
		for _, f := range gets[[]string](d, wallFaults) {
			all = append(all, at+": "+f)
		}
		if os.Getenv("MENDLINE_SHOTS") != "" {
			d.shot("wall-" + strings.NewReplacer(" ", "-", ",", "").Replace(at))
		}
	}
	return all
}

func TestBrowserAWallCutsNothingAndNamesWhoIsIn(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	s.joins(wall, board.RoleViewer, "")
	wall.sees("Grobblequill")
	wall.seesNot("connecting")
	bad := wall.wallFaults(s.url, "plain")
	for _, name := range []string{"Bramwell", "Ottoline", "Tilly", "v Ozzlemere"} {
		wall.sees(name)
	}
	s.does(t, "Wim", board.FightNow{Arena: "Little Box", Number: 26})
	wall.sees("call now")
	bad = append(bad, wall.wallFaults(s.url, "call now")...)
	s.does(t, "Juno", board.EmergencyRaise{Robot: s.robot("Grobblequill").ID})
	wall.sees("EMERGENCY at")
	bad = append(bad, wall.wallFaults(s.url, "emergency")...)
	require.Empty(t, bad, strings.Join(bad, "\n"))
}

// sizes are walls from the smallest to the largest that teams bring.
var sizes = []struct {
	width, height int64
	inches, away  float64
}{
	{1280, 720, 24, 2}, {1280, 720, 32, 4}, {1920, 1080, 24, 4}, {1920, 1080, 32, 3}, {1920, 1080, 43, 4}, {1920, 1080, 55, 4},
	{3840, 2160, 43, 3}, {3840, 2160, 55, 4},
}

// played has a page hear what a test wants it to: that the board takes no changes, or
// nothing any more.
const played = `
window.played = { readOnly: "", silent: false };
window.WebSocket = class extends WebSocket {
  set onmessage(hear) {
    super.onmessage = hear && ((e) => {
      if (played.silent) return;
      const m = JSON.parse(e.data);
      hear(m.t === "beat" ? { data: JSON.stringify({ ...m, readOnly: played.readOnly }) } : e);
    });
  }
};
`

// wallAgain shows the wall again, as it is set up for a screen and a reader, without
// loading the page.
const wallAgain = `(async (width, inches, metres) => {
  const pause = () => new Promise((done) => setTimeout(done, 5));
  for (let n = 0; n < 200 && Math.max(screen.width, innerWidth) !== width; n++) await pause();
  localStorage.setItem("wall", JSON.stringify({ inches, metres }));
  for (const screen of ["me", "wall"]) {
    location.hash = "#/" + screen;
    while (!!document.querySelector("main.wall") !== (screen === "wall")) await pause();
  }
  await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
})`

// lasting is what a look finds that stays: a wall is laid out again a moment after its size.
const lasting = `(async (look) => {
  let found = look();
  for (let n = 0; n < 40 && found.length > 0; n++) {
    await new Promise((done) => setTimeout(done, 25));
    found = look();
  }
  return found;
})`

// Whatever stands on it, a wall of any size cuts nothing and lays nothing over anything.
func TestBrowserAWallOfAnySizeCutsNothingInAnyState(t *testing.T) {
	inBrowser(t)
	k := tellsText(t, "walls", sixRobots(), "Ben")
	wall := newDevice(t, "any-wall", 1920, 1080, false)
	_, err := chromedp.Call(wall.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: played})
	require.NoError(t, err)
	k.joins(wall, board.RoleViewer, "")
	wall.waits(`!!document.querySelector("main.wall")`, "the wall")
	var bad []string
	looks := func(n int, state string) {
		for _, m := range sizes {
			wall.do(chromedp.EmulateViewport(m.width, m.height))
			wall.runs(fmt.Sprintf("%s(%d, %g, %g)", wallAgain, m.width, m.inches, m.away))
			at := fmt.Sprintf("%s, %d robots, %g in at %g m, %dx%d", state, n, m.inches, m.away, m.width, m.height)
			require.True(t, gets[bool](wall, `!!document.querySelector("main.wall")`), at)
			for _, f := range gets[[]string](wall, lasting+"(() => "+wallFaults+")") {
				bad = append(bad, at+": "+f)
			}
			if os.Getenv("MENDLINE_SHOTS") != "" {
				wall.shot("size-" + strings.NewReplacer(" ", "-", ",", "").Replace(at))
			}
		}
	}
	names := []string{"Sprat", "Alder", "Birch", "Rowan", "Hazel", "Willow"}
	for _, n := range []int{6, 3, 2, 1} {
		for len(names) > n {
			k.does(t, "Ada", board.RobotWithdraw{Robot: k.robot(names[len(names)-1]).ID})
			names = names[:len(names)-1]
		}
		wall.waits(fmt.Sprintf(`Number(document.documentElement.dataset.rev) === %d`, k.desk.View().State.Rev), "the newest revision")
		looks(n, "plain")
		wall.runs(`played.readOnly = "The disk is full. Nothing is taken down."`)
		wall.sees("The disk is full")
		looks(n, "read-only")
		wall.runs(`played.readOnly = ""`)
		wall.seesNot("The disk is full")
		wall.runs(`played.silent = true; played.now = performance.now; performance.now = () => played.now.call(performance) + 70_000`)
		wall.sees("NOT CONNECTED SINCE")
		looks(n, "offline")
		wall.runs(`performance.now = played.now; played.silent = false`)
		wall.seesNot("NOT CONNECTED SINCE")
		k.does(t, "Ada", board.RobotDoubt{Robot: k.robot(names[n-1]).ID, Why: "the light came on by itself"})
		wall.sees("PEOPLE")
		looks(n, "alarms")
		k.does(t, "Ada", board.EmergencyRaise{Robot: k.robot(names[n-1]).ID})
		wall.sees("EMERGENCY at " + names[n-1])
		looks(n, "emergency")
		for _, e := range k.desk.View().State.Emergencies {
			if e.EndedAt == 0 {
				k.does(t, "Ada", board.EmergencyEnd{Emergency: e.ID, How: "a steward looked"})
			}
		}
		wall.seesNot("EMERGENCY at")
	}
	require.Empty(t, bad, strings.Join(bad, "\n"))
}
