//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package store

import (
	"os"
	"time"
)

const flocks = false

// flock leaves the exclusion to bbolt's own lock on the board file. Where that
// file is held, the system refuses to rename another over it.
func flock(*os.File, time.Duration) error { return nil }
