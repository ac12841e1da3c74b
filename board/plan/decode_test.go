package plan

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board/random"
)

// project makes n tasks without people or deadline, with up to 3 successors
// each and 4 pools, in the manner of the single-mode instances of testdata/psplib.
func project(n int, seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 3))
	p := Problem{Groups: []Group{{DeadlineSec: NoDeadline}}, Tasks: make([]Task, n)}
	for range 4 {
		p.Pools = append(p.Pools, Pool{Capacity: 10 + r.IntN(15)})
	}
	for i := range p.Tasks {
		for range min(i, 1+r.IntN(2)) {
			p.Tasks[i].After = append(p.Tasks[i].After, max(0, i-1-r.IntN(10)))
		}
		w := Way{DurationSec: int32(1 + r.IntN(10)), Place: Off}
		for k := range p.Pools {
			if r.IntN(2) == 0 {
				w.Needs = append(w.Needs, Need{k, 1 + r.IntN(10)})
			}
		}
		p.Tasks[i].Ways = []Way{w}
	}
	return p
}

// pit is project with people, rooms, deadlines, two ways a task and stock.
func pit(n int, seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 4))
	p := project(n, seed)
	p.Groups = nil
	for range 4 {
		p.Groups = append(p.Groups, Group{Room: 3, DeadlineSec: int32(n + r.IntN(3*n))})
	}
	for k := range 8 {
		p.People = append(p.People, Person{Skills: SkillSet(1 + k%3), Away: []Window{{int32(10 * k), int32(10*k + 5)}}})
	}
	p.Stocks = []Stock{{n / 4}}
	for i := range p.Tasks {
		t := &p.Tasks[i]
		t.Group, t.Grade = r.IntN(4), Grade(r.IntN(3))
		quick := t.Ways[0]
		quick.Team, quick.Place = []SkillSet{SkillSet(r.IntN(4)), 0}, In
		quick.Uses = []Use{{0, 1}}
		slow := quick
		slow.Uses, slow.DurationSec = nil, 2*quick.DurationSec
		t.Ways = []Way{quick, slow}
	}
	for i := range 3 {
		p.Tasks[i].Running = &Running{Way: 1, People: []int{i}, LeftSec: int32(3 + i)}
	}
	return p
}

func TestDecodingAndSearchingDoNotAllocate(t *testing.T) {
	for _, p := range []Problem{project(60, 1), pit(60, 1)} {
		s := newSearch(compile(&p), 1<<30, 1)
		s.goal = Score{NotReady: -1}
		s.firstPass()
		s.breed.run(s.d.starts + 200*int64(len(p.Tasks)))
		require.Zero(t, testing.AllocsPerRun(200, func() { s.step() }))
		require.Zero(t, testing.AllocsPerRun(20, s.restart))
		require.Zero(t, testing.AllocsPerRun(20, func() { s.breed.lateChild(0); s.breed.earlyChild(0) }))
	}
}

func TestJustificationOfWorkWithoutTeamsIsNeverWorse(t *testing.T) {
	for seed := range uint64(100) {
		p := project(40, seed)
		s := newSearch(compile(&p), 1<<30, seed)
		s.list.sample(s.try.list, &s.r)
		s.ways.quickest(s.try.way, true, &s.r)
		s.d.forward(&s.try, nil)
		before := s.d.out.score
		s.d.justifyRight(s.try.list)
		s.list.byStart(s.try.list, s.d.out.startSec)
		s.d.forward(&s.try, nil)
		require.LessOrEqual(t, s.d.out.score.Compare(before), 0, "seed %d: %+v after %+v", seed, s.d.out.score, before)
	}
}

func TestARightJustifiedScheduleIsAPlanWithTheSameScore(t *testing.T) {
	for seed := range uint64(40) {
		p := pit(40, seed)
		m := compile(&p)
		s := newSearch(m, 1<<30, seed)
		s.list.sample(s.try.list, &s.r)
		s.ways.quickest(s.try.way, seed%2 == 0, &s.r)
		s.forgetTeams()
		s.d.forward(&s.try, &s.r)
		forward := append([]int32(nil), s.d.out.startSec...)
		s.d.justifyRight(s.try.list)
		moved := false
		for i, start := range s.d.out.startSec {
			require.GreaterOrEqual(t, start, forward[i])
			require.True(t, !m.tasks[i].running || start == 0)
			moved = moved || start > forward[i]
			if s.d.out.way[i] == skip { // stays where it was for the check: when it ends is not its own matter
				s.d.out.startSec[i] = afterPreds(m, &s.d.out, i)
				s.d.out.finishSec[i] = s.d.out.startSec[i]
			}
		}
		require.True(t, moved)
		s.best.copyFrom(&s.d.out)
		require.NoError(t, Check(p, m.answer(s, &s.best)))
	}
}

func afterPreds(m *model, s *schedule, i int) (at int32) {
	for _, p := range m.tasks[i].preds {
		at = max(at, s.finishSec[p])
	}
	return at
}

func TestListsKeepEveryTaskAfterThoseItWaitsFor(t *testing.T) {
	p := project(50, 7)
	m := compile(&p)
	r := random.Source(7)
	l, list := newLister(m), make([]int32, 50)
	ordered := func() {
		t.Helper()
		place := make([]int, len(list))
		for i := range place {
			place[i] = -1
		}
		for i, j := range list {
			require.Equal(t, -1, place[j], "twice in the list")
			place[j] = i
			for _, a := range m.tasks[j].preds {
				require.GreaterOrEqual(t, place[a], 0)
			}
		}
	}
	l.latestFinish(list)
	ordered()
	for range 200 {
		l.perturb(list, &r)
		ordered()
	}
	before := append([]int32(nil), list...)
	l.sample(list, &r)
	ordered()
	require.NotEqual(t, before, list)
}

