package board_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestAPersonSaysThatTheyGoToAPieceOfWork(t *testing.T) {
	p := newPit(t)
	for _, id := range []PersonID{p.ben, p.kit, p.gus} {
		p.ok(p.as(id), WorkTake{Work: "read-1"})
		require.Equal(t, id, p.s.Marks[TakenWork("read-1")].TakenBy, "who says it last has it")
		require.Equal(t, p.now, p.s.Marks[TakenWork("read-1")].TakenAt)
	}
	require.Nil(t, p.lateAt(p.as(p.ben), WorkTake{Work: "read-1"}, minute))
	require.Equal(t, p.gus, p.s.Marks[TakenWork("read-1")].TakenBy, "what was said before that changes nothing")
	p.refused(Actor{Role: RoleCrew}, WorkTake{Work: "read-1"}, 5)
	for _, bad := range []string{"", "R", "read 1", "-read", "r" + strings.Repeat("x", 121)} {
		_, r := p.try(p.as(p.ben), WorkTake{Work: bad})
		require.NotNil(t, r, "%q", bad)
		require.Equal(t, "work", r.Field)
	}
	_, r := p.try(p.as(p.ben), AlarmTake{Alarm: TakenWork("read-1")})
	require.NotNil(t, r, "work is no alarm")
	_, r = p.try(p.as(p.ben), AlarmShelve{Alarm: TakenWork("read-1"), Minutes: 5, Reason: "later, I am busy"})
	require.NotNil(t, r, "nor is it snoozed as one")
	require.Equal(t, "alarm", r.Field)
}
