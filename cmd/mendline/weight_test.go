package main

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// fetched is what a page fetched, by the browser's own account: names and bytes on
// the wire, headers with them.
type fetched struct {
	Names []string
	Bytes int
}

// The budget of a first load on plain http without a cache: the page itself, then
// two rounds on the six connections that browsers open to a server, and one file more.
const (
	firstLoadRequests  = 1 + 2*6 + 1
	firstLoadBytes     = 100_000
	demoSnapshotBytes  = 60_000
	firstLoadTillShown = `(() => {
  const shown = performance.getEntriesByName("shown me")[0].startTime;
  const all = [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")]
    .filter((e) => e.startTime < shown && !e.name.endsWith("icon.svg"));
  return {Names: all.map((e) => new URL(e.name).pathname), Bytes: all.reduce((sum, e) => sum + e.transferSize, 0)};
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
	t.Logf("first load: %d requests, %d bytes: %v", len(first.Names), first.Bytes, first.Names)
	require.Contains(t, first.Names, "/phone/phone.js", "the account holds what the phone needs")
	require.LessOrEqual(t, len(first.Names), firstLoadRequests, "%v", first.Names)
	require.LessOrEqual(t, first.Bytes, firstLoadBytes)
	require.Greater(t, first.Bytes, 10_000, "the files came over the wire")

	whole := gets[int](phone, `fetch("/api/board").then((r) => r.arrayBuffer()).then(() => performance.getEntriesByType("resource").filter((e) => e.name.endsWith("/api/board"))[0].encodedBodySize)`)
	t.Logf("snapshot of the demo: %d bytes", whole)
	require.LessOrEqual(t, whole, demoSnapshotBytes)
	require.Greater(t, whole, 1000)
}

// keepsItsPages waits until a phone has fetched what it may be asked for later.
func (d *device) keepsItsPages() {
	d.t.Helper()
	var modules []string
	for _, folder := range []string{"phone", "pack", "sheet"} {
		paths, err := filepath.Glob("../../frontend/" + folder + "/*.js")
		require.NoError(d.t, err)
		require.NotEmpty(d.t, paths)
		modules = append(modules, paths...)
	}
	for _, path := range modules {
		module := filepath.Base(filepath.Dir(path)) + "/" + filepath.Base(path)
		d.waits(`performance.getEntriesByType("resource").some((e) => e.name.endsWith("/`+module+`") && e.responseEnd > 0)`, module)
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
