package forecast

import (
	"fmt"
	"slices"

	"mendline/board"
	"mendline/board/chance"
	"mendline/board/plan"
)

// remedy is something that may help robots that are flagged: ordinary commands that
// a person could give by hand, tried on a copy of the board.
type remedy struct {
	text string
	do   []board.Command
	// moved are the jobs whose place in the plan it changes.
	moved []board.JobID
	// clock: it moves a call.
	clock bool
	// parts are the texts of those that it joins.
	parts []string
}

// remedies lists what may help the robot of group g, the most ordinary first: leave
// work off, do it another way, by other people, with more of what is short, later.
// None touches the state of a robot or of a pack, nor sheets and tags.
func (c *schedule) remedies(g int) []remedy {
	if c.robots[g].gone { // closed up: its work comes after the fight
		return c.postpone(g)
	}
	list := slices.Concat(c.otherPack(g), c.leaveEvery(g))
	for i := range c.jobs {
		if c.shares(i, g) {
			list = append(list, c.leaveOne(i)...)
		}
	}
	for i := range c.jobs {
		if c.problem.Tasks[i].Group == g {
			list = append(list, c.otherFix(i)...)
			list = append(list, c.otherHand(i)...)
		}
	}
	later, spares, hand := c.postpone(g), c.spares(g), c.helper(g)
	if !c.plan.Groups[g].Never { // what cannot be done now cannot be done later
		list = append(list, later...)
	}
	var parts []remedy
	for k, spare := range spares {
		parts = append(parts, spare)
		if k == 0 {
			parts = append(parts, spare.andEach(slices.Concat(later, c.longestOff(g), hand))...)
		}
	}
	if c.plan.Groups[g].Never {
		list = slices.Concat(parts, list) // nothing else helps without the part
	} else {
		list = append(list, parts...)
	}
	return slices.Concat(list, hand, c.places(g))
}

// andEach is the remedy with each of the others.
func (r remedy) andEach(others []remedy) []remedy {
	var list []remedy
	for _, o := range others {
		list = append(list, remedy{
			text: r.text + " and " + lower(o.text), do: slices.Concat(r.do, o.do),
			moved: slices.Concat(r.moved, o.moved), clock: r.clock || o.clock, parts: []string{r.text, o.text},
		})
	}
	return list
}

// otherFix does a job that has several fixes by another than the planned one.
func (c *schedule) otherFix(i int) []remedy {
	j := c.jobs[i]
	planned := j.Chosen
	if c.kept(i) {
		planned = c.fixes[i][c.plan.Tasks[i].Way]
	}
	var list []remedy
	for f, fix := range j.Fixes {
		if f != planned && j.State != board.JobRunning {
			list = append(list, remedy{
				text: fmt.Sprintf("Do %s another way: %s", jobName(j), fix.Name),
				do:   []board.Command{board.JobFix{Job: j.ID, Chosen: f}}, moved: []board.JobID{j.ID},
			})
		}
	}
	return list
}

// otherHand gives a job that waits for a person, or may, to someone who comes free
// earlier; and one that someone was put on to whoever the plan finds.
func (c *schedule) otherHand(i int) []remedy {
	j, t := c.jobs[i], c.plan.Tasks[i]
	if !c.kept(i) || j.State == board.JobRunning {
		return nil
	}
	for _, person := range c.handedOver(i) {
		seat := slices.Index(t.People, person)
		other := c.freest(i, seat)
		if seat < 0 || other < 0 {
			continue
		}
		team := slices.Clone(t.People)
		team[seat] = other
		return []remedy{{
			text: fmt.Sprintf("%s instead of %s on %s", c.people[other].Name, c.people[person].Name, jobName(j)),
			do:   []board.Command{board.JobAssign{Job: j.ID, People: c.idsOf(team)}}, moved: []board.JobID{j.ID},
		}}
	}
	if len(j.Assigned) > 0 {
		return []remedy{{
			text: "Let anyone who can do " + jobName(j),
			do:   []board.Command{board.JobAssign{Job: j.ID, People: []board.PersonID{}}}, moved: []board.JobID{j.ID},
		}}
	}
	return nil
}

