// Package browsertest starts the Chromium that tests drive.
package browsertest

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
)

// PitName is the name under which browsers reach this machine: not localhost, which
// they trust more than any address on a LAN.
const PitName = "pit.test"

// oldest is the first Chromium that the tests were run with.
const oldest = 140

// unwanted are parts of the browser's own window. Newer ones build the list under the
// address bar for each window out of pages, which takes a fifth of the tests' time.
const unwanted = "Translate,WebUIOmniboxPopup,WebUIOmniboxAimPopup"

// startMost is how long a browser may take to start: far longer than it does, so
// that a busy machine skips no test.
const startMost = 90 * time.Second

// Browser is one Chromium for all tests of a package, as starting one takes longer
// than most of them. It starts when it is first asked for.
type Browser struct {
	once sync.Once
	stop func()

	// Context is the running browser's.
	Context context.Context
	// Major is the first figure of its version.
	Major int
	err   error
}

// Needed starts the browser. Where there is none that serves, it skips the test with
// one line, or fails it where MENDLINE_REQUIRE_BROWSER is set.
func (b *Browser) Needed(t testing.TB) {
	t.Helper()
	b.once.Do(b.start)
	if b.err == nil {
		return
	}
	if os.Getenv("MENDLINE_REQUIRE_BROWSER") != "" {
		t.Fatalf("%v, and the browser tests are required", b.err)
	}
	t.Skipf("%v: the browser tests are skipped", b.err)
}

// Stop ends the browser if one was started.
func (b *Browser) Stop() {
	if b.stop != nil {
		b.stop()
	}
}

func (b *Browser) start() {
	path, err := find()
	if err != nil {
		b.err = err
		return
	}
	alloc, stopAlloc := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.WSURLReadTimeout(startMost),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-features", unwanted),
		chromedp.Flag("host-resolver-rules", "MAP "+PitName+" 127.0.0.1"),
	)...)
	ctx, stop := chromedp.NewContext(alloc)
	b.Context, b.stop = ctx, func() { stop(); stopAlloc() }
	version, err := chromedp.CallBrowser(ctx, browser.GetVersion, cdp.Empty{})
	if err == nil {
		err = chromedp.Do(ctx, chromedp.Navigate("about:blank"))
	}
	if err != nil {
		b.err = fmt.Errorf("%s does not start: %w", path, err)
		return
	}
	fmt.Fprintf(os.Stderr, "browser: %s at %s\n", version.Product, path)
	b.Major, b.err = major(version.Product)
	if b.err == nil && b.Major < oldest {
		b.err = fmt.Errorf("%s is %s, older than %d", path, version.Product, oldest)
	}
}

// find gives the program that MENDLINE_BROWSER names, or else the first known one: the
// headless shell, which draws no window of its own, before whole browsers.
func find() (string, error) {
	if name := os.Getenv("MENDLINE_BROWSER"); name != "" {
		return exec.LookPath(name)
	}
	for _, name := range []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("no Chromium found, nor named by MENDLINE_BROWSER")
}

// major reads the first figure of a version such as HeadlessChrome/140.0.7339.0.
func major(product string) (int, error) {
	_, version, _ := strings.Cut(product, "/")
	first, _, _ := strings.Cut(version, ".")
	n, err := strconv.Atoi(first)
	if err != nil {
		return 0, fmt.Errorf("a browser of unknown version: %s", cmp.Or(product, "it says none"))
	}
	return n, nil
}
