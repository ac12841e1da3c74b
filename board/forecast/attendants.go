package forecast

import (
	"fmt"
	"slices"
	"strings"

	"mendline/board"
	"mendline/board/work"
)

// attendSec is how long a charge may run before whoever was named for it says that they
// stay with it, safety reference §5.2.
const attendSec = 10 * 60

// attendantAlarms names each charge that nobody stays with as far as the board knows,
// one line for each person and reason.
func (c *schedule) attendantAlarms(calls []Call) []Alarm {
	var list []Alarm
	for _, who := range board.Sorted(c.s.People, personKey) {
		of := map[lapse][]string{}
		var order []lapse
		for _, p := range packsByName(c.s) {
			if p.State != board.PackCharging || p.Attendant != who.ID {
				continue
			}
			if why := c.lapse(p, who, calls); why.slug != "" {
				if of[why] == nil {
					order = append(order, why)
				}
				of[why] = append(of[why], p.Name+" on "+c.s.Channels[p.Channel].Name)
			}
		}
		for _, why := range order {
			list = append(list, Alarm{
				Slug: "charge-" + why.slug + "-" + string(who.ID), Class: ClassB, Since: why.since,
				What: fmt.Sprintf("%s, who was to stay with pack %s, %s", who.Name, and(of[why]), why.says), Act: why.act,
			})
		}
	}
	return list
}

// lapse is why the board cannot count on someone who stays with a charge.
type lapse struct {
	slug, says, act string
	since           board.Moment
}

// lapse finds the worst that speaks against p's attendant, none where they stay.
func (c *schedule) lapse(p board.Pack, who board.Person, calls []Call) lapse {
	others := roleName(c.s, board.RoleCaptain) + ": find who takes it over and says so on their own phone, or end the charge"
	fight, called := c.calledAway(who.ID, calls)
	notice, gone := c.missed(who.ID, p.UsedAt)
	away, sees := c.outOfSight(p)
	switch due := plusSec(p.UsedAt, attendSec); {
	case who.Retired:
		return lapse{"left", "is off the roster", others, 0}
	case who.Minor || who.Guest:
		return lapse{"guest", "is a minor or guest now", others, 0}
	case gone:
		return lapse{"gone", "was not to be found", others, notice}
	case called:
		return lapse{"called", "is called for " + fight, others, 0}
	case p.Unsure && p.Stopped == "":
		return lapse{"restart", "has not said since " + c.doubtedAt(p) + " whether it still charges", who.Name + ": look, and say of each: still charging and I am with it, or off", 0}
	case sees:
		return lapse{"sight", "is at work on " + away + ", out of its sight", others, 0}
	case p.Away.At != 0:
		robot := c.s.Robots[p.Away.Robot].Name
		if place, ok := c.s.Places[c.s.Powers[p.Away.Robot].Place]; ok {
			robot += ", " + place.Name
		}
		return lapse{"away", "was at " + robot + " at " + c.s.Clock(p.Away.At) + ", out of its sight", who.Name + ": who takes it over? They say so on their own phone; or go back, and say that you stay with it", p.Away.At}
	case p.AttendAt == 0 && due <= c.at:
		return lapse{"unsaid", "has not said so", who.Name + ": say on your own phone that you stay with it, or someone else does", due}
	}
	return lapse{}
}

// doubtedAt is since when nobody has said that p still charges.
func (c *schedule) doubtedAt(p board.Pack) string {
	if p.UnsureAt == 0 {
		return "the board was off"
	}
	return c.s.Clock(p.UnsureAt)
}

// calledAway tells which fight someone is called to, or is at.
func (c *schedule) calledAway(who board.PersonID, calls []Call) (fight string, called bool) {
	for g, o := range c.robots {
		if (calls[g].CallNow || calls[g].OnNow) && slices.Contains(work.FightCrew(c.s, o.robot), who) {
			return fightName(o.fight) + " of " + o.robot.Name, true
		}
	}
	return "", false
}

// missed tells since when someone was looked for in vain and has not come back.
func (c *schedule) missed(who board.PersonID, from board.Moment) (board.Moment, bool) {
	for _, n := range c.s.Notices {
		if n.Person == who && n.Taken == 0 && n.At >= from {
			return n.At, true
		}
	}
	return 0, false
}

// outOfSight says which jobs and robots keep p's attendant where the charge is not seen.
func (c *schedule) outOfSight(p board.Pack) (jobs string, is bool) {
	var names []string
	for _, o := range c.s.OutOfSight() {
		if o.Pack == p.ID {
			on := c.s.Robots[o.Robot].Name
			if j, ok := c.s.Jobs[o.Job]; ok {
				on = jobName(j)
			}
			names = append(names, on)
		}
	}
	return strings.Join(names, ", "), len(names) > 0
}
