package main

import (
	"bytes"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/server/store"
)

// runs is what a command says on a data folder.
func runs(t *testing.T, args ...string) (said string, code int) {
	t.Helper()
	var out bytes.Buffer
	code = run(t.Context(), args, os.Environ(), &out, &out)
	return out.String(), code
}

func TestANoteOfADeadProcessLeadsToNoOtherBoard(t *testing.T) {
	one, other := filepath.Join(t.TempDir(), "one"), filepath.Join(t.TempDir(), "other")
	dead := startProcess(t, one)
	at, err := url.Parse(dead.note.URL)
	require.NoError(t, err)
	dead.kill()
	require.FileExists(t, dataDir(one).note())
	startProcess(t, other, "-addr", at.Host)

	said, code := runs(t, "backup", "-data", one, one+".db")
	require.Zero(t, code, said)
	said, code = runs(t, "restore", "-data", one, one+".db")
	require.Zero(t, code, said)
	_, running := dataDir(one).running()
	require.False(t, running)
	_, running = dataDir(other).running()
	require.True(t, running)
}

func TestANoteInACopiedFolderIsAboutTheFolderItWasCopiedFrom(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "event")
	p := startProcess(t, folder)
	link := folder + "-link"
	require.NoError(t, os.Symlink(folder, link))
	for _, name := range []string{folder, folder + "/../event", link} {
		running, ok := dataDir(name).running()
		require.True(t, ok, name)
		require.Equal(t, p.note, running)
	}
	said, code := runs(t, "restore", "-data", link, folder+".db")
	require.NotZero(t, code)
	require.Contains(t, said, "stop it, then restore")

	copied := folder + " copy"
	require.NoError(t, os.CopyFS(copied, os.DirFS(folder)))
	_, ok := dataDir(copied).running()
	require.False(t, ok)
	said, code = runs(t, "backup", "-data", copied, copied+".db")
	require.Zero(t, code, said)
	require.Zero(t, store.HeldBy(dataDir(copied).board()))
	require.Equal(t, p.note.PID, store.HeldBy(dataDir(folder).board()))
}

func TestABoardIsCheckedWhereItLiesAndWhileItRuns(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "event")
	p := startProcess(t, folder)
	said, code := runs(t, "check", "-data", folder)
	require.Zero(t, code, said)
	require.Contains(t, said, dataDir(folder).board()+" is sound: revision ")

	p.kill()
	b, err := os.ReadFile(dataDir(folder).board())
	require.NoError(t, err)
	said, code = runs(t, "check", "-data", folder)
	require.Zero(t, code, said)
	after, err := os.ReadFile(dataDir(folder).board())
	require.NoError(t, err)
	require.True(t, bytes.Equal(b, after), "an examination changes nothing")

	require.NoError(t, os.Truncate(dataDir(folder).board(), 3*4096))
	said, code = runs(t, "check", "-data", folder)
	require.NotZero(t, code)
	require.Contains(t, said, "damaged")
}

func TestTheProgramKeepsItsMemoryToWhatItSaysOrIsTold(t *testing.T) {
	limit := func() float64 {
		p := startProcess(t, filepath.Join(t.TempDir(), "event"))
		res, err := p.note.ask(t.Context(), http.MethodGet, "/metrics", nil)
		require.NoError(t, err)
		defer res.Body.Close()
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		_, rest, _ := strings.Cut(string(b), "\ngo_gc_gomemlimit_bytes ")
		text, _, _ := strings.Cut(rest, "\n")
		value, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		return value
	}
	require.Equal(t, float64(memoryMost), limit())
	require.Contains(t, usageServe, fmt.Sprintf("%d MiB", memoryMost>>20))
	t.Setenv("GOMEMLIMIT", "1GiB")
	require.Equal(t, float64(1<<30), limit())
}
