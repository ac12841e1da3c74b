//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package store

import (
	"errors"
	"os"
	"syscall"
	"time"
)

const lockPoll = 50 * time.Millisecond

// flocks says that flock keeps others out, until the process ends.
const flocks = true

// flock locks f for this process, waiting at most wait.
func flock(f *os.File, wait time.Duration) error {
	for end := time.Now().Add(wait); ; time.Sleep(lockPoll) {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case err == nil:
			return nil
		case errors.Is(err, syscall.EINTR):
			continue
		case !errors.Is(err, syscall.EWOULDBLOCK):
			return err
		case time.Now().After(end):
			return errLocked
		}
	}
}
