package store

import (
	"errors"
	"fmt"
)

var (
	// ErrBroken is in every error of a write that failed and in all that
	// follow it: the file handle is never used again.
	ErrBroken = errors.New("store broken by a failed write")

	// ErrClosed is returned by a store that was closed.
	ErrClosed = errors.New("store closed")

	// ErrLowDisk is in the error of a write refused because too little space
	// is free. Nothing was written and the store is whole: it takes writes
	// again once there is space.
	ErrLowDisk = errors.New("disk nearly full")

	// ErrMoved is in the error of a write refused because the open file is not at its
	// path any more: it was moved, deleted or replaced. Where ErrBroken is not in it,
	// nothing was written, and the store takes writes again once the file is back.
	ErrMoved = errors.New("the board's file is not where it was")

	// ErrGoneOn is in the error for a copy that would take the place of a board that is
	// no copy, or of a file that cannot be read.
	ErrGoneOn = errors.New("a board that people have gone on with is there")

	// ErrNewer is in the error for a file in a format that this program does
	// not know yet.
	ErrNewer = errors.New("file written by a newer program")

	// ErrDamaged is in the error for a file whose structure does not hold. A
	// backup has to take its place.
	ErrDamaged = errors.New("file damaged")
)

// HeldError says that another process has the board open.
type HeldError struct {
	Path string
	PID  int // 0 where it could not be read
}

func (e *HeldError) Error() string {
	if e.PID == 0 {
		return fmt.Sprintf("%s is held by another process", e.Path)
	}
	return fmt.Sprintf("%s is held by another process (%d)", e.Path, e.PID)
}
