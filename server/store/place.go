package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// spot is where the open file lay when it was opened.
type spot struct {
	path string // absolute: a folder above may move, and this process with it
	// file is the open file by device and inode; nil where the file system gave path
	// and file two, so that nothing can be told by them.
	file os.FileInfo
}

func spotOf(path string, f *os.File) (spot, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return spot{}, err
	}
	open, err := f.Stat()
	if err != nil {
		return spot{}, err
	}
	at, err := os.Stat(path)
	if err != nil {
		return spot{}, err
	}
	if !os.SameFile(open, at) {
		return spot{path: path}, nil
	}
	return spot{path: path, file: open}, nil
}

// check returns ErrMoved where something else, or nothing, is at the path now.
func (p spot) check() error {
	if p.file == nil {
		return nil
	}
	at, err := os.Stat(p.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%w: nothing is at %s", ErrMoved, p.path)
	case err != nil:
		return fmt.Errorf("%w: %w", ErrMoved, err)
	case !os.SameFile(p.file, at):
		return fmt.Errorf("%w: another file is at %s", ErrMoved, p.path)
	}
	return nil
}

// stillHere is asked after a write and before anyone hears of it: what went to a file
// that was moved away meanwhile is not on the board. s.mu is held.
func (s *Store) stillHere() error {
	if err := s.spot.check(); err != nil {
		s.down = fmt.Errorf("%w: %w", ErrBroken, err)
		return s.down
	}
	return nil
}
