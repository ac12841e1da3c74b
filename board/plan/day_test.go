package plan_test

import (
	"math/rand/v2"

	"pgregory.net/rapid"

	"mendline/board/plan"
)

// draw gives a number from lo to hi: from rapid, or from a seeded source.
type draw func(lo, hi int) int

func rapidDraw(t *rapid.T) draw {
	return func(lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, "n") }
}

func seededDraw(seed uint64) draw {
	r := rand.New(rand.NewPCG(seed, 1))
	return func(lo, hi int) int { return lo + r.IntN(hi-lo+1) }
}

// size bounds a day made at random.
type size struct{ groups, people, minTasks, maxTasks, minPeople int }

// day makes a pit day at random: minutes from 0 to 40, benches, a channel, two
// stocks, people with two skills and absences, running work, optional work,
// ways that trade time for stock.
func day(n draw, s size) plan.Problem {
	var p plan.Problem
	for range n(max(1, s.minPeople), s.people) {
		who := plan.Person{Skills: plan.SkillSet(n(0, 3))}
		if n(0, 3) == 0 {
			from := int32(n(0, 30)) * 60
			who.Away = []plan.Window{{FromSec: from, ToSec: from + int32(n(0, 30))*60}}
		}
		p.People = append(p.People, who)
	}
	p.Pools = []plan.Pool{{Capacity: n(1, 2)}, {Capacity: 1}}
	if n(0, 3) == 0 {
		p.Pools[0].Taken = []plan.Taken{{Window: plan.Window{FromSec: 600, ToSec: 1800}, Count: 1}}
	}
	p.Stocks = []plan.Stock{{Count: n(0, 2)}, {Count: n(0, 2)}}
	for range n(1, s.groups) {
		p.Groups = append(p.Groups, plan.Group{Room: n(1, 3), DeadlineSec: int32(n(10, 90)) * 60, Weight: n(0, 2)})
	}
	running := 0
	for i := range n(s.minTasks, s.maxTasks) {
		t := dayTask(n, i, len(p.Groups), len(p.People))
		if t.Running != nil {
			t.Running.People = []int{running % len(p.People)}
			running++
		}
		p.Tasks = append(p.Tasks, t)
	}
	return p
}

func dayTask(n draw, i, groups, people int) plan.Task {
	t := plan.Task{Group: n(0, groups-1)}
	if n(0, 2) == 0 {
		t.Grade = plan.Grade(n(1, 2))
	}
	for a := range i {
		if n(0, 3) == 0 {
			t.After = append(t.After, a)
		}
	}
	if n(0, 4) == 0 {
		t.EarliestSec = int32(n(0, 40)) * 60
	}
	for range n(1, 2) {
		t.Ways = append(t.Ways, dayWay(n))
	}
	if n(0, 7) == 0 {
		t.Assigned = []int{n(0, people-1)}
	}
	if n(0, 9) == 0 {
		t.Running = &plan.Running{LeftSec: int32(n(1, 20)) * 60}
		t.Ways[0] = plan.Way{Team: []plan.SkillSet{0}, DurationSec: 600}
	}
	return t
}

func dayWay(n draw) plan.Way {
	w := plan.Way{DurationSec: int32(n(0, 40)) * 60, Place: plan.Place(n(0, 2))}
	if w.DurationSec == 0 {
		return w
	}
	for range n(0, 2) {
		w.Team = append(w.Team, plan.SkillSet(n(0, 2)))
	}
	if n(0, 1) == 0 {
		w.Needs = append(w.Needs, plan.Need{Pool: 0, Count: 1})
	}
	if n(0, 4) == 0 {
		w.Needs = append(w.Needs, plan.Need{Pool: 1, Count: 1})
	}
	if n(0, 2) == 0 {
		w.Uses = append(w.Uses, plan.Use{Stock: n(0, 1), Count: 1})
	}
	return w
}

var (
	tinyDay = size{groups: 3, people: 3, minTasks: 1, maxTasks: 6}
	fullDay = size{groups: 6, people: 10, minTasks: 10, maxTasks: 80}
)
