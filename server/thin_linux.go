package server

import (
	"net"
	"syscall"
)

// Options of Linux's tcp.h: six tries at the same pace before each waits twice as long,
// and, since Linux 6.15, the most that one waits.
const (
	tcpThinLinearTimeouts = 16
	tcpRTOMaxMS           = 44

	resendMostMS = 1000 // the least that the kernel takes
)

// sendAgainSoon has the kernel send soon again what was lost on a bad Wi-Fi. What older
// kernels do not know changes nothing.
func sendAgainSoon(c *net.TCPConn) {
	raw, err := c.SyscallConn()
	if err != nil {
		return
	}
	raw.Control(func(fd uintptr) {
		syscall.SetsockoptInt(int(fd), syscall.IPPROTO_TCP, tcpThinLinearTimeouts, 1)
		syscall.SetsockoptInt(int(fd), syscall.IPPROTO_TCP, tcpRTOMaxMS, resendMostMS)
	})
}
