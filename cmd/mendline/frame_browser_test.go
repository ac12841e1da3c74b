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

// frames are a small phone, a common one with the browser's bars, and one that is turned.
var frames = [][2]int64{{360, 640}, {390, 664}, {844, 390}}

// largeText is a root font half as large again: then the page as a whole may scroll.
const largeText = "24px"

// faults tells what a hand or an eye cannot get at on a page: the foot and the slot as
// they stand, all else scrolled into sight.
const faults = `((frameFits) => {
  const main = document.querySelector("main"), found = [];
  const rect = (e) => e.getBoundingClientRect();
  const words = (e) => (e.innerText || e.ariaLabel || e.id || e.className).trim().replace(/\s+/g, " ").slice(0, 60);
  const seen = (e) => e.offsetParent !== null && !e.closest(".unseen, .spoken, [inert]");
  const tall = (e) => !fixed(e) && rect(e).height > (document.querySelector(".middle")?.clientHeight ?? innerHeight) - 8;
  const on = (e, x, y) => { const at = document.elementFromPoint(x, y); return at && (e.contains(at) || at.contains(e) && at.closest("button, a, label, summary") === e); };
  const whole = (e) => {
    if (tall(e)) return true;
    const r = rect(e), [l, t] = [Math.ceil(r.left) + 3, Math.ceil(r.top) + 3];
    return [[r.left + r.width / 2, r.top + r.height / 2], [l, t + r.height / 2 - 3], [r.right - 4, t + r.height / 2 - 3], [l + r.width / 2 - 3, t], [l + r.width / 2 - 3, r.bottom - 4]].every(([x, y]) => on(e, x, y));
  };
  const controls = [...document.querySelectorAll("button, a[href], input:not(.unseen), select, textarea, summary, label.file")].filter(seen);
  const fixed = (e) => e.matches(".main") || e.closest(".foot, .slot, .robot-head");
  if (frameFits) {
    if (document.documentElement.scrollHeight > innerHeight) found.push("the page as a whole scrolls by " + (document.documentElement.scrollHeight - innerHeight) + " px");
    for (const e of controls.filter(fixed)) if (!whole(e)) found.push("not in reach as the page opens: " + words(e));
    const room = document.querySelector(".middle")?.clientHeight ?? 0;
    if (room < 120) found.push("the middle has " + room + " px");
  }
  for (const e of controls) {
    e.scrollIntoView({block: "nearest"});
    if (!whole(e)) found.push("under something, or cut: " + words(e));
    for (const o of controls) {
      if (o === e || o.contains(e) || e.contains(o) || Boolean(fixed(o)) !== Boolean(fixed(e))) continue;
      const a = rect(e), b = rect(o);
      if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1) found.push("overlap: " + words(e) + " / " + words(o));
    }
  }
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT, (n) => n.data.trim() && seen(n.parentElement) && getComputedStyle(n.parentElement).visibility === "visible" ? 1 : 2);
  for (let n; (n = texts.nextNode());) {
    const e = n.parentElement;
    if (e.closest("option, #said, .fill") || getComputedStyle(e).pointerEvents === "none") continue;
    if (!fixed(e) || !frameFits) e.scrollIntoView({block: "nearest"});
    const range = document.createRange();
    range.selectNodeContents(n);
    const box = e.closest("button, a.press, label.file");
    for (const r of range.getClientRects()) {
      if (r.width < 1) continue;
      if (r.left < -1 || r.right > innerWidth + 1) { found.push("text off the side: " + n.data); break; }
      const edge = box && rect(box);
      if (edge && (r.left < edge.left - 1 || r.right > edge.right + 1 || r.top < edge.top - 3 || r.bottom > edge.bottom + 3)) { found.push("text out of its button: " + n.data); break; }
      if (!fixed(e)) {
        const middle = document.querySelector(".middle"), m = middle && rect(middle);
        if (m && (r.top < m.top - 2 || r.bottom > m.bottom + 2)) e.scrollIntoView({block: "center"});
      }
    }
    const [first] = range.getClientRects();
    if (!first) continue;
    const at = document.elementFromPoint(Math.max(1, first.left + first.width / 2), first.top + first.height / 2);
    const hit = box ?? e;
    if (!at || !(hit.contains(at) || at.contains(hit))) found.push("a line under something: " + n.data.slice(0, 60) + " (under " + (at ? words(at) : "the edge") + ")");
  }
  return [...new Set(found)];
})`

// frameFaults looks at a page at each size, and small with large text.
func (d *device) frameFaults(what string, large bool) []string {
	d.t.Helper()
	var all []string
	pictures := os.Getenv("MENDLINE_SHOTS") != ""
	look := func(width, height int64, text string) {
		d.do(chromedp.EmulateViewport(width, height, chromedp.EmulateScale(2), chromedp.EmulateMobile, chromedp.EmulateTouch))
		d.atTop()
		d.runs(fmt.Sprintf(`document.documentElement.style.fontSize = %q; new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))`, text))
		at := fmt.Sprintf("%s at %d×%d %s", what, width, height, text)
		for _, f := range gets[[]string](d, fmt.Sprintf("%s(%t)", faults, text == "")) {
			all = append(all, at+": "+f)
		}
		if pictures {
			d.atTop()
			d.shot("frame-" + strings.NewReplacer(" ", "-", "×", "x").Replace(at))
		}
	}
	for _, size := range frames {
		look(size[0], size[1], "")
	}
	if large {
		look(frames[0][0], frames[0][1], largeText)
	}
	return all
}

