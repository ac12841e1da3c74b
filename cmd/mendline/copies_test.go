package main

import (
	"bufio"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/copies"
	"mendline/server/store"
)

// copiesIn are the copies of a folder, each examined, newest last.
func copiesIn(t *testing.T, folder string) (paths []string, revs []board.Rev) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(folder, "mendline-*.db"))
	require.NoError(t, err)
	for _, path := range paths {
		c, ok := copies.Tagged(strings.TrimSuffix(filepath.Base(path), ".db"))
		require.True(t, ok, path)
		r, err := store.Check(path)
		require.NoError(t, err)
		require.NoError(t, r.Err())
		require.EqualValues(t, c.Rev, r.Rev)
		revs = append(revs, c.Rev)
	}
	return paths, revs
}

// program is the program with a command that goes on, line by line.
type program struct {
	t     *testing.T
	cmd   *exec.Cmd
	out   *bufio.Reader
	lines strings.Builder
}

func startCommand(t *testing.T, args ...string) *program {
	t.Helper()
	p := &program{t: t, cmd: exec.Command("mendline", args...)}
	out, err := p.cmd.StdoutPipe()
	require.NoError(t, err)
	p.cmd.Stderr = p.cmd.Stdout
	p.out = bufio.NewReader(out)
	require.NoError(t, p.cmd.Start())
	t.Cleanup(func() { p.cmd.Process.Kill(); p.cmd.Wait() })
	return p
}

// until reads on to a line that contains text.
func (p *program) until(text string) {
	p.t.Helper()
	for {
		line, err := p.out.ReadString('\n')
		p.lines.WriteString(line)
		if strings.Contains(line, text) {
			return
		}
		require.NoError(p.t, err, "%q was never said, but:\n%s", text, p.lines.String())
	}
}

func (p *program) ends() (code int) {
	io.Copy(&p.lines, p.out)
	p.cmd.Wait()
	return p.cmd.ProcessState.ExitCode()
}

func TestASecondLaptopGoesOnWhenTheFirstBurns(t *testing.T) {
	event, spare := filepath.Join(t.TempDir(), "event"), filepath.Join(t.TempDir(), "spare")
	dent := []byte("a photo of a dent")
	require.NoError(t, os.MkdirAll(dataDir(event).photos(), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dataDir(event).photos(), "0b6e.jpg"), dent, 0o600))
	p := startProcess(t, event)
	token := p.joinsAs(adaJoins)
	require.True(t, p.notes(token, "spare blade is in the blue box"))
	wrong := startCommand(t, "keep", "-data", spare, p.note.URL, "4W8ZK-1QHNM-7T2VX-C05RJ-PE93B")
	require.Equal(t, 1, wrong.ends())
	require.Contains(t, wrong.lines.String(), "the code is not the one")
	require.NoFileExists(t, dataDir(spare).board())

	var may struct {
		Code string `json:"code"`
	}
	require.Equal(t, http.StatusForbidden, p.ask(p.joinsAs(map[string]string{"code": testCodes[board.RoleCrew], "name": "Ben", "pin": "246801"}),
		http.MethodPost, "/api/copies/code", struct{}{}, &struct{}{}), "only the captain lets a laptop have copies")
	require.Equal(t, http.StatusOK, p.ask(token, http.MethodPost, "/api/copies/code", struct{}{}, &may))
	laptop := startCommand(t, "keep", "-data", spare, p.note.URL, strings.ToLower(may.Code))
	laptop.until("The newest copy here is of")
	there, err := os.ReadFile(filepath.Join(dataDir(spare).photos(), "0b6e.jpg"))
	require.NoError(t, err)
	require.Equal(t, dent, there)
	p.kill()

	b := startProcess(t, spare)
	laptop.until("keeping has ended")
	require.Zero(t, laptop.ends())
	require.Equal(t, http.StatusUnauthorized, b.ask(token, http.MethodGet, "/api/me", nil, &struct{}{}), "every device joins again")
	require.True(t, b.notes(b.joinsAs(adaJoins), "goes on"), "with the same code and PIN")
	b.stop()

	p = startProcess(t, event) // and the first comes back
	again := startCommand(t, "keep", "-data", spare, p.note.URL, may.Code)
	require.Equal(t, 1, again.ends())
	require.Contains(t, again.lines.String(), "people have gone on with")
	s, err := stateOf(dataDir(spare).board())
	require.NoError(t, err)
	texts := ""
	for _, n := range s.Notes {
		texts += n.Text + "\n"
	}
	require.Contains(t, texts, "goes on")
	require.Contains(t, texts, "spare blade is in the blue box")
}

