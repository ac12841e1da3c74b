package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// A command that releases a guard is taken while it is fresh, and refused when a
// network that was gone brings it later, though nothing it saw has changed.
func TestALateCommandReleasesNoGuard(t *testing.T) {
	const second = 1000
	for _, ago := range []Moment{0, 8 * second, 9 * second, 30 * second} {
		p := newPit(t)
		p.open()
		var tag TagID
		var owner PersonID
		for id, g := range p.s.Tags {
			tag, owner = id, g.Person
		}
		require.NotEmpty(t, tag)
		c := TagOff{Tag: tag}
		p.now += 60 * second
		_, bad := p.tryAsk(p.as(owner), c, Ask{ID: newID(p.now, 1<<40), At: p.now - ago, Seen: p.seen(c)})
		if ago <= 8*second {
			require.Nil(t, bad, ago)
			continue
		}
		require.NotNil(t, bad, ago)
		require.Equal(t, 19, bad.Rule)
		require.Equal(t, CodeTooLate, bad.Code)
		require.Contains(t, p.s.Tags, tag)
	}
}
