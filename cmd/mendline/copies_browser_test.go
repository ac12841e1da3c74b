package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/cmd/mendline/demo"
	"mendline/server"
)

func TestBrowserTheCaptainSeesHowOldEachCopyIsAndWhichFails(t *testing.T) {
	inBrowser(t)
	folder, team, stick := filepath.Join(t.TempDir(), "event"), filepath.Join(t.TempDir(), "team"), filepath.Join(t.TempDir(), "stick")
	require.NoError(t, demo.WriteTo(team))
	require.NoError(t, os.Mkdir(stick, 0o700))
	flags := []string{"-team", team, "-backup", stick}
	p := startForetelling(t, "mendline", folder, withCodes(flags)...)
	captain := newDevice(t, "captain", 1280, 800, false)
	captain.joins(p.note.URL, board.RoleCaptain, "Ottoline")
	token := p.joinsAs(map[string]string{"code": testCodes[board.RoleCaptain], "name": "Ottoline", "pin": "135790"})
	// stand waits till the board has noticed how its copies stand, and changes it then: with
	// that a forecast comes at once, and with the forecast what the page shows.
	stand := func(so func(says string) bool) {
		require.Eventually(t, func() bool {
			var health server.Health
			p.ask("", "GET", "/healthz", nil, &health)
			return so(health.Copy.Says)
		}, patience, 50*time.Millisecond)
		require.True(t, p.notes(token, "looked"))
	}
	fails := func(says string) bool { return strings.Contains(says, "a copy fails") }
	stand(func(says string) bool { return strings.Contains(says, "last copy") })
	captain.open(p.note.URL + "/#/captain/access")
	captain.sees("in " + stick)
	captain.sees("copied under 1 min ago")
	captain.sees("No other laptop may keep copies")
	captain.press("let a second laptop keep copies")
	captain.sees("mendline keep http://ADDRESS:")
	var may struct {
		Code string `json:"code"`
	}
	require.Equal(t, 200, p.ask(token, "GET", "/api/copies/code", nil, &may))
	captain.sees(may.Code)
	laptop := startCommand(t, "keep", "-data", filepath.Join(t.TempDir(), "spare"), p.note.URL, may.Code)
	laptop.until("The newest copy here is of")
	require.True(t, p.notes(token, "and one more"))
	captain.sees("on the laptop 127.0.0.1")
	captain.shot("copies-captain")

	require.NoError(t, os.Rename(stick, stick+" out"))
	stand(fails)
	captain.sees("it is not there")
	captain.sees("a copy fails")
	captain.shot("copies-failing-captain")
	captain.open(p.note.URL + "/#/captain/alarms")
	captain.sees("The board is not copied to " + stick + ": it is not there. Ottoline: see to it")
	captain.shot("copies-alarm-captain")
	require.NoError(t, os.Rename(stick+" out", stick))
	stand(func(says string) bool { return !fails(says) })
	captain.seesNot("The board is not copied")
	captain.open(p.note.URL + "/#/captain/access")
	captain.press("no laptop any more")
	captain.sees("No other laptop may keep copies")
	require.True(t, p.notes(token, "and one less"))
	captain.seesNot("on the laptop 127.0.0.1")
}
