package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

func TestTheLastBladeIsNowOrTheFinal(t *testing.T) {
	p, a, b, blade, _ := oneBlade(t)
	var hinge board.FightID
	for id, f := range p.s.Fights {
		if f.Robot == a {
			hinge = id
		}
	}
	final := p.fight(board.FightFields{Robot: a, Arena: p.s.Fights[hinge].Arena, Number: 40, After: hinge, If: board.Won})
	list := p.make().Scarce
	require.Len(t, list, 1)
	s := list[0]
	require.Equal(t, blade, s.Stock)
	require.Equal(t, 1, s.Left)
	require.Len(t, s.Fights, 3)
	require.Equal(t, final, s.Fights[2], "the last of them")
	require.Len(t, s.Jobs, 2)
	first := find(t, s.Jobs, func(j forecast.ScarceJob) bool { return j.Robot == a })
	other := find(t, s.Jobs, func(j forecast.ScarceJob) bool { return j.Robot == b })
	require.True(t, first.Takes)
	require.Equal(t, 20*60, first.LongerSec)
	require.False(t, other.Takes)
	require.Equal(t, "1 blade left. Job 1 on Alder takes it now; without it 20 min longer; Job 3 on Birch does without it, 20 min longer. Up to 3 fights are still possible.", s.Text)

	p.captain(board.StockCount{Stock: blade, Count: 9})
	require.Empty(t, p.make().Scarce, "enough for every fight")
	p.captain(board.StockCount{Stock: blade, Count: 0})
	require.Empty(t, p.make().Scarce, "none left is another alarm")
}

func TestThoseAtAFightAreAbsentByTheClock(t *testing.T) {
	p, a, _, _, _ := oneBlade(t)
	lead := p.s.Robots[a].Lead
	absent := find(t, p.make().Absent, func(x forecast.Absent) bool { return x.Person == lead })
	require.Equal(t, p.now.Add(30*time.Minute), absent.At[0].From)
	require.Equal(t, p.now.Add(38*time.Minute), absent.At[0].To, "a match of 3 minutes and 5 back")
}
