package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/plan"
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
	p.awayFor = make([][]board.Fight, len(p.people))
	for i, who := range p.people {
		for g := range p.robots {
			if slices.Contains(crews[g], who.ID) {
				p.takeAway(i, g, stays[g])
			}
		}
	}
}

// misses tells of each group whether no plan has its jobs done by its call, be it
// that one of them cannot be done at all, or the plan that people follow has not.
func (p *posed) misses() []bool {
	list := make([]bool, len(p.robots))
	for g, sec := range plan.Bounds(p.problem) {
		list[g] = sec > p.problem.Groups[g].DeadlineSec
	}
	for _, t := range p.problem.Tasks {
		if t.Running == nil && t.Follow != nil && !t.Follow.Skipped {
			end := int64(t.Follow.StartSec) + int64(t.Ways[t.Follow.Way].DurationSec)
			list[t.Group] = list[t.Group] || end > int64(p.problem.Groups[t.Group].DeadlineSec)
		}
	}
	return list
}

// takeAway takes person i away to the fights of group g, each from its call until the
// robot is back: to those that depend on no open result. A fight whose call has passed
// with the robot still here takes nobody away, nor does the next one where its crew
// stays.
func (p *posed) takeAway(i, g int, stays bool) {
	o := p.robots[g]
	for _, f := range o.certain {
		t := o.clock[f.ID]
		if !t.known || t.callNow && !o.gone || stays && f.ID == o.workCall.ID {
			continue
		}
		from := p.sec(t.call.Median)
		window := plan.Window{FromSec: from, ToSec: max(from, p.sec(plusSec(t.start.Median, matchSec+returnSec)))}
		p.problem.People[i].Away = append(p.problem.People[i].Away, window)
		p.awayFor[i] = append(p.awayFor[i], f)
	}
}

// driverAlarms names who drives in two fights of different robots that run into each
// other by the likely times.
func (c *schedule) driverAlarms() []Alarm {
	var list []Alarm
	for i, who := range c.people {
		windows, fights := c.problem.People[i].Away, c.awayFor[i]
		for a := range fights {
			for b := range fights[:a] {
				one, other := c.s.Robots[fights[b].Robot], c.s.Robots[fights[a].Robot]
				meet := windows[a].FromSec < windows[b].ToSec && windows[b].FromSec < windows[a].ToSec
				if one.ID == other.ID || one.Driver != who.ID || other.Driver != who.ID || !meet {
					continue
				}
				list = append(list, Alarm{
					Slug: "driver-" + string(fights[b].ID) + "-" + string(fights[a].ID), Class: ClassC,
					What: fmt.Sprintf("%s drives %s in %s and %s in %s, and both may be on at once", who.Name, one.Name, fightName(fights[b]), other.Name, fightName(fights[a])),
					Act:  roleName(c.s, board.RoleCaptain) + ": let someone else drive one, or tell the officials",
				})
			}
		}
	}
	return list
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
	for _, j := range sorted(s.Jobs, jobKey) {
		if j.Robot == r.ID && j.State != board.JobDropped {
			for _, id := range j.Assigned {
				add(id)
			}
		}
	}
	return crew[:min(len(crew), heavyCrewMost)]
}
