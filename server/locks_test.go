package server

import (
	"fmt"
	"net/http"
	"net/netip"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

var nineOClock = time.Date(2026, 5, 9, 9, 0, 0, 0, time.UTC)

// guessed guesses at codes and tells how often somebody looked.
func guessed(l *joinLimits, now time.Time, from func(int) string) (judged int) {
	for i := range 400 {
		if _, refusal := l.guess(netip.MustParseAddr(from(i)), now, func() bool { return false }); refusal == nil {
			judged++
		}
	}
	return judged
}

// right joins with the right code.
func right(l *joinLimits, now time.Time, from string) bool {
	ok, refusal := l.guess(netip.MustParseAddr(from), now, func() bool { return true })
	return ok && refusal == nil
}

func TestWhoGuessesCodesKeepsNobodyElseOut(t *testing.T) {
	l, now := newJoinLimits(), nineOClock
	require.Equal(t, failsBurst, guessed(l, now, func(int) string { return "10.0.0.66" }))
	require.False(t, right(l, now, "10.0.0.66"))
	require.True(t, right(l, now, "10.0.0.7"))

	for range 60 { // an hour of guessing from twenty phones
		now = now.Add(time.Minute)
		guessed(l, now, func(i int) string { return fmt.Sprintf("10.0.1.%d", i%20) })
	}
	require.False(t, right(l, now, "10.0.1.8"))
	require.True(t, right(l, now, "10.0.0.7"))
	require.True(t, right(l, now, "2001:db8::7"))
}

func TestOneDeviceWithManyIPv6AddressesIsOne(t *testing.T) {
	l, now := newJoinLimits(), nineOClock
	judged := guessed(l, now, func(i int) string { return fmt.Sprintf("2001:db8:0:1::%x", i+1) })
	require.Equal(t, 2*failsBurst, judged)
	require.False(t, right(l, now, "2001:db8:0:1:ffff::9"))
	require.True(t, right(l, now, "2001:db8:0:2::9"), "another network")
	require.True(t, right(l, now, "10.0.0.7"))
	require.Equal(t, netip.MustParseAddr("fe80::"), networkOf(netip.MustParseAddr("fe80::12:9%wlan0")))
}

func TestANetworkKeepsRoomForAnAddressThatDidNotGuess(t *testing.T) {
	l, now := newJoinLimits(), nineOClock
	require.Equal(t, failsBurst, guessed(l, now, func(int) string { return "2001:db8:0:1::66" }))
	require.False(t, right(l, now, "2001:db8:0:1::66"))
	require.True(t, right(l, now, "2001:db8:0:1::7"))
	require.True(t, right(l, now, "2001:db8:0:1::7"), "a right code costs nothing")
}

func TestMoreNetworksThanAreToldApartCountAsOne(t *testing.T) {
	l, now := newJoinLimits(), nineOClock
	for i := range networksKept {
		l.failed(netip.AddrFrom4([4]byte{10, 0, byte(i >> 8), byte(i)}), now)
	}
	require.Len(t, l.byNetwork, networksKept)
	judged := guessed(l, now, func(i int) string { return fmt.Sprintf("10.9.%d.%d", i/200, i%200) })
	require.LessOrEqual(t, judged, 2*failsBurst)
	require.LessOrEqual(t, len(l.byNetwork), networksKept+1)

	now = now.Add(failedFor)
	l.failed(netip.MustParseAddr("10.1.0.1"), now)
	require.Len(t, l.byNetwork, 1, "those that failed long ago are forgotten")
}

func (p *pit) signs(d device, pin string) answer {
	ask := p.command(note("signed"))
	ask.Pins = []Pin{{p.ben, pin}}
	return d.post("/api/do", ask)
}

// wrongly types a wrong PIN of Ben's, as who is in a network.
func (p *pit) wrongly(device, network string) *board.Refusal {
	_, bad := p.s.pins.verify(p.t.Context(), p.d.View().State.People[p.ben], "000000", guesser{device, netip.MustParseAddr(network)}, p.clock.Now())
	return bad
}

func TestWrongPINsOnOneDeviceLockNoOther(t *testing.T) {
	p := newPit(t)
	ada, ben, dee := p.captain(), p.crew(), p.safety()
	for range guessesOnDevice {
		p.signs(ada, "000000").refused(http.StatusForbidden, board.CodeNeedProof)
	}
	p.signs(ada, somePIN).refused(http.StatusTooManyRequests, board.CodeTooMany)
	p.signs(ben, somePIN).ok()
	p.signs(dee, somePIN).ok()
	for i := range guessesInAll {
		require.NotNil(t, p.wrongly(fmt.Sprint("phone ", i), fmt.Sprint("10.0.0.", i)))
	}
	p.signs(p.join(board.RoleCrew, "Kit"), somePIN).refused(http.StatusTooManyRequests, board.CodeTooMany)
	p.signs(ben, somePIN).ok()
	p.signs(dee, somePIN).ok()
}

func TestOneNetworkOfGuessersLocksAPersonNowhereElse(t *testing.T) {
	p := newPit(t)
	p.crew()
	dee := p.safety()
	judged := 0
	for i := range 100 { // one phone, under new names all the time
		if p.wrongly(fmt.Sprint("session ", i), "10.0.0.66").Code == board.CodeNeedProof {
			judged++
		}
	}
	require.Equal(t, guessesInNetwork, judged)
	p.signs(dee, somePIN).ok()
}

func TestOneDeviceGuessesAtFewPeople(t *testing.T) {
	p := newPit(t)
	p.crew()
	from := guesser{"a phone", netip.MustParseAddr("10.0.0.66")}
	g := &p.s.pins.wrong
	for i := range guessesInAll {
		g.add(board.PersonID(fmt.Sprint("person ", i)), guess{from, p.clock.Now()})
	}
	require.NotZero(t, g.locked("somebody else", from, p.clock.Now()))
	require.Zero(t, g.locked("somebody else", guesser{"another", from.network}, p.clock.Now()))
	g.knows(from.device, "somebody else")
	require.Zero(t, g.locked("somebody else", from, p.clock.Now()), "their own device")
	require.Zero(t, g.locked("a third", from, p.clock.Now().Add(guessWindow)))
	require.Empty(t, g.of, "what is of no use is forgotten")
}

func TestTheOwnersSessionGoesOnSigningAfterARestart(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	require.NoError(t, p.s.Close(t.Context()))
	p.stopDesk()
	q := newPitWith(t, with{path: p.path})
	for i := range guessesInAll {
		q.wrongly(fmt.Sprint("phone ", i), fmt.Sprint("10.0.0.", i))
	}
	q.signs(q.captain(), somePIN).refused(http.StatusTooManyRequests, board.CodeTooMany)
	q.signs(device{p: q, token: ben.token}, somePIN).ok()
}
