package fightclock

import (
	"fmt"
	"time"
)

// EarliestStart returns the first moment at which a competitor's next fight may
// start: the promised gap after the end of the last one, pauses (a re-weigh, a
// technical check) not counted. Whether end and start mean the whistle, the bench
// or the call is the event's setting; the caller passes the moment that counts.
// It is an error if the gap is negative or a pause ends before it starts.
func EarliestStart(end time.Time, promisedGap time.Duration, pauses []Window) (time.Time, error) {
	if promisedGap < 0 {
		return time.Time{}, fmt.Errorf("promised gap %s: give 0 or more", promisedGap)
	}
	if err := checkWindows("pause", pauses); err != nil {
		return time.Time{}, err
	}
	return runOn(end, promisedGap, inOrder(pauses)), nil
}
