package main

import (
	"os"
	"syscall"
)

// flush is what the board's store does at each commit.
func flush(f *os.File) error { return syscall.Fdatasync(int(f.Fd())) }
