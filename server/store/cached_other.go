//go:build !linux

package store

import "os"

func forgetCached(*os.File) {}
