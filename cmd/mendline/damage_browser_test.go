package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// The most taps for a damage without a photo: our decision.
const tapsForDamage = 4

// newestDamage is the one with the highest number.
func (s *served) newestDamage() board.Damage {
	var d board.Damage
	for _, o := range s.desk.View().State.Damages {
		if o.Number > d.Number {
			d = o
		}
	}
	return d
}

// unhit is a fight that is over and of which no hit was reported.
func (s *served) unhit(t *testing.T) board.Fight {
	t.Helper()
	state := s.desk.View().State
	hit := map[board.FightID]bool{}
	for _, d := range state.Damages {
		hit[d.Fight] = hit[d.Fight] || d.Hit > 0
	}
	for _, f := range state.Fights {
		if f.State == board.FightDone && !hit[f.ID] {
			return f
		}
	}
	t.Fatal("every fight has a hit")
	return board.Fight{}
}

// A hit that nobody has spoken of is not made up.
func TestBrowserAReportSaysOfAHitWhatSomeoneHasSaid(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 360, 640, true)
	s.joins(pia, board.RoleCrew, "Pia")
	fight := s.unhit(t)
	pia.open(s.url + "/#/damage/" + string(fight.Robot))
	pia.types("part", "Belt")
	pia.press("what does it need")
	pia.press("it can wait")
	pia.sees("from which fight")
	pia.runs(fmt.Sprintf(`{
  const fight = [...document.querySelectorAll(".choice")].find((e) => e.innerText.includes("fight %d"));
  if (!fight.classList.contains("chosen")) fight.click();
}`, fight.Number))
	pia.press("report it")
	pia.sees("A photo of it?")
	s.agree(pia)
	d := s.newestDamage()
	require.Equal(t, fight.ID, d.Fight)
	require.Zero(t, d.Hit, "nobody has said which hit")
	require.Empty(t, d.Severity, "nor how hard")
}

func TestBrowserADamageIsReportedInThreeStepsAndFourTaps(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", frames[0][0], frames[0][1], true)
	s.joins(pia, board.RoleCrew, "Pia")
	heavy := s.robot("Grobblequill")
	var bad []string
	for _, size := range frames[:2] {
		pia.do(chromedp.EmulateViewport(size[0], size[1], chromedp.EmulateScale(2), chromedp.EmulateMobile, chromedp.EmulateTouch))
		pia.open("about:blank")
		pia.open(s.url + "/#/damage/" + string(heavy.ID))
		pia.sees("REPORT IT: WHICH PART?")
		h := takes(pia)
		before := len(s.desk.View().State.Damages)
		h.tap("Weapon")
		h.sees("which part?")
		h.tap("Weapon hub")
		h.sees("REPORT IT: WHAT DOES IT NEED?")
		h.tap("mend or swap it before we fight")
		h.sees("from which fight")
		h.tap("report it")
		h.sees("A photo of it?")
		h.checks()
		require.LessOrEqual(t, h.taps, tapsForDamage, "%d×%d", size[0], size[1])
		t.Logf("%d×%d: %d taps", size[0], size[1], h.taps)
		s.agree(pia)
		require.Len(t, s.desk.View().State.Damages, before+1)
	}
	d := s.newestDamage()
	require.Equal(t, "Weapon hub", s.desk.View().State.Parts[d.OnPart].Name)
	require.Equal(t, board.G3, d.Grade)
	last := s.desk.View().State.Fights[d.Fight]
	require.Equal(t, heavy.ID, last.Robot)
	require.NotZero(t, d.Hit, "the hit of that fight that was reported last")
	require.NotEmpty(t, d.Severity)

	look := func(name string) { bad = append(bad, pia.frameFaults("damage "+name, false)...) }
	pia.open("about:blank")
	pia.open(s.url + "/#/damage/" + string(heavy.ID))
	pia.keepsItsPages()
	pia.sees("What is damaged?")
	look("where")
	pia.press("Frame")
	pia.sees("Frame: which part?")
	look("part")
	pia.press("Side rail, left")
	pia.sees("what does it need?")
	look("need")
	pia.press("bent? measure it")
	pia.sees("MEASURED: WHICH GAP?")
	look("bend")
	pia.press("1")
	pia.press("over which length")
	pia.press("3")
	pia.sees("1 mm over 3 mm")
	look("bend typed")
	pia.runs(`[...document.querySelectorAll(".foot button")].find((b) => b.innerText === "back").click()`)
	pia.press("it can wait")
	pia.sees("how hard")
	look("report")
	pia.press("report it")
	pia.sees("A photo of it?")
	look("photo")
	require.Empty(t, bad, strings.Join(bad, "\n"))
	require.Empty(t, pia.accessible("damage"))
}

