package store

import (
	"bytes"
	"cmp"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// event is one thing that happened to the board file, or an acknowledgement.
type event struct {
	kind eventKind
	off  int64 // of a write; the size of a truncate
	data []byte
	rev  uint64 // of an acknowledgement
}

type eventKind int

const (
	wrote eventKind = iota
	truncated
	flushed
	acknowledged
)

// traced records what a child that commits so many groups does to the file at
// path.
func traced(t *testing.T, mode, path string, groups int, seed uint64) []event {
	t.Helper()
	record := filepath.Join(t.TempDir(), "trace")
	cmd, lines, _ := started(t, mode, path, groups, seed, requireStrace(t), "-f", "-qq", "-xx", "-s", "4000000",
		"-o", record, "-e", "signal=none", "-e", "trace=openat,close,pwrite64,ftruncate,fdatasync,fsync,write")
	for lines.Scan() {
		ackOf(t, lines.Text())
	}
	require.NoError(t, cmd.Wait())
	data, err := os.ReadFile(record)
	require.NoError(t, err)
	calls, err := parseTrace(data)
	require.NoError(t, err)
	events, err := boardEvents(calls, path)
	require.NoError(t, err)
	return events
}

// call is one system call. Another thread's may lie between start and end,
// which are line numbers.
type call struct {
	start, end int
	name       string
	args       string
	result     int64
}

// parseTrace reads strace's lines. A call that another one interrupts stands on
// two of them, "<unfinished ...>" and "<... name resumed>", which belong
// together: read apart, a write or a flush would be missing.
func parseTrace(data []byte) ([]call, error) {
	type half struct {
		line int
		text string
	}
	open := map[string]half{}
	var calls []call
	for n, row := range bytes.Split(bytes.TrimSpace(data), []byte("\n")) {
		pid, text, _ := strings.Cut(string(row), " ")
		text = strings.TrimLeft(text, " ")
		start := n
		if head, ok := strings.CutSuffix(text, "<unfinished ...>"); ok {
			open[pid] = half{n, strings.TrimRight(head, " ")}
			continue
		}
		if strings.HasPrefix(text, "<... ") {
			first, ok := open[pid]
			_, tail, found := strings.Cut(text, " resumed>")
			if !ok || !found {
				return nil, fmt.Errorf("line %d: a call resumed that never began", n+1)
			}
			delete(open, pid)
			start, text = first.line, first.text+tail
		}
		c, ok := parseCall(text)
		if !ok {
			continue // an exit, or a call that never returned
		}
		c.start, c.end = start, n
		calls = append(calls, c)
	}
	return calls, nil
}

func parseCall(text string) (call, bool) {
	name, rest, ok := strings.Cut(text, "(")
	at := strings.LastIndex(rest, ") ")
	if !ok || at < 0 {
		return call{}, false
	}
	_, result, ok := strings.Cut(rest[at:], "= ")
	if !ok {
		return call{}, false
	}
	result, _, _ = strings.Cut(result, " ")
	value, err := strconv.ParseInt(result, 10, 64)
	return call{name: name, args: rest[:at], result: value}, err == nil
}

// boardEvents picks what concerns the file at path. A write counts from the
// moment it began, a flush once it has returned.
func boardEvents(calls []call, path string) ([]event, error) {
	type placed struct {
		at int
		event
	}
	slices.SortStableFunc(calls, func(a, b call) int { return cmp.Compare(a.start, b.start) })
	fds := map[string]bool{}
	var all []placed
	for _, c := range calls {
		arg := strings.Split(c.args, ", ")
		if c.result < 0 {
			continue
		}
		switch {
		case c.name == "openat":
			name, err := unhex(arg[1])
			if err != nil {
				return nil, err
			}
			fds[strconv.FormatInt(c.result, 10)] = string(name) == path
		case c.name == "write" && arg[0] == "1":
			text, err := unhex(arg[1])
			if err != nil {
				return nil, err
			}
			var rev uint64
			if _, err := fmt.Sscanf(string(text), "ACK %d", &rev); err != nil {
				return nil, fmt.Errorf("acknowledgement %q: %w", text, err)
			}
			all = append(all, placed{c.start, event{kind: acknowledged, rev: rev}})
		case !fds[arg[0]]:
		case c.name == "close":
			delete(fds, arg[0])
		case c.name == "fsync", c.name == "fdatasync":
			all = append(all, placed{c.end, event{kind: flushed}})
		case c.name == "ftruncate":
			size, err := strconv.ParseInt(arg[1], 10, 64)
			if err != nil {
				return nil, err
			}
			all = append(all, placed{c.start, event{kind: truncated, off: size}})
		case c.name == "pwrite64":
			data, err := unhex(arg[1])
			if err != nil {
				return nil, err
			}
			off, err := strconv.ParseInt(arg[3], 10, 64)
			if err != nil || int64(len(data)) != c.result {
				return nil, fmt.Errorf("write of %d bytes, %d written: %w", len(data), c.result, err)
			}
			all = append(all, placed{c.start, event{kind: wrote, off: off, data: data}})
		default:
			return nil, fmt.Errorf("%s on the board file: not understood", c.name)
		}
	}
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Compare(a.at, b.at) })
	events := make([]event, len(all))
	for i, p := range all {
		events[i] = p.event
	}
	return events, nil
}

// unhex reads strace's "\x41\x43".
func unhex(quoted string) ([]byte, error) {
	text, ok := strings.CutSuffix(strings.TrimPrefix(quoted, `"`), `"`)
	if !ok {
		return nil, fmt.Errorf("%.40s: cut short", quoted)
	}
	return hex.DecodeString(strings.ReplaceAll(text, `\x`, ""))
}

func TestATraceIsReadInTheOrderThingsHappened(t *testing.T) {
	calls, err := parseTrace([]byte(`10 openat(AT_FDCWD, "\x62", O_RDWR|O_CLOEXEC, 0600) = 7
10 pwrite64(7, "\x01\x02", 2, 4096) = 2
10 fdatasync(7 <unfinished ...>
11 write(2, "\x21", 1) = 1
11 openat(AT_FDCWD, "\x63", O_RDONLY) = -1 ENOENT (No such file or directory)
11 pwrite64(7, "\x03", 1, 0 <unfinished ...>
10 <... fdatasync resumed>)             = 0
11 <... pwrite64 resumed>)              = 1
10 write(1, "\x41\x43\x4b\x20\x35\x0a", 6) = 6
10 close(7) = 0
10 +++ exited with 0 +++
`))
	require.NoError(t, err)
	events, err := boardEvents(calls, "b")
	require.NoError(t, err)
	require.Equal(t, []event{
		{kind: wrote, off: 4096, data: []byte{1, 2}},
		{kind: wrote, off: 0, data: []byte{3}},
		{kind: flushed},
		{kind: acknowledged, rev: 5},
	}, events)
	_, err = parseTrace([]byte("10 <... fdatasync resumed>) = 0\n"))
	require.ErrorContains(t, err, "line 1: a call resumed that never began")
}
