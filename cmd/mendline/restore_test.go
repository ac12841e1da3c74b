package main

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestARestoredBoardListsWhatTheOneBeforeItHeldBack(t *testing.T) {
	s := serveDemo(t)
	file := filepath.Join(t.TempDir(), "noon.db")
	var out bytes.Buffer
	keeps := func(what func() error) { require.NoError(t, what(), out.String()) }
	on := terminal{out: &out, err: &out}
	s.stop()
	keeps(func() error { return backup(t.Context(), on, []string{"-data", string(s.data), file}) })
	s = s.restarts(t)
	s.does(t, "Pia", board.PackSet{Pack: s.pack("V1").ID, State: board.PackSuspect, Why: "a dent"})
	s.stop()
	keeps(func() error { return restore(t.Context(), on, []string{"-data", string(s.data), file}) })

	s = s.restarts(t)
	state := s.desk.View().State
	require.Equal(t, board.PackSuspect, state.Packs[s.pack("V1").ID].State, "though the backup knew nothing of it")
	var held []string
	for _, n := range state.Notes {
		if n.Held {
			held = append(held, n.Text)
		}
	}
	require.Equal(t, []string{"Before the restore: Pack V1 was set aside."}, held)
	for _, p := range state.Packs {
		aside := p.State == board.PackSuspect || p.State == board.PackQuarantined || p.State == board.PackGone
		require.True(t, aside || p.State == board.PackUnread || p.Unread || p.Unsure, "%s is %s", p.Name, p.State)
	}
	_, err := os.Stat(s.data.held())
	require.ErrorIs(t, err, os.ErrNotExist, "it is in the board now")
	s.stop()
	s = s.restarts(t)
	require.Len(t, s.desk.View().State.Notes, len(state.Notes), "and a restart lists nothing again")
}

func TestARestoreEndsEverySessionAndBringsNoOldCodeBack(t *testing.T) {
	folder, file := filepath.Join(t.TempDir(), "event"), filepath.Join(t.TempDir(), "noon.db")
	var out bytes.Buffer
	on := terminal{out: &out, err: &out}
	p := startWithoutCodes(t, folder)
	require.NoError(t, backup(t.Context(), on, []string{"-data", folder, file}), out.String())
	snap, err := snapshotOf(file)
	require.NoError(t, err)
	join := map[string]string{"code": string(snap.Secrets["code/captain"]), "name": "Ada", "pin": "135790"}
	token := p.joinsAs(join)
	var changed struct {
		Code string `json:"code"`
	}
	require.Equal(t, http.StatusOK, p.ask(token, http.MethodPost, "/api/codes/change", map[string]string{"role": "crew"}, &changed))
	p.stop()
	p = startWithoutCodes(t, folder)
	require.Equal(t, http.StatusOK, p.ask(token, http.MethodGet, "/api/me", nil, &struct{}{}), "a restart ends no session")
	p.stop()

	for range 2 {
		out.Reset()
		require.NoError(t, restore(t.Context(), on, []string{"-data", folder, file}), out.String())
		require.Contains(t, out.String(), "Every device has to join again")
	}
	kept, err := filepath.Glob(filepath.Join(folder, "board.db.replaced-*"))
	require.NoError(t, err)
	require.Len(t, kept, 2)
	p = startWithoutCodes(t, folder)
	require.Equal(t, http.StatusUnauthorized, p.ask(token, http.MethodGet, "/api/me", nil, &struct{}{}))
	token = p.joinsAs(join) // the captain's code was never changed
	var codes struct {
		Codes []struct{ Role, Code string } `json:"codes"`
	}
	require.Equal(t, http.StatusOK, p.ask(token, http.MethodGet, "/api/codes", nil, &codes))
	for _, c := range codes.Codes {
		if c.Role == "crew" {
			require.Equal(t, changed.Code, c.Code, "after two restores")
		}
	}
	p.stop()
	people := map[int]bool{}
	for _, path := range kept {
		s, err := stateOf(path)
		require.NoError(t, err)
		people[len(s.People)] = true
	}
	require.Equal(t, map[int]bool{0: true, 1: true}, people, "the newest board, with Ada, is still there")
}

