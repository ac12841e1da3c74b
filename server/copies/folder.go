package copies

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

// stuckAfter is how long a folder may take over a copy before people are told.
const stuckAfter = board.Moment(3 * 60 * 1000)

// folder is one that takes copies, and how that goes.
type folder struct {
	number int
	path   string
	board  string // the board's own folder

	mu      sync.Mutex
	last    Copy
	file    string
	next    board.Moment // when another attempt is due
	busy    board.Moment // since when it is asked or written to, 0 for not at all
	away    bool         // it was on a disk of its own
	failing string
	since   board.Moment
	said    string // what news told last
}

// due tells whether the folder is to be given a copy: it has another board than this
// one, it lost what it had, or the last attempt failed. A folder that is not there is not,
// and gets one as soon as it is. The lock is not held while the folder is asked: a share
// that does not answer would stop all who want to know how it stands.
func (f *folder) due(at board.Moment, v *desk.View, now bool) bool {
	f.mu.Lock()
	f.busy = at
	away, file := f.away, f.file
	f.mu.Unlock()
	why := f.place(away)
	lost := why == "" && file != "" && gone(file)
	f.mu.Lock()
	defer f.mu.Unlock()
	if why != "" {
		f.fail(why, at)
		f.next, f.busy = 0, 0
		return false
	}
	if lost { // another stick
		f.last, f.file, f.next = Copy{}, "", 0
	}
	changed := f.last.Rev != v.State.Rev || f.last.epoch != v.Epoch
	if (changed || f.failing != "") && (now || at >= f.next) {
		f.next = at.Add(copyEvery)
		return true
	}
	f.busy = 0
	return false
}

func gone(path string) bool {
	_, err := os.Stat(path)
	return errors.Is(err, fs.ErrNotExist)
}

// place says what is wrong with the folder's place, or "". It was on a disk of its own
// if away.
func (f *folder) place(away bool) string {
	info, err := os.Stat(f.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "it is not there"
	case err != nil:
		return inWords(err)
	case !info.IsDir():
		return "it is no folder"
	case away && !ownDisk(f.path, f.board):
		return "it is on the laptop’s own disk now: the stick is out"
	}
	return ""
}

// ends notes what became of a copy that was due.
func (f *folder) ends(c Copy, at board.Moment, err error) {
	away := c.path != "" && ownDisk(f.path, f.board)
	f.mu.Lock()
	defer f.mu.Unlock()
	f.busy = 0
	if c.path != "" {
		f.last, f.file = c, filepath.Join(f.path, c.name())
		f.away = f.away || away
	}
	if err != nil {
		f.fail(inWords(err), at)
		return
	}
	f.failing, f.since = "", 0
}

// fail says why no copy is written; it fails since the first time. f.mu is held.
func (f *folder) fail(why string, at board.Moment) {
	if f.failing == "" {
		f.since = at
	}
	f.failing = why
}

// news is why the folder fails, "" if it does not, and whether that is new.
func (f *folder) news() (why string, changed bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	changed = f.said != f.failing
	f.said = f.failing
	return f.failing, changed
}

func (f *folder) state(at board.Moment, v *desk.View) FolderCopies {
	f.mu.Lock()
	defer f.mu.Unlock()
	s := FolderCopies{
		Path: f.path, At: f.last.At, Failing: f.failing, Since: f.since, OwnDisk: f.away,
		Current: f.failing == "" && f.last.Rev == v.State.Rev && f.last.epoch == v.Epoch,
	}
	if f.failing == "" && f.busy != 0 && at > f.busy+stuckAfter {
		s.Failing, s.Since = "it does not answer", f.busy
	}
	return s
}

func (f *folder) folder() Folder { return Folder(f.path) }

// inWords says what is wrong with a folder as people would.
func inWords(err error) string {
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return "it is full"
	case errors.Is(err, syscall.EROFS), errors.Is(err, fs.ErrPermission):
		return "it cannot be written to"
	case errors.Is(err, syscall.EIO):
		return "it fails to read or write"
	case errors.Is(err, store.ErrBroken), errors.Is(err, store.ErrClosed):
		return "the board’s own file cannot be read"
	}
	return err.Error()
}

// Folder holds copies of boards, by name.
type Folder string

// Take puts the copy that in reads into the folder, whole or not at all, and then removes
// those of its line that are kept no longer.
func (f Folder) Take(c Copy, in io.Reader) error {
	if err := store.CopyTo(filepath.Join(string(f), c.name()), in); err != nil {
		return err
	}
	entries, err := os.ReadDir(string(f))
	if err != nil {
		return err
	}
	var all []Copy
	for _, e := range entries {
		name, begun := strings.CutSuffix(e.Name(), ".new") // and cut off by a kill
		n, ok := parseName(name)
		switch {
		case !ok || n.Line != c.Line:
		case !begun:
			all = append(all, n)
		default:
			if err := f.remove(e.Name()); err != nil {
				return err
			}
		}
	}
	for _, n := range surplus(all, c.At) {
		if err := f.remove(n.name()); err != nil {
			return err
		}
	}
	return nil
}

func (f Folder) remove(name string) error {
	if err := os.Remove(filepath.Join(string(f), name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
