package view_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/view"
)

// Nine calls at 9 of 10, eight of them met, and one at 2 of 10 that was missed:
// Brier (8·0.01 + 0.81 + 0.04)/10 by hand.
func TestTheAccountIsGivenFromTenCallsOn(t *testing.T) {
	p := &pit{t: t}
	r := p.robot("Alder", 1, board.Light, board.Class{Name: "ant", Limit: 1, Unit: board.Pound, RuleSet: "house"})
	for i := range 10 {
		require.Nil(t, p.views().Calibration)
		f := p.fight(board.FightFields{Robot: r, Arena: "north", Number: i + 1})
		ready, met := 9, i > 0
		if i == 9 {
			ready, met = 2, false
		}
		p.made("", board.ChanceSay{Fight: f, Ready: ready}, board.Itself())
		p.made("", board.ChanceJudge{Fight: f, Met: met}, board.Itself())
	}
	require.Equal(t, &view.Calibration{N: 10, Brier: 0.093, Said: []view.SaidAndMet{{Of10: 9, N: 9, Met: 8}, {Of10: 2, N: 1}}}, p.views().Calibration)
}
