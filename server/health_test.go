package server

import (
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

func TestHealthFollowsDeskAndDisk(t *testing.T) {
	p := newPit(t)
	p.nobody().get("/healthz").ok()
	p.stopDesk()
	p.nobody().get("/healthz").refusedBy(http.StatusServiceUnavailable)

	full := newEmptyPitWith(t, with{store: store.Options{FreeBytesLeast: 1 << 62}, options: func(o *Options) { o.Codes = pitCodes }})
	a := full.nobody().get("/healthz")
	a.refusedBy(http.StatusServiceUnavailable)
	h := decode[Health](t, a.body)
	require.Equal(t, "read-only", h.Health)
	require.True(t, h.Disk.Bad)
	full.tryJoin(JoinAsk{Code: pitCodes[board.RoleViewer]}).refused(http.StatusServiceUnavailable, board.CodeReadOnly)
}

func TestHealthSaysHowFarTheLaptopsClockIsOff(t *testing.T) {
	p := newPit(t)
	says := func() string { return decode[Health](t, p.nobody().get("/healthz").ok().body).Clock }
	require.Empty(t, says())
	p.clock.step(-20 * time.Minute)
	require.Equal(t, "The laptop's clock is 20 min behind the board.", says())
	require.Equal(t, "The laptop's clock is 20 min behind the board.", p.dial(p.crew()).await("hello").Clock)
	p.clock.step(0)
	require.Empty(t, says())
}

// Names as prometheus.io/docs/practices/naming asks for: a prefix, base units,
// _total on counters.
func TestMetricsCountWhatHappens(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	k := p.dial(ben)
	k.resume("", 0)
	ben.do(note("counted")).ok()
	ben.do(board.PlaceAdd{}).refused(http.StatusForbidden, board.CodeForbidden)
	p.dial(device{p: p, token: newToken()}).closed()
	said := string(p.nobody().get("/metrics").ok().body)
	for _, line := range []string{
		`mendline_commands_total{do="note.add",result="done"} 1`,
		`mendline_commands_total{do="place.add",result="forbidden"} 1`,
		`mendline_ws_clients 1`,
		`mendline_ws_closed_total{code="4001"} 1`,
		`mendline_readonly 0`,
		`mendline_build_info{version="test"} 1`,
		`mendline_commit_duration_seconds_count`,
		`mendline_forecast_duration_seconds_count`,
		`mendline_store_bytes `,
	} {
		require.Contains(t, said, line)
	}
	for _, private := range []string{"Ben", "Tin Moth", string(p.ben), string(p.moth)} {
		require.NotContains(t, said, private)
	}
	require.NotContains(t, said, "mendline_store_bytes 0\n")
}
