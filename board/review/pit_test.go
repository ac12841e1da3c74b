package review

import (
	"encoding/binary"
	"testing"
	"time"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
)

// pit is a board with the cast on it, and its journal; names are invented.
type pit struct {
	t testing.TB
	boardtest.Cast
	s     board.State
	now   board.Moment
	n     uint64
	lines []board.JournalLine
}

const minute = board.Moment(60_000)

func newPit(t testing.TB) *pit {
	p := &pit{t: t, now: board.MomentOf(time.Date(2026, 5, 9, 9, 0, 0, 0, time.UTC))}
	p.Cast = boardtest.NewCast(func(by board.Actor, c board.Command) []board.Key { return p.does(by, c).Done.Made })
	return p
}

func (p *pit) does(by board.Actor, c board.Command) board.Change {
	p.t.Helper()
	change, bad := p.try(by, c, 0)
	require.Nil(p.t, bad)
	return change
}

// try gives a command, done at a moment or, if that is 0, now. What is accepted
// goes into the journal.
func (p *pit) try(by board.Actor, c board.Command, at board.Moment) (board.Change, *board.Refusal) {
	p.n++
	var id board.CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(p.now)<<16)
	id[6], id[8] = 0x70, 0x80
	binary.BigEndian.PutUint32(id[12:], uint32(p.n))
	change, bad := board.Apply(p.s, c, board.Ask{ID: id, At: at, Seen: boardtest.Seen(p.s, c)}, by, p.now)
	if bad != nil {
		return change, bad
	}
	p.s, p.now = p.s.With(change), change.Done.At
	l := board.JournalLine{Rev: change.Rev, At: p.now, By: by.Person, Role: by.Role, Do: board.Name(c), Del: change.Del, Put: map[board.Key]jsontext.Value{}}
	for _, n := range change.Put {
		l.Put[n.Key()] = board.Encode(n)
	}
	p.lines = append(p.lines, l)
	return change, nil
}

func (p *pit) as(id board.PersonID) board.Actor {
	return board.Actor{Person: id, Role: p.s.People[id].Role}
}

// walks answers a sheet to its end, a line every so many milliseconds.
func (p *pit) walks(list board.SheetList, every board.Moment) {
	p.t.Helper()
	for {
		sheet, ok := p.s.Sheet(p.Moth, list)
		require.True(p.t, ok)
		l, open := sheet.OpenLine()
		if !open {
			return
		}
		p.now = max(p.now+every, p.s.RestsAt(p.Moth, l))
		p.does(p.as(p.Ben), board.SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: board.SaidDone, Place: p.Watch, Pack: p.P2, Told: p.Dee, Number: &l.Most})
	}
}

func (p *pit) review() Review {
	p.t.Helper()
	return reviewOf(p.t, p.lines, p.now, noAlarms)
}

func reviewOf(t testing.TB, lines []board.JournalLine, at board.Moment, alarmsAt func(board.State, board.Moment) []Alarm) Review {
	t.Helper()
	d := NewDay(alarmsAt)
	for _, l := range lines {
		require.NoError(t, d.Read(l))
	}
	return d.Review(at)
}

func noAlarms(board.State, board.Moment) []Alarm { return nil }
