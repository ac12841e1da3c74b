package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestNoTestIsRunOnAPackThatWasSetAside(t *testing.T) {
	for _, c := range []struct {
		state PackState
		rule  int
	}{{PackSuspect, 13}, {PackQuarantined, 13}, {"", 0}} {
		p := newPit(t)
		p.closedUp()
		for id, k := range p.s.Packs {
			if k.Robot == p.moth && c.state != "" {
				p.ok(p.as(p.ben), PackSet{Pack: id, State: c.state, Why: "it is warm"})
			}
		}
		test := RobotTest{Robot: p.moth, What: "spin up", Place: p.box, Minutes: 3}
		if c.rule == 0 {
			p.ok(p.as(p.ada), test)
			continue
		}
		p.refused(p.as(p.ada), test, c.rule)
		require.Equal(t, ClosingUp, p.state())
	}
}
