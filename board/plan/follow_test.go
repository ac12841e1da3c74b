package plan_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/plan"
)

// following returns p with got as the plan people follow.
func following(p plan.Problem, got plan.Plan) plan.Problem {
	p.Tasks = append([]plan.Task(nil), p.Tasks...)
	for i, a := range got.Tasks {
		if a.State != plan.Blocked {
			p.Tasks[i].Follow = &plan.Followed{Skipped: a.State != plan.Kept, Way: max(a.Way, 0), People: a.People, StartSec: a.StartSec}
		}
	}
	return p
}

// withoutBlocked makes optional what cannot be done.
func withoutBlocked(p plan.Problem) plan.Problem {
	for {
		got := plan.Solve(p, 100, 1)
		if got.Score.Never == 0 {
			return p
		}
		for i, a := range got.Tasks {
			if a.State == plan.Blocked {
				p.Tasks[i].Grade = plan.Should
			}
		}
	}
}

func TestAPlanThatIsAsGoodAsCanBeIsKept(t *testing.T) {
	t.Parallel()
	kept := 0
	for seed := range uint64(16) {
		p := withoutBlocked(day(seededDraw(5000+seed), fullDay))
		first := plan.Solve(p, 100, 1)
		again := plan.Solve(following(p, first), 100, 2)
		require.NoError(t, plan.Check(following(p, first), again), "day %d", seed)
		if again.Score.Noticeably(first.Score) {
			continue
		}
		kept++
		require.True(t, again.Held, "day %d", seed)
		require.Zero(t, again.Score.ChangeMilli, "day %d", seed)
		for i := range first.Tasks {
			require.Equal(t, first.Tasks[i].Way, again.Tasks[i].Way, "day %d, task %d", seed, i)
			require.Equal(t, first.Tasks[i].StartSec, again.Tasks[i].StartSec, "day %d, task %d", seed, i)
		}
	}
	require.Greater(t, kept, 5)
}

func TestFollowingIsNeverNoticeablyWorse(t *testing.T) {
	t.Parallel()
	for seed := range uint64(12) {
		p := day(seededDraw(6000+seed), fullDay)
		first := plan.Solve(p, 60, 1)
		late := following(p, first)
		for g := range late.Groups {
			late.Groups[g].DeadlineSec /= 2
		}
		held := plan.Solve(late, 1, 1)
		more := plan.Solve(late, 200, 1)
		require.NoError(t, plan.Check(late, more))
		require.False(t, held.Score.Noticeably(more.Score), "day %d", seed)
	}
}

// Constructed by us.
func TestOnlyAStepPeopleNoticeReplacesThePlan(t *testing.T) {
	old := plan.Score{NotReady: 1, LateSec: 600, ShouldOff: 2, CouldOff: 3, ReadySec: 9000}
	change := func(f func(*plan.Score)) plan.Score { s := old; f(&s); return s }
	for name, c := range map[string]struct {
		is  plan.Score
		new bool
	}{
		"the same":                     {old, false},
		"a group more":                 {change(func(s *plan.Score) { s.NotReady--; s.LateSec = 5000 }), true},
		"a group less":                 {change(func(s *plan.Score) { s.NotReady++; s.LateSec = 0 }), false},
		"a minute less late":           {change(func(s *plan.Score) { s.LateSec -= 60; s.ShouldOff = 9 }), true},
		"59 s less late":               {change(func(s *plan.Score) { s.LateSec -= 59 }), false},
		"59 s later, one more kept":    {change(func(s *plan.Score) { s.LateSec += 59; s.ShouldOff-- }), true},
		"a minute later, one more":     {change(func(s *plan.Score) { s.LateSec += 60; s.ShouldOff-- }), false},
		"a could for a should":         {change(func(s *plan.Score) { s.ShouldOff++; s.CouldOff = 0 }), false},
		"a could more":                 {change(func(s *plan.Score) { s.CouldOff-- }), true},
		"ready an hour earlier in all": {change(func(s *plan.Score) { s.ReadySec -= 3600 }), false},
		"a must that can be done":      {plan.Score{NotReady: 9, LateSec: 9000}, false},
	} {
		require.Equal(t, c.new, c.is.Noticeably(old), name)
	}
}

// Constructed by us: P1 and P2 can both do either work.
const twoMenders = `group A 200/2
group B 200/2
person P1 M
person P2 M
a1 A must: mend 40 M
b1 B must: mend 40 M`

func follow(w *notation, name string, startMinutes int32, people ...int) {
	w.Tasks[w.tasks[name]].Follow = &plan.Followed{People: people, StartSec: startMinutes * 60}
}

func TestPeopleStayOnWhatTheyWereTold(t *testing.T) {
	for _, a := range []int{0, 1} {
		w := read(t, twoMenders)
		follow(w, "a1", 0, a)
		follow(w, "b1", 0, 1-a)
		got := plan.Solve(w.Problem, 200, 1)
		require.Equal(t, []int{a}, got.Tasks[0].People)
		require.Equal(t, []int{1 - a}, got.Tasks[1].People)
		require.Zero(t, got.Score.ChangeMilli)
	}
}

