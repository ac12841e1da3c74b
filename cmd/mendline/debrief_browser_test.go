package main

import (
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/debrief"
)

func TestBrowserTheDesignerReadsWhatTheDayCost(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "designer", 1280, 900, false)
	s.joins(captain, board.RoleCaptain, s.named(board.RoleCaptain))
	captain.open(s.url + "/#/captain/debrief")
	captain.sees("parts by minutes of work and waiting")
	captain.sees("chances that were given, against what came")
	made := gets[debrief.Account](captain, `fetch("/api/debrief").then((r) => r.json())`)
	require.Positive(t, made.All.Bill.ListCents)
	require.NotEmpty(t, made.Compared)
	require.True(t, made.Compared[0].Decided, "the demo's heavy has three damaging fights")

	cost, rest, _ := strings.Cut(made.All.Headline, ", and ") // the minutes go on
	require.Contains(t, cost, " crowns at list price")
	captain.sees(cost)
	_, cheaper, _ := strings.Cut(rest, " damages. ")
	require.Contains(t, cheaper, made.Compared[0].Other.Name+" would have cost more to mend than")
	captain.sees(cheaper)
	captain.sees(made.All.Called)
	captain.sees("paid, crowns")

	require.Empty(t, captain.accessible("debrief"))
	require.Empty(t, captain.fits("debrief"))
	captain.shot("debrief-screen")
	captain.sees("how much of the damage reaches " + made.Compared[0].Other.Name + ": 100 %")
	captain.sees("Assumes that 100 % of the recorded damage reaches")
	captain.runs(`(() => { const x = document.querySelector(".moves input"); x.value = "0.5"; x.dispatchEvent(new Event("input", { bubbles: true })); })()`)
	captain.sees(": 50 %")
	captain.sees("Assumes that 50 % of the recorded damage reaches")
	captain.sees("One milled frame is quicker to put right than")
	captain.runs(`document.querySelector(".moves").scrollIntoView({ block: "center" })`)
	captain.shot("debrief-slider")
	captain.runs(`document.querySelector(".figures").scrollIntoView({ block: "end" })`)
	captain.shot("debrief-figures")
	captain.runs(`(() => { const x = document.querySelector(".limits select"); x.value = "G weapon motor"; x.dispatchEvent(new Event("change", { bubbles: true })); })()`)
	captain.waits(`!document.querySelector(".limits:nth-of-type(2) input").disabled`, "a field for the guess")
	captain.runs(`(() => { const x = document.querySelector(".limits:nth-of-type(2) input"); x.value = "0.5"; x.dispatchEvent(new Event("input", { bubbles: true })); })()`)
	captain.sees("guessed, each worth 3 fights of record: G weapon motor 0.5 a fight")
	captain.waits(`[...document.querySelectorAll(".bills th")].some((x) => x.innerText === "G weapon motor")`, "the guessed spare on the list")
	captain.runs(`document.querySelector(".limits").scrollIntoView({ block: "start" })`)
	captain.shot("debrief-bring")
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCaptain, s.named(board.RoleCaptain))
	phone.open(s.url + "/#/captain/debrief")
	phone.sees("how much of the damage reaches")
	require.Empty(t, phone.fits("debrief on a phone"))
	phone.runs(`document.querySelector(".moves").scrollIntoView({ block: "center" })`)
	phone.shot("debrief-phone")
	captain.open(s.url + "/api/debrief?as=page")
	captain.sees("Bills by hit")
	captain.sees(cheaper)
	captain.sees("One milled frame is slower to put right than Bolted rails and corner blocks.")
	captain.sees("The answer turns:")
	require.Equal(t, "collapse", gets[string](captain, `getComputedStyle(document.querySelector("table")).borderCollapse`), "its own style is let in")
	require.Zero(t, gets[int](captain, `document.documentElement.scrollWidth - document.documentElement.clientWidth`))
	captain.shot("debrief")
	captain.pdf("printed-debrief", sheetSizes["a4"])
}

