package fightclock

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// Window is a stretch of time: From counts, To does not.
type Window struct{ From, To time.Time }

func (w Window) holds(t time.Time) bool { return !t.Before(w.From) && t.Before(w.To) }

func checkWindows(what string, ws []Window) error {
	for i, w := range ws {
		if !w.To.After(w.From) {
			return fmt.Errorf("%s %d: ends %s, not after its start %s: give the later time last",
				what, i+1, w.To.Format(time.TimeOnly), w.From.Format(time.TimeOnly))
		}
	}
	return nil
}

func inOrder(ws []Window) []Window {
	sorted := slices.Clone(ws)
	slices.SortStableFunc(sorted, func(a, b Window) int {
		return cmp.Or(a.From.Compare(b.From), a.To.Compare(b.To))
	})
	return sorted
}

// runOn returns the moment at which d has gone by since from, the windows (in
// order, perhaps overlapping) not counted.
func runOn(from time.Time, d time.Duration, ws []Window) time.Time {
	for _, w := range ws {
		if !w.To.After(from) {
			continue
		}
		free := max(w.From.Sub(from), 0)
		if d <= free {
			break
		}
		from, d = w.To, d-free
	}
	return from.Add(d)
}

// outside returns t, or the end of the windows it lies in.
func outside(t time.Time, ws []Window) time.Time {
	for _, w := range ws {
		if w.holds(t) {
			t = w.To
		}
	}
	return t
}

// between returns the time from a to b that lies in no window; 0 if b is not
// after a.
func between(a, b time.Time, ws []Window) time.Duration {
	var sum time.Duration
	for _, w := range ws {
		if !w.From.Before(b) {
			break
		}
		if w.To.After(a) {
			sum += max(w.From.Sub(a), 0)
			a = w.To
		}
	}
	return sum + max(b.Sub(a), 0)
}