// Nothing on a phone floats over anything: the head, the slot and the foot stand, the
// middle scrolls, and each control can be pressed and each line read at every size, with
// something to take back, something not sent and something refused, and in an emergency.
func TestBrowserAPhonesFrameCoversAndCutsNothing(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", frames[0][0], frames[0][1], true)
	juno := newDevice(t, "juno", frames[0][0], frames[0][1], true)
	s.joins(pia, board.RoleCrew, "Pia")
	s.joins(juno, board.RoleSafety, "Juno")
	heavy, light, vole := s.robot("Grobblequill").ID, s.robot("Nettlepip").ID, s.robot("Tumsy Vole").ID
	job, pack := s.job("Ask Halfpenny Forge for a drive pod"), s.aPack()
	sheet := func(robot board.RobotID, list board.SheetList) string {
		of, ok := s.desk.View().State.Sheet(robot, list)
		require.True(t, ok, list)
		return "#/sheet/" + string(of.ID)
	}
	type look struct{ name, hash, sees string }
	some := []look{
		{"next", "#/me", "my next move"},
		{"robot", "#/robot/" + string(heavy), "something new"},
		{"job", "#/me/job/" + string(job.ID), job.Name},
		{"make-safe", sheet(vole, board.ListMakeSafe), "line"},
		{"damage", "#/damage/" + string(light), "report it"},
		{"emergency", "#/me/emergency/" + string(light), "hold the button"},
	}
	rest := []look{
		{"more", "#/me/more", "running order"},
		{"hold", "#/me/hold/" + string(job.ID), "why"},
		{"trouble", "#/me/trouble/" + string(heavy), "trouble"},
		{"doubt", "#/me/doubt/" + string(heavy), "what you saw"},
		{"place", "#/me/place/" + string(heavy), "where is"},
		{"test", "#/me/test/" + string(light), "what is tested"},
		{"order", "#/me/order", "is on now"},
		{"packs", "#/me/packs", pack.Name},
		{"fights", "#/me/fights", "in by"},
		{"move", "#/me/move/" + string(pack.ID), "keep it for"},
		{"pack", "#/me/pack/" + string(pack.ID), pack.Name},
		{"read", "#/me/read/" + string(pack.ID), pack.Name},
		{"charge", "#/me/charge/" + string(pack.ID), "who stays"},
		{"notes", "#/me/notes", "write it down"},
		{"alarms", "#/me/alarms", "alarms"},
		{"words", "#/me/words", "someone could get hurt"},
		{"ready", sheet(light, board.ListReady), "line"},
	}
	var bad []string
	looks := func(d *device, state string, list []look) {
		for _, l := range list {
			d.runs(fmt.Sprintf(`location.hash = %q`, l.hash))
			d.sees(l.sees)
			bad = append(bad, d.frameFaults(state+" "+l.name, state == "plain")...)
		}
	}
	pia.keepsItsPages()
	looks(pia, "plain", append(some, rest...))
	looks(juno, "safety", []look{{"stop", "#/me/stop/" + string(light), "why"}, {"robot", "#/robot/" + string(light), "something new"}})

	// What can be taken back stands while the page's own clock does: where it was done at
	// the main button's place, elsewhere in the slot.
	pia.runs(`location.hash = "#/me/job/` + string(job.ID) + `"`)
	pia.press("on it too")
	pia.sees("undo")
	pia.runs(`{ const at = performance.now(); performance.now = () => at; }`)
	looks(pia, "undo", some)

	pia.open("about:blank")
	pia.open(s.url + "/#/me/notes")
	pia.keepsItsPages()
	pia.offline(true)
	pia.types("note", "the fork is on the bench")
	pia.press("write it down")
	pia.sees("1 thing not sent yet")
	looks(pia, "unsent", some)
	pia.runs(`location.hash = "#/me/job/` + string(job.ID) + `"`)
	pia.press("not me")
	pia.sees("not done")
	looks(pia, "refused", some)
	pia.runs(`location.hash = "#/me/job/` + string(job.ID) + `"`)
	pia.press("I have read it")
	pia.seesNot("not done")
	pia.offline(false)
	pia.seesNot("not sent yet")

	s.does(t, "Juno", board.EmergencyRaise{Robot: heavy})
	pia.sees("EMERGENCY at")
	looks(pia, "raised", some)
	require.Empty(t, bad, strings.Join(bad, "\n"))
}

// Where the main button was pressed it says what it did and takes it back; what comes up
// next stands above. Drumming on the spot presses neither.
func TestBrowserTheMainButtonsPlaceSaysWhatItDidAndIsNotTakenBackByDrumming(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	f := fingerOn(newDevice(t, "pia", frames[0][0], frames[0][1], true))
	s.joins(f.device, board.RoleCrew, "Pia")
	job, pia := s.job("Ask Halfpenny Forge for a drive pod").ID, s.person("Pia").ID
	on := func() bool { j := s.desk.View().State.Jobs[job]; return j.State == board.JobRunning && j.IsAtWork(pia) }
	f.open(s.url + "/#/me/job/" + string(job))
	f.reloads()
	f.drums(f.find("on it too"), twoSeconds, func() {
		f.sees("UNDO 8 s")
		f.runs(`{ const at = performance.now(); performance.now = () => at; }`) // the eight seconds stand still
	})
	f.sees("done")
	s.agree(f.device)
	require.True(t, on(), "neither taken back nor done")
	f.taps(f.find("undo"))
	f.sees("on it too")
	s.agree(f.device)
	require.False(t, on())
}
