//go:build darwin || freebsd || linux

package copies

import "syscall"

// ownDisk tells whether the folder is on another disk than the one that the board and
// the system are on.
func ownDisk(folder, board string) bool {
	var is, own, root syscall.Stat_t
	if syscall.Stat(folder, &is) != nil || syscall.Stat(board, &own) != nil || syscall.Stat("/", &root) != nil {
		return false
	}
	return is.Dev != own.Dev && is.Dev != root.Dev
}