// Broken parts of 2,900 of donated material and 4,200 of machining, beside a machined
// frame for 6,400; two of the bent members turn up a week later. Invented figures.
func TestBrowserTheBillOfAHitGrowsByWhatIsFoundAWeekLater(t *testing.T) {
	inBrowser(t)
	var later atomic.Int64
	s := serveBoard(t, settings{now: func() time.Time { return time.Now().Add(time.Duration(later.Load())) }}, nil)
	captain := func(c board.Command) board.CommandID { return s.doesAs(t, board.Actor{Role: board.RoleCaptain}, c) }
	captain(board.PersonAdd{PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCaptain}})
	captain(board.RobotAdd{RobotFields: board.RobotFields{
		Name: "Bramble", Number: 1, Size: board.Heavy, Hands: 3, Weight: 1, Class: board.Class{Name: "heavyweight", Limit: 250, Unit: board.Pound, RuleSet: "house rules"},
		Energies: []board.Energy{{Kind: board.EnergyDrive, Isolator: "link", Reach: board.Outside}},
	}})
	robot := s.robot("Bramble").ID
	for _, p := range []struct {
		name                string
		material, machining int
	}{{"Rail, left", 90000, 150000}, {"Rail, right", 90000, 150000}, {"Cross member", 60000, 70000}, {"Corner, rear", 50000, 50000}} {
		captain(board.PartAdd{PartFields: board.PartFields{
			Robot: robot, Name: p.name, Assembly: "Frame", MaterialListCents: p.material, MachiningListCents: p.machining, MachiningPaidCents: p.machining,
		}})
	}
	parts := map[string]board.PartID{}
	for id, part := range s.desk.View().State.Parts {
		parts[part.Name] = id
	}
	captain(board.ConstructionAdd{ConstructionFields: board.ConstructionFields{Robot: robot, Name: "Machined frame", Guessed: true, ListCents: 640000, Mends: []board.PartMend{{
		Group: "Frame", Parts: []string{"Rail, left", "Rail, right", "Cross member", "Corner, rear"}, Name: "new frame", From: 1, LikelySec: 3600, BadSec: 7200, CostCents: 640000,
	}}}})
	captain(board.FightAdd{FightFields: board.FightFields{Robot: robot, Arena: "Box", Number: 7, Opponent: "Thistle"}})
	var fight board.FightID
	for id := range s.desk.View().State.Fights {
		fight = id
	}
	captain(board.FightNow{Arena: "Box", Number: 7})
	captain(board.FightEnd{Fight: fight, Result: board.Lost})
	bent := func(part string) {
		captain(board.DamageReport{DamageFields: board.DamageFields{Robot: robot, OnPart: parts[part], Grade: board.G3, Fight: fight, Hit: 2, Severity: board.Hard}})
	}
	bent("Rail, left")
	bent("Rail, right")

	tablet, laptop := newDevice(t, "tablet", 1024, 768, true), newDevice(t, "laptop", 1280, 800, false)
	s.joins(tablet, board.RoleCaptain, "Ada")
	tablet.open(s.url + "/#/captain/debrief")
	tablet.sees("4800.00 at list price, 3000.00 paid")
	tablet.shot("debrief-tablet")
	tablet.open("about:blank")
	later.Store(int64(7 * 24 * time.Hour))
	bent("Cross member")
	bent("Corner, rear")
	s.joins(laptop, board.RoleCaptain, "Ada") // nobody stays joined for a week
	laptop.open(s.url + "/#/captain/debrief")
	laptop.sees("7100.00 at list price, 4200.00 paid")
	laptop.press("Bramble")
	laptop.sees("1.11 and 0.66 of the other construction")
	hit := `[...document.querySelectorAll(".bills tr")].find((x) => x.innerText.includes("hit 2")).innerText`
	require.Equal(t, []string{"7100.00", "4200.00", "1.11 / 0.66"}, strings.Split(strings.SplitN(gets[string](laptop, hit), "\t", 2)[1], "\t")[:3])
	require.Contains(t, gets[string](laptop, hit), "4 (2)", "two were found later")
	laptop.shot("debrief-week-later")
}
