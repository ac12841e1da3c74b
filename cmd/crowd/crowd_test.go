package main

import (
	"bytes"
	"context"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server"
	"mendline/server/desk"
	"mendline/server/photo"
	"mendline/server/store"
)

const crewCode = "CR0WDC0DE"

// pit is a real board with a robot and a spare, served on a real port through
// whatever the test puts in front of it. It gives the address.
func pit(t *testing.T, front func(http.Handler) http.Handler) string {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Skip("devices dial from 127.0.x.y, which needs Linux")
	}
	dir := t.TempDir()
	d, err := desk.New(desk.Options{Path: filepath.Join(dir, "board.db"), Store: store.Options{FreeBytesLeast: -1}, Forecast: noForecast})
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- d.Run(ctx) }() // ended at cleanup
	t.Cleanup(func() { stop(); require.NoError(t, <-ended) })
	fill(t, d)
	photos, err := photo.OpenStore(filepath.Join(dir, "photos"))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, photos.Close()) })
	s, err := server.New(server.Options{
		Desk: d, Photos: photos, Files: func() (map[string][]byte, error) {
			return map[string][]byte{"index.html": []byte("<!doctype html>")}, nil
		},
		Codes: map[board.Role]string{board.RoleCrew: crewCode},
	})
	require.NoError(t, err)
	web := httptest.NewServer(front(s.HTTP("").Handler))
	t.Cleanup(func() {
		patience, cancel := context.WithTimeout(context.Background(), 10*time.Second)
		defer cancel()
		require.NoError(t, s.Close(patience))
		web.Close()
	})
	return web.URL
}

func noForecast(board.State, board.Moment, uint64) desk.Derived { return desk.Derived{} }

// fill gives the board something that commands can be about. Names are invented.
func fill(t *testing.T, d *desk.Desk) {
	t.Helper()
	lead := made(t, d, board.KindPerson, "Ada", board.PersonAdd{PersonFields: board.PersonFields{Name: "Ada", Role: board.RoleCaptain}})
	made(t, d, board.KindRobot, "Tin Moth", board.RobotAdd{RobotFields: board.RobotFields{
		Name: "Tin Moth", Number: 1, Class: board.Class{Name: "beetleweight", Limit: 3, Unit: board.Pound, RuleSet: "house rules 2"}, Size: board.Light,
		Energies: []board.Energy{{Kind: board.EnergyDrive, Isolator: "removable link", Reach: board.Outside}},
		Lead:     board.PersonID(lead), Driver: board.PersonID(lead), Hands: 2, BeforeSec: 540, AfterSec: 300, Weight: 1,
	}})
	made(t, d, board.KindStock, "blade", board.StockAdd{StockFields: board.StockFields{Name: "blade", Count: 2}})
}

func made(t *testing.T, d *desk.Desk, kind board.Kind, name string, c board.Command) string {
	t.Helper()
	with, err := json.Marshal(c)
	require.NoError(t, err)
	id := board.CommandID(uuid.Must(uuid.NewV7()))
	a, err := d.Do(t.Context(), desk.Request{ID: id, Do: board.Name(c), With: with, Actor: board.Actor{Role: board.RoleCaptain}})
	require.NoError(t, err)
	require.Nil(t, a.Refusal)
	return board.NewID(id, kind, name)
}

func honest(h http.Handler) http.Handler { return h }

// lying leaves one noun out of the board it gives when it is asked over HTTP.
func lying(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != "/api/board" {
			h.ServeHTTP(w, r)
			return
		}
		r.Header.Set("Accept-Encoding", "identity")
		kept := httptest.NewRecorder()
		h.ServeHTTP(kept, r)
		var m map[string]jsontext.Value
		var put map[board.Key]jsontext.Value
		if json.Unmarshal(kept.Body.Bytes(), &m) != nil || json.Unmarshal(m["put"], &put) != nil {
			w.WriteHeader(http.StatusTeapot)
			return
		}
		for key := range put {
			if kind, _ := key.Split(); kind == board.KindRobot {
				delete(put, key)
			}
		}
		m["put"], _ = json.Marshal(put)
		_ = json.MarshalWrite(w, m)
	})
}

func TestASmallCrowdFindsEveryCopyEqualAndEveryCommandOnce(t *testing.T) {
	t.Parallel()
	var out, progress bytes.Buffer
	args := []string{"-url", pit(t, honest), "-code", crewCode, "-devices", "5", "-rate", "40", "-seconds", "2", "-json"}
	require.Equal(t, 0, run(t.Context(), args, &out, &progress), "%s%s", out.String(), progress.String())
	var f figures
	require.NoError(t, json.Unmarshal(out.Bytes(), &f))
	require.Empty(t, f.Faults)
	require.Greater(t, f.Commands, 40)
	for _, s := range []spread{f.Ack, f.Everywhere, f.Flush, f.Floor} {
		require.Equal(t, f.Commands, s.Count)
		require.Positive(t, s.P50)
		require.GreaterOrEqual(t, s.Max, s.P99)
	}
	require.Zero(t, f.Cuts)
	require.Positive(t, f.Nouns)
	require.Positive(t, f.Ratio.P50)
}

func TestACrowdFailsWhenACopyIsNotTheBoard(t *testing.T) {
	t.Parallel()
	var out, progress bytes.Buffer
	args := []string{"-url", pit(t, lying), "-code", crewCode, "-devices", "1", "-rate", "10", "-seconds", "1", "-steady"}
	require.Equal(t, 1, run(t.Context(), args, &out, &progress))
	require.Contains(t, out.String(), "FAULTS: 1")
	require.Regexp(t, `Crowd 1: robot/\S+ is not on the board`, out.String())
}

func TestACrowdWithTheWrongCodeSaysSo(t *testing.T) {
	t.Parallel()
	var out, progress bytes.Buffer
	args := []string{"-url", pit(t, honest), "-code", "WR0NGC0DE", "-devices", "2"}
	require.Equal(t, 1, run(t.Context(), args, &out, &progress))
	require.Contains(t, progress.String(), `join as "Crowd 1"`)
	require.Empty(t, out.String())
}

func TestEachDeviceHasAnAddressOfItsOwn(t *testing.T) {
	seen := map[string]bool{}
	for n := range sessionMost {
		a := address(n)
		require.True(t, a.IsLoopback())
		require.False(t, seen[a.String()], "%s twice", a)
		seen[a.String()] = true
	}
	require.Equal(t, "127.0.1.1", address(0).String())
}
