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
// removed. Its one line is "open PID" or "closed REV"; earlier programs left out the
// revision.
type lockFile struct {
	f        *os.File
	unclean  bool   // no mark of a clean stop was found
	closedAt uint64 // the revision in it, 0 where there was none
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
	l := &lockFile{f: f}
	l.unclean, l.closedAt = parseMark(readMark(path))
	return l, nil
}

func (l *lockFile) markOpen() error             { return l.mark(fmt.Sprintf("open %d", os.Getpid())) }
func (l *lockFile) markClosed(rev uint64) error { return l.mark(fmt.Sprint(closedMark, " ", rev)) }

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

// parseMark tells whether a mark is that of a clean stop, and at which revision it was.
func parseMark(mark string) (unclean bool, closedAt uint64) {
	word, rev, _ := strings.Cut(mark, " ")
	if word != closedMark {
		return true, 0
	}
	closedAt, _ = strconv.ParseUint(rev, 10, 64) // 0 where an earlier program closed it
	return false, closedAt
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
