package main

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/frontend/browsertest"
)

// patience is how long a screen may take to show what it must: far longer than
// it does, so that a busy machine fails no test.
const patience = 90 * time.Second

// one is the browser that all tests of this package share; TestMain stops it.
var one browsertest.Browser

// inBrowser runs a test in the browser, beside others.
func inBrowser(t *testing.T) {
	t.Helper()
	one.Needed(t)
	t.Parallel()
}

// device is one phone, tablet or wall with a session of its own.
type device struct {
	t    testing.TB
	name string
	ctx  context.Context
	// again counts the presses that were given once more, as nothing had felt them.
	again int

	mu                 sync.Mutex
	problems, forgiven []string
}

// newDevice opens a device of a size in CSS pixels. At the end of the test its
// console must hold no error.
func newDevice(t testing.TB, name string, width, height int64, mobile bool) *device {
	t.Helper()
	one.Needed(t)
	ctx, cancel := chromedp.NewContext(one.Context, chromedp.WithNewBrowserContext())
	d := &device{t: t, name: name, ctx: ctx}
	options := []chromedp.EmulateViewportOption{}
	if mobile {
		options = append(options, chromedp.EmulateScale(2), chromedp.EmulateMobile, chromedp.EmulateTouch)
	}
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(width, height, options...)))
	// Keys reach a page in whichever window the browser thinks its user is.
	_, err := chromedp.Call(ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	require.NoError(t, err)
	console := chromedp.Console(ctx)
	ended := make(chan struct{})
	go func() { // ends with the device's context
		defer close(ended)
		for m, err := range console {
			if err != nil {
				return
			}
			if m.Type == chromedp.ConsoleError || m.IsException() {
				d.mu.Lock()
				d.problems = append(d.problems, m.String())
				d.mu.Unlock()
			}
		}
	}()
	t.Cleanup(func() {
		cancel()
		<-ended
		require.Empty(t, d.wrong(), "%s: errors on the console", name)
	})
	return d
}

// forgive leaves out console errors that a test causes on purpose, those too that
// the browser tells only later.
func (d *device) forgive(words string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.forgiven = append(d.forgiven, words)
}

// wrong are the console errors that nobody forgave.
func (d *device) wrong() []string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(d.problems), func(problem string) bool {
		return slices.ContainsFunc(d.forgiven, func(words string) bool { return strings.Contains(problem, words) })
	})
}

func (d *device) do(steps ...chromedp.Action[chromedp.Void]) {
	d.t.Helper()
	ctx, cancel := context.WithTimeout(d.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		d.fail("%v", err)
	}
}

// fail ends the test with a picture of the screen.
func (d *device) fail(format string, args ...any) {
	d.t.Helper()
	text, _ := chromedp.Run(d.ctx, chromedp.Evaluate[string](`document.body.innerText`))
	path := d.picture(cmp.Or(os.Getenv("MENDLINE_SHOTS"), os.TempDir()), "failed-"+strings.ReplaceAll(d.t.Name(), "/", "-")+"-"+d.name)
	d.mu.Lock()
	problems := strings.Join(d.problems, "\n")
	d.mu.Unlock()
	d.t.Fatalf("%s: %s\npicture: %s\nconsole: %s\nthe screen says:\n%s", d.name, fmt.Sprintf(format, args...), path, problems, text)
}

func (d *device) open(url string) {
	d.t.Helper()
	d.do(chromedp.Navigate(url))
}

// waits until a JavaScript expression holds.
func (d *device) waits(expression, what string) {
	d.t.Helper()
	ctx, cancel := context.WithTimeout(d.ctx, patience)
	defer cancel()
	for {
		_, err := chromedp.Run(ctx, chromedp.Poll[bool](expression, chromedp.WithPollingInterval(50*time.Millisecond), chromedp.WithPollingTimeout(patience)))
		switch {
		case err == nil:
			return
		case strings.Contains(err.Error(), "Cannot find context") && ctx.Err() == nil:
			continue // the page it asked went away under a navigation: ask the next one
		}
		d.fail("waited for %s: %v", what, err)
	}
}

// sees waits for words on the screen, letters' case aside.
func (d *device) sees(words string) {
	d.t.Helper()
	d.waits(fmt.Sprintf(`document.body.innerText.toLowerCase().includes(%q)`, strings.ToLower(words)), fmt.Sprintf("%q", words))
}

// seesNot waits until words are gone.
func (d *device) seesNot(words string) {
	d.t.Helper()
	d.waits(fmt.Sprintf(`!document.body.innerText.toLowerCase().includes(%q)`, strings.ToLower(words)), fmt.Sprintf("no %q", words))
}

