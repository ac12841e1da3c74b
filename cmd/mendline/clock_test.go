package main

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
)

// stepped is the program on a laptop whose clock a test sets, by what stands in the file
// that MENDLINE_TEST_STEP names: how far it is off.
func stepped() {
	ctx, stop := stopBySignal(context.Background())
	defer stop()
	now := func() time.Time {
		by, err := os.ReadFile(os.Getenv("MENDLINE_TEST_STEP"))
		if err != nil {
			return time.Now()
		}
		off, err := time.ParseDuration(string(by))
		if err != nil {
			panic(err)
		}
		return time.Now().Add(off)
	}
	s := settings{now: now, boot: desk.BootClock()}
	if err := s.serve(ctx, terminal{out: os.Stdout, err: os.Stderr}, os.Args[2:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// stepper sets the clock of the stepped programs of a test.
func stepper(t *testing.T) (step func(off string)) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "step")
	t.Setenv("MENDLINE_TEST_STEP", file)
	return func(off string) {
		require.NoError(t, os.WriteFile(file+".new", []byte(off), 0o600))
		require.NoError(t, os.Rename(file+".new", file))
	}
}

// dated is a moment of the board's, and the test's own time before it was asked for and
// after it was heard.
type dated struct {
	at           board.Moment
	asked, heard time.Duration
}

// goesOn requires that the board's time went on from one moment to another at one second
// a second: by what the test itself saw pass, two milliseconds for cut-off ends aside.
func goesOn(t *testing.T, a, b dated) {
	t.Helper()
	went := b.at.Sub(a.at)
	require.GreaterOrEqual(t, went, b.asked-a.heard-2*time.Millisecond)
	require.LessOrEqual(t, went, b.heard-a.asked+2*time.Millisecond)
}

// clocked is a captain of a program whose clock a test steps.
type clocked struct {
	*process
	token string
	boot  func() time.Duration
}

// does gives a command and says when the board did it.
func (c *clocked) does(do string, with any) dated {
	c.t.Helper()
	d := dated{asked: c.boot()}
	var done struct {
		Rev board.Rev `json:"rev"`
	}
	ask := map[string]any{"id": uuid.Must(uuid.NewV7()).String(), "do": do, "with": with}
	require.Equal(c.t, http.StatusOK, c.ask(c.token, http.MethodPost, "/api/do", ask, &done))
	d.heard, d.at = c.boot(), c.line(done.Rev)
	return d
}

// line is when the board did a command.
func (c *clocked) line(rev board.Rev) board.Moment {
	c.t.Helper()
	var page struct {
		Lines []board.JournalLine `json:"lines"`
	}
	require.Equal(c.t, http.StatusOK, c.ask(c.token, http.MethodGet, fmt.Sprintf("/api/journal?after=%d", rev-1), nil, &page))
	require.Equal(c.t, rev, page.Lines[0].Rev)
	return page.Lines[0].At
}

func (c *clocked) notes() dated { return c.does("note.add", map[string]string{"text": "tight"}) }

// health is what /healthz says of the laptop's clock.
func (c *clocked) health() string {
	c.t.Helper()
	var said struct{ Health, Clock string }
	require.Equal(c.t, http.StatusOK, c.ask("", http.MethodGet, "/healthz", nil, &said))
	require.Equal(c.t, "ok", said.Health)
	return said.Clock
}

func TestAProcessWhoseLaptopsClockIsSetGoesOnAtOneSecondASecond(t *testing.T) {
	for off, said := range map[string]string{
		"0s":      "",
		"-20m":    "The laptop's clock is 20 min behind the board.",
		"20m":     "The laptop's clock is 20 min ahead of the board.",
		"-24h":    "The laptop's clock is 24 h behind the board.",
		"8784h1m": "The laptop's clock is 366 days ahead of the board.",
	} {
		t.Run(off, func(t *testing.T) {
			step, folder := stepper(t), t.TempDir()
			c := &clocked{process: startProgram(t, "stepped", folder, withCodes(nil)...), boot: desk.BootClock()}
			c.token = c.joinsAs(adaJoins)
			before := c.notes()
			step(off)
			after := c.notes()
			goesOn(t, before, after)
			require.Equal(t, said, c.health())
			c.kill()

			c.process = startProgram(t, "stepped", folder, withCodes(nil)...)
			restarted := c.notes()
			goesOn(t, after, restarted)
			require.Equal(t, said, c.health())
			c.stop()
			require.Equal(t, said != "", strings.Contains(c.banner.String(), "The laptop's clock is"), c.banner.String())
		})
	}
}

func TestAProcessWhoseCaptainSetsTheTimeGoesOnFromThereAfterAKill(t *testing.T) {
	step, folder := stepper(t), t.TempDir()
	step("24h")
	c := &clocked{process: startProgram(t, "stepped", folder, withCodes(nil)...), boot: desk.BootClock()}
	c.token = c.joinsAs(adaJoins)
	ahead := c.notes() // one command on a clock that is a day ahead
	step("0s")
	require.Equal(t, "The laptop's clock is 24 h behind the board.", c.health())

	var asked struct {
		Now, Laptop board.Moment
		BySec       int
		Moves       []string
	}
	require.Equal(t, http.StatusOK, c.ask(c.token, http.MethodGet, "/api/clock", nil, &asked))
	require.Equal(t, -24*3600, asked.BySec)
	require.Contains(t, asked.Moves[0], "goes back 24 h")
	set := c.does("time.set", map[string]int{"bySec": asked.BySec})
	ahead.at = ahead.at.Add(-24 * time.Hour)
	goesOn(t, ahead, set)
	require.Empty(t, c.health())
	next := c.notes()
	goesOn(t, set, next)
	c.kill()

	c.process = startProgram(t, "stepped", folder, withCodes(nil)...)
	goesOn(t, next, c.notes())
	require.Empty(t, c.health())
	require.Equal(t, http.StatusOK, c.ask(c.token, http.MethodGet, "/api/clock", nil, &asked))
	require.Zero(t, asked.BySec)
	c.stop()
	require.NotContains(t, c.banner.String(), "The laptop's clock")
}

func TestARestoredBoardsTimeGoesOnFromTheReplacedBoards(t *testing.T) {
	const day = 24 * time.Hour
	for name, c := range map[string]struct {
		// before the backup and after it: where the laptop's clock is put, and by how
		// much the captain sets the time.
		begins        string
		before, after time.Duration
		stepped       string
		said          string
	}{
		"the time was set after the backup":     {begins: "24h", stepped: "0s", after: -day},
		"the time was set before the backup":    {begins: "0s", stepped: "0s", before: 20 * time.Minute, said: "The laptop's clock is 20 min behind the board."},
		"the time was set before and after it":  {begins: "0s", stepped: "0s", before: -20 * time.Minute, after: time.Hour, said: "The laptop's clock is 40 min behind the board."},
		"the laptop's clock was set in between": {begins: "0s", stepped: "-20m", said: "The laptop's clock is 20 min behind the board."},
	} {
		t.Run(name, func(t *testing.T) {
			step, folder, file := stepper(t), t.TempDir(), filepath.Join(t.TempDir(), "noon.db")
			step(c.begins)
			p := &clocked{process: startProgram(t, "stepped", folder, withCodes(nil)...), boot: desk.BootClock()}
			p.token = p.joinsAs(adaJoins)
			last := p.notes()
			sets := func(by time.Duration) {
				if by != 0 {
					set := p.does("time.set", map[string]int{"bySec": int(by / time.Second)})
					last.at = last.at.Add(by)
					goesOn(t, last, set)
					last = set
				}
			}
			sets(c.before)
			var out bytes.Buffer
			on := terminal{out: &out, err: &out}
			require.NoError(t, backup(t.Context(), on, []string{"-data", folder, file}), out.String())
			step(c.stepped)
			sets(c.after)
			last = p.notes()
			p.stop()

			require.NoError(t, restore(t.Context(), on, []string{"-data", folder, file}), out.String())
			p.process = startProgram(t, "stepped", folder, withCodes(nil)...)
			p.token = p.joinsAs(adaJoins)
			restored := p.notes()
			goesOn(t, last, restored)
			require.Equal(t, c.said, p.health())
			p.kill()

			p.process = startProgram(t, "stepped", folder, withCodes(nil)...)
			goesOn(t, restored, p.notes())
			require.Equal(t, c.said, p.health())
			p.stop()
		})
	}
}