// handedOver lists the people of task i that another task has before it.
func (c *schedule) handedOver(i int) []int {
	var list []int
	for _, a := range c.days.net.Tasks[c.days.task[i]].After {
		if a.Kind == plan.ByPerson {
			list = append(list, a.Index)
		}
	}
	return list
}

// freest is who could take the seat of task i and is free earliest before it, -1 if
// there is nobody.
func (c *schedule) freest(i, seat int) int {
	if seat < 0 {
		return -1
	}
	t := c.plan.Tasks[i]
	need := c.problem.Tasks[i].Ways[t.Way].Team[seat]
	best, freeSec := -1, t.StartSec
	for k, who := range c.problem.People {
		if who.Skills&need != need || slices.Contains(t.People, k) {
			continue
		}
		if free, ok := c.freeFrom(k, t.StartSec, t.FinishSec); ok && free < freeSec {
			best, freeSec = k, free
		}
	}
	return best
}

// freeFrom is since when person k has nothing to do before startSec; not ok if there
// is something until finishSec.
func (c *schedule) freeFrom(k int, startSec, finishSec int32) (sec int32, ok bool) {
	for _, t := range c.wholePlan.Tasks {
		if t.State != plan.Kept || !slices.Contains(t.People, k) {
			continue
		}
		if t.StartSec < finishSec && t.FinishSec > startSec {
			return 0, false
		}
		if t.FinishSec <= startSec {
			sec = max(sec, t.FinishSec)
		}
	}
	for _, w := range c.problem.People[k].Away {
		if w.FromSec < finishSec && w.ToSec > startSec {
			return 0, false
		}
	}
	return sec, true
}

func (c *schedule) idsOf(team []int) []board.PersonID {
	ids := make([]board.PersonID, len(team))
	for k, person := range team {
		ids[k] = c.people[person].ID
	}
	return ids
}

// postpone asks the event for its postponement.
func (c *schedule) postpone(g int) []remedy {
	o := c.robots[g]
	if may, _ := c.s.MayPostpone(o.fight, c.at); !may {
		return nil
	}
	return []remedy{{
		text:  fmt.Sprintf("Ask for the postponement of %d min for %s", c.s.Event().PostponeSec/60, o.robot.Name),
		do:    []board.Command{board.FightPostpone{Fight: o.fight.ID}},
		clock: true,
	}}
}

// spares borrows a spare for each job of group g that nobody is on and that goes without
// one by the plan. Whoever fetches it says when it comes; until then nobody knows.
func (c *schedule) spares(g int) []remedy {
	var list []remedy
	for i, j := range c.jobs {
		if c.problem.Tasks[i].Group != g || j.State != board.JobOpen {
			continue
		}
		for w, way := range c.problem.Tasks[i].Ways {
			if c.kept(i) && c.plan.Tasks[i].Way == w {
				continue
			}
			for _, use := range way.Uses {
				if c.spare(use.Stock) < use.Count && !c.stocks[use.Stock].Retired {
					list = append(list, c.borrow(i, c.fixes[i][w], use.Stock))
				}
			}
		}
	}
	return list
}

// spare is how many of a stock the plan leaves in the box.
func (c *schedule) spare(stock int) int {
	left := c.problem.Stocks[stock].Count
	for i, t := range c.problem.Tasks {
		if !c.kept(i) || t.Running != nil {
			continue
		}
		for _, use := range t.Ways[c.plan.Tasks[i].Way].Uses {
			if use.Stock == stock {
				left -= use.Count
			}
		}
	}
	return left
}

// borrow has job i wait for a spare that someone borrows.
func (c *schedule) borrow(i, fix, stock int) remedy {
	j, name := c.jobs[i], c.stocks[stock].Name
	r := remedy{text: fmt.Sprintf("Borrow a spare %s for %s", name, jobName(j)), moved: []board.JobID{j.ID}}
	if fix != j.Chosen {
		r.do = append(r.do, board.JobFix{Job: j.ID, Chosen: fix})
	}
	r.do = append(r.do, board.JobHold{Job: j.ID, Why: board.HoldPart, Text: name + " to be borrowed"})
	return r
}

