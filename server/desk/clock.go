package desk

import (
	"sync/atomic"
	"time"

	"mendline/board"
)

const (
	// aheadSaid is by how much the laptop's clock may be off before it is said: our
	// decision, less than which nobody in a pit would notice.
	aheadSaid = time.Minute
	// aheadKept is by how much it may move before that is written down.
	aheadKept = time.Second
)

// clock is the board's time: it begins with the laptop's clock and goes on with the time
// since boot, so at one second a second whatever is done to the laptop's clock. Any
// goroutine may ask it, once it has begun.
type clock struct {
	laptop func() time.Time
	boot   func() time.Duration
	zero   atomic.Int64 // board.Moment at which boot was 0
	shift  atomic.Int64 // by how much a captain moved the time since, in ms
}

// begin sets the clock: to the laptop's, which was so far behind the board when that was
// last seen, but never before last, the moment of the newest line. Where the two do not
// go together the laptop's clock was put right meanwhile, and is believed.
func (c *clock) begin(ahead time.Duration, last board.Moment) {
	laptop := board.MomentOf(c.laptop())
	at := laptop.Add(ahead)
	if at < last {
		at = max(laptop, last)
	}
	c.zero.Store(int64(at-c.sinceBoot()) - c.shift.Load())
}

func (c *clock) sinceBoot() board.Moment { return board.Moment(c.boot().Milliseconds()) }

// steady is the time without what a captain moved it by.
func (c *clock) steady() board.Moment { return board.Moment(c.zero.Load()) + c.sinceBoot() }

func (c *clock) now() board.Moment { return board.Moment(c.shift.Load()) + c.steady() }

// ahead is how far the board's time is ahead of the laptop's clock, below 0 for behind.
func (c *clock) ahead() time.Duration { return c.now().Sub(board.MomentOf(c.laptop())) }

// Now is the board's time.
func (d *Desk) Now() board.Moment { return d.clock.now() }

// Steady is the board's time without what a captain moved it by: it goes on at one second
// a second.
func (d *Desk) Steady() time.Time { return d.clock.steady().Time() }

// Laptop is the time by the laptop's clock.
func (d *Desk) Laptop() board.Moment { return board.MomentOf(d.clock.laptop()) }

// ClockSaid says how far the laptop's clock is off the board's time, or "" where it is
// not.
func (d *Desk) ClockSaid() string {
	long := func(d time.Duration) string { return board.Moment(d.Milliseconds()).Long() }
	switch ahead := d.clock.ahead().Round(time.Second); {
	case ahead >= aheadSaid:
		return "The laptop's clock is " + long(ahead) + " behind the board."
	case ahead <= -aheadSaid:
		return "The laptop's clock is " + long(-ahead) + " ahead of the board."
	}
	return ""
}

// lookAtClock notes where the laptop's clock stands, so that the board's time goes on
// after a restart, and logs when it was set.
func (d *Desk) lookAtClock() {
	if said := d.ClockSaid(); said != d.clockSaid {
		d.o.Log.Warn("the laptop's clock was set", "said", said)
		d.clockSaid = said
	}
	ahead := d.clock.ahead()
	if d.readOnly != "" || (ahead-d.aheadKept).Abs() < aheadKept {
		return
	}
	if err := d.store.SetAhead(ahead); err != nil {
		d.failed(err)
		return
	}
	d.aheadKept = ahead
}
