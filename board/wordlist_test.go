package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// Whoever words a list sends back what the list holds: that must be accepted as it
// is, and without any one line that carries a rule it must be refused.
func TestEveryListCanBeWordedFromWhatItSays(t *testing.T) {
	for _, list := range Lists() {
		t.Run(string(list.List), func(t *testing.T) {
			require.NotEmpty(t, list.Lines)
			for _, l := range list.Lines {
				require.NotEmpty(t, l.Ask, l.ID)
			}
			lines := func(but string) []WordedLine {
				var all []WordedLine
				for _, l := range list.Lines {
					if l.ID != but {
						all = append(all, WordedLine{ID: l.ID, Ask: l.Ask, Touch: l.Touch, Say: l.Say, Not: l.Not})
					}
				}
				return all
			}
			p := newPit(t)
			p.ok(p.as(p.ada), WordingSet{List: list.List, Lines: lines("")})
			for _, l := range list.Lines {
				c := WordingSet{List: list.List, Lines: lines(l.ID)}
				if !l.Kept {
					p.ok(p.as(p.ada), c)
					continue
				}
				_, refusal := p.try(p.as(p.ada), c)
				require.NotNil(t, refusal, l.ID)
				require.Contains(t, refusal.Sentence, l.ID+" carries a safety rule")
			}
		})
	}
}

func TestAFamilyOfLinesSaysWhichOneItIsAbout(t *testing.T) {
	many := 0
	for _, list := range Lists() {
		for _, l := range list.Lines {
			if l.Many {
				many++
				require.Contains(t, l.Ask, "{name}", "%s %s", list.List, l.ID)
			}
			require.NotContains(t, l.Say, "{NAME}", "%s %s", list.List, l.ID)
		}
	}
	require.GreaterOrEqual(t, many, 5)
}
