package fightclock

import "time"

// arenaClock is one arena at one moment.
type arenaClock struct {
	now    time.Time
	breaks []Window
	seen   []start
	pace   pace
	facts  Pace

	// The reckoning runs from the moment from, at which fight number fight had
	// been on for heldSec; silentSec of play have gone by since without word. With
	// nothing seen yet, fight is 1, about to start at from.
	known     bool
	from      time.Time
	fight     int
	heldSec   float64
	silentSec float64
}

func (in Input) arenaClock(a Arena, breaks []Window) arenaClock {
	c := arenaClock{now: in.Now, breaks: breaks, seen: starts(a.Name, in.Sightings, in.Now)}
	usable, covering := spans(c.seen, breaks)
	learnt, used := in.Prior.pace().learn(usable)
	c.pace = learnt
	c.facts = Pace{MeanSec: learnt.meanSec(1), SetAside: covering + len(usable) - len(used)}
	for _, s := range used {
		c.facts.Intervals += s.fights
	}
	if len(c.seen) == 0 {
		c.known, c.fight = !a.FirstStart.IsZero(), 1
		c.from = outside(later(a.FirstStart, in.Now), breaks)
		return c
	}
	last := c.seen[len(c.seen)-1]
	c.known, c.fight, c.from = true, last.fight, last.confirmed
	if in.Watched {
		c.from = in.Now
	}
	c.heldSec = between(last.at, c.from, breaks).Seconds()
	c.silentSec = between(c.from, in.Now, breaks).Seconds()
	c.facts.HoldUpChance = c.pace.wait(1, c.heldSec).holdUpChance()
	return c
}

func (c arenaClock) answer(w Wanted) Answer {
	a := Answer{Wanted: w, Pace: c.facts}
	switch {
	case !c.known:
		a.State, a.Why = Unknown, "No fight was seen in this arena yet, and no first start is set."
		return a
	case len(c.seen) > 0 && w.Fight <= c.fight:
		a.State = Past
		if w.Fight == c.fight {
			a.State = OnNow
		}
		a.Start = c.begun(w.Fight)
		a.Call = c.call(w, a.Start)
		return a
	}
	a.Ahead = w.Fight - c.fight
	if len(c.seen) == 0 {
		a.Ahead++
	}
	a.Start = c.ahead(w.Fight, c.silentSec).notBefore(w.NotBefore)
	a.Call = c.call(w, a.Start)
	a.State = Ahead
	if !a.Call.P50.After(c.now) {
		a.State = CallNow
	}
	return a
}

// call takes the lead off the start of the fight that gives the call. A not-before
// holds the call back too, by the lead at the mean pace; a fight that is on or
// past has been called.
func (c arenaClock) call(w Wanted, start Spread) Spread {
	gives := w.Fight - w.Lead.Fights
	sec := seconds(-w.Lead.Sec)
	begun := len(c.seen) > 0
	switch {
	case w.Lead.Fights == 0:
		return start.add(sec)
	case begun && w.Fight <= c.fight:
		return c.begun(gives).add(sec)
	}
	var call Spread
	if begun && gives <= c.fight {
		call = c.begun(gives)
	} else {
		call = c.ahead(gives, 0)
	}
	call = call.add(sec)
	if w.NotBefore.IsZero() {
		return call
	}
	return call.notBefore(w.NotBefore.Add(sec - seconds(c.pace.meanSec(w.Lead.Fights))))
}

// begun returns when fight n, or the next one after it that was seen, was seen
// first.
func (c arenaClock) begun(n int) Spread {
	for _, s := range c.seen {
		if s.fight >= n {
			return certain(s.at)
		}
	}
	return Spread{}
}

// ahead returns the start of a fight not yet begun, given that silentSec went by
// without it. Numbers before the first fight count back at the mean pace.
func (c arenaClock) ahead(n int, silentSec float64) Spread {
	k := n - c.fight
	if k <= 0 {
		return certain(c.from.Add(seconds(c.pace.meanSec(k))))
	}
	w := c.pace.wait(k, c.heldSec)
	at := func(p float64) time.Time {
		play := seconds(w.quantileSec(p, silentSec))
		return outside(runOn(c.from, play, c.breaks), c.breaks)
	}
	return Spread{at(0.1), at(0.5), at(0.9)}
}

func certain(t time.Time) Spread { return Spread{t, t, t} }

func (s Spread) add(d time.Duration) Spread {
	return Spread{s.P10.Add(d), s.P50.Add(d), s.P90.Add(d)}
}

func (s Spread) notBefore(t time.Time) Spread {
	return Spread{later(s.P10, t), later(s.P50, t), later(s.P90, t)}
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// seconds converts without overflow: a century is as good as never.
func seconds(sec float64) time.Duration {
	const century = 100 * 365 * 24 * 3600
	return time.Duration(min(max(sec, -century), century) * float64(time.Second))
}
