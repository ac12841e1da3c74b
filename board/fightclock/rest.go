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

// Postponement is one that was granted: by whom it was used, for which entry, and
// when.
type Postponement struct {
	Competitor, Entry string
	At                time.Time
}

// Ledger holds the postponements of one event day. The rule: one for each
// competitor and day, whatever the number of entries.
type Ledger []Postponement

// MayPostpone says whether the competitor's entry may still be given a
// postponement, and if not, why, in a sentence to show.
func (l Ledger) MayPostpone(competitor, entry string) (ok bool, why string) {
	for _, p := range l {
		if p.Competitor != competitor {
			continue
		}
		if p.Entry == entry {
			return false, fmt.Sprintf("%s was already postponed at %s: one postponement a day is all there is.",
				entry, p.At.Format("15:04"))
		}
		return false, fmt.Sprintf("%s can't be postponed: the one postponement of the day, for all entries together, went to %s at %s.",
			entry, p.Entry, p.At.Format("15:04"))
	}
	return true, ""
}
