//go:build darwin || freebsd || linux

package store

import "syscall"

// freeBytes is the space that this user may still fill where path lies.
func freeBytes(path string) (free int64, known bool) {
	var st syscall.Statfs_t
	if err := syscall.Statfs(path, &st); err != nil {
		return 0, false
	}
	return int64(uint64(st.Bavail) * uint64(st.Bsize)), true
}