// places makes room for one more at each kind of station that work of group g waits
// for.
func (c *schedule) places(g int) []remedy {
	var list []remedy
	for k, kind := range c.pools {
		waits := slices.ContainsFunc(c.jobs, func(j board.Job) bool { i := c.taskOf(j.ID); return c.waitsFor(i, g, k) })
		for _, station := range board.Sorted(c.s.Stations, func(station board.Station) string { return station.Name }) {
			if station.Kind == kind && !station.Retired && waits {
				f := station.StationFields
				f.Count++
				list = append(list, remedy{
					text: fmt.Sprintf("Make room for one more at the %s", stationWords[kind]),
					do:   []board.Command{board.StationChange{Station: station.ID, StationFields: f}},
				})
				break
			}
		}
	}
	return list
}

// waitsFor tells whether task i is of group g and another task has a unit of the
// pool before it.
func (c *schedule) waitsFor(i, g, pool int) bool {
	if c.problem.Tasks[i].Group != g || !c.kept(i) {
		return false
	}
	return slices.ContainsFunc(c.days.net.Tasks[c.days.task[i]].After, func(a chance.Arc) bool { return a.Kind == plan.ByPool && a.Index == pool })
}

// helper asks one more person over, with the skill that the work of group g asks for
// most; where work cannot be done at all, that it asks for most.
func (c *schedule) helper(g int) []remedy {
	asked := c.askedFor(g, plan.Blocked)
	switch {
	case len(asked) == 0:
		asked = c.askedFor(g, plan.Kept)
	case len(asked) > 1: // the one who comes is also one more pair of hands
		delete(asked, board.SkillAny)
	}
	var most board.Skill
	for _, skill := range append([]board.Skill{board.SkillAny}, skillOrder...) {
		if asked[skill] > asked[most] {
			most = skill
		}
	}
	if asked[most] == 0 {
		return nil
	}
	fields := board.PersonFields{Name: c.freeName("Helper"), Role: board.RoleCrew}
	text := "Ask one more person over to help"
	if most != board.SkillAny {
		fields.Skills, text = []board.Skill{most}, fmt.Sprintf("Ask one more person over for the %s work", most)
	}
	return []remedy{{text: text, do: []board.Command{board.PersonAdd{PersonFields: fields}}}}
}

// askedFor is how long the work of group g in a state asks for each skill, in seconds.
// Of work that is blocked, only what nobody has the skill for counts, and what there
// are too few people for.
func (c *schedule) askedFor(g int, state plan.State) map[board.Skill]int {
	asked := map[board.Skill]int{}
	for i, t := range c.problem.Tasks {
		way := max(c.plan.Tasks[i].Way, 0)
		if t.Group != g || c.plan.Tasks[i].State != state || t.Running != nil || len(t.Ways) == 0 {
			continue
		}
		few := c.plan.Tasks[i].Cause.Kind == plan.ByHands
		for _, skill := range c.jobs[i].Fixes[c.fixes[i][way]].Hands {
			if state != plan.Blocked || few || !c.somebody(skill) {
				asked[skill] += int(t.Ways[way].DurationSec)
			}
		}
	}
	return asked
}

// somebody tells whether anyone at work here has a skill.
func (c *schedule) somebody(skill board.Skill) bool {
	need := skillBit(skill)
	return slices.ContainsFunc(c.problem.People, func(who plan.Person) bool { return who.Skills&need == need })
}

// freeName is name, with a number where someone is called so already.
func (c *schedule) freeName(name string) string {
	taken := func(name string) bool {
		return slices.ContainsFunc(c.people, func(who board.Person) bool { return who.Name == name })
	}
	free := name
	for n := 2; taken(free); n++ {
		free = fmt.Sprintf("%s %d", name, n)
	}
	return free
}
