package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

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
