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

// axeFile is axe-core as npm ci puts it into frontend/node_modules (MPL-2.0, for
// tests only).
const axeFile = "../../frontend/node_modules/axe-core/axe.min.js"

// axeRun asks for what axe's options say. It looks at the end of what scrolls, and again
// where that grew meanwhile: a forecast came.
const axeRun = `(async (options) => {
  const scrolls = document.querySelector(".middle") ?? document.documentElement;
  let found, length;
  do {
    length = scrolls.scrollHeight;
    scrolls.scrollTo(0, length);
    found = await axe.run(document, {...options, resultTypes: ["violations"]});
  } while (found.violations.length > 0 && scrolls.scrollHeight !== length);
  return found.violations.map((v) => v.id + ": " + v.help + " — " + v.nodes.map((n) => n.html.slice(0, 160)).join(" | "));
})`

// axeAll is WCAG 2.2 A and AA and best practice, with the two rules that are off by
// default switched on.
const axeAll = `{
  runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
  rules: {"target-size": {enabled: true}, "color-contrast-enhanced": {enabled: true}},
}`

// axeColours are those of axeAll's rules that look at colours.
const axeColours = `{runOnly: ["color-contrast", "color-contrast-enhanced", "link-in-text-block"]}`

// accessible runs axe-core on what the device shows and gives what it found.
func (d *device) accessible(what string) []string {
	d.t.Helper()
	return d.axe(what, axeAll)
}

// accessibleIn is accessible in a scheme of both that a test looks at in turn: colours
// are all that the dark one changes, so the other rules are asked there by night alone.
func (d *device) accessibleIn(scheme, what string) []string {
	d.t.Helper()
	if scheme == "dark" && os.Getenv("MENDLINE_NIGHTLY") == "" {
		return d.axe(what, axeColours)
	}
	return d.accessible(what)
}

func (d *device) axe(what, options string) []string {
	d.t.Helper()
	script, err := os.ReadFile(axeFile)
	if os.IsNotExist(err) {
		if os.Getenv("MENDLINE_REQUIRE_BROWSER") != "" {
			d.t.Fatal("axe-core is not there, and the browser tests are required: run npm ci in frontend")
		}
		d.t.Log("axe-core is not there (npm ci in frontend brings it): accessibility is not checked")
		return nil
	}
	require.NoError(d.t, err)
	if !gets[bool](d, `"axe" in window`) {
		d.runs(string(script))
	}
	found := gets[[]string](d, axeRun+"("+options+")")
	for i, f := range found {
		found[i] = what + ": " + f
	}
	return found
}

// scheme switches the page to light or dark as its own button does.
func (d *device) scheme(name string) {
	d.t.Helper()
	_, err := chromedp.Run(d.ctx, chromedp.Evaluate[string](fmt.Sprintf(`localStorage.setItem("scheme", %q); document.documentElement.dataset.scheme = %q`, name, name)))
	require.NoError(d.t, err)
}

// TestBrowserEveryScreenIsAccessibleInBothSchemes looks at each screen of the
// demo's day.
func TestBrowserEveryScreenIsAccessibleInBothSchemes(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	join := newDevice(t, "join", 390, 844, true)
	phone := newDevice(t, "phone", 390, 844, true)
	bramwell := newDevice(t, "bramwell", 390, 844, true)
	captain := newDevice(t, "captain", 1280, 800, false)
	join.open(s.url + "/")
	join.sees("join the board")
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Pia")
	s.joins(bramwell, board.RoleCrew, "Bramwell")
	s.joins(captain, board.RoleCaptain, "Ottoline")

	heavy := s.robot("Grobblequill")
	light := s.robot("Nettlepip")
	sheet, ok := s.desk.View().State.Sheet(light.ID, board.ListReady)
	require.True(t, ok)
	unsafe, ok := s.desk.View().State.Sheet(s.robot("Tumsy Vole").ID, board.ListMakeSafe)
	require.True(t, ok)
	job := s.runningJob()
	pack := s.aPack()
	pages := []struct {
		d    *device
		hash string
		sees string
		long bool // it may scroll
	}{
		{join, "", "join the board", false},
		{wall, "#/wall", "Grobblequill", false},
		{phone, "#/me", "my next move", false},
		{bramwell, "#/me", "so far", false},
		{phone, "#/me/more", "running order", true},
		{phone, "#/robot/" + string(heavy.ID), "jobs", true},
		{phone, "#/me/job/" + string(job.ID), job.Name, false},
		{phone, "#/me/hold/" + string(job.ID), "why", true},
		{phone, "#/me/trouble/" + string(heavy.ID), "trouble", false},
		{phone, "#/me/order", "is on now", true},
		{phone, "#/me/packs", pack.Name, true},
		{phone, "#/me/fights", "in by", true},
		{phone, "#/me/move/" + string(pack.ID), "keep it for", true},
		{phone, "#/me/pack/" + string(pack.ID), pack.Name, true},
		{phone, "#/me/read/" + string(pack.ID), pack.Name, true},
		{phone, "#/me/notes", "write it down", true},
		{phone, "#/sheet/" + string(sheet.ID), "line", false},
		{phone, "#/sheet/" + string(unsafe.ID), "make safe", false},
		{phone, "#/damage/" + string(light.ID), "report it", true},
		{captain, "#/captain", "add a job", false},
		{captain, "#/captain/person", "Ottoline", false},
		{captain, "#/captain/pack", pack.Name, false},
		{captain, "#/captain/stock", "take one out", false},
		{captain, "#/captain/plan", "the plan people follow", false},
		{captain, "#/captain/order", "running order", false},
		{captain, "#/captain/charging", "health of packs", false},
		{captain, "#/captain/event", "emergency", false},
		{captain, "#/captain/access", "crew", false},
		{captain, "#/captain/team", "download our team", false},
	}
	var bad []string
	for _, p := range pages {
		p.d.scheme("light")
		p.d.open(s.url + "/" + p.hash)
		p.d.sees(p.sees)
		for _, scheme := range []string{"light", "dark"} {
			what := scheme + " " + p.d.name + " " + strings.NewReplacer(string(heavy.ID), "heavy", string(light.ID), "light", string(job.ID), "job",
				string(pack.ID), "pack", string(sheet.ID), "ready", string(unsafe.ID), "make-safe").Replace(p.hash)
			p.d.scheme(scheme)
			p.d.shot("screen-" + strings.NewReplacer(" ", "-", "/", "-", "#", "").Replace(what))
			bad = append(bad, p.d.accessibleIn(scheme, what)...)
			bad = append(bad, p.d.fits(what)...)
			bad = append(bad, p.d.bulk(what)...)
			if (p.d == phone || p.d == bramwell) && !p.long {
				bad = append(bad, p.d.whole(what)...)
			}
		}
	}
	captain.open(s.url + "/#/captain")
	captain.press("add a job")
	captain.sees("a new job")
	bad = append(bad, captain.accessible("dark captain form")...)
	captain.shot("screen-dark-captain-form")
	phone.open(s.url + "/#/sheet/" + string(unsafe.ID))
	phone.press("someone else")
	phone.press("Bramwell")
	phone.sees("PIN")
	bad = append(bad, phone.accessible("dark phone PIN")...)
	bad = append(bad, phone.whole("dark phone PIN")...)
	phone.shot("screen-dark-phone-pin")
	require.Empty(t, bad, strings.Join(bad, "\n"))
}

