package forecast

import (
	"fmt"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/estimate"
)

// A part of which nobody knows when it comes, and how much longer one takes in the bad
// case than was said: our own guesses.
var partSomeTime = estimate.TwoPoint{LikelySec: 10 * 60, BadSec: 30 * 60}

const partBadRatio = 2

// settingsTimes is how long a setting that bars power takes to be entered, once it is
// said that it is missing: our own guess.
var settingsTimes = estimate.TwoPoint{LikelySec: 3 * 60, BadSec: 10 * 60}

// barred says that no robot may have power yet; empty where they may.
func (c *schedule) barred() Cause {
	what := c.s.BarsPower()
	if len(what) == 0 {
		return Cause{}
	}
	return Cause{Kind: CausePerson, Text: "No robot may have power before the captain has entered " + what[0] + "."}
}

// partOf is how long the part of a job is still on its way; not ok where it is on hold for none.
func partOf(j board.Job, at board.Moment) (comes chance.Work, ok bool) {
	if j.State != board.JobHeld || j.HeldFor != board.HoldPart {
		return chance.Work{}, false
	}
	times, since := partSomeTime, 0
	if said := float64(j.Part.Minutes * 60); said > 0 {
		times = estimate.TwoPoint{LikelySec: said, BadSec: partBadRatio * said}
	}
	if j.Part.At != 0 {
		since = max(secUntil(j.Part.At, at), 0)
	}
	return chance.Work{Time: lognormal(times), SpentSec: float64(since)}, true
}

// held says what a job on hold for a part waits for.
func held(j board.Job) string {
	text := upper(jobName(j)) + " is on hold for a part"
	if j.HeldText != "" {
		text += ": " + j.HeldText
	}
	if j.Part.Minutes > 0 {
		text += fmt.Sprintf(", said to take %d min", j.Part.Minutes)
	}
	return text + "."
}
