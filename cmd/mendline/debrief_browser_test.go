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
	captain := newDevice(t, newBrowser(t), "designer", 1280, 900, false)
	s.joins(captain, board.RoleCaptain, s.named(board.RoleCaptain))
	captain.open(s.url + "/#/captain/review")
	made := gets[debrief.Account](captain, `fetch("/api/debrief").then((r) => r.json())`)
	require.Positive(t, made.All.Bill.ListCents)
	require.NotEmpty(t, made.Compared)
	require.False(t, made.Compared[0].Decided, "the demo's heavy has two damaging fights")

	captain.sees("what it cost")
	captain.open(s.url + "/api/debrief?as=page")
	captain.sees("Bills by hit")
	captain.sees("No verdict: the record has 2 damaging fights, and it takes 3.")
	require.Equal(t, "collapse", gets[string](captain, `getComputedStyle(document.querySelector("table")).borderCollapse`), "its own style is let in")
	require.Zero(t, gets[int](captain, `document.documentElement.scrollWidth - document.documentElement.clientWidth`))
	captain.shot("debrief")
	captain.pdf("printed-debrief", sheetSizes["a4"])
}
