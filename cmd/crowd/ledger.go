package main

import (
	"bytes"
	"fmt"
	"slices"
	"time"

	"mendline/board"
)

// ledger is what was asked, what was answered, and what every device received.
type ledger struct {
	devices  int
	sent     []*sent // in the order of sending
	byID     map[board.CommandID]*sent
	arrivals map[board.Rev]*arrival
	// untimed is how many of sent came before the load.
	untimed int
	faults  []string
}

// sent is one command given.
type sent struct {
	order
	by       board.PersonID
	at       time.Time
	answered time.Time // zero while there is no answer
	rev      board.Rev
	refusal  *board.Refusal
}

// arrival is one revision as it reached the devices. Its patch is nil when all
// had it in a snapshot.
type arrival struct {
	patch   *patch
	devices int
	each    []time.Time // when it came to one device after another
	last    time.Time
}

func newLedger(devices int) *ledger {
	return &ledger{devices: devices, byID: map[board.CommandID]*sent{}, arrivals: map[board.Rev]*arrival{}}
}

func (l *ledger) fault(format string, args ...any) {
	l.faults = append(l.faults, fmt.Sprintf(format, args...))
}

func (l *ledger) note(s *sent) {
	l.sent = append(l.sent, s)
	l.byID[s.id] = s
}

// take enters what one device saw.
func (l *ledger) take(name string, receipts []receipt, answers []answer) {
	for _, r := range receipts {
		l.arrive(name, r)
	}
	for _, a := range answers {
		l.answer(name, a)
	}
}

func (l *ledger) arrive(name string, r receipt) {
	a := l.arrivals[r.rev]
	if a == nil {
		a = &arrival{}
		l.arrivals[r.rev] = a
	}
	switch {
	case a.patch == nil:
		a.patch = r.patch
	case r.patch != nil && a.patch != r.patch && !bytes.Equal(a.patch.raw, r.patch.raw):
		l.fault("%s received another patch of revision %d than the others", name, r.rev)
	}
	a.devices++
	a.each = append(a.each, r.at)
	if r.at.After(a.last) {
		a.last = r.at
	}
}

func (l *ledger) answer(name string, a answer) {
	s := l.byID[a.id]
	switch {
	case s == nil:
		l.fault("%s has an answer to a command that nobody gave, %s", name, a.id)
	case s.answered.IsZero():
		s.answered, s.rev, s.refusal = a.at, a.rev, a.refusal
	case a.refusal == nil && s.refusal == nil && a.rev != s.rev:
		l.fault("command %s was acknowledged at revision %d and again at %d", a.id, s.rev, a.rev)
	}
}

// verify adds a fault for each command without an answer, refused, not in the
// stream where its answer says, or in it twice, and for each change by the crowd
// that no acknowledged command accounts for.
func (l *ledger) verify() {
	places := l.places()
	ours := map[board.PersonID]bool{}
	taken := map[board.Rev]*sent{}
	for _, s := range l.sent {
		ours[s.by] = true
		switch {
		case s.answered.IsZero():
			l.fault("%s by %s had no answer", s.do, s.by)
			continue
		case s.refusal != nil:
			l.fault("%s was refused: %s", s.do, s.refusal.Sentence)
			continue
		}
		if other := taken[s.rev]; other != nil {
			l.fault("revision %d was given for two commands, %s and %s", s.rev, other.id, s.id)
		}
		taken[s.rev] = s
		l.verifyPlace(s, places)
	}
	for rev, a := range l.arrivals {
		if a.patch != nil && ours[a.patch.By] && taken[rev] == nil {
			l.fault("revision %d is a %s of the crowd's that no acknowledged command accounts for", rev, a.patch.Do)
		}
	}
	slices.Sort(l.faults)
}

// verifyPlace checks the one revision at which an acknowledged command must be.
func (l *ledger) verifyPlace(s *sent, places map[board.Key][]board.Rev) {
	a := l.arrivals[s.rev]
	if a == nil || a.patch == nil {
		l.fault("%s was acknowledged at revision %d, which no device received", s.do, s.rev)
		return
	}
	if a.devices != l.devices {
		l.fault("revision %d reached %d of %d devices", s.rev, a.devices, l.devices)
	}
	if _, puts := a.patch.Put[s.key]; a.patch.Do != s.do || a.patch.By != s.by || !puts {
		l.fault("%s by %s was acknowledged at revision %d, which is another's %s", s.do, s.by, s.rev, a.patch.Do)
	}
	if s.creates() && len(places[s.key]) > 1 {
		l.fault("%s of %s is in the stream %d times", s.do, s.key, len(places[s.key]))
	}
}

// places is at which revisions each noun was put.
func (l *ledger) places() map[board.Key][]board.Rev {
	p := map[board.Key][]board.Rev{}
	for rev, a := range l.arrivals {
		if a.patch == nil {
			continue
		}
		for key := range a.patch.Put {
			p[key] = append(p[key], rev)
		}
	}
	return p
}

// times are how long acknowledgements and patches took, a value for each command
// that was answered and whose patch reached every device.
func (l *ledger) times() (ack, everywhere []time.Duration) {
	for _, s := range l.sent[l.untimed:] {
		if s.answered.IsZero() || s.refusal != nil {
			continue
		}
		ack = append(ack, s.answered.Sub(s.at))
		if a := l.arrivals[s.rev]; a != nil && a.devices == l.devices {
			everywhere = append(everywhere, a.last.Sub(s.at))
		}
	}
	return ack, everywhere
}

// frames are the patch frames of the commands sent since the first-th, as a
// device receives them when they come one by one.
func (l *ledger) frames(first int) [][]byte {
	var list [][]byte
	for _, s := range l.sent[first:] {
		if a := l.arrivals[s.rev]; a != nil && a.patch != nil {
			list = append(list, fmt.Appendf(nil, `{"t":"patches","list":[%s]}`, a.patch.raw))
		}
	}
	return list
}
