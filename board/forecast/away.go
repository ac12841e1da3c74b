package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/plan"
	"mendline/board/view"
)

// poseAbsences takes people away to the fights of their robots. Where a robot will not
// be ready by its call its crew stays at it: where no plan meets the call though nobody
// leaves, or the one that people follow does not.
func (p *posed) poseAbsences() {
	crews := make([][]board.PersonID, len(p.robots))
	for g, o := range p.robots {
		crews[g] = fightCrew(p.s, o.robot)
	}
	stays := p.misses()
	p.awayFor = make([][]absence, len(p.people))
	for i, who := range p.people {
		for g, o := range p.robots {
			on := p.onSheets(o)
			if who.ID == on {
				p.takeToSheets(i, g)
			}
			if slices.Contains(crews[g], who.ID) {
				p.takeAway(i, g, stays[g], who.ID == on)
			}
		}
	}
}

// absence is why a person is away: at a fight, on the sheets of a robot, or both.
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

// takeToSheets keeps person i on the sheets that are due before the first job of group
// g, where there is work to be done on it.
func (p *posed) takeToSheets(i, g int) {
	o := p.robots[g]
	waits := slices.ContainsFunc(p.problem.Tasks, func(t plan.Task) bool { return t.Group == g && t.Running == nil })
	if o.gone || o.beforeSec == 0 || !waits || o.power.State.Energised() {
		return
	}
	p.problem.People[i].Away = append(p.problem.People[i].Away, plan.Window{ToSec: p.sec(o.workFrom)})
	p.awayFor[i] = append(p.awayFor[i], absence{sheets: o.robot.ID})
}

// missedSec is by how much a call is missed before its crew stays: less is no word that
// anybody would give up a fight for (our own).
const missedSec = 60

// misses tells of each group whether no plan has its jobs done by its call, be it
// that one of them cannot be done at all, or the plan that people follow has not.
func (p *posed) misses() []bool {
	list := make([]bool, len(p.robots))
	miss := func(g int, endSec int64) {
		list[g] = list[g] || endSec >= int64(p.problem.Groups[g].DeadlineSec)+missedSec
	}
	for g, sec := range plan.Bounds(p.problem) {
		miss(g, int64(sec))
	}
	for _, t := range p.problem.Tasks {
		if t.Running == nil && t.Follow != nil && !t.Follow.Skipped {
			miss(t.Group, int64(t.Follow.StartSec)+int64(t.Ways[t.Follow.Way].DurationSec))
		}
	}
	return list
}

// takeAway takes person i away to the fights of group g, each from its call until the
// robot is back, with its sheets for who answers them: to those that depend on no open
// result. A fight whose call has passed with the robot still here takes nobody away,
// nor does the next one where its crew stays.
func (p *posed) takeAway(i, g int, stays, answers bool) {
	o := p.robots[g]
	for _, f := range o.certain {
		t := o.clock[f.ID]
		if !t.known || t.callNow && !o.gone || stays && f.ID == o.workCall.ID {
			continue
		}
		why := absence{fight: f}
		from, to := t.call.Median, plusSec(t.start.Median, matchSec+returnSec)
		if answers {
			after := o.robot.AfterSec
			if f.ID == o.fight.ID {
				after = o.leftSec
			}
			why.sheets = o.robot.ID
			from, to = plusSec(from, -after), max(to, plusSec(t.start.Median, matchSec+o.robot.BeforeSec))
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

// heavyCrewMost is how many go to a fight with a heavyweight: four to move it,
// and the driver. Common practice, no source.
const heavyCrewMost = 5

// fightCrew lists who goes to a fight with the robot: its driver and lead, and
// with a heavyweight those assigned to its jobs.
func fightCrew(s board.State, r board.Robot) []board.PersonID {
	var crew []board.PersonID
	add := func(id board.PersonID) {
		if id != "" && !slices.Contains(crew, id) {
			crew = append(crew, id)
		}
	}
	add(r.Driver)
	add(r.Lead)
	if r.Size != board.Heavy {
		return crew
	}
	for _, j := range board.Sorted(s.Jobs, jobKey) {
		if j.Robot == r.ID && j.State != board.JobDropped {
			for _, id := range j.Assigned {
				add(id)
			}
		}
	}
	return crew[:min(len(crew), heavyCrewMost)]
}
