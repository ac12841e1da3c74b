package desk

import (
	"sync/atomic"
	"time"

	"mendline/board"
)

// clock is the desk's time: that of the machine, except that it never steps back.
// Any goroutine may ask it.
type clock struct {
	machine func() time.Time
	last    atomic.Int64 // board.Moment
}

func (c *clock) now() board.Moment { return c.atLeast(board.MomentOf(c.machine())) }

// atLeast moves the clock on to m, if it is not there yet, and reads it.
func (c *clock) atLeast(m board.Moment) board.Moment {
	for {
		last := c.last.Load()
		if int64(m) <= last {
			return board.Moment(last)
		}
		if c.last.CompareAndSwap(last, int64(m)) {
			return m
		}
	}
}