// What is looked at on the day is one tap away, in one row; what is made before
// it has a row of its own, shown while one of its lists is.
func TestBrowserTheCaptainsListsOfTheDayTakeOneRow(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	const rows = `[...document.querySelectorAll(".captain-head nav")].map((nav) => new Set([...nav.querySelectorAll("button")].map((b) => Math.round(b.getBoundingClientRect().bottom)).filter((y) => y > 0)).size)`
	captain := newDevice(t, "captain", 1024, 768, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.open(s.url + "/#/captain")
	captain.sees("running order")
	require.Equal(t, []int{1}, gets[[]int](captain, rows))
	captain.press("set up")
	captain.press("part map")
	captain.waits(`location.hash === "#/captain/parts"`, "the part map")
	require.Equal(t, []int{1, 1}, gets[[]int](captain, rows))
	require.Empty(t, captain.accessible("set up"))
	captain.press("spares")
	captain.waits(`document.querySelectorAll(".captain-head nav").length === 1`, "the day's row alone")
}

// fits tells what scrolls sideways.
func (d *device) fits(what string) []string {
	d.t.Helper()
	wide, err := chromedp.Run(d.ctx, chromedp.Evaluate[int](`document.documentElement.scrollWidth - document.documentElement.clientWidth`))
	require.NoError(d.t, err)
	if wide > 0 {
		return []string{fmt.Sprintf("%s: scrolls sideways by %d px", what, wide)}
	}
	return nil
}

// whole tells that a screen does not fit a phone: its question, its figures and
// its main button must be in sight together.
func (d *device) whole(what string) []string {
	d.t.Helper()
	more := gets[int](d, `[document.documentElement, ...document.querySelectorAll(".middle")].reduce((sum, e) => sum + e.scrollHeight - e.clientHeight, 0)`)
	if more > 0 {
		return []string{fmt.Sprintf("%s: is %d px too high for a phone", what, more)}
	}
	return nil
}

// bulk tells what controls speak of all at once: one command does one thing. Ending the
// sessions of many devices is no command, and the captain may.
func (d *device) bulk(what string) []string {
	d.t.Helper()
	found := gets[[]string](d, `[...document.querySelectorAll("button, a, summary, label, [role=button]")].map((e) => (e.innerText + " " + (e.ariaLabel ?? "")).trim()).filter((w) => /\b(all|everything)\b/i.test(w) && !/^end all \d+ (with the \w+ code|that are not connected)\b/.test(w))`)
	for i, f := range found {
		found[i] = fmt.Sprintf("%s: the control %q is for more than one", what, f)
	}
	return found
}

func (s *served) runningJob() board.Job {
	for _, j := range s.desk.View().State.Jobs {
		if j.State == board.JobRunning {
			return j
		}
	}
	return board.Job{}
}

func (s *served) aPack() board.Pack {
	for _, p := range s.desk.View().State.Packs {
		if p.Name == "N1" {
			return p
		}
	}
	return board.Pack{}
}
