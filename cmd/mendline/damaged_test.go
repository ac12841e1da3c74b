package main

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server"
)

// captained is a process with a captain on it.
type captained struct {
	*process
	token string
}

// texts are those of the board's notes.
func (c *captained) texts() (list []string) {
	var is struct {
		Put map[string]struct {
			Text string `json:"text"`
		} `json:"put"`
	}
	require.Equal(c.t, http.StatusOK, c.ask(c.token, http.MethodGet, "/api/board", nil, &is))
	for key, noun := range is.Put {
		if strings.HasPrefix(key, "note/") {
			list = append(list, noun.Text)
		}
	}
	return list
}

// condition is what /healthz says to anyone, and the captain's screen to the captain.
func (c *captained) condition() (anyone server.Health, line string, recovered []string) {
	require.Equal(c.t, http.StatusOK, c.ask("", http.MethodGet, "/healthz", nil, &anyone))
	var own struct {
		Line      string   `json:"line"`
		Recovered []string `json:"recovered"`
	}
	require.Equal(c.t, http.StatusOK, c.ask(c.token, http.MethodGet, "/api/health", nil, &own))
	return anyone, own.Line, own.Recovered
}

// flipNouns flips a bit, in every copy that is no journal line, of each noun of a kind that
// holds a text, in the text.
func flipNouns(t *testing.T, path string, kind board.Kind, text string) {
	t.Helper()
	const uuidBytes, sumBytes = 36, 4
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	flipped := 0
	for at := 0; ; at++ {
		n := bytes.Index(data[at:], []byte(kind+"/"))
		if n < 0 {
			break
		}
		at += n
		noun := data[min(at+len(kind)+1+uuidBytes+sumBytes, len(data)):]
		if !bytes.HasPrefix(noun, []byte(`{"id":"`)) {
			continue
		}
		if in := bytes.Index(noun[:min(300, len(noun))], []byte(text)); in >= 0 {
			noun[in] ^= 1
			flipped++
		}
	}
	require.Positive(t, flipped)
	require.NoError(t, os.WriteFile(path, data, 0o600))
}

// flipAll flips a bit in a text wherever it stands.
func flipAll(t *testing.T, path, text string) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	other := []byte(text)
	other[len(other)-1] ^= 1
	require.Contains(t, string(data), text)
	require.NoError(t, os.WriteFile(path, bytes.ReplaceAll(data, []byte(text), other), 0o600))
}

func TestAProcessStartedOnADamagedFileSaysSo(t *testing.T) {
	for name, c := range map[string]struct {
		kill                             bool
		damage                           func(*testing.T, string)
		start, recovered, banner, logged string
		bad                              bool
	}{
		"a clean stop": {start: "file whole", banner: "How the board is: ok; file whole;", logged: "msg=stop rev="},
		"a kill": {kill: true, start: "not closed as it should be, found whole", recovered: "The board was not closed as it should be.",
			banner: "found whole;", logged: `msg=recovery said="The board was not closed as it should be.`},
		"a flipped bit in a live noun": {damage: func(t *testing.T, path string) { flipNouns(t, path, board.KindNote, "bent fork") }, bad: true,
			start: "its file was damaged and rebuilt, 1 note from the journal", recovered: "Rebuilt from the journal, as they were: a note.",
			banner: "LOOK: its file was damaged and rebuilt", logged: "msg=recovery said=\"Rebuilt from the journal"},
		"a flipped bit in a journal line": {damage: func(t *testing.T, path string) { flipAll(t, path, `"with":{"text":"bent fork"`) }, bad: true,
			start: "its file was damaged and rebuilt, 1 line of the journal lost", recovered: "1 line of the journal could not be read: revision ",
			banner: "What was done then is in no account.", logged: "msg=recovery said=\"1 line of the journal"},
		"a kill, and a flipped bit": {kill: true, damage: func(t *testing.T, path string) { flipNouns(t, path, board.KindNote, "bent fork") }, bad: true,
			start: "its file was damaged and rebuilt, 1 note from the journal", recovered: "Rebuilt from the journal, as they were: a note.",
			banner: "The damaged one is", logged: "msg=start"},
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			p := &captained{process: startProcess(t, folder)}
			p.token = p.joinsAs(adaJoins)
			require.True(t, p.notes(p.token, "bent fork"))
			require.True(t, p.notes(p.token, "loose nut"))
			if c.kill {
				p.kill()
			}
			p.stop()
			if c.damage != nil {
				c.damage(t, dataDir(folder).board())
			}
			p.process = startProcess(t, folder, "-log", "text")
			require.ElementsMatch(t, []string{"bent fork", "loose nut"}, p.texts(), "nothing else is ever served")
			for _, account := range []string{"/api/review", "/api/debrief"} {
				require.Equal(t, http.StatusOK, p.ask(p.token, http.MethodGet, account, nil, &struct{}{}), account)
			}
			anyone, line, recovered := p.condition()
			require.Equal(t, server.Fact{Says: c.start, Bad: c.bad}, anyone.Start)
			require.Contains(t, line, c.start)
			require.Contains(t, strings.Join(recovered, " "), c.recovered)
			p.stop()
			require.Contains(t, p.banner.String(), c.banner)
			require.Contains(t, p.banner.String(), "The board was closed at revision ")
			require.Contains(t, p.said.String(), c.logged)
			require.Contains(t, p.said.String(), "msg=stop")
		})
	}
}

func TestABoardThatNobodyCanKnowIsNotServedButSalvaged(t *testing.T) {
	folder := t.TempDir()
	p := &captained{process: startProcess(t, folder)}
	p.token = p.joinsAs(adaJoins)
	require.True(t, p.notes(p.token, "bent fork"))
	p.kill()
	path := dataDir(folder).board()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	copy(data, make([]byte, 2*4096)) // the two pages that say where all else is
	require.NoError(t, os.WriteFile(path, data, 0o600))

	var out, errOut bytes.Buffer
	mendline := func(args ...string) int {
		out.Reset()
		return run(t.Context(), args, nil, &out, &errOut)
	}
	require.Equal(t, 1, mendline("serve", "-data", folder, "-addr", "127.0.0.1:0"))
	require.Contains(t, errOut.String(), "mendline salvage "+path)

	whole := filepath.Join(t.TempDir(), "whole.db")
	require.Equal(t, 0, mendline("salvage", path, "-o", whole), errOut.String())
	require.Contains(t, out.String(), "Some PINs or join codes are lost")
	still, err := os.ReadFile(path)
	require.NoError(t, err)
	require.True(t, bytes.Equal(data, still), "the damaged file stays as it was")
	require.Equal(t, 1, mendline("salvage", path, "-o", whole), "and nothing is overwritten")

	require.Equal(t, 0, mendline("restore", "-data", folder, whole), errOut.String())
	p.process = startProcess(t, folder)
	p.token = p.joinsAs(adaJoins)
	require.Contains(t, p.texts(), "bent fork")
}
