package main

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// The demo's heavyweight reads 113.10 kg with a module of 1.9 kg on; the one of
// 2.4 kg would put it over 250 lb (constructed by us).
func TestBrowserTheSetupThatWouldBeOverSaysSoBeforeAnythingIsUnbolted(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	tablet := newDevice(t, "tablet", 1180, 820, false)
	s.joins(tablet, board.RoleCaptain, "Ottoline")
	heavy := s.robot("Grobblequill")
	tablet.open(s.url + "/#/captain/setups/" + string(heavy.ID))
	tablet.sees("over by 0.20 kg (0.45 lb)")
	tablet.sees("under by 0.30 kg (0.66 lb)")
	tablet.shot("setups-tablet")
	require.Empty(t, tablet.accessible("setups"))
	require.Empty(t, tablet.fits("setups"))

	plates := s.desk.View().State.Fits[heavy.ID].Modules
	tablet.runs(`[...document.querySelectorAll(".beside .card")].find((c) => c.textContent.startsWith("Wedge plate")).querySelector(".press").scrollIntoView()`)
	tablet.press("this one is on now")
	tablet.sees("Grobblequill: Forks")
	tablet.sees("other modules are on since it was weighed")
	require.NotEqual(t, plates, s.desk.View().State.Fits[heavy.ID].Modules)
	tablet.runs(`scrollTo(0, 0); document.querySelector(".beside").scrollTop = 0`)
	tablet.shot("setups-tablet-stale")

	var forks board.Setup
	for _, setup := range s.desk.View().State.Setups {
		if setup.ID == s.desk.View().State.Fits[heavy.ID].Setup {
			forks = setup
		}
	}
	for _, setup := range s.desk.View().State.SetupsOf(heavy.ID) {
		setup.Declared = setup.ID != forks.ID
		s.doesAs(t, board.Actor{Role: board.RoleCaptain}, board.SetupChange{Setup: setup.ID, SetupFields: setup.SetupFields})
	}
	tablet.sees(forks.Name + " is on and was not declared")
	tablet.sees("the heaviest declared setup, is over by 0.20 kg (0.45 lb)")
	require.Empty(t, tablet.fits("setups with warnings"))
	tablet.shot("setups-tablet-warned")

	tablet.open(s.url + "/#/captain/parts/" + string(heavy.ID))
	tablet.sees("a whole function hangs on one part")
	tablet.sees("off first: Top cover")
	tablet.shot("part-map-tablet")
	require.Empty(t, tablet.accessible("part map"))
	require.Empty(t, tablet.fits("part map"))
}

func TestBrowserTheDriverSeesWhatWorksAndTheFinderWhereTheHitRanOn(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wim := newDevice(t, "wim", 390, 844, true)
	s.joins(wim, board.RoleCrew, "Wim")
	heavy := s.robot("Grobblequill")
	wim.open(s.url + "/#/robot/" + string(heavy.ID))
	wim.sees("what works now")
	wim.sees("self-righting")
	wim.sees("70 %")
	wim.shot("driver-phone")
	require.Empty(t, wim.fits("driver"))
	require.Empty(t, wim.accessible("driver"))

	wim.open(s.url + "/#/damage/" + string(heavy.ID))
	wim.sees("also check")
	for _, choice := range []string{"Weapon", "Weapon motor", "it can wait"} {
		wim.press(choice)
	}
	wim.press("75")
	wim.sees("✓ 75")
	wim.shot("damage-on-the-map")
	require.Empty(t, wim.fits("damage"))
	wim.press("REPORT IT")
	wim.sees("A photo of it?")
	d := s.damage("Weapon motor")
	require.Equal(t, "Weapon motor", s.desk.View().State.Parts[d.OnPart].Name)
	require.Equal(t, 75, *d.WorksPct)
	wim.open(s.url + "/#/robot/" + string(heavy.ID))
	wim.sees("Weapon motor, 75 % of it works")
	wim.shot("driver-phone-belt")
	patchesOnThePhone(t, s, wim, d)
}