func TestABackupCopiedByHandIsNoPlainRestart(t *testing.T) {
	s := serveDemo(t)
	file := filepath.Join(t.TempDir(), "noon.db")
	var out bytes.Buffer
	s.stop()
	require.NoError(t, backup(t.Context(), terminal{out: &out, err: &out}, []string{"-data", string(s.data), file}), out.String())
	s = s.restarts(t)
	read := func() (n int) {
		for _, p := range s.desk.View().State.Packs {
			aside := p.State == board.PackSuspect || p.State == board.PackQuarantined || p.State == board.PackGone
			if len(p.Reading.CellVolts) > 0 && !aside && !p.Unread && !p.Unsure && p.State != board.PackUnread {
				n++
			}
		}
		return n
	}
	require.Positive(t, read(), "a plain restart voids no reading")
	s.stop()
	require.NoError(t, copyFile(file, s.data.board()))
	s = s.restarts(t)
	require.Zero(t, read(), "what a backup says of packs is as old as it is")
	said := 0
	for _, n := range s.desk.View().State.Notes {
		if n.Held {
			require.Contains(t, n.Text, "put in place by hand")
			said++
		}
	}
	require.Equal(t, 1, said)
	s.does(t, "Pia", board.PackRead{Pack: s.pack("V1").ID, CellVolts: slices.Repeat([]float64{4.1}, s.pack("V1").Cells)})
	s.stop()
	s = s.restarts(t)
	require.Equal(t, 1, read(), "once")
}

func TestARestoreOverADamagedBoardOrNoneSaysThatNobodyKnows(t *testing.T) {
	s := serveDemo(t)
	file := filepath.Join(t.TempDir(), "noon.db")
	var out bytes.Buffer
	on := terminal{out: &out, err: &out}
	s.stop()
	require.NoError(t, backup(t.Context(), on, []string{"-data", string(s.data), file}), out.String())
	says := func(what string) {
		t.Helper()
		require.NoError(t, restore(t.Context(), on, []string{"-data", string(s.data), file}), out.String())
		s = s.restarts(t)
		said := 0
		for _, n := range s.desk.View().State.Notes {
			if n.Held {
				said++
				require.Contains(t, n.Text, what)
			}
		}
		require.Equal(t, 1, said)
		s.stop()
	}
	require.NoError(t, os.WriteFile(s.data.board(), bytes.Repeat([]byte("gone"), 4096), 0o600))
	says("could not be read")
	require.NoError(t, os.Remove(s.data.board()))
	says("is not in this folder")
}

func TestARestoredBoardStartsOverAChargeWhereAnEmergencyStands(t *testing.T) {
	s := serveDemo(t)
	var p board.Pack
	for _, is := range s.desk.View().State.Packs {
		if is.State == board.PackCharging {
			p = is
		}
	}
	require.NotEmpty(t, p.ID, "the demo charges something")
	who := s.desk.View().State.People[p.Attendant].Name
	s.does(t, who, board.PackOff{Pack: p.ID})
	file := filepath.Join(t.TempDir(), "noon.db")
	var out bytes.Buffer
	on := terminal{out: &out, err: &out}
	s.stop()
	require.NoError(t, backup(t.Context(), on, []string{"-data", string(s.data), file}), out.String())
	s = s.restarts(t)
	volts, tempC := make([]float64, p.Cells), 21.0
	for i := range volts {
		volts[i] = 3.7
	}
	s.does(t, who, board.PackRead{Pack: p.ID, CellVolts: volts, TempC: &tempC})
	s.does(t, who, board.PackCharge{Pack: p.ID, Channel: p.Channel, Attendant: p.Attendant, Cells: p.Cells, Amps: p.Amps, Contained: true})
	s.does(t, who, board.EmergencyRaise{Place: p.Place})
	s.stop()
	require.NoError(t, restore(t.Context(), on, []string{"-data", string(s.data), file}), out.String())

	for range 2 {
		s = s.restarts(t)
		state := s.desk.View().State
		require.Equal(t, board.PackCharging, state.Packs[p.ID].State)
		require.True(t, state.Packs[p.ID].Unsure)
		require.Len(t, state.Emergencies, 1)
		s.stop()
	}
}
