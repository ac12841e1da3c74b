package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/debrief"
)

func TestBrowserTheDesignerReadsWhatTheDayCost(t *testing.T) {
	t.Parallel()
	s := serveDemo(t)
	browser := newBrowser(t)
	captain := newDevice(t, browser, "designer", 1280, 900, false)
	s.joins(captain, board.RoleCaptain, s.named(board.RoleCaptain))
	captain.open(s.url + "/#/captain/debrief")
	captain.sees("parts by minutes of work and waiting")
	captain.sees("chances that were given, against what came")
	made := gets[debrief.Account](captain, `fetch("/api/debrief").then((r) => r.json())`)
	require.Positive(t, made.All.Bill.ListCents)
	require.NotEmpty(t, made.Compared)
	require.True(t, made.Compared[0].Decided, "the demo's heavy has three damaging fights")

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
	phone := newDevice(t, browser, "phone", 390, 844, true)
	s.joins(phone, board.RoleCaptain, s.named(board.RoleCaptain))
	phone.open(s.url + "/#/captain/debrief")
	phone.sees("how much of the damage reaches")
	require.Empty(t, phone.fits("debrief on a phone"))
	phone.runs(`document.querySelector(".moves").scrollIntoView({ block: "center" })`)
	phone.shot("debrief-phone")
	captain.open(s.url + "/api/debrief?as=page")
	captain.sees("Bills by hit")
	captain.sees("One milled frame is slower to put right than Bolted rails and corner blocks.")
	captain.sees("The answer turns:")
	require.Equal(t, "collapse", gets[string](captain, `getComputedStyle(document.querySelector("table")).borderCollapse`), "its own style is let in")
	require.Zero(t, gets[int](captain, `document.documentElement.scrollWidth - document.documentElement.clientWidth`))
	captain.shot("debrief")
	captain.pdf("printed-debrief", sheetSizes["a4"])
}
