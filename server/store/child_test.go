package store

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

const childEnv = "MENDLINE_STORE_CHILD"

// TestMain lets the test binary be the child process that tests hold, kill,
// trace and fail: mode, path, groups, seed are its arguments.
func TestMain(m *testing.M) {
	mode := os.Getenv(childEnv)
	if mode == "" {
		os.Exit(m.Run())
	}
	runtime.LockOSThread() // one thread makes all calls, so a fault can be put at the n-th
	groups, _ := strconv.Atoi(os.Args[2])
	seed, _ := strconv.ParseUint(os.Args[3], 10, 64)
	os.Exit(child(mode, os.Args[1], groups, seed))
}

func child(mode, path string, groups int, seed uint64) int {
	o := Options{noSync: mode == "nosync"}
	s, err := Open(path, o)
	if err != nil {
		return say(3, "NOT OPEN %v", err)
	}
	if mode == "hold" {
		say(0, "OPEN")
		io.Copy(io.Discard, os.Stdin)
		s.Close()
		return 0
	}
	rng := rand.New(rand.NewPCG(seed, 1))
	for n := 0; groups == 0 || n < groups; n++ {
		group := entries(s.rev+1, 1+rng.IntN(8))
		if err := s.Commit(group); err != nil {
			return tryAgain(s, path, o, err)
		}
		say(0, "ACK %d", s.rev)
	}
	return 0
}

// tryAgain is what the desk does after a failed write. It says what went
// otherwise than promised.
func tryAgain(s *Store, path string, o Options, failure error) int {
	acked := s.rev
	_, errRead := s.Journal(0, 1)
	for what, err := range map[string]error{"failure": failure, "commit": s.Commit(entries(acked+1, 1)), "journal": errRead} {
		if !errors.Is(err, ErrBroken) {
			return say(4, "WRONG %s after the failure: %v", what, err)
		}
	}
	if _, ok := s.Done(entry(1).ID); acked > 0 && !ok {
		return say(4, "WRONG: Done forgot an id")
	}
	if err := s.Close(); err != nil {
		return say(4, "WRONG close: %v", err)
	}
	s, err := Open(path, o)
	if err != nil {
		return say(4, "WRONG open again: %v", err)
	}
	if s.rev < acked || !s.Opening().Unclean || s.Report().Err() != nil {
		return say(4, "WRONG: %d of %d acknowledged, recovered %v, report %v", s.rev, acked, s.Opening().Unclean, s.Report().Err())
	}
	if err := s.Commit(entries(s.rev+1, 1)); err != nil {
		return say(4, "WRONG commit after recovery: %v", err)
	}
	say(0, "ACK %d", s.rev)
	return say(5, "RECOVERED %v", failure)
}

func say(code int, format string, args ...any) int {
	fmt.Fprintf(os.Stdout, format+"\n", args...)
	return code
}

// started is a child that runs, and its lines.
func started(t testing.TB, mode, path string, groups int, seed uint64, before ...string) (*exec.Cmd, *bufio.Scanner, io.Closer) {
	t.Helper()
	args := append(before, os.Args[0], path, strconv.Itoa(groups), strconv.FormatUint(seed, 10))
	cmd := exec.Command(args[0], args[1:]...)
	cmd.Env = append(os.Environ(), childEnv+"="+mode, "GORACE=atexit_sleep_ms=0")
	cmd.Stderr = os.Stderr
	stdin, err := cmd.StdinPipe()
	require.NoError(t, err)
	stdout, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { cmd.Process.Kill() })
	return cmd, bufio.NewScanner(stdout), stdin
}

// requireStrace is the path of strace. Without it the test is skipped, unless
// MENDLINE_REQUIRE_STRACE is set.
func requireStrace(t testing.TB) string {
	t.Helper()
	path, err := exec.LookPath("strace")
	if err == nil {
		return path
	}
	if os.Getenv("MENDLINE_REQUIRE_STRACE") != "" {
		t.Fatal("strace is required here and not installed")
	}
	t.Skip("strace is not installed: power cuts and failing flushes are not tried")
	return ""
}

// times is how often to do something: usual, or what the environment says.
func times(t testing.TB, env string, usual int) int {
	t.Helper()
	text := os.Getenv(env)
	if text == "" {
		return usual
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err, env)
	return n
}

func seedOf(t testing.TB) uint64 {
	t.Helper()
	seed := uint64(times(t, "MENDLINE_SEED", int(time.Now().UnixNano()>>10)))
	t.Logf("MENDLINE_SEED=%d", seed)
	return seed
}
