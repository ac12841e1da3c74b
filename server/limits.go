package server

import (
	"net/netip"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"mendline/board"
)

// Failed joins: so many a network, more at once because many phones may share one. As
// many again are kept for its addresses that have not failed lately.
const (
	failsPerMinute = 5
	failsBurst     = 10
	failedFor      = 15 * time.Minute

	networksKept = 4096
)

// networkOf is where a device is, as far as it can't choose that itself: its IPv4
// address, or the first 64 bits of its IPv6 address, behind which one device may have
// as many addresses as it likes.
func networkOf(a netip.Addr) netip.Addr {
	if a.Is4() {
		return a
	}
	p, err := a.WithZone("").Prefix(64)
	if err != nil {
		return netip.Addr{}
	}
	return p.Addr()
}

// joinLimits bounds the guessing of codes and PINs. Only failures count, and nobody's
// count for others, so that who guesses keeps nobody out.
type joinLimits struct {
	mu        sync.Mutex
	byNetwork map[netip.Addr]*failures
}

// failures are a network's.
type failures struct {
	all   *rate.Limiter
	fresh *rate.Limiter // of addresses that had not failed
	of    map[netip.Addr]time.Time
}

func newFailures() *failures {
	limiter := func() *rate.Limiter { return rate.NewLimiter(failsPerMinute/rate.Limit(60), failsBurst) }
	return &failures{all: limiter(), fresh: limiter(), of: map[netip.Addr]time.Time{}}
}

func newJoinLimits() *joinLimits { return &joinLimits{byNetwork: map[netip.Addr]*failures{}} }

// guess asks right, unless too many failed before, and counts when it says no.
// One guess is judged at a time, so that many at once gain nothing.
func (l *joinLimits) guess(from netip.Addr, now time.Time, right func() bool) (bool, *board.Refusal) {
	l.mu.Lock()
	defer l.mu.Unlock()
	f := l.byNetwork[l.counted(from)]
	if f != nil && f.all.TokensAt(now) < 1 && (f.failed(from, now) || f.fresh.TokensAt(now) < 1) {
		return false, slowDown("Too many wrong codes or PINs. Wait a minute, then type it again.")
	}
	if right() {
		return true, nil
	}
	l.count(from, now)
	return false, nil
}

func (f *failures) failed(from netip.Addr, now time.Time) bool {
	at, ok := f.of[from]
	return ok && now.Sub(at) < failedFor
}

// failed counts a failure that guess did not see.
func (l *joinLimits) failed(from netip.Addr, now time.Time) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.count(from, now)
}

// counted is the network that an address counts with: its own, or the one of all
// networks that there is no room to tell apart.
func (l *joinLimits) counted(from netip.Addr) netip.Addr {
	own := networkOf(from)
	if l.byNetwork[own] == nil && len(l.byNetwork) >= networksKept {
		return netip.Addr{}
	}
	return own
}

func (l *joinLimits) count(from netip.Addr, now time.Time) {
	l.prune(now)
	own := l.counted(from)
	f := l.byNetwork[own]
	if f == nil {
		f = newFailures()
		l.byNetwork[own] = f
	}
	for a := range f.of {
		if !f.failed(a, now) {
			delete(f.of, a)
		}
	}
	if !f.all.AllowN(now, 1) {
		f.fresh.AllowN(now, 1)
	}
	f.of[from] = now
}

// prune forgets networks that have not failed lately, when there are many.
func (l *joinLimits) prune(now time.Time) {
	if len(l.byNetwork) < networksKept {
		return
	}
	for a, f := range l.byNetwork {
		if f.all.TokensAt(now) >= failsBurst {
			delete(l.byNetwork, a)
		}
	}
}

func slowDown(sentence string) *board.Refusal {
	return &board.Refusal{Code: board.CodeTooMany, Sentence: sentence}
}
