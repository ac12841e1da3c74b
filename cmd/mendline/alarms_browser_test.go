package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// asks gives a command over HTTP with the device's own session and returns the
// answer's status and refusal.
func (d *device) asks(do, with string) asked {
	d.t.Helper()
	id, err := uuid.NewV7()
	require.NoError(d.t, err)
	script := fmt.Sprintf(`fetch("/api/do", {method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify({id: %q, do: %q, with: %s})}).then(async (r) => {
	  const {refusal} = await r.json();
	  return {Status: r.status, Refusal: refusal ? {Code: refusal.code, Sentence: refusal.sentence, Rule: refusal.rule ?? 0} : {}};
	})`, id, do, with)
	a := gets[asked](d, script)
	for a.Status >= 400 && d.drops("the server responded with a status of") == 0 {
		gets[bool](d, `new Promise((done) => requestAnimationFrame(() => done(true)))`) // the console tells a little later
	}
	return a
}

// drops takes away console errors that a test caused on purpose, and counts them.
func (d *device) drops(words string) int {
	d.mu.Lock()
	defer d.mu.Unlock()
	before := len(d.problems)
	d.problems = slices.DeleteFunc(d.problems, func(problem string) bool { return strings.Contains(problem, words) })
	return before - len(d.problems)
}

// asked is what became of a command over HTTP.
type asked struct {
	Status  int
	Refusal struct {
		Code, Sentence string
		Rule           int
	}
}

// setting changes fields of the event's settings over HTTP: a script's object.
func (d *device) setting(fields string) {
	d.t.Helper()
	with := gets[string](d, `fetch("/api/board").then((r) => r.json()).then(({put}) => {
	  const {v, entered, once, loosened, ...event} = put["event/event"];
	  return JSON.stringify({...event, reason: "the event says so", ...`+fields+`});
	})`)
	require.Equal(d.t, 200, d.asks("event.set", with).Status)
}

const (
	peopleMark = `document.querySelector("main.wall .alarm.class-a .people-mark")`
	beats      = `getComputedStyle(` + peopleMark + `).animationName === "beat"`
)

// Seen across the pit by word, shape and motion, and still where motion is not
// wanted; whoever takes it is named, and the symbol rests while the alarm stays.
func TestBrowserAnAlarmAboutPeopleBeatsOnTheWallUntilSomeoneTakesIt(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Wim")
	wall.sees("PEOPLE Tumsy Vole is UNKNOWN")
	wall.waits(beats, "the symbol to beat")
	wall.motion("reduce")
	wall.waits(`(() => { const s = getComputedStyle(`+peopleMark+`); return s.animationName === "none" && s.outlineStyle === "solid"; })()`, "a thick still frame in its place")
	wall.motion("")

	phone.open(s.url + "/#/me/alarms")
	phone.sees("Wim: everyone away from it")
	phone.press("I’m on it")
	wall.sees("taken by Wim")
	wall.sees("PEOPLE")
	wall.waits(`!(`+beats+`)`, "the symbol to rest")
	wall.shot("alarm-taken-wall")
	phone.shot("alarm-taken-phone")
	require.Equal(t, board.Unknown, s.desk.View().State.Powers[s.robot("Tumsy Vole").ID].State, "taking an alarm moves no state")
}

// motion says what the device's owner wants of motion: "reduce", or "" for nothing.
func (d *device) motion(value string) {
	d.t.Helper()
	_, err := chromedp.Call(d.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: value}},
	})
	require.NoError(d.t, err)
}

