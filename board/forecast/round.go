package forecast

import (
	"time"

	"mendline/board"
)

// grainMs is what moments are rounded to, so that drifts of a few seconds are
// not sent again.
const grainMs = 10_000

// forMoment is the next full 10 s at or after at. All that the board holds has
// happened by then.
func forMoment(at board.Moment) board.Moment {
	return (at + grainMs - 1) / grainMs * grainMs
}

// nearest rounds a moment to 10 s; none stays none.
func nearest(m board.Moment) board.Moment { return (m + grainMs/2) / grainMs * grainMs }

func (p Spread) rounded() Spread {
	return Spread{nearest(p.Early), nearest(p.Median), nearest(p.Late)}
}

// workMinutes and leftMinutes round a duration that people read as minutes to what they read.
func workMinutes(sec int) int { return 60 * board.MinutesOfWork.Whole(sec) }

func leftMinutes(sec int) int { return 60 * board.MinutesLeft.Whole(sec) }

func (c Call) rounded() Call {
	c.StartAt, c.CallAt = c.StartAt.rounded(), c.CallAt.rounded()
	c.ReadyAt, c.ReadyBadAt = nearest(c.ReadyAt), nearest(c.ReadyBadAt)
	c.HandsOnSec, c.NeedSec, c.ShortSec = leftMinutes(c.HandsOnSec), workMinutes(c.NeedSec), workMinutes(c.ShortSec)
	branches := make([]Branch, len(c.Branches))
	for i, b := range c.Branches {
		b.CallAt, b.ReadyAt = b.CallAt.rounded(), nearest(b.ReadyAt)
		b.HandsOnSec, b.ShortSec = leftMinutes(b.HandsOnSec), workMinutes(b.ShortSec)
		branches[i] = b
	}
	c.Branches = branches
	return c
}

func (b Bar) rounded() Bar {
	b.StartAt, b.EndAt, b.BadAt = nearest(b.StartAt), nearest(b.EndAt), nearest(b.BadAt)
	return b
}

func (p JobPlan) rounded() JobPlan {
	p.StartAt, p.EndAt, p.BadAt = nearest(p.StartAt), nearest(p.EndAt), nearest(p.BadAt)
	return p
}

// plusSec is m and sec seconds.
func plusSec(m board.Moment, sec int) board.Moment { return m.Add(time.Duration(sec) * time.Second) }

// secUntil is the whole seconds from from to to, negative if to is earlier.
func secUntil(from, to board.Moment) int { return int(to.Sub(from) / time.Second) }
