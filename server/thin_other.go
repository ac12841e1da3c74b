//go:build !linux

package server

import "net"

// sendAgainSoon does nothing where the kernel knows one pace only.
func sendAgainSoon(*net.TCPConn) {}
