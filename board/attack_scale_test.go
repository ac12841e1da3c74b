package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Sequences as in attack_test.go, about what a scale reads and who was told.

func (p *pit) scaleReads(grams float64, sure bool) RobotWeigh {
	return RobotWeigh{Robot: p.moth, Grams: grams, Sure: sure}
}

func TestRule11AsksAgainForAWeightThatIsHardlySo(t *testing.T) {
	for name, c := range map[string]struct {
		grams float64
		says  string
	}{
		"one gram":   {1, "under half"},
		"a bit less": {680, "under half"},
		"over":       {1400, "over the 1360.8 g limit"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPit(t)
			bad := p.refused(p.as(p.ben), p.scaleReads(c.grams, false), 11)
			require.Equal(t, CodeUnlikely, bad.Code)
			require.Equal(t, "sure", bad.Field)
			sentenceHas(t, bad, c.says)
			require.Zero(t, p.s.Fits[p.moth].Weighed.At, "a refused number is not kept")
			p.ok(p.as(p.ben), p.scaleReads(c.grams, true))
			require.Equal(t, c.grams, p.s.Fits[p.moth].Weighed.Grams, "said again, it counts")
			require.True(t, p.s.Fits[p.moth].Weighed.Sure)
		})
	}
	p := newPit(t)
	for _, grams := range []float64{681, 1340, 1360.7} {
		p.ok(p.as(p.ben), p.scaleReads(grams, false))
		require.False(t, p.s.Fits[p.moth].Weighed.Sure)
	}
}

func TestRule11TakesAWeightFromNoMinorGuestOrDeviceWithoutAName(t *testing.T) {
	p := newPit(t)
	p.ok(p.as(p.ben), p.scaleReads(1340, false))
	for _, by := range []Actor{p.as(p.gus), p.as(p.kit), {Role: RoleCrew}} {
		for _, c := range []RobotWeigh{p.scaleReads(1, true), p.scaleReads(1340, false)} {
			_, bad := p.try(by, c)
			require.NotNil(t, bad)
		}
	}
	require.Equal(t, 1340.0, p.s.Fits[p.moth].Weighed.Grams)
	require.Equal(t, p.ben, p.s.Fits[p.moth].Weighed.By)
	p.ok(p.as(p.nia), p.scaleReads(1341, false))
}

func TestTheWeighLineAsksAgainAndKeepsNoRefusedNumber(t *testing.T) {
	p := newPit(t)
	p.closedUp()
	p.answer(p.as(p.ben), ListReady)
	line := p.said(ListReady, "mass", SaidDone)
	weigh := func(grams float64, sure bool) SheetAnswer {
		line.Number, line.Sure = &grams, sure
		return line
	}
	sheet := p.s.Sheets[line.Sheet]
	bad := p.refused(p.as(p.ben), weigh(1, false), 11)
	require.Equal(t, CodeUnlikely, bad.Code)
	require.Equal(t, "sure", bad.Field)
	_, bad = p.try(p.as(p.ben), weigh(1361, true))
	require.NotNil(t, bad, "over the limit is no answer, however sure")
	require.Equal(t, sheet, p.s.Sheets[line.Sheet])
	require.Zero(t, p.s.Fits[p.moth].Weighed.At)

	p.ok(p.as(p.ben), weigh(600, true))
	a, answered := p.s.Sheets[line.Sheet].Answered("mass")
	require.True(t, answered)
	require.True(t, a.Sure)
	require.Equal(t, 600.0, p.s.Fits[p.moth].Weighed.Grams)
	p.ok(p.as(p.ben), weigh(1340, false))
	require.Equal(t, 1340.0, p.s.Fits[p.moth].Weighed.Grams)
}

func TestRule7ToldIsSomeoneElseOrNobodyElseAtTheBench(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ada), RobotCloseUp{Robot: p.moth})
	for range 7 {
		p.answer(p.as(p.ben), ListCloseUp)
	}
	line := p.said(ListCloseUp, "told", SaidDone)
	told := func(id PersonID) SheetAnswer { line.Told = id; return line }
	gone := p.person(PersonFields{Name: "Zed", Role: RoleCrew})
	p.captain(PersonRetire{Person: gone})

	sentenceHas(t, p.refused(p.as(p.ben), told(p.ben), 7), "nobody else")
	bad := p.refused(p.as(p.ben), told(gone), 7)
	sentenceHas(t, bad, "by name")
	dee := p.as(p.dee)
	dee.Proved = []PersonID{p.ben}
	other := told(p.ben)
	other.Person = p.ben
	p.refused(dee, other, 7)
	_, bad = p.try(p.as(p.ben), p.said(ListCloseUp, "covers", SaidAlone))
	require.NotNil(t, bad, "that is an answer to who was told, and to nothing else")

	alone := p.said(ListCloseUp, "told", SaidAlone)
	p.ok(p.as(p.ben), alone)
	require.Equal(t, SheetComplete, p.s.Sheets[line.Sheet].State)
	p.ok(p.as(p.ben), told(p.gus))
	a, _ := p.s.Sheets[line.Sheet].Answered("told")
	require.Equal(t, p.gus, a.Told)
}

func TestWhoKeepsTheLinksOvernightMayBeWhoeverSaysSo(t *testing.T) {
	p := newPit(t)
	p.makeSafe()
	p.ok(p.as(p.ben), RobotList{Robot: p.moth, List: ListOvernight})
	c := p.said(ListOvernight, "keeper", SaidDone)
	c.Told = p.ben
	p.ok(p.as(p.ben), c)
	c.Said, c.Told = SaidAlone, ""
	_, bad := p.try(p.as(p.ben), c)
	require.NotNil(t, bad, "somebody keeps them")
}

func TestRule11TheLaterReadingOfTheScaleStands(t *testing.T) {
	p := newPit(t)
	first := p.now + second
	p.now += 10 * minute
	p.ok(p.as(p.ben), p.scaleReads(1400, true))
	bad := p.at(p.as(p.ben), p.scaleReads(1340, false), first)
	require.NotNil(t, bad)
	sentenceHas(t, bad, "Tin Moth was weighed again after that: 1400 g.")
	require.Equal(t, 1400.0, p.s.Fits[p.moth].Weighed.Grams)
	read := p.now + second
	p.now += 10 * minute
	require.Nil(t, p.at(p.as(p.ben), p.scaleReads(1340, false), read), "late, and the latest there is")
	require.Equal(t, 1340.0, p.s.Fits[p.moth].Weighed.Grams)
}
