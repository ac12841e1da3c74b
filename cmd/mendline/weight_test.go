package main

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// fetched is what a page fetched, by the browser's own account: names and bytes on
// the wire, headers with them.
type fetched struct {
	Names         []string
	Bytes, Script int
}

// The budget of a first load on plain http without a cache: the page itself, then one
// round on the six connections that browsers open to a server, and two files more.
const (
	firstLoadRequests  = 1 + 6 + 2
	firstLoadBytes     = 110_000
	firstScriptBytes   = 60_000
	demoSnapshotBytes  = 60_000
	firstLoadTillShown = `(() => {
  const shown = performance.getEntriesByName("shown me")[0].startTime;
  const all = [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")]
    .filter((e) => e.startTime < shown && !e.name.endsWith("icon.svg"));
  const bytes = (of) => of.reduce((sum, e) => sum + e.transferSize, 0);
  return {Names: all.map((e) => new URL(e.name).pathname), Bytes: bytes(all), Script: bytes(all.filter((e) => e.name.endsWith(".js")))};
})()`
)

func TestBrowserThePhonesFirstLoadIsSmall(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCrew, "Pia")
	_, err := chromedp.Call(phone.ctx, network.SetCacheDisabled, network.SetCacheDisabledParams{CacheDisabled: true})
	require.NoError(t, err)
	phone.open("about:blank")
	phone.open(s.url + "/")
	phone.sees("my next move")
	first := gets[fetched](phone, firstLoadTillShown)
	t.Logf("first load: %d requests, %d bytes, %d of them script: %v", len(first.Names), first.Bytes, first.Script, first.Names)
	require.True(t, slices.ContainsFunc(first.Names, func(name string) bool { return strings.HasPrefix(name, "/made/phone-") }), "the account holds what the phone needs")
	require.LessOrEqual(t, len(first.Names), firstLoadRequests, "%v", first.Names)
	require.LessOrEqual(t, first.Bytes, firstLoadBytes)
	require.LessOrEqual(t, first.Script, firstScriptBytes)
	require.Greater(t, first.Bytes, 10_000, "the files came over the wire")

	whole := gets[int](phone, `fetch("/api/board").then((r) => r.arrayBuffer()).then(() => performance.getEntriesByType("resource").filter((e) => e.name.endsWith("/api/board"))[0].encodedBodySize)`)
	t.Logf("snapshot of the demo: %d bytes", whole)
	require.LessOrEqual(t, whole, demoSnapshotBytes)
	require.Greater(t, whole, 1000)
}

// keepsItsPages waits until a phone has fetched what it may be asked for later: what its
// screens import, at once or not.
func (d *device) keepsItsPages() {
	d.t.Helper()
	files, err := pages()
	require.NoError(d.t, err)
	var needs []string
	for name := range files {
		if regexp.MustCompile(`^made/(phone|sheet|damage)-`).MatchString(name) {
			needs = append(needs, name)
		}
	}
	require.Len(d.t, needs, 3)
	imports := regexp.MustCompile(`"\./([a-z]+-[A-Z0-9]+\.js)"`)
	for i := 0; i < len(needs); i++ { // grows while it is walked
		for _, m := range imports.FindAllStringSubmatch(string(files[needs[i]]), -1) {
			if name := "made/" + m[1]; !slices.Contains(needs, name) {
				needs = append(needs, name)
			}
		}
	}
	for _, name := range needs {
		d.waits(`performance.getEntriesByType("resource").some((e) => e.name.endsWith("/`+name+`") && e.responseEnd > 0)`, name)
	}
}

// Everything a phone may be asked for is on it before the network is lost.
func TestBrowserAPhoneKeepsItsPagesWithoutANetwork(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCrew, "Pia")
	robot := string(s.robot("Grobblequill").ID)
	sheet, ok := s.desk.View().State.Sheet(s.robot("Nettlepip").ID, board.ListReady)
	require.True(t, ok)
	phone.keepsItsPages()
	phone.offline(true)
	for hash, words := range map[string]string{
		"#/me/more": "running order", "#/me/packs": s.aPack().Name, "#/robot/" + robot: "something new",
		"#/damage/" + robot: "what is damaged", "#/sheet/" + string(sheet.ID): "line",
	} {
		phone.runs(`location.hash = "` + hash + `"`)
		phone.sees(words)
	}
	phone.offline(false)
}
