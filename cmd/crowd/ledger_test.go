package main

import (
	"strings"
	"testing"
	"time"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

const ada, ben = board.PersonID("ada"), board.PersonID("ben")

// begun is the moment at which the tests' commands are sent.
var begun = time.Now()

func after(ms int) time.Time { return begun.Add(time.Duration(ms) * time.Millisecond) }

// seen is one run of two devices and two notes: what a test then spoils.
type seen struct {
	sent     []*sent
	receipts [2][]receipt // by device
	answers  [2][]answer
}

func noteOf(by board.PersonID) *sent {
	s := &sent{order: order{id: board.CommandID(uuid.Must(uuid.NewV7()))}, by: by, at: begun}
	s.note(1)
	return s
}

func patchOf(rev board.Rev, s *sent) *patch {
	return &patch{Rev: rev, By: s.by, Do: s.do, Put: map[board.Key]jsontext.Value{s.key: jsontext.Value("{}")}, raw: jsontext.Value(s.key)}
}

func newSeen() *seen {
	a, b := noteOf(ada), noteOf(ben)
	pa, pb := patchOf(11, a), patchOf(12, b)
	return &seen{
		sent: []*sent{a, b},
		receipts: [2][]receipt{
			{{11, pa, after(3)}, {12, pb, after(5)}},
			{{11, pa, after(4)}, {12, pb, after(4)}},
		},
		answers: [2][]answer{{{id: a.id, rev: 11, at: after(6)}}, {{id: b.id, rev: 12, at: after(7)}}},
	}
}

func (s *seen) ledger() *ledger {
	l := newLedger(2)
	for _, c := range s.sent {
		l.note(c)
	}
	for i, name := range []string{"Crowd 1", "Crowd 2"} {
		l.take(name, s.receipts[i], s.answers[i])
	}
	l.verify()
	return l
}

func TestACommandTakesUntilItsPatchIsAtTheLastDevice(t *testing.T) {
	l := newSeen().ledger()
	require.Empty(t, l.faults)
	ack, everywhere := l.times()
	require.Equal(t, []time.Duration{6 * time.Millisecond, 7 * time.Millisecond}, ack)
	require.Equal(t, []time.Duration{4 * time.Millisecond, 5 * time.Millisecond}, everywhere)
	require.Len(t, l.frames(1), 1, "the frames since the second command")
}

func TestTheLedgerFindsWhatWentWrong(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*seen)
		want  string
	}{
		{"an answer that never came", func(s *seen) { s.answers[0] = nil }, "had no answer"},
		{"a refusal", func(s *seen) { s.answers[0][0].refusal = &board.Refusal{Sentence: "No."} }, "note.add was refused: No."},
		{"an answer to nothing", func(s *seen) { s.answers[0][0].id = board.CommandID{1} }, "a command that nobody gave"},
		{"two answers that differ", func(s *seen) {
			s.answers[0] = append(s.answers[0], answer{id: s.sent[0].id, rev: 12, at: after(8)})
		}, "acknowledged at revision 11 and again at 12"},
		{"one revision for two commands", func(s *seen) { s.answers[1][0].rev = 11 }, "revision 11 was given for two commands"},
		{"a revision nobody received", func(s *seen) { s.answers[0][0].rev = 13 }, "acknowledged at revision 13, which no device received"},
		{"a patch that one device lacks", func(s *seen) { s.receipts[1] = s.receipts[1][:1] }, "revision 12 reached 1 of 2 devices"},
		{"two patches of one revision", func(s *seen) {
			s.receipts[1][0].patch = patchOf(11, noteOf(ada))
		}, "Crowd 2 received another patch of revision 11"},
		{"a command done twice", func(s *seen) {
			again := patchOf(13, s.sent[0])
			s.receipts[0] = append(s.receipts[0], receipt{13, again, after(9)})
			s.receipts[1] = append(s.receipts[1], receipt{13, again, after(9)})
		}, "is in the stream 2 times"},
		{"another's patch", func(s *seen) { s.answers[0][0].rev, s.answers[1][0].rev = 12, 11 }, "acknowledged at revision 12, which is another's note.add"},
		{"a change nobody acknowledged", func(s *seen) {
			more := receipt{13, patchOf(13, noteOf(ada)), after(9)}
			s.receipts[0], s.receipts[1] = append(s.receipts[0], more), append(s.receipts[1], more)
		}, "revision 13 is a note.add of the crowd's that no acknowledged command accounts for"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSeen()
			c.spoil(s)
			faults := s.ledger().faults
			require.NotEmpty(t, faults)
			require.Contains(t, faults, pick(faults, c.want))
		})
	}
}

// pick is the fault that contains want, or want itself where there is none.
func pick(faults []string, want string) string {
	for _, f := range faults {
		if strings.Contains(f, want) {
			return f
		}
	}
	return want
}

func TestTheSameAnswerAgainIsNoFault(t *testing.T) {
	s := newSeen()
	s.answers[0] = append(s.answers[0], answer{id: s.sent[0].id, rev: 11, at: after(9)})
	l := s.ledger()
	require.Empty(t, l.faults)
	ack, _ := l.times()
	require.Equal(t, 6*time.Millisecond, ack[0], "the first answer counts")
}

func TestARevisionThatCameInASnapshotCounts(t *testing.T) {
	s := newSeen()
	s.receipts[1][1] = receipt{12, nil, after(9)}
	l := s.ledger()
	require.Empty(t, l.faults)
	_, everywhere := l.times()
	require.Equal(t, 9*time.Millisecond, everywhere[1])
}

func TestSomebodyElsesPatchIsNoFault(t *testing.T) {
	s := newSeen()
	tick := receipt{13, &patch{Rev: 13, Do: "board.tick"}, after(9)}
	s.receipts[0], s.receipts[1] = append(s.receipts[0], tick), append(s.receipts[1], tick)
	require.Empty(t, s.ledger().faults)
}
