package main

import (
	"net"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/frontend/browsertest"
)

// by is the board as seen by a device that reaches it through the test: carries takes
// what a phone says to the hall, on each connection, and ends it by returning.
func (s *served) by(t testing.TB, carries func(phone, hall net.Conn)) *served {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	go func() { // ends with the listener
		for {
			phone, err := l.Accept()
			if err != nil {
				return
			}
			go carry(phone, s.listener.Addr().String(), carries)
		}
	}()
	_, port, _ := strings.Cut(l.Addr().String(), ":")
	return &served{host: s.host, url: "http://" + browsertest.PitName + ":" + port, stop: s.stop, skipped: s.skipped}
}

// carry takes one connection to the board, and back; it ends with either end.
func carry(phone net.Conn, to string, carries func(phone, hall net.Conn)) {
	defer phone.Close()
	hall, err := net.Dial("tcp", to)
	if err != nil {
		return
	}
	defer hall.Close()
	go func() {
		defer phone.Close()
		pass(hall, phone, func([]byte) {})
	}()
	carries(phone, hall)
}

// pass takes what one end says to the other; before is told of each piece.
func pass(from, to net.Conn, before func([]byte)) {
	b := make([]byte, 4096)
	for {
		n, err := from.Read(b)
		if err != nil {
			return
		}
		before(b[:n])
		if _, err := to.Write(b[:n]); err != nil {
			return
		}
	}
}