func TestANewLaptopGoesOnFromTheStick(t *testing.T) {
	event, stick, fresh := filepath.Join(t.TempDir(), "event"), t.TempDir(), filepath.Join(t.TempDir(), "fresh")
	require.NoError(t, os.MkdirAll(dataDir(event).photos(), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dataDir(event).photos(), "0b6e.jpg"), []byte("a photo of a dent"), 0o600))
	p := startProcess(t, event, "-backup", stick)
	require.True(t, p.notes(p.joinsAs(adaJoins), "spare blade is in the blue box"))
	p.stop()
	paths, _ := copiesIn(t, stick)
	var out strings.Builder
	on := terminal{out: &out, err: &out}
	require.NoError(t, restore(t.Context(), on, []string{"-data", fresh, paths[len(paths)-1]}), out.String())
	require.Contains(t, out.String(), "with 1 photo")
	require.NotContains(t, out.String(), "is kept as", "nothing was there")
	p = startProcess(t, fresh)
	require.True(t, p.notes(p.joinsAs(adaJoins), "goes on"))
	p.stop()
	s, err := stateOf(dataDir(fresh).board())
	require.NoError(t, err)
	texts := ""
	for _, n := range s.Notes {
		texts += n.Text + "\n"
	}
	require.Contains(t, texts, "spare blade is in the blue box")
	require.Contains(t, texts, "goes on")
	require.Contains(t, texts, "nobody knows which packs it has set aside since", "though no robot is on it yet")
}

func TestACodeThatWasTakenBackOpensNothing(t *testing.T) {
	p := startProcess(t, filepath.Join(t.TempDir(), "event"))
	token := p.joinsAs(adaJoins)
	var may struct {
		Code string `json:"code"`
	}
	get := func(code string) int {
		res, err := runningBoard{URL: p.note.URL, Token: copies.AskWith(code)}.ask(t.Context(), http.MethodGet, "/copies/board", nil)
		require.NoError(t, err)
		defer res.Body.Close()
		sent, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		require.NotContains(t, string(sent), "pin/", "what passes over the Wi-Fi")
		return res.StatusCode
	}
	require.Equal(t, http.StatusUnauthorized, get(""), "no code, no copy")
	require.Equal(t, http.StatusOK, p.ask(token, http.MethodPost, "/api/copies/code", struct{}{}, &may))
	require.Equal(t, http.StatusOK, get(may.Code))
	require.Equal(t, http.StatusOK, p.ask(token, http.MethodPost, "/api/copies/code", map[string]bool{"off": true}, &struct{}{}))
	require.Equal(t, http.StatusUnauthorized, get(may.Code))
	require.Equal(t, http.StatusUnauthorized, get(""))
}

func TestACopyThatAKillCutOffIsNoCopy(t *testing.T) {
	folder, stick := filepath.Join(t.TempDir(), "event"), t.TempDir()
	kills := 4
	if text := os.Getenv("MENDLINE_KILLS"); text != "" {
		_, err := fmt.Sscan(text, &kills)
		require.NoError(t, err)
	}
	newest, cut := board.Rev(0), 0
	for i := range kills {
		p := startProcess(t, folder, "-backup", stick)
		require.True(t, p.notes(p.joinsAs(adaJoins), strings.Repeat("tight ", 300)))
		begun := filepath.Join(stick, "*.new")
		if i%2 == 1 {
			begun = filepath.Join(folder, "copy-*")
		}
		stopping := make(chan struct{})
		go func() { defer close(stopping); p.stop() }() // makes the last copy
		for killed := false; !killed; {
			select {
			case <-stopping:
				killed = true
			default:
				if there, err := filepath.Glob(begun); err == nil && len(there) > 0 {
					syscall.Kill(p.note.PID, syscall.SIGKILL)
					killed = true
					cut++
				}
			}
		}
		<-stopping
		_, revs := copiesIn(t, stick)
		for _, rev := range revs {
			newest = max(newest, rev)
		}
	}
	p := startProcess(t, folder, "-backup", stick)
	require.True(t, p.notes(p.joinsAs(adaJoins), "the last word"))
	p.stop()
	paths, revs := copiesIn(t, stick)
	require.Greater(t, revs[len(revs)-1], newest)
	s, err := stateOf(paths[len(paths)-1])
	require.NoError(t, err)
	require.Len(t, s.Notes, kills+1, "all that was acknowledged")
	left, err := filepath.Glob(filepath.Join(stick, "*.new"))
	require.NoError(t, err)
	require.Empty(t, left)
	t.Logf("%d of %d kills cut a copy off; %d copies", cut, kills, len(paths))
}