// patchesOnThePhone reports one more damage and files a patch for it in own words, with
// how much works afterwards; the job's page says it.
func patchesOnThePhone(t *testing.T, s *served, wim *device, d board.Damage) {
	t.Helper()
	job := s.doesAs(t, board.Actor{Role: board.RoleCaptain}, board.JobAdd{JobFields: board.JobFields{
		Robot: d.Robot, Damages: []board.DamageID{d.ID}, Name: "Strap the motor", Triage: board.Should,
		Fixes: []board.Fix{{Name: "Strap", Way: board.WayPatch, LikelySec: 300, BadSec: 600, Hands: []board.Skill{board.SkillAny}, Station: board.StationBench, Where: board.OffRobot, Limits: "half throttle", WorksPct: 60}},
	}})
	require.NotZero(t, job)
	for id, j := range s.desk.View().State.Jobs {
		if j.Name == "Strap the motor" {
			wim.open(s.url + "/#/me/job/" + string(id))
		}
	}
	wim.sees("patch: 60 % of it works after; half throttle")
	require.Empty(t, wim.fits("job of a patch"))
	wim.shot("patch-phone")

	wim.open(s.url + "/#/damage/" + string(d.Robot))
	for _, choice := range []string{"Weapon", "Weapon hub", "it can wait"} {
		wim.press(choice)
	}
	wim.press("REPORT IT")
	wim.press("MAKE A JOB OF IT")
	wim.press("ANOTHER JOB, IN MY WORDS")
	wim.sees("A job in my words")
	choose := func(heading, choice string) {
		group := `[...document.querySelectorAll("h2")].find((h) => h.textContent.startsWith(` + strconv.Quote(heading) + `)).parentElement`
		after := `[...` + group + `.querySelectorAll("h2, .choice")]`
		one := `(() => { const all = ` + after + `; const from = all.findIndex((x) => x.tagName === "H2" && x.textContent.startsWith(` + strconv.Quote(heading) + `)); return all.slice(from).find((x) => x.textContent.replace("✓ ", "") === ` + strconv.Quote(choice) + `); })()`
		wim.runs(one + `.click()`)
		wim.waits(one+`.textContent.startsWith("✓")`, heading+": "+choice)
	}
	choose("how", "patch")
	choose("how much of it works then", "75")
	choose("likely, in minutes", "10")
	choose("bad case, in minutes", "20")
	choose("where the hands are", "off the robot")
	wim.types("limits", "no more than one fight")
	require.Empty(t, wim.fits("a patch in own words"))
	wim.shot("patch-in-own-words")
	wim.press("ADD THE JOB")
	wim.waits(`location.hash === "#/me"`, "my next move")
	for _, j := range s.desk.View().State.Jobs {
		if j.Fix().Limits == "no more than one fight" {
			require.Equal(t, 75, j.Fix().WorksPct)
			return
		}
	}
	require.Fail(t, "the patch is not on the board")
}

func TestBrowserAPackUpListIsBegunAndWalkedOnAPhone(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	pia := newDevice(t, "pia", 390, 844, true)
	s.joins(pia, board.RoleCrew, "Pia")
	light := s.robot("Nettlepip")
	s.does(t, "Pia", board.PackMove{Pack: s.pack("N3").ID, Place: s.place("Charging shelf")})
	state := s.desk.View().State.Powers[light.ID].State
	pia.open(s.url + "/#/robot/" + string(light.ID))
	pia.press("pack-up list")
	pia.sees("pack up: 0 of 10 answered")
	sheet, _ := s.desk.View().State.Sheet(light.ID, board.ListPackUp)
	pia.open(s.url + "/#/sheet/" + string(sheet.ID))
	pia.press("ALL PLACED")
	pia.sees("at storage charge")
	pia.shot("pack-up-phone")
	require.Empty(t, pia.whole("pack-up"))
	require.Equal(t, state, s.desk.View().State.Powers[light.ID].State, "it moves no state")
}
