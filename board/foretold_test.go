package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestOneChanceIsKeptForACallAndJudgedOnce(t *testing.T) {
	p := newPit(t)
	f := FightID(p.madeKind(KindFight, p.captain(FightAdd{FightFields{Robot: p.moth, Arena: "north", Number: 7}})))
	p.refused(p.as(p.ada), ChanceSay{Fight: f, Ready: 8}, 0)
	sentenceHas(t, p.refused(Itself(), ChanceJudge{Fight: f}, 0), "No chance for that fight")
	sentenceHas(t, p.refused(Itself(), ChanceSay{Fight: f, Ready: 11}, 0), "0 to 10")
	sentenceHas(t, p.refused(Itself(), ChanceSay{Fight: "none", Ready: 1}, 0), "There is no")

	p.ok(Itself(), ChanceSay{Fight: f, Ready: 8, CallAt: minutesIn(30)})
	require.Equal(t, Foretold{Fight: f, V: p.s.Rev, Robot: p.moth, Ready: 8, At: p.now, CallAt: minutesIn(30)}, p.s.Foretolds[f])
	sentenceHas(t, p.refused(Itself(), ChanceSay{Fight: f, Ready: 9}, 0), "kept already")
	p.ok(Itself(), ChanceJudge{Fight: f, Met: true})
	require.True(t, p.s.Foretolds[f].Met)
	require.Equal(t, p.now, p.s.Foretolds[f].Judged)
	p.refused(Itself(), ChanceJudge{Fight: f}, 0)
}