func TestWorkToStartWithinThreeMinutesKeepsItsPeople(t *testing.T) {
	text := `group A 200/2
group B 20/2
person P1 M,E
person P2 M
a1 A must: mend 40 M
b1 B must: solder 20 E`
	for _, c := range []struct{ start, notReady int }{{3, 1}, {4, 0}} {
		w := read(t, text)
		follow(w, "a1", int32(c.start), 0)
		got := plan.Solve(w.Problem, 500, 1)
		require.NoError(t, plan.Check(w.Problem, got))
		require.Equal(t, c.notReady, got.Score.NotReady, "told to start in %d min", c.start)
	}
}

func TestWorkGoesToOthersWhereThoseToldWillBeAwayBeforeItIsDone(t *testing.T) {
	for _, c := range []struct {
		awayFrom int32
		who      int
	}{{25, 1}, {30, 0}} {
		w := read(t, "group A 40/2\nperson P1 M\nperson P2 M\na1 A must: mend 30 M")
		w.People[0].Away = []plan.Window{{FromSec: c.awayFrom * 60, ToSec: 60 * 60}}
		follow(w, "a1", 0, 0)
		got := plan.Solve(w.Problem, 200, 1)
		require.NoError(t, plan.Check(w.Problem, got))
		require.Equal(t, []int{c.who}, got.Tasks[0].People, "away from minute %d", c.awayFrom)
		require.Zero(t, got.Score.NotReady)
	}
}

func TestFrozenWorkIsFirstInLine(t *testing.T) {
	w := read(t, `group A 10/2
group B 200/2
person P1 M
a1 A must: wash 10 M
b1 B must: mend 40 M`)
	follow(w, "b1", 2, 0)
	got := plan.Solve(w.Problem, 500, 1)
	require.Zero(t, got.Tasks[1].StartSec)
	require.Equal(t, int32(40*60), got.Tasks[0].StartSec)
}

// A change now counts one, in an hour and later a fifth, halfway 0.6.
func TestChangesCountLessTheFurtherTheyAreAway(t *testing.T) {
	for start, want := range map[int32]int64{0: 1000, 30: 600, 60: 200, 90: 200} {
		w := read(t, "group A 500/2\nperson P1 M\nperson P2 E\na1 A must: mend 10 M")
		w.Tasks[0].EarliestSec = start * 60
		follow(w, "a1", start, 1)
		got := plan.Solve(w.Problem, 10, 1)
		require.NoError(t, plan.Check(w.Problem, got))
		require.Equal(t, want, got.Score.ChangeMilli, "in %d min", start)
	}
}

func TestWorkStaysWithThePeopleAlreadyAtTheRobot(t *testing.T) {
	for _, at := range []int{0, 1} {
		w := read(t, `group A 200/2
group B 200/2
person P1 M
person P2 M
b0 B must running P1 10: strip 10 M
a0 A must running P2 10: strip 10 M
a1 A must after a0: mend 10 M
b1 B must after b0: mend 10 M`)
		w.Tasks[0].Running.People, w.Tasks[1].Running.People = []int{at}, []int{1 - at}
		got := plan.Solve(w.Problem, 1, 1)
		require.Equal(t, []int{1 - at}, got.Tasks[w.tasks["a1"]].People)
		require.Equal(t, []int{at}, got.Tasks[w.tasks["b1"]].People)
	}
}

// A wish that cannot be met in full still comes before who is at the robot.
func TestPeopleNamedComeBeforePeopleAlreadyThere(t *testing.T) {
	w := read(t, `group A 200/2
person P1 M
person P2 M
person P3 E
person P4 M
a0 A must running P4 10: strip 10 M
a1 A must after a0: wire 10 M,E`)
	w.Tasks[1].Assigned = []int{0, 1}
	got := plan.Solve(w.Problem, 300, 1)
	require.Less(t, got.Tasks[1].People[0], 2)
}

func TestPeopleWaitForTheirTurnWhileThePlanStands(t *testing.T) {
	w := read(t, `group A 200/2
group B 200/2
person P1 M
person P2 M
b0 B must running P2 30: strip 30 M
a1 A must: mend 10 M`)
	follow(w, "a1", 30, 1)
	got := plan.Solve(w.Problem, 300, 1)
	require.True(t, got.Held)
	require.Equal(t, []int{1}, got.Tasks[1].People)
	require.Equal(t, int32(30*60), got.Tasks[1].StartSec)
}

func TestNewWorkGoesIntoThePlanPeopleFollow(t *testing.T) {
	w := read(t, `group A 200/2
group B 200/2
person P1 M
person P2 M
a1 A must: mend 10 M
b1 B must: mend 10 M
b2 B should: wash 10 M`)
	follow(w, "a1", 10, 1)
	got := plan.Solve(w.Problem, 1, 1)
	require.NoError(t, plan.Check(w.Problem, got))
	require.True(t, got.Held)
	require.Equal(t, []int{1}, got.Tasks[0].People)
	require.Zero(t, got.Score.ShouldOff)
}

func TestAPlanThatTheStockNoLongerAllowsIsRepaired(t *testing.T) {
	w := read(t, `group A 200/2
group B 200/2
person P1 M
person P2 M
stock blade 1
a1 A must: swap 10 M blade | mend 40 M
b1 B must: swap 10 M blade | mend 40 M`)
	follow(w, "a1", 10, 0)
	follow(w, "b1", 10, 1)
	for seed := range uint64(5) {
		got := plan.Solve(w.Problem, 1, seed)
		require.NoError(t, plan.Check(w.Problem, got))
		require.Zero(t, got.Score.Never)
	}
}
