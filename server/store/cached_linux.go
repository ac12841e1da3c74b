package store

import (
	"os"

	"golang.org/x/sys/unix"
)

// forgetCached has the system read the file from its device, where it follows the advice.
func forgetCached(f *os.File) { unix.Fadvise(int(f.Fd()), 0, 0, unix.FADV_DONTNEED) }
