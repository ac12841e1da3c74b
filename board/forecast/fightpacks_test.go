package forecast_test

import (
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// atMinute enters a fight of Sprat's that is called so many minutes from noon.
func (b *bench) atMinute(min int) board.FightID {
	b.t.Helper()
	if min == 0 {
		return ""
	}
	arena := "B" + strconv.Itoa(min)
	b.made("", board.FightNow{Arena: arena, Number: 1}, captain)
	return b.fight(board.FightFields{Robot: b.sprat, Arena: arena, Number: 2, NotBefore: noon.Add(time.Duration(min) * time.Minute)})
}

func (b *bench) fightPacks(f board.FightID) forecast.FightPacks {
	b.t.Helper()
	return find(b.t, b.make().FightPacks, func(v forecast.FightPacks) bool { return v.Fight == f })
}

func (b *bench) names(v forecast.FightPacks) []string {
	var names []string
	for _, k := range v.Packs {
		names = append(names, b.s.Packs[k.Pack].Name)
	}
	return names
}

func quickArena(b *bench) {
	e := b.s.Event().EventFields
	e.LeadFights, e.RestSec = 0, 0
	b.captain(board.EventSet{EventFields: e})
}

func TestEachFightToComeNamesItsPacks(t *testing.T) {
	b := newBench(t)
	quickArena(b)
	first, second := b.atMinute(60), b.atMinute(200)
	full, empty := b.pack("P1", b.sprat), b.pack("P2", b.sprat)
	b.charged(full)
	b.read(empty, 3.733, 25, nil)

	v := b.fightPacks(first)
	require.Equal(t, []forecast.FightPack{{Pack: full}}, v.Packs, "it is ready")
	require.Equal(t, noon.Add(55*time.Minute), v.By)
	require.False(t, v.Late)
	v = b.fightPacks(second)
	require.Len(t, v.Packs, 1)
	require.Equal(t, empty, v.Packs[0].Pack)
	require.InDelta(t, 43, v.Packs[0].ReadyAt.Sub(noon).Minutes(), 3)
	require.Empty(t, v.Lacks)
	bar := b.bar(empty)
	require.Equal(t, b.sprat, bar.For)
	require.Equal(t, noon.Add(195*time.Minute), bar.NeededAt)
}

// The only pack comes back from the first fight after 60 + 3 + 5 min, cools for 40 in
// the bad case, is read in 2 and charged from 40 % in some 36 min: all guesses.
func TestAPackIsPlannedToComeBackCoolAndBeChargedAgain(t *testing.T) {
	for name, c := range map[string]struct {
		second int
		late   bool
	}{
		"in time":         {240, false},
		"too little time": {130, true},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			quickArena(b)
			first, second := b.atMinute(60), b.atMinute(c.second)
			p := b.pack("P1", b.sprat)
			b.charged(p)
			v := b.fightPacks(second)
			require.Len(t, v.Packs, 1)
			require.Equal(t, first, v.Packs[0].After)
			require.InDelta(t, 60+3+5+40+2+36, v.Packs[0].ReadyAt.Sub(noon).Minutes(), 6)
			require.Greater(t, v.Packs[0].BadAt, v.Packs[0].ReadyAt)
			require.Equal(t, c.late, v.Late)
			require.Equal(t, c.late, b.bar(p).Late)
			require.False(t, b.bar(p).Running)
		})
	}
}

// Packs A and B are full and C must be charged: four fights an hour and a half apart
// find A, B, C and A again, as the least-margin order of a worked instance has them
// (constructed by us).
func TestThreePacksGoRoundFourFights(t *testing.T) {
	b := newBench(t)
	quickArena(b)
	fights := []board.FightID{b.atMinute(30), b.atMinute(120), b.atMinute(210), b.atMinute(300)}
	b.charged(b.pack("A", b.sprat))
	b.charged(b.pack("B", b.sprat))
	b.read(b.pack("C", b.sprat), 3.733, 25, nil)
	var order []string
	for _, f := range fights {
		v := b.fightPacks(f)
		require.Empty(t, v.Lacks)
		require.False(t, v.Late)
		order = append(order, b.names(v)...)
	}
	require.Equal(t, []string{"A", "B", "C", "A"}, order)
}

func TestBothEndsOfAFightFindPacks(t *testing.T) {
	b := newBench(t)
	quickArena(b)
	first := b.atMinute(60)
	after := func(number int, when board.Result) board.FightID {
		return b.fight(board.FightFields{Robot: b.sprat, Arena: "B60", Number: number, After: first, If: when})
	}
	won, lost := after(20, board.Won), after(30, board.Lost)
	b.charged(b.pack("A", b.sprat))
	b.charged(b.pack("B", b.sprat))
	require.Equal(t, []string{"A"}, b.names(b.fightPacks(first)))
	require.Equal(t, []string{"B"}, b.names(b.fightPacks(won)))
	require.Equal(t, []string{"B"}, b.names(b.fightPacks(lost)), "only one of them comes")
	require.Equal(t, board.Won, b.fightPacks(won).If)
}

func TestAFightThatWillFindNoPackSaysWhy(t *testing.T) {
	b := newBench(t)
	quickArena(b)
	first := b.atMinute(60)
	b.pack("P1", b.sprat)
	v := b.fightPacks(first)
	require.Empty(t, v.Packs)
	require.Equal(t, "No pack for Sprat is ready: P1 is unread.", v.Lacks)
}

func TestAPackForTwoFightsThatExcludeEachOtherIsChargedOnce(t *testing.T) {
	b := newBench(t)
	quickArena(b)
	b.captain(board.ChannelRetire{Channel: b.two})
	first := b.atMinute(60)
	after := func(number int, when board.Result) board.FightID {
		return b.fight(board.FightFields{Robot: b.sprat, Arena: "B60", Number: number, After: first, If: when})
	}
	won, lost := after(60, board.Won), after(50, board.Lost)
	p := b.pack("A", b.sprat)
	b.charged(p)
	require.Equal(t, b.fightPacks(lost).Packs, b.fightPacks(won).Packs)
	require.Equal(t, first, b.fightPacks(won).Packs[0].After)
	bars := 0
	for _, c := range b.make().Channels {
		bars += len(c.Bars)
	}
	require.Equal(t, 1, bars)
}
