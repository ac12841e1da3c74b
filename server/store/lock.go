package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

const closedMark = "closed"

var errLocked = errors.New("locked")

// lockFile is board.db.lock: held while the board is open, so that a copy may
// be renamed over board.db with no second process slipping in, and never
// removed. Its one line is "open PID" or "closed".
type lockFile struct {
	f       *os.File
	unclean bool // no mark of a clean stop was found
}

func takeLock(path string, wait time.Duration) (*lockFile, error) {
	f, err := os.OpenFile(lockName(path), os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	if err := flock(f, wait); err != nil {
		f.Close()
		if errors.Is(err, errLocked) {
			return nil, &HeldError{Path: path, PID: holder(path)}
		}
		return nil, fmt.Errorf("lock %s: %w", f.Name(), err)
	}
	return &lockFile{f: f, unclean: readMark(path) != closedMark}, nil
}

func (l *lockFile) markOpen() error   { return l.mark(fmt.Sprintf("open %d", os.Getpid())) }
func (l *lockFile) markClosed() error { return l.mark(closedMark) }

// mark writes the line at one fixed width: a torn one reads as unclean.
func (l *lockFile) mark(text string) error {
	if _, err := l.f.WriteAt(fmt.Appendf(nil, "%-31s\n", text), 0); err != nil {
		return fmt.Errorf("mark: %w", err)
	}
	if err := l.f.Sync(); err != nil {
		return fmt.Errorf("mark %s: %w", l.f.Name(), err)
	}
	return syncDir(filepath.Dir(l.f.Name()))
}

func (l *lockFile) release() { l.f.Close() }

func lockName(path string) string { return path + ".lock" }

func readMark(path string) string {
	b, err := os.ReadFile(lockName(path))
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(b))
}

// holder is the process that says it has the board open, 0 if none does.
func holder(path string) int {
	pid, err := strconv.Atoi(strings.TrimPrefix(readMark(path), "open "))
	if err != nil {
		return 0
	}
	return pid
}

// HeldBy is the process that has the board at path open, 0 where none does: one that
// died leaves its number in the lock file, and no lock.
func HeldBy(path string) int {
	pid := holder(path)
	if pid == 0 || !flocks {
		return pid
	}
	f, err := os.OpenFile(lockName(path), os.O_RDWR, 0)
	if err != nil {
		return pid
	}
	defer f.Close()
	if flock(f, 0) == nil {
		return 0
	}
	return pid
}
