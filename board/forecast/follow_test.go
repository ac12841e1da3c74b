package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// follow gives people the plan that the forecast proposes, until it proposes
// none. Each is better than the one before, so that this ends soon.
func (p *pit) follow() board.Follow {
	p.t.Helper()
	for range 10 {
		next := p.make().Replace
		if next == nil {
			return p.s.Follow()
		}
		p.made("", *next, board.Itself())
	}
	require.Fail(p.t, "the forecast proposes one plan after the other")
	return board.Follow{}
}

// twoMenders is a robot with two jobs of ten minutes that either of two people
// can do, called in two hours.
func twoMenders(t *testing.T) (p *pit, ada, bo board.PersonID, r board.RobotID, jobs [2]board.JobID) {
	p = newPit(t)
	p.station("bench", board.StationBench, 2)
	ada, bo = p.person("Ada", board.SkillMechanical), p.person("Bo", board.SkillMechanical)
	r = p.heavy("Big Lump", 1, ada)
	p.calledAt(r, clock(t, "14:00"))
	jobs[0] = p.job(board.JobFields{Robot: r, Name: "first", Fixes: []board.Fix{fix(10, 20, board.SkillMechanical)}})
	jobs[1] = p.job(board.JobFields{Robot: r, Name: "second", After: jobs[:1], Fixes: []board.Fix{fix(10, 20, board.SkillMechanical)}})
	return p, ada, bo, r, jobs
}

func TestTheFirstPlanIsProposedAndThenStands(t *testing.T) {
	p, _, _, r, jobs := twoMenders(t)
	follow := p.follow()
	require.Len(t, follow.Tasks, 2)
	for k, job := range jobs {
		told, derived := follow.Tasks[k], p.plan(job)
		require.Equal(t, job, told.Job)
		require.Equal(t, r, told.Robot)
		require.Equal(t, derived.People, told.People)
		require.Equal(t, derived.StartAt, told.StartAt)
		require.Equal(t, derived.EndAt, told.EndAt)
	}
	p.wait(25 * time.Minute)
	require.Nil(t, p.make().Replace, "a day that slips is no other plan")
}

func TestPeopleKeepWhatTheyWereToldWhereAnotherPlanIsNoBetter(t *testing.T) {
	p, ada, bo, _, jobs := twoMenders(t)
	for _, turn := range [][2]board.PersonID{{ada, bo}, {bo, ada}, {bo, bo}} {
		var c board.PlanReplace
		for k, who := range turn {
			start := p.now.Add(time.Duration(30+10*k) * time.Minute)
			c.Tasks = append(c.Tasks, board.PlanTask{Job: jobs[k], Told: board.Told{People: []board.PersonID{who}, StartAt: start}, EndAt: start.Add(10 * time.Minute)})
		}
		p.captain(c)
		f := p.make()
		require.Nil(t, f.Replace)
		for k, who := range turn {
			require.Equal(t, []board.PersonID{who}, p.plan(jobs[k]).People)
		}
	}
}

func TestABetterPlanReplacesTheOneThatMissesTheCall(t *testing.T) {
	p, ada, bo, r, jobs := twoMenders(t)
	p.follow()
	p.captain(board.JobChange{Job: jobs[1], JobFields: board.JobFields{Robot: r, Name: "second", Triage: board.Must, Fixes: []board.Fix{fix(10, 20, board.SkillMechanical)}}})
	var both board.PlanReplace // one after the other, by one person, until 12:50
	for k := range jobs {
		start := p.now.Add(time.Duration(30+10*k) * time.Minute)
		both.Tasks = append(both.Tasks, board.PlanTask{Job: jobs[k], Told: board.Told{People: []board.PersonID{ada}, StartAt: start}, EndAt: start.Add(10 * time.Minute)})
	}
	p.captain(both)
	require.Nil(t, p.make().Replace, "one after the other makes the call at 14:00")

	for id, f := range p.s.Fights {
		p.captain(board.FightMove{Fight: id, Arena: f.Arena, Number: f.Number, NotBefore: clock(t, "13:05")})
	}
	e := p.s.Event().EventFields
	e.RestSec = 0
	p.captain(board.EventSet{EventFields: e})
	next := p.make().Replace
	require.NotNil(t, next, "at 13:05 only the two at once do")
	p.made("", *next, board.Itself())
	follow := p.s.Follow()
	a, _ := follow.Task(jobs[0])
	b, _ := follow.Task(jobs[1])
	require.ElementsMatch(t, []board.PersonID{ada, bo}, append(a.People, b.People...))
	require.Len(t, follow.Moved, 1)
	moved, _ := follow.Task(follow.Moved[0])
	require.Equal(t, []board.PersonID{ada}, moved.Was.People)
	require.Nil(t, p.make().Replace)
}

