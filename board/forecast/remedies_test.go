package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
)

// A remedy is made of changes of plan. The boards of this test bring out all that the
// forecast offers; what is no change of plan it cannot write down.
func TestRemediesAreChangesOfPlanAndNeverWordsAboutSafety(t *testing.T) {
	t.Parallel()
	given := map[string]bool{}
	for _, p := range []*pit{busy(t, 2, 24, 3), busy(t, 4, 20, 5), swamped(t), twoPacks(t)} {
		for _, name := range forecast.RemedyCommands(p.s, p.now, 1, budget) {
			given[name] = true
		}
	}
	require.Len(t, given, 8, "%v", given)
	require.False(t, board.OfPlan(board.TagOff{}) || board.OfPlan(board.SheetAnswer{}) || board.OfPlan(board.PackSet{}) || board.OfPlan(board.RobotFit{}))
}

// twoPacks is a robot that neither of its packs is ready for.
func twoPacks(t *testing.T) *pit {
	b := newBench(t)
	b.calledAt(b.sprat, noon.Add(40*time.Minute))
	b.open(b.sprat, b.ann)
	b.read(b.pack("P1", b.sprat), 3.733, 25, nil)
	b.read(b.pack("P2", b.sprat), 3.733, 25, nil)
	return b.pit
}

// swamped is a robot with far too much work in a pit with one bench, a spare and two
// people, at an event that grants a postponement.
func swamped(t *testing.T) *pit {
	p := newPit(t)
	e := p.s.Event().EventFields
	e.PostponeSec = 20 * 60
	p.captain(board.EventSet{EventFields: e})
	p.station("bench 1", board.StationBench, 1)
	m := board.SkillMechanical
	ada, ben := p.person("Ada", m), p.person("Ben", m)
	r := p.heavy("Bramble", 1, ada)
	p.open(r, ada)
	rail := p.stock("rail", 1)
	for _, name := range []string{"Swap the left rail", "Swap the right rail", "Swap the belt"} {
		mend := fix(30, 50, m)
		mend.Name = "mend it"
		job := p.job(board.JobFields{Robot: r, Name: name, Fixes: []board.Fix{using(fix(20, 30, m), rail), mend}})
		p.captain(board.JobAssign{Job: job, People: []board.PersonID{ben}})
	}
	p.job(board.JobFields{Robot: r, Name: "Polish the shell", Triage: board.Could, Fixes: []board.Fix{fix(5, 8, m)}})
	p.calledAt(r, p.now.Add(40*time.Minute))
	return p
}

func TestAPartThatIsGoneIsBorrowedAndTheTimeForItIsAskedFor(t *testing.T) {
	p := newPit(t)
	e := p.s.Event().EventFields
	e.PostponeSec = 20 * 60
	p.captain(board.EventSet{EventFields: e})
	p.station("bench 1", board.StationBench, 2)
	m := board.SkillMechanical
	ada := p.person("Ada", m)
	r := p.heavy("Bramble", 1, ada)
	p.open(r, ada)
	p.job(board.JobFields{Robot: r, Name: "Swap the rail", Fixes: []board.Fix{using(fix(20, 30, m), p.stock("rail", 0))}})
	for _, name := range "abcdefghijkl" {
		p.job(board.JobFields{Robot: r, Name: "Polish " + string(name), Triage: board.Could, Fixes: []board.Fix{fix(5, 8, m)}})
	}
	p.calledAt(r, p.now.Add(32*time.Minute))

	list := onlyList(t, p)
	require.Equal(t, 0, list.Ready)
	best := list.List[0]
	require.Equal(t, "Borrow a spare rail for job 1, Swap the rail and ask for the postponement of 20 min for Bramble", best.Text)
	require.Greater(t, best.Gain, 30)
	alone := find(t, list.List, func(r forecast.Remedy) bool { return r.Text == "Borrow a spare rail for job 1, Swap the rail" })
	require.Less(t, alone.Gain, best.Gain)
	for _, r := range list.List {
		require.NotContains(t, r.Text, "one more person", "it adds nothing to the rail alone")
	}
}

