package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// Sprat is closed up and not yet tested: 5 minutes of its sheets are left before its fight,
// and as much again after it.
func TestWhatIsLeftOfAClosedUpRobotIsForItsNextCall(t *testing.T) {
	p := newPit(t)
	ada := p.person("Ada")
	sprat, hob := p.light("Sprat", 1, ada), p.light("Hob", 2, ada)
	p.charged(p.pack("P1", sprat))
	p.calledAt(hob, p.now.Add(60*time.Minute))
	p.calledAt(sprat, p.now.Add(40*time.Minute))
	p.open(sprat, ada)
	for _, tag := range p.s.Tags {
		p.by(ada, board.TagOff{Tag: tag.ID})
	}
	p.by(ada, board.RobotCloseUp{Robot: sprat})

	require.Equal(t, []forecast.Offered{
		{Robot: sprat, By: p.now.Add(35 * time.Minute), LikelySec: 5 * 60},
		{Robot: hob, By: p.now.Add((60 - 5 - 9) * time.Minute), LikelySec: 9 * 60},
	}, forecast.SheetsOffered(p.s, p.now, 1, budget))
}
