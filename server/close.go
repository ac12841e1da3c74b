package server

import (
	"errors"
	"strconv"

	"mendline/server/desk"
)

// closeCode says why a socket was closed.
type closeCode int

// The close codes of RFC 6455 §7.4.1 and the registry it began, and our own from
// 4001 on. 0 is none.
const (
	closeNormal     closeCode = 1000
	closeGoingAway  closeCode = 1001
	closeNoStatus   closeCode = 1005
	closeAbnormal   closeCode = 1006 // the connection broke
	closeTooBig     closeCode = 1009
	closeRestarting closeCode = 1012
	closeFull       closeCode = 1013
	closeEnded      closeCode = 4001
	closeSlow       closeCode = 4002
	closeProtocol   closeCode = 4003
	closeRole       closeCode = 4004
)

// closeWords are what we say with the codes that we send.
var closeWords = map[closeCode]string{
	closeRestarting: "the board is restarting",
	closeFull:       "too many at once, later",
	closeEnded:      "the session has ended",
	closeSlow:       "too slow, resume",
	closeProtocol:   "this page is older than the board",
	closeRole:       "the role has changed",
}

// errResumed ends the follower of a client that resumes once more.
var errResumed = errors.New("resumed again")

// What ends a follower whose device is no longer what it came in as.
var (
	errEnded = errors.New("the session has ended")
	errRole  = errors.New("the role has changed")
)

// codeFor is the code for a follower's end.
func codeFor(err error) closeCode {
	switch {
	case errors.Is(err, desk.ErrSlow):
		return closeSlow
	case errors.Is(err, desk.ErrLeft), errors.Is(err, errResumed):
		return 0
	case errors.Is(err, errEnded):
		return closeEnded
	case errors.Is(err, errRole):
		return closeRole
	}
	return closeRestarting
}

// label is the code as a metric has it: those a peer makes up are one.
func (c closeCode) label() string {
	if _, ours := closeWords[c]; ours {
		return strconv.Itoa(int(c))
	}
	switch c {
	case closeNormal, closeGoingAway, closeNoStatus, closeAbnormal, closeTooBig:
		return strconv.Itoa(int(c))
	}
	return "other"
}