func TestBrowserAMinorRaisesAnEmergencyWithATapAndAHold(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	captain := newDevice(t, "captain", 1280, 800, false)
	juno := newDevice(t, "juno", 390, 844, true)
	tilly := newDevice(t, "tilly", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	s.joins(juno, board.RoleSafety, "Juno")
	s.joins(tilly, board.RoleCrew, "Tilly")
	require.True(t, s.person("Tilly").Minor)
	others := []*device{wall, captain, juno}

	// From a sheet, as from any screen of a phone: one tap, one hold. A tap on the
	// last button raises nothing.
	sheet, ok := s.desk.View().State.Sheet(s.robot("Tumsy Vole").ID, board.ListMakeSafe)
	require.True(t, ok)
	tilly.open(s.url + "/#/sheet/" + string(sheet.ID))
	tilly.sees("make safe")
	tilly.press("raise alarm")
	tilly.press("EMERGENCY at 3 Tumsy Vole")
	tilly.sees("press and hold")
	require.Empty(t, s.desk.View().State.Emergencies)
	tilly.shot("emergency-ask")
	require.Empty(t, tilly.accessible("emergency page"))
	tilly.hold("EMERGENCY at 3 Tumsy Vole", `location.hash === "#/me"`)
	for _, d := range append(others, tilly) {
		d.sees("EMERGENCY at Tumsy Vole")
		d.sees("raised by Tilly")
		d.sees("Fetch the hall steward in the green sash")
		d.sees("approved by Perpetua Quillfeather")
		d.shot("emergency-" + d.name)
		require.Empty(t, d.accessible("emergency"))
	}
	require.Len(t, s.desk.View().State.Emergencies, 1)
	require.Equal(t, board.Unknown, s.desk.View().State.Powers[s.robot("Tumsy Vole").ID].State)

	juno.press("I’m on it")
	wall.sees("Juno is on it")

	// Without a card the screens say nothing of their own.
	captain.setting(`{card: undefined}`)
	for _, d := range others {
		d.waits(`document.querySelector(".emergency .card-text").textContent === "Raise the alarm – get clear – tell event safety"`, "the words without a card")
	}

	require.False(t, gets[bool](tilly, `document.body.innerText.includes("it is over")`), "a helper does not end it")
	juno.press("it is over")
	juno.types("how", "the steward looked, no fire")
	juno.press("IT IS OVER")
	for _, d := range append(others, tilly) {
		d.seesNot("EMERGENCY at")
	}
	require.Equal(t, board.Unknown, s.desk.View().State.Powers[s.robot("Tumsy Vole").ID].State, "its end brings nothing back")
}

// steps are what an officials' card may say, and unshown those of them that a
// wall does not show whole.
const (
	steps = `["Shout: out of the pit, all of you.", "Leave the robot and the packs where they are.", "Take nobody's bag, take nobody's tools.",
	  "One fetches the hall steward in the green sash from the door.", "One stands at the east gate and keeps people out.",
	  "Count your crew at the flagpole by the car park.", "Tell the steward who is missing, by name.", "Wait there until the steward has spoken to you."]`
	unshown = `[...document.querySelectorAll(".emergency .card-text > span")].filter((e) => [...e.getClientRects()].some((r) => {
	  const shown = e.closest("#notices").getBoundingClientRect();
	  return r.height === 0 || r.left < 0 || r.right > innerWidth || r.bottom > Math.min(shown.bottom, innerHeight);
	})).map((e) => e.innerText)`
	// cutBelow tells what of the wall's head and foot has no room left.
	cutBelow   = `[...document.querySelectorAll("main.wall header, main.wall .alarm")].filter((e) => e.getBoundingClientRect().bottom > innerHeight + 1).map((e) => e.innerText)`
	letterSize = `parseFloat(getComputedStyle(document.querySelector(".emergency .card-text")).fontSize)`
)

func TestBrowserAWallShowsAllOfTheOfficialsCardHoweverLong(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(wall, board.RoleViewer, "")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	require.Equal(t, 200, captain.asks("emergency.raise", fmt.Sprintf(`{robot: %q, what: "smoke from a bag"}`, s.robot("Tumsy Vole").ID)).Status)

	var full float64
	for _, c := range []struct {
		name, card string
		least      float64 // size of its letters over those of a short card
	}{
		{"3", steps + `.slice(0, 3)`, 1},
		{"8", steps, 0.9},
		{"14", `[...` + steps + `, ...` + steps + `.slice(0, 6)]`, 0.7},
		{"long", `[("Walk to the flagpole by the car park and wait for the steward there. ").repeat(28)]`, 0.5},
	} {
		captain.setting(`{card: {...event.card, text: ` + c.card + `.join("\n").trim()}}`)
		wall.waits(`document.querySelector(".emergency .card-text")?.innerText.trim() === `+c.card+`.join("\n").trim()`, "the card of "+c.name)
		wall.waits(`!!document.querySelector("main.wall .alarm")`, "the alarm under it")
		wall.shot("emergency-card-" + c.name)
		wall.waits(unshown+`.length === 0`, "all of the card of "+c.name)
		require.Equal(t, []string{}, gets[[]string](wall, cutBelow), c.name)
		size := gets[float64](wall, letterSize)
		if full == 0 {
			full = size
			require.InDelta(t, gets[float64](wall, `16 / 0.7 * parseFloat(document.documentElement.style.getPropertyValue("--am"))`), full, 0.5, "16 minutes of arc")
		}
		require.GreaterOrEqual(t, size/full, c.least, c.name)
	}
	require.Equal(t, 200, captain.asks("emergency.raise", "{}").Status)
	wall.waits(`document.querySelectorAll(".notice.emergency").length === 2`, "both emergencies")
	require.Equal(t, 1, gets[int](wall, `document.querySelectorAll(".emergency .card-text").length`), "one card for both")
	wall.waits(unshown+`.length === 0`, "all of the card under two emergencies")
	require.Equal(t, []string{}, gets[[]string](wall, cutBelow), "two emergencies")
	wall.shot("emergency-two")
}

func TestBrowserAnAlarmIsPutAsideByNameForAWhileAndListed(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	captain := newDevice(t, "captain", 1280, 800, false)
	phone := newDevice(t, "phone", 390, 844, true)
	tilly := newDevice(t, "tilly", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	s.joins(phone, board.RoleCrew, "Bramwell")
	s.joins(tilly, board.RoleCrew, "Tilly")
	// In wide letters the wall has room for the act alone.
	wall.sees("choose what to leave off")

	// Not by a minor; not what is about people.
	tilly.open(s.url + "/#/me/alarms")
	tilly.sees("AT RISK Grobblequill")
	require.False(t, gets[bool](tilly, `document.body.innerText.includes("snooze")`))
	phone.open(s.url + "/#/me/alarms")
	phone.sees("snooze")
	require.False(t, gets[bool](phone, `[...document.querySelectorAll(".item")].some((e) => e.innerText.includes("PEOPLE") && e.innerText.includes("snooze"))`))
	people := gets[string](phone, `fetch("/api/forecast").then((r) => r.json()).then((f) => Object.keys(f.put).find((k) => k.startsWith("alarm/A-")).slice(6))`)
	refused := phone.asks("alarm.shelve", fmt.Sprintf(`{alarm: %q, minutes: 5, reason: "too loud"}`, people))
	require.Equal(t, 24, refused.Refusal.Rule)

	// Not for longer than a quarter of an hour.
	captain.press("alarm ▾")
	captain.press("snooze")
	captain.runs(`(() => { const e = document.getElementById("f-minutes"); e.focus(); e.select(); })()`)
	captain.do(chromedp.SendKeys(chromedp.ID("f-minutes"), "30"))
	captain.types("f-reason", "the pod is on its way")
	captain.press("snooze")
	captain.sees("15")
	captain.waits(`!!document.querySelector(".form .form-wrong")`, "a refusal at the field")
	captain.press("cancel")

	// Not without a reason; with one it leaves the wall's alarms and stays listed.
	phone.press("snooze")
	phone.waits(`[...document.querySelectorAll("button")].filter((b) => b.innerText.endsWith(" min")).every((b) => b.getAttribute("aria-disabled") === "true")`, "no time to choose without a reason")
	phone.types("reason", "the pod is on its way")
	phone.shot("shelve-phone")
	phone.press("5 min")
	wall.seesNot("choose what to leave off")
	wall.sees("SNOOZED until")
	wall.sees("Bramwell: Grobblequill")
	phone.sees("Bramwell: the pod is on its way")
	captain.press("alarms")
	captain.sees("Bramwell: the pod is on its way")
	wall.shot("shelved-wall")
}

func TestBrowserTheCaptainsWordsStandOnTheNextSheet(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	phone := newDevice(t, "phone", 390, 844, true)
	wall := newDevice(t, "wall", 1920, 1080, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	s.joins(phone, board.RoleCrew, "Pia")
	s.joins(wall, board.RoleViewer, "")

	// A line that carries a rule has no button that takes it out, and the board
	// refuses a list without it.
	captain.open(s.url + "/#/captain/sheets")
	captain.press("word make safe")
	captain.sees("carries a rule: cannot be taken out")
	require.False(t, gets[bool](captain, `[...document.querySelectorAll(".form button")].some((b) => b.innerText.startsWith("take "))`))
	captain.press("cancel")
	refused := captain.asks("wording.set", `{list: "ready", lines: [{id: "failsafe"}, {id: "mass"}, {id: "strap"}]}`)
	require.Contains(t, refused.Refusal.Sentence, "The line sign carries a safety rule")

	// Other words, a line out, a line of one's own.
	captain.press("word load in")
	captain.types("w-edges-ask", "Blade guards: on, each one strapped?")
	captain.press("take light out")
	captain.press("put light back")
	captain.press("take light out")
	captain.press("add a line of our own")
	captain.types("f-own-1-ask", "Number plate: on?")
	captain.types("f-own-1-say", "PLATE ON")
	captain.shot("wording-captain")
	captain.press("use these words")
	captain.sees("leaves out: light")

	// What is left out is relaxed, and says so everywhere.
	for _, d := range []*device{wall, captain} {
		d.sees("The load-in sheet leaves out: light.")
	}

	robot := s.robot("Nettlepip")
	captain.asks("robot.load-in", fmt.Sprintf(`{robot: %q}`, string(robot.ID)))
	sheet, ok := s.desk.View().State.Sheet(robot.ID, board.ListLoadIn)
	require.True(t, ok)
	phone.open(s.url + "/#/robot/" + string(robot.ID))
	phone.press("load in: 0 of")
	for _, ask := range []string{"Weapon pin: fits", "Link or switch", "Blade guards: on, each one strapped?"} {
		phone.sees(ask)
		phone.answers(firstOpen(sheet))
		sheet, _ = s.desk.View().State.Sheet(robot.ID, board.ListLoadIn)
	}
	require.Equal(t, "Number plate: on?", sheet.Lines[len(sheet.Lines)-1].Ask)
}

func TestBrowserARelaxedSettingPrintsOnEveryScreen(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	captain := newDevice(t, "captain", 1280, 800, false)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	s.joins(phone, board.RoleCrew, "Bramwell")
	heavy := s.robot("Grobblequill")
	phone.open(s.url + "/#/robot/" + string(heavy.ID))
	phone.sees("something new")
	phone.sees("1 rule relaxed") // the demo lets one person stay with four charges

	captain.setting(`{repairerMaySign: true}`)
	const says = "The person who finished the last repair may sign."
	for _, d := range []*device{wall, captain, phone} {
		d.sees(says)
		d.shot("relaxed-" + d.name)
	}
	phone.sees("2 rules relaxed")
	phone.open(s.url + "/#/me")
	phone.sees("2 rules relaxed")

	captain.setting(`{repairerMaySign: false}`)
	for _, d := range []*device{wall, captain, phone} {
		d.seesNot(says)
	}
}

func TestBrowserEventSafetyStopsARobotAndLiftsTheStop(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	juno := newDevice(t, "juno", 390, 844, true)
	bramwell := newDevice(t, "bramwell", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(juno, board.RoleSafety, "Juno")
	s.joins(bramwell, board.RoleCrew, "Bramwell")
	robot := s.robot("Grobblequill")
	bramwell.open(s.url + "/#/robot/" + string(robot.ID))
	bramwell.sees("something new")
	require.False(t, gets[bool](bramwell, `document.body.innerText.includes("for event safety")`))

	juno.open(s.url + "/#/robot/" + string(robot.ID))
	juno.press("stop 1 Grobblequill")
	juno.types("why", "a smell of burning")
	juno.hold("STOP 1 Grobblequill", `location.hash.startsWith("#/robot/")`)
	for _, d := range []*device{juno, bramwell} {
		d.sees("STOPPED by Juno")
		d.sees("a smell of burning")
	}
	wall.waits(`[...document.querySelectorAll(".state")].some((e) => e.textContent.includes("STOPPED"))`, "the word in the band")
	stopped := s.desk.View().State
	require.Equal(t, board.Unknown, stopped.Powers[robot.ID].State)
	for _, j := range stopped.Jobs {
		require.False(t, j.Robot == robot.ID && j.State == board.JobRunning, "job %d goes on", j.Number)
	}
	juno.hold("lift the stop", `!document.body.innerText.includes("lift the stop")`)
	wall.waits(`![...document.querySelectorAll(".state")].some((e) => e.textContent.includes("STOPPED"))`, "the band without it")
	bramwell.waits(`!document.body.textContent.includes("STOPPED by")`, "the robot's page without it")
	require.Equal(t, board.Unknown, s.desk.View().State.Powers[robot.ID].State)

	// The day's review is a link away for event safety, and for nobody who may not read it.
	for _, d := range []*device{juno, bramwell} {
		d.open(s.url + "/#/me/more")
		d.sees("running order")
	}
	juno.waits(`document.querySelector('a[href="/sheet/review"]')?.innerText === "the day’s review"`, "the way to the review")
	require.False(t, gets[bool](bramwell, `document.querySelector('a[href="/sheet/review"]') !== null`))
}