// control finds the control whose words hold the ones given: the shortest such.
const control = `((words) => [...document.querySelectorAll("button, a, summary, label, [role=button], [role=tab], option")]
  .filter((e) => !e.disabled && e.getAttribute("aria-disabled") !== "true" && !e.closest("[inert]") && e.offsetParent !== null && (e.innerText + " " + (e.ariaLabel ?? "")).replace(/\s+/g, " ").toLowerCase().includes(words.toLowerCase()))
  .sort((a, b) => a.innerText.length - b.innerText.length)[0])`

type point struct{ X, Y float64 }

// find waits for a control that stands still and gives its middle.
func (d *device) find(words string) point {
	d.t.Helper()
	d.waits(fmt.Sprintf(`!!%s(%q)`, control, words), fmt.Sprintf("a control %q", words))
	p, err := chromedp.Run(d.ctx, chromedp.Evaluate[point](fmt.Sprintf(`(async () => {
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  for (let was = null, tries = 0; ; tries++) {
    const e = %s(%q);
    e.scrollIntoView({block: "center", behavior: "instant"});
    const r = e.getBoundingClientRect(), is = {X: r.x + r.width / 2, Y: r.y + r.height / 2};
    if (tries > 50 || (was && was.X === is.X && was.Y === is.Y)) return is;
    was = is;
    await frame();
    await frame();
  }
})()`, control, words), chromedp.EvalAwaitPromise))
	if err != nil {
		d.fail("find %q: %v", words, err)
	}
	return p
}

// feels makes the page note whether the next pointer event of a kind reaches the
// control with these words.
func (d *device) feels(kind, words string) {
	d.t.Helper()
	d.runs(fmt.Sprintf(`window.felt ??= {}; felt[%[1]q] ??= (addEventListener(%[1]q, (e) => {
  const on = e.target.closest("button, a, summary, label, [role=button], [role=tab], option");
  felt[%[1]q].hit ||= Boolean(on) && (on.innerText + " " + (on.ariaLabel ?? "")).replace(/\s+/g, " ").toLowerCase().includes(felt[%[1]q].words);
}, true), {}); felt[%[1]q].hit = false; felt[%[1]q].words = %[2]q`, kind, strings.ToLower(words)))
}

// within tells whether an expression comes to hold in that time.
func (d *device) within(expression string, limit time.Duration) bool {
	d.t.Helper()
	ctx, cancel := context.WithTimeout(d.ctx, limit)
	defer cancel()
	_, err := chromedp.Run(ctx, chromedp.Poll[bool](expression, chromedp.WithPollingInterval(20*time.Millisecond), chromedp.WithPollingTimeout(limit)))
	return err == nil
}

// rested is a second from now. A button that has just come up rests a moment, by the
// time that an event says it was made at: a press of then finds it awake.
func rested() input.TimeSinceEpoch { return stamped(time.Now().Add(time.Second)) }

// stamped is a moment as the events of fingers carry it.
func stamped(at time.Time) input.TimeSinceEpoch {
	return input.TimeSinceEpoch(float64(at.UnixMicro()) / 1e6)
}

// press taps the control with these words. A page that is laid out again under the
// finger may give the tap to something else: then it is given again.
func (d *device) press(words string) {
	d.t.Helper()
	for range 5 {
		p := d.find(words)
		d.feels("click", words)
		d.do(chromedp.MouseClickXY(p.X, p.Y, func(e *input.DispatchMouseEventParams) { e.Timestamp = rested() }))
		if d.within(`!window.felt || felt.click.hit`, 2*time.Second) || gets[bool](d, fmt.Sprintf(`!window.felt || !%s(%q)`, control, words)) {
			return // a page that went away was left by the tap
		}
		d.again++
	}
	d.missed("pressed", words)
}

func (d *device) missed(did, words string) {
	d.t.Helper()
	p := d.find(words)
	d.fail("%s %q, and it never felt it: at its middle is %s", did, words, gets[string](d, fmt.Sprintf(`(document.elementFromPoint(%f, %f)?.outerHTML ?? "nothing").slice(0, 200)`, p.X, p.Y)))
}

// hold presses a control and lets go when done holds. It presses again where the page
// was laid out again under the finger.
func (d *device) hold(words, done string) {
	d.t.Helper()
	for range 5 {
		p := d.find(words)
		d.feels("pointerdown", words)
		d.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, p.X, p.Y, chromedp.ButtonLeft, chromedp.ClickCount(1),
			func(e *input.DispatchMouseEventParams) { e.Timestamp = rested() }))
		held := d.within(`!window.felt || felt.pointerdown.hit`, 2*time.Second) && (d.within(done, 10*time.Second) || gets[bool](d, fmt.Sprintf(`!%s(%q)`, control, words)))
		if held {
			d.waits(done, "the hold on "+words)
		}
		d.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, p.X, p.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
		if held {
			return
		}
		d.again++
	}
	d.missed("held", words)
}

