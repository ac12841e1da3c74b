package server

import (
	"net/netip"
	"slices"
	"time"

	"mendline/board"
)

// Within guessWindow, so many wrong PINs of a person lock it: on the device that typed
// them; in a network, and everywhere, on devices that never typed it right. So many of
// all people's lock a device, but for those whose it typed right before. Twenty guesses a
// quarter of an hour find one of a million PINs in 12 hours with a probability of 1e-3.
const (
	guessesOnDevice  = 5
	guessesInNetwork = 10
	guessesInAll     = 20
	guessWindow      = 15 * time.Minute
)

// guesser is who types a PIN: a device, by its session or else by its network.
type guesser struct {
	device  string
	network netip.Addr
}

// guess is a wrong PIN, or one that is being checked.
type guess struct {
	guesser
	at time.Time
}

// guesses are the wrong PINs of late. Whoever typed a person's PIN right is known, and
// counted apart: strangers lock nobody out who is at work.
type guesses struct {
	of    map[board.PersonID][]guess
	known map[string]map[board.PersonID]bool // by device
}

func newGuesses() guesses {
	return guesses{of: map[board.PersonID][]guess{}, known: map[string]map[board.PersonID]bool{}}
}

func (g guesses) knows(device string, person board.PersonID) {
	if g.known[device] == nil {
		g.known[device] = map[board.PersonID]bool{}
	}
	g.known[device][person] = true
}

// locked is how long a person's PIN is still locked for who types it, 0 for not.
func (g guesses) locked(person board.PersonID, by guesser, now time.Time) time.Duration {
	var onDevice, inNetwork, inAll, ofAll []time.Time
	for whose, list := range g.of {
		if list = slices.DeleteFunc(list, func(w guess) bool { return !w.at.After(now.Add(-guessWindow)) }); len(list) == 0 {
			delete(g.of, whose)
			continue
		}
		g.of[whose] = list
		for _, w := range list {
			stranger := !g.known[w.device][whose]
			if w.device == by.device && stranger {
				ofAll = append(ofAll, w.at)
			}
			if whose != person {
				continue
			}
			if w.device == by.device {
				onDevice = append(onDevice, w.at)
			}
			if stranger && w.network == by.network {
				inNetwork = append(inNetwork, w.at)
			}
			if stranger {
				inAll = append(inAll, w.at)
			}
		}
	}
	wait := left(onDevice, guessesOnDevice, now)
	if !g.known[by.device][person] {
		wait = max(wait, left(inNetwork, guessesInNetwork, now), left(inAll, guessesInAll, now), left(ofAll, guessesInAll, now))
	}
	return wait
}

// left is how long it takes until fewer than most of the guesses are of late.
func left(times []time.Time, most int, now time.Time) time.Duration {
	if len(times) < most {
		return 0
	}
	slices.SortFunc(times, time.Time.Compare)
	return times[len(times)-most].Add(guessWindow).Sub(now)
}

func (g guesses) add(person board.PersonID, w guess) { g.of[person] = append(g.of[person], w) }

// takeBack forgets a guess that was right, or that could not be checked.
func (g guesses) takeBack(person board.PersonID, w guess) {
	if i := slices.Index(g.of[person], w); i >= 0 {
		g.of[person] = slices.Delete(g.of[person], i, i+1)
	}
}

// forget is for a PIN that is one no more.
func (g guesses) forget(person board.PersonID) {
	delete(g.of, person)
	for _, people := range g.known {
		delete(people, person)
	}
}
