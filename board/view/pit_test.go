package view_test

import (
	"encoding/binary"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/view"
)

// noon is 12:00 UTC on a day of our own.
var noon = board.MomentOf(time.Date(2026, 5, 9, 12, 0, 0, 0, time.UTC))

// pit is a board that its captain fills.
type pit struct {
	t testing.TB
	s board.State
	n uint64
}

// made gives a command and returns the id of the first noun of kind it made.
func (p *pit) made(kind board.Kind, c board.Command, by board.Actor) string {
	p.t.Helper()
	p.n++
	var id board.CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(noon)<<16|7<<12)
	binary.BigEndian.PutUint64(id[8:], 1<<63|p.n)
	change, refusal := board.Apply(p.s, c, board.Ask{ID: id, Seen: boardtest.Seen(p.s, c)}, by, noon)
	require.Nil(p.t, refusal, "%+v", refusal)
	p.s = p.s.With(change)
	for _, key := range change.Done.Made {
		if k, id := key.Split(); k == kind {
			return id
		}
	}
	return ""
}

var captain = board.Actor{Role: board.RoleCaptain}

func (p *pit) captain(c board.Command) { p.t.Helper(); p.made("", c, captain) }

func (p *pit) robot(name string, number int, size board.Size, class board.Class) board.RobotID {
	p.t.Helper()
	return board.RobotID(p.made(board.KindRobot, board.RobotAdd{RobotFields: board.RobotFields{
		Name: name, Number: number, Class: class, Size: size, Hands: 1, Weight: 1,
	}}, captain))
}

func (p *pit) fight(f board.FightFields) board.FightID {
	p.t.Helper()
	return board.FightID(p.made(board.KindFight, board.FightAdd{FightFields: f}, captain))
}

func (p *pit) views() view.Views { return view.Of(p.s, view.RecordsOf(p.s), noon) }
