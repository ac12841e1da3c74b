//go:build !linux

package main

import "os"

// flush is what the board's store does at each commit.
func flush(f *os.File) error { return f.Sync() }