// What was begun and stopped blocks the signature: it is left as it is, by someone who
// answers for it.
func TestWorkThatWasBegunAndIsNoMustMayBeLeftAsItIs(t *testing.T) {
	p := newPit(t)
	p.station("bench 1", board.StationBench, 2)
	m := board.SkillMechanical
	ada := p.person("Ada", m)
	r := p.heavy("Bramble", 1, ada)
	p.open(r, ada)
	begun := p.job(board.JobFields{Robot: r, Name: "Straighten the rail", Triage: board.Should, Fixes: []board.Fix{fix(30, 40, m)}})
	p.by(ada, board.JobStart{Job: begun})
	p.wait(time.Minute)
	p.by(ada, board.JobHold{Job: begun, Why: board.HoldStation, Text: "the press is lent out"})
	p.job(board.JobFields{Robot: r, Name: "Swap the belt", Fixes: []board.Fix{fix(10, 14, m)}})
	p.calledAt(r, p.now.Add(40*time.Minute))

	best := onlyList(t, p).List[0]
	require.Equal(t, "Leave job 1, Straighten the rail as it is", best.Text)
	for _, w := range best.Do {
		command, refusal := board.Decode(w.Do, w.With)
		require.Nil(t, refusal)
		p.captain(command)
	}
	require.Equal(t, board.JobDeferred, p.s.Jobs[begun].State)
	require.Greater(t, p.ready("Bramble"), 7)
}

func TestARobotThatIsClosedUpTooLateMayAskForThePostponement(t *testing.T) {
	p := newPit(t)
	e := p.s.Event().EventFields
	e.PostponeSec = 10 * 60
	p.captain(board.EventSet{EventFields: e})
	ada := p.person("Ada", board.SkillMechanical)
	r := p.light("Sprat", 1, ada)
	p.open(r, ada)
	p.job(board.JobFields{Robot: r, Name: "Polish the shell", Triage: board.Could, Fixes: []board.Fix{fix(5, 8, board.SkillMechanical)}})
	p.calledAt(r, p.now.Add(4*time.Minute))
	p.by(ada, board.RobotCloseUp{Robot: r})
	require.Less(t, p.ready("Sprat"), 8)

	list := onlyList(t, p)
	require.Len(t, list.List, 1)
	require.Equal(t, "Ask for the postponement of 10 min for Sprat", list.List[0].Text)
	require.Equal(t, 10, list.List[0].Then)
}

func TestARemedyIsAcceptedAndHelpsAsTheListSays(t *testing.T) {
	t.Parallel()
	var last forecast.Remedy
	for k, r := range onlyList(t, swamped(t)).List {
		require.Equal(t, k+1, r.Rank)
		if k > 0 {
			require.LessOrEqual(t, r.Gain, last.Gain, "the best is first")
		}
		last = r
		p := swamped(t)
		for _, w := range r.Do {
			command, refusal := board.Decode(w.Do, w.With)
			require.Nil(t, refusal, r.Text)
			p.captain(command)
		}
		require.InDelta(t, r.Then, p.ready("Bramble"), 1, r.Text)
	}
	require.NotEmpty(t, last.Text)
}

func onlyList(t *testing.T, p *pit) forecast.LeaveOff {
	t.Helper()
	lists := p.make().LeaveOff
	require.Len(t, lists, 1)
	return lists[0]
}

// ready is on how many of 10 days the robot is ready for its call.
func (p *pit) ready(robot string) int {
	p.t.Helper()
	c := p.chance(robot)
	require.NotNil(p.t, c.Ready)
	return *c.Ready
}

func (p *pit) chance(robot string) forecast.Chance {
	p.t.Helper()
	return find(p.t, p.make().Chances, func(c forecast.Chance) bool { return p.s.Robots[c.Robot].Name == robot })
}