func TestBrowserARobotWithoutAPartMapHasTheGroupsOfTheInspection(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 360, 640, true)
	s.joins(pia, board.RoleCrew, "Pia")
	s.doesAs(t, board.Actor{Role: board.RoleCaptain}, board.RobotAdd{RobotFields: board.RobotFields{
		Name: "Egg", Number: 7, Class: board.Class{Name: "ant", Limit: 1, Unit: board.Pound, RuleSet: "house"}, Size: board.Light, Hands: 1, Weight: 1,
	}})
	pia.open(s.url + "/#/damage/" + string(s.robot("Egg").ID))
	for _, group := range []string{"Weapon", "Frame", "Drive", "Electrics", "Armour, fasteners, lock"} {
		pia.sees(group)
	}
	h := takes(pia)
	for _, words := range []string{"Drive", "a patch will do", "report it"} {
		h.tap(words)
	}
	h.sees("A photo of it?")
	h.checks()
	require.Equal(t, board.G2, s.damage("Drive").Grade)
}

func TestBrowserSomethingFoundOnAnInspectionLineIsTwoTapsAndLeadsBack(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	pia := newDevice(t, "pia", 360, 640, true)
	s.joins(pia, board.RoleCrew, "Pia")
	robot := s.robot(beetleTurn.robot)
	s.cart(t, beetleTurn, "Pia")
	s.says(t, beetleTurn, "Pia", board.ListMakeSafe, "")
	s.does(t, "Pia", board.TagOn{Robot: robot.ID})
	s.says(t, beetleTurn, "Pia", board.ListFirstIn, "")
	sheet := s.newest(robot.Name, board.ListInspect)
	for i, l := range sheet.Lines {
		pia.open("about:blank")
		pia.open(s.sheetPage(robot.Name, board.ListInspect))
		pia.sees(l.Ask)
		h := takes(pia)
		h.tap("found something")
		h.sees("Report it")
		h.tap("report it")
		h.sees("back to the line")
		h.checks()
		require.Equal(t, 2, h.taps)
		s.agree(pia)
		d := s.newestDamage()
		require.Equal(t, min(i, 1)+i+1, len(s.desk.View().State.Damages), l.ID)
		require.Equal(t, board.G3, d.Grade)
		require.Equal(t, l.Covers, d.Touches)
		if i == 0 {
			pia.press("another damage")
			pia.press("Frame")
			pia.press("all of it, or not sure")
			pia.press("it can wait")
			pia.press("report it")
			pia.sees("back to the line")
			s.agree(pia)
			require.Equal(t, "Frame", s.newestDamage().Part)
			require.Empty(t, s.newestDamage().Touches, "it was not found at that line")
		}
		h.tap("back to the line")
		h.sees(l.Ask)
		h.tap("looked at")
		pia.waits(fmt.Sprintf(`!document.querySelector("h1")?.innerText.includes(%q)`, l.Ask), "the next line")
	}

	// From a line that is answered again, too.
	weapon := sheet.Lines[slices.IndexFunc(sheet.Lines, func(l board.Line) bool { return l.ID == "weapon" })]
	pia.open(s.url + fmt.Sprintf("/#/sheet/%s/%s", sheet.ID, weapon.ID))
	pia.press("found something")
	pia.press("report it")
	pia.press("back to the line")
	pia.sees(weapon.Ask)
	pia.sees("looked at")

	var bad []string
	pia.open(s.url + fmt.Sprintf("/#/damage/%s//%s/%s", robot.ID, sheet.ID, "weapon"))
	pia.sees("which part of it?")
	bad = append(bad, pia.frameFaults("damage found", false)...)
	require.Empty(t, bad, strings.Join(bad, "\n"))
}

func TestBrowserABendIsMeasuredAndProposesAGrade(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 360, 640, true)
	s.joins(pia, board.RoleCrew, "Pia")
	heavy := s.robot("Grobblequill")
	measure := func(gap string) {
		pia.press("bent? measure it")
		pia.sees("widest gap, mm")
		for _, k := range gap {
			pia.press(string(k))
		}
		pia.press("over which length")
		for _, k := range "300" {
			pia.press(string(k))
		}
		pia.sees(gap + " mm over 300 mm")
		pia.shot("bend-phone-" + gap)
		pia.press("MEASURED")
	}
	pia.open(s.url + "/#/damage/" + string(heavy.ID))
	pia.press("Frame")
	pia.press("Side rail, left")
	measure("0.6")
	pia.sees("0.20 mm per 100 mm, 0.5°: within its limit of 0.30. Not measured before.")
	pia.sees("REPORT IT: WHAT DOES IT NEED?")
	measure("2.1")
	pia.sees("0.70 mm per 100 mm, 1.6°: past its limit of 0.30. Before that 0.20")
	pia.sees("The board proposes: mend or swap it before we fight.")
	pia.sees("from which fight")
	pia.shot("bend-phone-proposed")
	pia.press("REPORT IT")
	pia.sees("A photo of it?")
	s.agree(pia)
	require.Equal(t, "Side rail, left", s.newestDamage().Part)
	require.Equal(t, board.G3, s.newestDamage().Grade)

	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.open(s.url + "/#/captain/parts/" + string(heavy.ID))
	captain.sees("0.70 mm per 100 mm, 1.6°: past its limit of 0.30")
	captain.open(s.url + "/#/captain/debrief")
	captain.sees("bent, measured more than once")
	captain.sees("limit 0.30")
}

