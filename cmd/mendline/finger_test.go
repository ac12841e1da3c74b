package main

import (
	"fmt"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// finger is one finger on a phone. Its events carry times of their own, and the page
// takes its clock from them: what a finger does in six seconds takes none, and a slow
// machine takes none of it either.
type finger struct {
	*device
	now time.Time
	// lead is how far the page's clock is ahead by now, at most.
	lead time.Duration
}

const clockOfFingers = `{
  const now = performance.now.bind(performance), today = Date.now;
  let skip = 0;
  performance.now = () => now() + skip;
  Date.now = () => today() + skip;
  for (const kind of ["pointerdown", "pointerup"]) addEventListener(kind, (e) => { skip = Math.max(skip, e.timeStamp - now()); }, true);
}`

// fingerOn puts a finger on a phone; pages that it opens from now on go by its clock.
func fingerOn(d *device) *finger {
	d.t.Helper()
	_, err := chromedp.Call(d.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: clockOfFingers})
	require.NoError(d.t, err)
	return &finger{device: d}
}

// reloads begins the page's clock, and the finger's, anew.
func (f *finger) reloads() {
	f.t.Helper()
	f.do(chromedp.Reload())
	f.now, f.lead = time.Time{}, 0
}

// goes shows another page of the board without loading anything anew.
func (f *finger) goes(hash string) {
	f.t.Helper()
	f.runs(fmt.Sprintf(`location.hash === %[1]q || new Promise((done) => {
  addEventListener("hashchange", () => requestAnimationFrame(() => requestAnimationFrame(done)), {once: true});
  location.hash = %[1]q;
})`, hash))
}

func (f *finger) passes(d time.Duration) { f.now = f.now.Add(d) }

func (f *finger) touch(kind input.DispatchTouchEventType, at ...*input.TouchPoint) {
	f.t.Helper()
	if at == nil {
		at = []*input.TouchPoint{}
	}
	f.lead = max(f.lead, time.Until(f.now))
	_, err := chromedp.Call(f.ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: at, Timestamp: stamped(f.now)})
	require.NoError(f.t, err)
}

// downs comes down where no finger has been for a second.
func (f *finger) downs(p point) {
	f.t.Helper()
	f.now = time.Now().Add(f.lead + time.Second)
	f.touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: p.X, Y: p.Y})
}

// lifts lifts after a time.
func (f *finger) lifts(after time.Duration) {
	f.t.Helper()
	f.passes(after)
	f.touch(input.DispatchTouchEventTypeTouchEnd)
}

// taps taps where no finger has been for a second.
func (f *finger) taps(p point) {
	f.t.Helper()
	f.downs(p)
	f.lifts(60 * time.Millisecond)
}

func (f *finger) moves(p point) {
	f.t.Helper()
	f.touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: p.X, Y: p.Y})
}

// scrolls pushes the page up from there, rests a second and lifts.
func (f *finger) scrolls(p point) {
	f.t.Helper()
	f.downs(p)
	for _, up := range []float64{40, 90} {
		f.passes(100 * time.Millisecond)
		f.moves(point{p.X, p.Y - up})
	}
	f.lifts(time.Second)
}

// drums taps one spot, twice at once and then three times a second. What the first tap
// starts happens before the second.
func (f *finger) drums(p point, taps int, started func()) {
	f.t.Helper()
	f.taps(p)
	started()
	f.passes(-250 * time.Millisecond)
	for range taps - 1 {
		f.passes(350 * time.Millisecond)
		f.touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: p.X, Y: p.Y})
		f.lifts(20 * time.Millisecond)
	}
}
