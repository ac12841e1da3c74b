package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestTheCaptainSwitchesLearningOnForOneKindOfWork(t *testing.T) {
	p := newPit(t)
	kind := BeforeKind(p.moth)
	require.False(t, p.s.Learns[kind].On, "never silently")
	p.refused(p.as(p.ben), LearnSet{Kind: kind, On: true}, 0)
	p.captain(LearnSet{Kind: kind, On: true})
	require.Equal(t, Learn{Kind: kind, V: p.s.Rev, On: true, By: p.ada, At: p.now}, p.s.Learns[kind])
	off := p.captain(LearnSet{Kind: kind})
	require.False(t, p.s.Learns[kind].On)
	p.captain(Undo{Command: off.Done.ID})
	require.True(t, p.s.Learns[kind].On)

	for id := range p.s.Templates {
		p.captain(LearnSet{Kind: LearnKind(id), On: true})
	}
	p.captain(LearnSet{Kind: AfterKind(p.moth), On: true})
	for _, unknown := range []LearnKind{"", "x", "before-x", "after-", BeforeKind(RobotID(p.ben))} {
		sentenceHas(t, p.refused(p.as(p.ada), LearnSet{Kind: unknown, On: true}, 0), "There is no")
	}
}