// answers gives the answer that fills a line, as its button takes it.
func (d *device) answers(l board.Line) {
	d.t.Helper()
	gone := fmt.Sprintf(`!document.querySelector("h1")?.innerText.includes(%q)`, l.Ask)
	if l.Verifies {
		d.hold(l.Say, gone)
		return
	}
	d.press(l.Say)
	d.waits(gone, "the line after: "+l.Ask)
}

// types puts text into the field with an id.
func (d *device) types(id, text string) {
	d.t.Helper()
	d.do(chromedp.WaitVisible(chromedp.ID(id)), chromedp.Focus(chromedp.ID(id)), chromedp.SendKeys(chromedp.ID(id), text))
}

// offline cuts the device off, or lets it back, and waits until that holds: what is
// sent is lost, and the sockets it has fall silent without a word.
func (d *device) offline(cut bool) {
	d.t.Helper()
	require.NoError(d.t, emulateNetwork(d.ctx, cut, -1))
	d.forgive("ERR_INTERNET_DISCONNECTED")
	d.waits(fmt.Sprintf(`fetch("/healthz", {cache: "no-store"}).then(() => false, () => true).then((lost) => lost === %t)`, cut), "the network gone, or back")
	if cut {
		d.runs(`dispatchEvent(new Event("online"))`) // the page looks whether its socket lives, sooner than it would
	}
}

// emulateNetwork cuts the network off, or lets so many bytes a second out, −1 for any.
// It sends what the browser takes. Until 142 there was one command for the whole page.
// The one that came with 143 demanded a word for the whole page beside the rules; since
// 150 that word may be left out, and does no harm.
func emulateNetwork(ctx context.Context, cut bool, upload float64) error {
	if one.Major < 143 {
		_, err := chromedp.Call(ctx, cdp.Command[network.OverrideNetworkStateParams, cdp.Empty]{Method: "Network.emulateNetworkConditions"},
			network.OverrideNetworkStateParams{Offline: cut, DownloadThroughput: -1, UploadThroughput: upload})
		return err
	}
	type byRule struct {
		network.EmulateNetworkConditionsByRuleParams
		Offline bool `json:"offline"`
	}
	rules := []*network.Conditions{{Offline: cut, DownloadThroughput: -1, UploadThroughput: upload}}
	_, err := chromedp.Call(ctx, cdp.Command[byRule, cdp.Empty]{Method: network.CommandEmulateNetworkConditionsByRule},
		byRule{network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: rules}, cut})
	return err
}

// hearsLate makes the pages the device opens from now on keep back what changed on
// the board while d.lags(true) holds, as a slow network does; all else is heard.
func (d *device) hearsLate() {
	d.t.Helper()
	_, err := chromedp.Call(d.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
window.late = { on: false, kept: [] };
window.WebSocket = class extends WebSocket {
  set onmessage(hear) {
    super.onmessage = hear && ((e) => (late.on && JSON.parse(e.data).t === "patches" ? late.kept.push(() => hear(e)) : hear(e)));
  }
};`})
	require.NoError(d.t, err)
}

func (d *device) lags(on bool) {
	d.t.Helper()
	d.runs(fmt.Sprintf(`late.on = %t; if (!late.on) late.kept.splice(0).forEach((hear) => hear())`, on))
}

// runs evaluates a script for what it does, and waits for the promise that it makes.
func (d *device) runs(script string) {
	d.t.Helper()
	_, err := chromedp.Run(d.ctx, chromedp.Evaluate[chromedp.Void](script, chromedp.EvalAwaitPromise))
	require.NoError(d.t, err)
}

// gets evaluates a script, or the promise it makes, for its value.
func gets[T any](d *device, script string) T {
	d.t.Helper()
	value, err := chromedp.Run(d.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	require.NoError(d.t, err)
	return value
}

// shot takes a picture where MENDLINE_SHOTS names a folder for it.
func (d *device) shot(name string) {
	d.t.Helper()
	if dir := os.Getenv("MENDLINE_SHOTS"); dir != "" {
		d.picture(dir, name)
	}
}

func (d *device) picture(dir, name string) string {
	d.t.Helper()
	png, err := chromedp.Run(d.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		return "none: " + err.Error()
	}
	path := filepath.Join(dir, name+".png")
	require.NoError(d.t, os.MkdirAll(dir, 0o755))
	require.NoError(d.t, os.WriteFile(path, png, 0o644))
	return path
}
