package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/plan"
	"mendline/board/view"
	"mendline/board/work"
)

// poseAbsences takes people away to the fights of their robots. Where a robot will not
// be ready by its call its crew stays at it: where no plan was found that meets the call
// though nobody leaves, or with all others away, or the one that people follow does not.
func (p *posed) poseAbsences() {
	p.stays = map[board.FightID]bool{}
	p.misses()
	p.takeAllAway()
	before := len(p.stays)
	if p.misses(); len(p.stays) > before {
		p.takeAllAway()
	}
}

func (p *posed) takeAllAway() {
	p.awayFor = make([][]absence, len(p.people))
	for i := range p.people {
		p.problem.People[i].Away = nil
	}
	for g, o := range p.robots {
		on, crew := p.onSheets(o), work.FightCrew(p.s, o.robot)
		for i, who := range p.people {
			if slices.Contains(crew, who.ID) {
				p.takeAway(i, g, who.ID == on)
			}
		}
	}
	if len(liveChannels(p.s)) > 0 {
		p.problem.Pools[p.supply.crew].Taken = p.attendantsAway()
	}
}

// absence is why a person is away: at a fight, with the sheets of its robot.
type absence struct {
	fight  board.Fight
	sheets board.RobotID
}

// onSheets is who answers a robot's sheets: the one who answered last on the one that is
// due, or else its lead.
func (p *posed) onSheets(o outlook) board.PersonID {
	if sheet, ok := view.DueSheet(p.s, o.robot.ID); ok && len(sheet.Answers) > 0 {
		return sheet.Answers[len(sheet.Answers)-1].By
	}
	return o.robot.Lead
}

// missedSec is by how much a call is missed before its crew stays: less is no word that
// anybody would give up a fight for (our own).
const missedSec = 60

// leaveBudget is how many schedules are tried to see whether a call can be met.
const leaveBudget = 40

// misses adds to those that stay the fights that their robots are not ready for: by a plan with those away
// who are so far, or by the one that people follow.
func (p *posed) misses() {
	miss := func(f board.FightID, lateSec int32) {
		if lateSec >= missedSec {
			p.stays[f] = true
		}
	}
	made := plan.Solve(p.problem, leaveBudget, 1)
	for g, o := range p.robots {
		miss(o.workCall.ID, made.Groups[g].LateSec)
		if first := p.sheets.groups[g]; first != g {
			miss(o.fight.ID, made.Groups[first].LateSec)
		}
	}
	for i := range p.jobs {
		t := p.problem.Tasks[i]
		if t.Running == nil && t.Follow != nil && !t.Follow.Skipped {
			miss(p.robots[t.Group].workCall.ID, t.Follow.StartSec+t.Ways[t.Follow.Way].DurationSec-p.jobsBySec(t.Group))
		}
	}
}

// takeAway takes person i away to the fights of group g, each from its call until the
// robot is back, with its sheets for who answers them, where those are no task of the
// plan: to those that depend on no open result. A fight whose call has passed with the
// robot still here takes nobody away, nor does the next one where its crew stays.
func (p *posed) takeAway(i, g int, answers bool) {
	o := p.robots[g]
	for _, f := range o.certain {
		t := o.clock[f.ID]
		if !t.known || t.callNow && !o.gone || p.stays[f.ID] {
			continue
		}
		why := absence{fight: f}
		from, to := t.call.Median, plusSec(t.start.Median, matchSec+returnSec)
		planned := f.ID == o.fight.ID || f.ID == o.workCall.ID
		if answers && !planned {
			why.sheets, from = o.robot.ID, plusSec(from, -o.robot.AfterSec)
		}
		if answers && o.robot.BeforeSec > 0 && !(o.gone && f.ID == o.fight.ID) {
			why.sheets, to = o.robot.ID, max(to, plusSec(t.start.Median, matchSec+o.robot.BeforeSec))
		}
		p.problem.People[i].Away = append(p.problem.People[i].Away, plan.Window{FromSec: p.sec(from), ToSec: max(p.sec(from), p.sec(to))})
		p.awayFor[i] = append(p.awayFor[i], why)
	}
}

// driverAlarms names who drives in two fights of different robots that run into each
// other by the likely times.
func (c *schedule) driverAlarms() []Alarm {
	var list []Alarm
	for i, who := range c.people {
		for a, later := range c.awayFor[i] {
			for _, before := range c.awayFor[i][:a] {
				one, other := c.s.Robots[before.fight.Robot], c.s.Robots[later.fight.Robot]
				if one.ID == other.ID || one.Driver != who.ID || other.Driver != who.ID || !c.meet(before.fight, later.fight) {
					continue
				}
				list = append(list, Alarm{
					Slug: "driver-" + string(before.fight.ID) + "-" + string(later.fight.ID), Class: ClassC,
					What: fmt.Sprintf("%s drives %s in %s and %s in %s, and both may be on at once", who.Name, one.Name, fightName(before.fight), other.Name, fightName(later.fight)),
					Act:  roleName(c.s, board.RoleCaptain) + ": let someone else drive one, or tell the officials",
				})
			}
		}
	}
	return list
}

// meet tells whether two fights are on at once by the likely times, from the call until
// the robot is back.
func (c *schedule) meet(a, b board.Fight) bool {
	clock := c.robots[0].clock
	ends := func(f board.Fight) board.Moment { return plusSec(clock[f.ID].start.Median, matchSec+returnSec) }
	return clock[a.ID].call.Median < ends(b) && clock[b.ID].call.Median < ends(a)
}