// A point typed first, or twice, leaves a figure; what is no figure leaves the button closed.
func TestBrowserABendIsNeverMeasuredAsAFigureThatIsNone(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 360, 640, true)
	s.joins(pia, board.RoleCrew, "Pia")
	pia.open(s.url + "/#/damage/" + string(s.robot("Grobblequill").ID))
	pia.press("Frame")
	pia.press("Side rail, left")
	pia.press("bent? measure it")
	pia.sees("MEASURED: WHICH GAP?")
	for _, k := range []string{".", ".", "6", "."} {
		pia.press(k)
	}
	require.Equal(t, "0.6", gets[string](pia, `document.getElementById("gap").value`))
	pia.press("over which length")
	pia.types("over", "300")
	pia.types("gap", ".1")
	pia.sees("MEASURED: WHICH GAP?")
	require.Equal(t, "true", gets[string](pia, `[...document.querySelectorAll(".foot button")].at(-1).ariaDisabled`))
	pia.do(chromedp.Focus(chromedp.ID("gap")))
	pia.press("take the last back")
	pia.press("take the last back")
	pia.press("over which length")
	pia.sees("0.6 mm over 300 mm")
	pia.press("MEASURED")
	pia.sees("0.20 mm per 100 mm")
}

func TestBrowserAPhotoTakenBeforeTheReportGoesWithIt(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 360, 640, true)
	s.joins(pia, board.RoleCrew, "Pia")
	file := filepath.Join(t.TempDir(), "photo.jpg")
	require.NoError(t, os.WriteFile(file, photoWithPlace(t), 0o600))
	pia.open(s.url + "/#/damage/" + string(s.robot("Nettlepip").ID))
	pia.press("Weapon")
	pia.press("Drum")
	pia.press("a patch will do")
	pia.sees("take a photo")
	pia.do(chromedp.SetUploadFiles(chromedp.ID("choose"), []string{file}))
	pia.sees("photo 1: goes with the report")
	pia.press("report it")
	pia.sees("photo 1: on the board")
	require.Eventually(t, func() bool { return len(s.damage("Drum").Photos) == 1 }, patience, 20*time.Millisecond)
}

// Damage without a job is on the captain's screen, on the phone, on the wall, in the
// chance and beside the signature, until someone answers for it.
func TestBrowserDamageWithoutAJobStandsInFivePlacesUntilItIsDecided(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	s.closedUp(t)
	s.says(t, beetleTurn, "Pia", board.ListReady, "sign")
	robot := s.robot(beetleTurn.robot)
	captain := newDevice(t, "captain", 1280, 800, false)
	pia := newDevice(t, "pia", 390, 664, true)
	wall := newDevice(t, "wall", 1920, 1080, false)
	edda := newDevice(t, "edda", 390, 664, true)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	s.joins(pia, board.RoleCrew, "Pia")
	s.joins(wall, board.RoleViewer, "")
	s.joins(edda, board.RoleCrew, "Edda")
	ready := func() int {
		return gets[int](pia, fmt.Sprintf(`fetch("/api/forecast").then((r) => r.json()).then((m) => m.put?.["chance/%s"]?.ready ?? -1)`, robot.ID))
	}
	require.Eventually(t, func() bool { return ready() >= 0 }, patience, 100*time.Millisecond)
	before := ready()

	s.does(t, "Pia", board.DamageReport{DamageFields: board.DamageFields{Robot: robot.ID, Part: "Pulley", Grade: board.G3}})
	d := s.newestDamage()
	says := fmt.Sprintf("%d Pulley", d.Number)
	captain.open(s.url + "/#/captain")
	captain.sees("damage " + says + ": it has no job")
	pia.open(s.url + "/#/robot/" + string(robot.ID))
	pia.sees(says + ": it has no job")
	wall.sees("damage " + says + ": it has no job")
	wall.shot("damage-wall")
	require.Eventually(t, func() bool { return ready() < before }, patience, 100*time.Millisecond, "was %d", before)
	edda.open(s.sheetPage(robot.Name, board.ListReady))
	edda.sees("damage on it, each looked at by itself")
	edda.sees(says + ": it has no job")
	edda.hold("sign nettlepip", `document.body.innerText.includes("has no job. Make a job of it")`)

	s.doesAs(t, board.Actor{Person: s.person("Ottoline").ID, Role: board.RoleCaptain}, board.DamageRegrade{Damage: d.ID, Grade: board.G1, Reason: "a scratch"})
	captain.seesNot("Pulley")
	wall.seesNot("Pulley")
	pia.sees(says + ": left as it is, accepted by Ottoline")
	require.Eventually(t, func() bool { return ready() == before }, patience, 100*time.Millisecond)
}