// called is pit with work that some ways call.
func called(n int, seed uint64) Problem {
	p := pit(n, seed)
	for i := range p.Tasks {
		if a := p.Tasks[i].After; len(a) > 0 && i%3 == 0 && p.Tasks[i].Running == nil {
			p.Tasks[a[0]].Ways[0].Calls = append(p.Tasks[a[0]].Ways[0].Calls, i)
		}
	}
	return p
}

func sampled(p *Problem, seed uint64) *search {
	s := newSearch(compile(p), 1<<30, seed)
	s.list.sample(s.try.list, &s.r)
	s.ways.quickest(s.try.way, true, &s.r)
	s.forgetTeams()
	return s
}

func TestKeepingTheHeadOfAListChangesNothing(t *testing.T) {
	for seed := range uint64(20) {
		p := called(30, seed)
		s := sampled(&p, seed)
		s.d.forward(&s.try, nil)
		s.got.copyFrom(&s.d.out)
		left := append([]int(nil), s.d.left...)
		for keep := range len(s.try.list) {
			require.True(t, s.d.forwardFrom(&s.try, &s.got, keep, nil, nil))
			require.Equal(t, s.got, s.d.out, "seed %d, %d kept", seed, keep)
			require.Equal(t, left, s.d.left)
		}
	}
}

func TestTheStockLeftIsWhatThePlacedWaysLeave(t *testing.T) {
	for seed := range uint64(40) {
		p := called(30, seed)
		s := sampled(&p, seed)
		for i := range s.try.way {
			if seed%2 == 0 && s.r.Chance(20) && s.m.tasks[i].grade == Must {
				s.try.way[i] = blocked
			}
		}
		s.d.forward(&s.try, &s.r)
		left := append([]int(nil), s.m.stock...)
		for i, w := range s.d.out.way {
			if w >= 0 {
				spend(left, s.m.tasks[i].ways[w].uses, 1)
			}
			if at := s.m.tasks[i]; w == blocked && len(at.callers) > 0 && s.m.called(int32(i), s.d.out.way) {
				require.True(t, slices.ContainsFunc(at.preds, func(a int32) bool { return s.d.out.way[a] == blocked }),
					"seed %d: task %d is called and could be done", seed, i)
			}
		}
		require.Equal(t, left, s.d.left, "seed %d", seed)
	}
}

func TestWhatIsSureIsNoWorseThanWhatComes(t *testing.T) {
	for seed := range uint64(60) {
		p := called(30, seed)
		s := sampled(&p, seed)
		worst := Score{Never: 1 << 30}
		require.True(t, s.d.forwardFrom(&s.try, nil, 0, &worst, &s.r))
		sure, is := s.d.sure, s.d.out.score
		require.LessOrEqual(t, sure.Never, is.Never)
		require.LessOrEqual(t, sure.NotReady, is.NotReady)
		require.LessOrEqual(t, sure.LateSec, is.LateSec)
		require.LessOrEqual(t, sure.ReadySec, is.ReadySec)
		require.Equal(t, [2]int{is.ShouldOff, is.CouldOff}, [2]int{sure.ShouldOff, sure.CouldOff})
	}
}

func TestAMustThatIsCalledTakesTheStockItNeeds(t *testing.T) {
	p := Problem{Groups: []Group{{Room: 1, DeadlineSec: 900}}, Stocks: []Stock{{2}}, Tasks: []Task{
		{Ways: []Way{{DurationSec: 60, Calls: []int{1}}}},
		{After: []int{0}, Ways: []Way{{DurationSec: 60, Uses: []Use{{0, 2}}}}},
	}}
	s := sampled(&p, 1)
	s.try.way[1] = blocked
	s.d.forward(&s.try, nil)
	require.Equal(t, []int16{0, 0}, s.d.out.way)
	require.Equal(t, []int{0}, s.d.left)
}

func TestATaskAsksFirstForThePeopleItWasToldOf(t *testing.T) {
	p := Problem{Groups: []Group{{Room: 2, DeadlineSec: 900}}, People: make([]Person, 3),
		Tasks: []Task{{Ways: []Way{{DurationSec: 60, Team: []SkillSet{0}}}, Follow: &Followed{People: []int{2}, StartSec: 999}}}}
	s := sampled(&p, 1)
	s.d.forward(&s.try, nil)
	require.Equal(t, uint64(1<<2), s.m.tasks[0].ways[0].teams[s.d.out.team[0]])
}

func BenchmarkSchedules(b *testing.B) {
	for _, n := range []int{30, 60, 120} {
		for name, p := range map[string]Problem{"project": project(n, 1), "pit": pit(n, 1)} {
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				s := newSearch(compile(&p), 1<<30, 1)
				s.firstPass()
				from := s.d.starts
				b.ReportAllocs()
				for b.Loop() {
					s.step()
				}
				schedules := float64(s.d.starts-from) / float64(n)
				b.ReportMetric(schedules/b.Elapsed().Seconds(), "schedules/s")
			})
		}
	}
}