func TestNewWorkIsAddedToThePlanAndMovesNobody(t *testing.T) {
	p, ada, _, r, jobs := twoMenders(t)
	p.follow()
	third := p.job(board.JobFields{Robot: r, Name: "third", Triage: board.Could, Fixes: []board.Fix{fix(5, 9, board.SkillMechanical)}})
	follow := p.follow()
	require.Len(t, follow.Tasks, 3)
	require.Empty(t, follow.Moved)
	_, ok := follow.Task(third)
	require.True(t, ok)

	p.by(ada, board.JobDrop{Job: jobs[1], Reason: "not needed"})
	require.Nil(t, p.make().Replace, "one that is gone makes no other plan")
}

func TestWhoeverTheCaptainPutsOnAJobIsInThePlan(t *testing.T) {
	p, ada, bo, _, jobs := twoMenders(t)
	first, _ := p.follow().Task(jobs[0])
	other := map[board.PersonID]board.PersonID{ada: bo, bo: ada}[first.People[0]]
	p.captain(board.JobAssign{Job: jobs[0], People: []board.PersonID{other}})
	follow := p.follow()
	task, _ := follow.Task(jobs[0])
	require.Equal(t, []board.PersonID{other}, task.People)
	require.Contains(t, follow.Moved, jobs[0])
}

func TestARestartChangesNothingOfThePlanPeopleFollow(t *testing.T) {
	p, _, _, _, _ := twoMenders(t)
	was := p.follow()
	p.made("", board.BoardStart{Why: "the program has started"}, board.Itself())
	require.Nil(t, p.make().Replace)
	require.Equal(t, was, p.s.Follow())
}

func TestAnOverdueStartKeepsItsPlaceInTheOrder(t *testing.T) {
	p := newPit(t)
	p.station("bench", board.StationBench, 2)
	ada := p.person("Ada", board.SkillMechanical)
	a, b := p.heavy("Big Lump", 1, ada), p.heavy("Long Drop", 2, ada)
	var jobs []board.JobID
	var c board.PlanReplace
	for k, r := range []board.RobotID{b, a} {
		p.calledAt(r, clock(t, "16:00"))
		job := p.job(board.JobFields{Robot: r, Name: "mend", Fixes: []board.Fix{fix(10, 20, board.SkillMechanical)}})
		start := p.now.Add(time.Duration(30+10*k) * time.Minute)
		jobs = append(jobs, job)
		c.Tasks = append(c.Tasks, board.PlanTask{Job: job, Told: board.Told{People: []board.PersonID{ada}, StartAt: start}, EndAt: start.Add(10 * time.Minute)})
	}
	p.captain(c)
	p.wait(55 * time.Minute)
	require.Nil(t, p.make().Replace)
	require.Less(t, p.plan(jobs[0]).StartAt, p.plan(jobs[1]).StartAt)
}

func BenchmarkMakeFollowing6Robots60Jobs10People(b *testing.B) {
	p := busy(b, 6, 60, 10)
	p.follow()
	b.ReportAllocs()
	for b.Loop() {
		forecast.Make(p.s, p.now, 1, 5000)
	}
}
