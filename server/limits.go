package server

import (
	"net/netip"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"mendline/board"
)

// Failed joins: so many an address, more at once because many phones may share
// one address; so many in all; and after so many in an hour nobody joins.
const (
	failsPerAddress   = 5 // a minute
	failsAddressBurst = 10
	failsInAll        = 60 // a minute
	failsPause        = 100
	failsPauseFor     = time.Hour

	addressesKept = 1024
)

// joinLimits bounds the guessing of codes and PINs. Only failures count.
type joinLimits struct {
	mu        sync.Mutex
	byAddress map[netip.Addr]*rate.Limiter
	all       *rate.Limiter
	lastHour  []time.Time
}

func newJoinLimits() *joinLimits {
	return &joinLimits{byAddress: map[netip.Addr]*rate.Limiter{}, all: rate.NewLimiter(perMinute(failsInAll), failsInAll)}
}

func perMinute(n int) rate.Limit { return rate.Limit(float64(n) / 60) }

// guess asks right, unless too many failed before, and counts when it says no.
// One guess is judged at a time, so that many at once gain nothing.
func (l *joinLimits) guess(from netip.Addr, now time.Time, right func() bool) (bool, *board.Refusal) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if refusal := l.tooMany(from, now); refusal != nil {
		return false, refusal
	}
	if right() {
		return true, nil
	}
	l.count(from, now)
	return false, nil
}

// failed counts a failure that guess did not see.
func (l *joinLimits) failed(from netip.Addr, now time.Time) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.count(from, now)
}

func (l *joinLimits) tooMany(from netip.Addr, now time.Time) *board.Refusal {
	l.lastHour = since(l.lastHour, now.Add(-failsPauseFor))
	if len(l.lastHour) >= failsPause {
		return slowDown("Too many wrong codes within an hour: nobody can join for a while. Whoever has joined goes on. The captain can change a code, which ends the pause.")
	}
	own := l.byAddress[from]
	if (own != nil && own.TokensAt(now) < 1) || l.all.TokensAt(now) < 1 {
		return slowDown("Too many wrong codes or PINs. Wait a minute, then type it again.")
	}
	return nil
}

func (l *joinLimits) count(from netip.Addr, now time.Time) {
	own := l.byAddress[from]
	if own == nil {
		l.prune(now)
		own = rate.NewLimiter(perMinute(failsPerAddress), failsAddressBurst)
		l.byAddress[from] = own
	}
	own.AllowN(now, 1)
	l.all.AllowN(now, 1)
	l.lastHour = append(l.lastHour, now)
}

// prune forgets addresses that have not failed lately.
func (l *joinLimits) prune(now time.Time) {
	if len(l.byAddress) < addressesKept {
		return
	}
	for a, own := range l.byAddress {
		if own.TokensAt(now) >= failsAddressBurst {
			delete(l.byAddress, a)
		}
	}
}

// resume ends the pause: the codes that were guessed at are no longer all valid.
func (l *joinLimits) resume() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.lastHour = nil
}

func slowDown(sentence string) *board.Refusal {
	return &board.Refusal{Code: board.CodeTooMany, Sentence: sentence}
}
