package main

import (
	"fmt"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/board/review"
)

// neverRead answers each question for the review that it takes longer, and notes the timers
// that will ask again.
const neverRead = `{
  const [ask, begin, clear] = [fetch, setTimeout, clearTimeout];
  window.asked = 0;
  window.toAsk = new Set();
  window.fetch = (url, ...a) => (url === "/api/review" ? (asked++, Promise.resolve(new Response("{}", { status: 429 }))) : ask(url, ...a));
  window.setTimeout = (act, ms) => { const id = begin(() => { toAsk.delete(id); act(); }, ms); if (ms === 2000) toAsk.add(id); return id; };
  window.clearTimeout = (id) => { toAsk.delete(id); clear(id); };
}`

// A review that takes long is asked for again while someone waits for it, and no longer.
func TestBrowserAListThatIsGoneAsksForNoReview(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, s.named(board.RoleCaptain))
	captain.sees("Swap weapon hub")
	captain.runs(neverRead)
	captain.press("review")
	captain.sees("reading the journal")
	captain.waits(`asked >= 2 && toAsk.size === 1`, "the question put again, and to be put once more")
	captain.runs(`location.hash = "#/captain/order"`)
	captain.seesNot("reading the journal")
	require.Zero(t, gets[int](captain, `toAsk.size`))
}

func TestBrowserTheCaptainReadsTheReviewOfTheDay(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, s.named(board.RoleCaptain))
	captain.forgive("429") // a busy machine reads the journal in more than one go
	captain.open(s.url + "/#/captain/review")
	captain.sees("the whole event:")
	captain.sees("alarms by person")
	captain.shot("review")
	require.Zero(t, gets[int](captain, `document.documentElement.scrollWidth - document.documentElement.clientWidth`))

	made := gets[review.Review](captain, `fetch("/api/review").then((r) => r.json())`)
	require.NotEmpty(t, made.Turnarounds)
	for _, n := range made.Turnarounds {
		captain.sees(fmt.Sprintf("%s ", n.Name))
		require.True(t, n.To == 0 || n.To > n.From)
	}
	require.Positive(t, made.Whole.Alarms, "the demo's day has alarms")

	captain.press("print it")
	captain.sees("judges nobody")
	captain.pdf("printed-review", sheetSizes["a4"])

	// A phone reads the same page: nothing runs out at the side, and each figure
	// says what it counts.
	phone := newDevice(t, "phone", 360, 780, true)
	s.joins(phone, board.RoleSafety, "Juno")
	phone.open(s.url + "/sheet/review")
	phone.sees("judges nobody")
	phone.shot("review-phone")
	require.Empty(t, phone.fits("the review"))
	require.Empty(t, phone.accessible("the review on a phone"))
	require.Empty(t, gets[[]string](phone, `[...document.querySelectorAll(".review td:not(:first-child):not(:empty)")].filter((e) => !getComputedStyle(e, "::before").content.includes(e.dataset.column)).map((e) => e.innerText)`))
	require.Positive(t, gets[int](phone, `document.querySelectorAll(".review td:not(:first-child):not(:empty)").length`))
}

func BenchmarkTheReviewOfTheDemosDay(b *testing.B) {
	s := serveDemo(b)
	kept, err := s.desk.Store().Journal(0, 5000)
	require.NoError(b, err)
	for b.Loop() {
		day := review.NewDay(func(s board.State, at board.Moment) []review.Alarm {
			return make([]review.Alarm, len(forecast.AlarmsAt(s, at)))
		})
		for _, k := range kept {
			var l board.JournalLine
			require.NoError(b, json.Unmarshal(k.Data, &l))
			require.NoError(b, day.Read(l))
		}
		day.Review(s.desk.Now())
	}
}
