package demo

import (
	"encoding/binary"
	"fmt"

	"mendline/board"
	"mendline/board/team"
)

// Step is one command of the day: when the board gets it, and from whom.
type Step struct {
	ID board.CommandID
	At board.Moment
	// Did is when the person did it, for a command that waited on a phone; else 0.
	Did     board.Moment
	By      board.Actor
	Command board.Command
}

// Ask is what comes with the step to a board that stands at s: the step says
// that it saw what it must have seen.
func (p Step) Ask(s board.State) board.Ask {
	ask := board.Ask{ID: p.ID, At: p.Did}
	if g, ok := p.Command.(interface{ Guards(board.State) []board.Key }); ok {
		ask.Seen = map[board.Key]board.Rev{}
		for _, key := range g.Guards(s) {
			if n, there := s.Get(key); there {
				ask.Seen[key] = n.Rev()
			}
		}
	}
	return ask
}

// Day is the script of the event day until now, as people's clocks show it
// offsetMin minutes east of UTC. The first step loads the team into an empty
// board; no step is later than now. PINs are not in it: nobody has claimed a name.
//
// A board's day begins at 04:00. Where that is less than six hours ago or to
// come, the event takes place further east or west, so that it is midday there.
func Day(now board.Moment, offsetMin int) ([]Step, error) {
	d := &day{now: now, at: now - startMin*minute}
	load, errs := team.Read(Files(), d.nextID())
	if len(errs) > 0 {
		return nil, fmt.Errorf("read demo team: %w", errs[0])
	}
	d.load = load
	d.offsetMin = middayOffset(now, offsetMin)
	d.loadTeam()
	d.early()
	d.morning()
	d.firstTurn()
	d.secondTurn()
	d.noon()
	d.afternoon()
	return d.steps, d.err
}

// middayOffset is offsetMin, or quarters of an hour off it so that the event day is
// between 6 and 18 hours old.
func middayOffset(now board.Moment, offsetMin int) int {
	const early, late, whole = 6 * 60, 18 * 60, 24 * 60
	old := (int(now/minute) + offsetMin - 4*60) % whole
	if old < 0 {
		old += whole
	}
	quarters := func(min int) int { return 15 * ((max(0, min) + 14) / 15) }
	shifted := offsetMin + quarters(early-old) - quarters(old-late)
	switch {
	case shifted > 14*60:
		shifted -= whole
	case shifted < -14*60:
		shifted += whole
	}
	return shifted
}

// commandID makes the n-th command's id: a version 7 UUID of moment at.
func commandID(at board.Moment, n int) board.CommandID {
	var id board.CommandID
	binary.BigEndian.PutUint64(id[:8], uint64(at)<<16)
	id[6] = 0x70
	id[8] = 0x80
	binary.BigEndian.PutUint32(id[12:], uint32(n))
	return id
}
