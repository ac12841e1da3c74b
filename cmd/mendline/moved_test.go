package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

// process is the program serving a data folder, in a process of its own.
type process struct {
	t    *testing.T
	note runningBoard
	// said is what it logged, banner what it printed: to be read behind stop.
	said, banner bytes.Buffer
	// stop ends it in good order, kill at once; the first counts.
	stop, kill func()
}

func startProcess(t *testing.T, data string, flags ...string) *process {
	t.Helper()
	return startProgram(t, "mendline", data, withCodes(flags)...)
}

func withCodes(flags []string) []string {
	for role, code := range testCodes {
		flags = append(flags, "-"+string(role)+"-code", code)
	}
	return flags
}

// startWithoutCodes lets the board make its own join codes.
func startWithoutCodes(t *testing.T, data string, flags ...string) *process {
	t.Helper()
	return startProgram(t, "mendline", data, flags...)
}

// startProgram starts one of the test's programs as the board.
func startProgram(t *testing.T, program, data string, flags ...string) *process {
	t.Helper()
	return startForetelling(t, program, data, append(flags, "-no-forecast")...)
}

// startForetelling has the forecast too.
func startForetelling(t *testing.T, program, data string, flags ...string) *process {
	t.Helper()
	p := &process{t: t}
	own := exec.Command(program, append([]string{"serve", "-data", data, "-addr", "127.0.0.1:0"}, flags...)...)
	own.Stderr = &p.said
	out, err := own.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, own.Start())
	printed := bufio.NewReader(out)
	var once sync.Once
	ends := func(by os.Signal) func() {
		return func() {
			once.Do(func() {
				own.Process.Signal(by)
				io.Copy(&p.banner, printed)
				own.Wait()
			})
		}
	}
	p.stop, p.kill = ends(os.Interrupt), ends(os.Kill)
	t.Cleanup(p.stop)
	_, err = printed.ReadString('\n') // the banner: it serves
	require.NoError(t, err)
	note, err := os.ReadFile(dataDir(data).note())
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(note, &p.note))
	return p
}

// ask gives the status and reads the answer.
func (p *process) ask(token, method, path string, body, answer any) int {
	sent, err := json.Marshal(body)
	require.NoError(p.t, err)
	res, err := runningBoard{URL: p.note.URL, Token: token}.ask(p.t.Context(), method, path, sent)
	require.NoError(p.t, err)
	defer res.Body.Close()
	require.NoError(p.t, json.NewDecoder(res.Body).Decode(answer))
	return res.StatusCode
}

var adaJoins = map[string]string{"code": testCodes[board.RoleCaptain], "name": "Ada", "pin": "135790"}

// joinsAs gives the token of a device that joins.
func (p *process) joinsAs(who map[string]string) string {
	p.t.Helper()
	var me struct {
		Token string `json:"token"`
	}
	require.Equal(p.t, http.StatusOK, p.ask("", http.MethodPost, "/api/join", who, &me))
	return me.Token
}

// notes gives the board a note, and whether it was acknowledged.
func (p *process) notes(token, text string) bool {
	ask := map[string]any{"id": uuid.Must(uuid.NewV7()).String(), "do": "note.add", "with": map[string]string{"text": text}}
	return p.ask(token, http.MethodPost, "/api/do", ask, &struct{}{}) == http.StatusOK
}

func TestAProcessWhoseFolderIsMovedUnderLoadKeepsAllThatItAcknowledged(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "event")
	p := startProcess(t, folder)
	token := p.joinsAs(adaJoins)

	var mu sync.Mutex
	acked := map[string]bool{}
	enough := make(chan struct{})
	var phones sync.WaitGroup
	for range 3 {
		phones.Go(func() {
			for {
				id := uuid.Must(uuid.NewV7()).String()
				var answer struct {
					Refusal board.Refusal `json:"refusal"`
				}
				status := p.ask(token, http.MethodPost, "/api/do", map[string]any{"id": id, "do": "note.add", "with": map[string]string{"text": "tight"}}, &answer)
				switch {
				case status == http.StatusTooManyRequests:
					continue
				case status != http.StatusOK:
					require.Equal(t, board.CodeReadOnly, answer.Refusal.Code, answer.Refusal.Sentence)
					return
				}
				mu.Lock()
				if acked[id] = true; len(acked) == 25 {
					close(enough)
				}
				mu.Unlock()
			}
		})
	}
	<-enough
	require.NoError(t, os.Rename(folder, folder+" 2"))
	phones.Wait()

	var where struct {
		Moved   bool   `json:"moved"`
		Path    string `json:"path"`
		Rescued string `json:"rescued"`
	}
	require.Equal(t, http.StatusOK, p.ask(token, http.MethodGet, "/api/file", nil, &where))
	require.True(t, where.Moved)
	require.Equal(t, filepath.Join(folder, "board.db"), where.Path)
	p.stop()
	require.Contains(t, p.said.String(), where.Rescued)

	var out bytes.Buffer
	require.NoError(t, restore(t.Context(), terminal{out: &out, err: &out}, []string{"-data", folder, where.Rescued}))
	for _, file := range []string{filepath.Join(folder+" 2", "board.db"), dataDir(folder).board()} {
		s, err := store.Open(file, store.Options{Existing: true})
		require.NoError(t, err)
		lines, err := s.Journal(0, store.LinesMost)
		require.NoError(t, err)
		require.NoError(t, s.Close())
		held := map[string]bool{}
		for _, l := range lines {
			var line struct {
				ID string `json:"id"`
			}
			require.NoError(t, json.Unmarshal(l.Data, &line))
			held[line.ID] = true
		}
		for id := range acked {
			require.True(t, held[id], "%s misses what was acknowledged", file)
		}
	}
}
