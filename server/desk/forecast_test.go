package desk

import (
	"fmt"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// byStock derives a noun from every spare.
func byStock(s board.State, _ board.Moment, seed uint64) Derived {
	all := map[board.Key][]byte{}
	for id, n := range s.Stocks {
		if !n.Retired {
			all[board.KeyOf("left", id)] = fmt.Appendf(nil, `{"left":%d,"seed":%d}`, n.Count, seed)
		}
	}
	return Derived{Nouns: all}
}

func awaitForecast() {
	time.Sleep(2 * forecastGather)
	synctest.Wait()
}

func TestAForecastSendsOnlyWhatChanged(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{Forecast: byStock, Seed: 7})
		tyre := board.StockID(p.made(p.captain(board.StockAdd{StockFields: board.StockFields{Name: "tyre", Count: 4}})))
		awaitForecast()
		f := p.join("", 0)
		m := next(t, f)
		require.Equal(t, []string{"board", "forecast"}, kinds(m))
		first := m[1]
		require.True(t, first.Whole)
		require.Len(t, first.Put, 2)
		require.Equal(t, p.state().Rev, first.Of)
		require.Equal(t, p.d.View().Epoch, first.Epoch)
		require.JSONEq(t, `{"left":4,"seed":7}`, string(first.Put[board.KeyOf("left", tyre)]))
		require.Equal(t, string(p.d.Forecast().Data), string(p.d.derived.Load().frame(true).Data))

		p.ok(p.asBen(), board.StockCount{Stock: tyre, Count: 3})
		awaitForecast()
		m = next(t, f)
		require.Equal(t, []string{"patches", "forecast"}, kinds(m))
		require.False(t, m[1].Whole)
		require.Equal(t, first.Seq+1, m[1].Seq)
		require.Equal(t, []board.Key{board.KeyOf("left", tyre)}, sortedKeys(m[1].Put))

		p.captain(board.StockRetire{Stock: tyre})
		awaitForecast()
		m = next(t, f)
		require.Empty(t, m[1].Put)
		require.Equal(t, []board.Key{board.KeyOf("left", tyre)}, m[1].Del)

		p.note("changes no spare")
		awaitForecast()
		require.Equal(t, []string{"patches"}, kinds(next(t, f)), "what says nothing new is not sent")
	})
}

func TestAForecastThatWasNotTakenIsFollowedByAWholeOne(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{Forecast: byStock})
		tyre := board.StockID(p.made(p.captain(board.StockAdd{StockFields: board.StockFields{Name: "tyre", Count: 4}})))
		awaitForecast()
		f := p.join("", 0)
		next(t, f)
		for _, id := range []board.StockID{p.blade, tyre} {
			p.ok(p.asBen(), board.StockCount{Stock: id, Count: 1})
			awaitForecast()
		}
		m := next(t, f)
		require.Equal(t, []string{"patches", "forecast"}, kinds(m), "the newest wins")
		require.True(t, m[1].Whole)
		require.Len(t, m[1].Put, 2)
	})
}

func TestManyChangesMakeOneForecast(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var made atomic.Int64
		p := newPit(t, Options{Forecast: func(s board.State, at board.Moment, seed uint64) Derived {
			made.Add(1)
			return byStock(s, at, seed)
		}})
		awaitForecast()
		before := made.Load()
		for i := range 20 {
			p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: i})
		}
		awaitForecast()
		require.Equal(t, before+1, made.Load())
		require.Equal(t, p.state().Rev, p.d.derived.Load().of)
	})
}

func TestTimeAloneMakesAForecastEveryTenSeconds(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{Forecast: func(_ board.State, at board.Moment, _ uint64) Derived {
			return Derived{Nouns: map[board.Key][]byte{"clock/now": fmt.Appendf(nil, `{"at":%q}`, at)}}
		}})
		awaitForecast()
		seq, rev := p.d.derived.Load().seq, p.state().Rev
		time.Sleep(6 * forecastEvery)
		synctest.Wait()
		require.Equal(t, seq+6, p.d.derived.Load().seq)
		require.Equal(t, rev, p.state().Rev, "the board's revision is the journal's alone")
	})
}

func TestASlowForecastDelaysNoCommand(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		begun, finish := make(chan struct{}, 100), make(chan struct{})
		p := newPit(t, Options{Forecast: func(s board.State, at board.Moment, seed uint64) Derived {
			begun <- struct{}{}
			<-finish
			return byStock(s, at, seed)
		}})
		<-begun
		for i := range 50 {
			p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: i})
		}
		require.Nil(t, p.d.Forecast())
		close(finish)
		awaitForecast()
		require.Equal(t, p.state().Rev, p.d.derived.Load().of, "the newest state follows")
	})
}

func TestAForecastThatFailsLeavesTheBoardAndTheLastForecast(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var bad atomic.Pointer[string]
		p := newPit(t, Options{Forecast: func(s board.State, at board.Moment, seed uint64) Derived {
			fault := bad.Load()
			switch {
			case fault == nil:
				return byStock(s, at, seed)
			case *fault == "panic":
				panic("a plan of no jobs")
			}
			return Derived{Nouns: map[board.Key][]byte{"left/x": []byte(`{"left":`)}}
		}})
		awaitForecast()
		last := p.d.Forecast()
		for i, fault := range []string{"panic", "no JSON"} {
			bad.Store(&fault)
			p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: 9 + i})
			awaitForecast()
			require.Same(t, last, p.d.Forecast(), fault)
		}
		bad.Store(nil)
		p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: 8})
		awaitForecast()
		require.Contains(t, string(p.d.Forecast().Data), `"left":8`)
	})
}

// planning proposes a plan of every open job, with the first of the roster on it,
// while nobody follows one that names it; and says what byStock says.
func planning(s board.State, at board.Moment, seed uint64) Derived {
	made := byStock(s, at, seed)
	c := board.PlanReplace{}
	known := true
	for id := range s.Jobs {
		_, ok := s.Follow().Task(id)
		known = known && ok
		c.Tasks = append(c.Tasks, board.PlanTask{Job: id, Told: board.Told{StartAt: at}, EndAt: at})
	}
	if !known {
		key := s.Follow().Key()
		made.Own = []Own{{Command: c, Seen: map[board.Key]board.Rev{key: s.Follow().V}}}
	}
	return made
}

func (p *pit) newJob(name string) board.JobID {
	p.t.Helper()
	fix := board.Fix{Name: "swap", Way: board.WaySwap, LikelySec: 60, BadSec: 120, Hands: []board.Skill{board.SkillAny}, Station: board.StationNone, Where: board.OffRobot}
	return board.JobID(p.made(p.captain(board.JobAdd{JobFields: board.JobFields{Robot: p.moth, Name: name, Triage: board.Should, Fixes: []board.Fix{fix}}})))
}

func TestTheDeskGivesTheCommandThatAForecastCameTo(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{Forecast: planning})
		awaitForecast()
		f := p.join("", 0)
		next(t, f)
		job := p.newJob("mend it")
		awaitForecast()
		follow := p.state().Follow()
		require.Len(t, follow.Tasks, 1)
		require.Equal(t, job, follow.Tasks[0].Job)
		require.Equal(t, board.FollowBoard, follow.By)
		line := p.line(p.state().Rev)
		require.Equal(t, "plan.replace", line.Do)
		require.Equal(t, board.RoleSystem, line.Role)
		require.Equal(t, []string{"patches"}, kinds(next(t, f)), "the forecast itself said nothing new")

		rev := p.state().Rev
		time.Sleep(3 * forecastEvery)
		synctest.Wait()
		require.Equal(t, rev, p.state().Rev, "once is enough")

		again := p.again(Options{Forecast: planning})
		awaitForecast()
		require.Equal(t, follow, again.state().Follow(), "a restart changes nothing of it")
	})
}

func TestAPlanThatSomeoneElseReplacedMeanwhileIsNotOverwritten(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		begun, finish := make(chan struct{}, 100), make(chan struct{}, 100)
		var slow atomic.Bool
		p := newPit(t, Options{Forecast: func(s board.State, at board.Moment, seed uint64) Derived {
			if slow.Load() {
				begun <- struct{}{}
				<-finish
			}
			return planning(s, at, seed)
		}})
		awaitForecast()
		slow.Store(true)
		job := p.newJob("mend it")
		awaitForecast()
		<-begun
		slow.Store(false)
		p.captain(board.PlanReplace{Tasks: []board.PlanTask{{Job: job, Told: board.Told{Off: true}}}})
		finish <- struct{}{}
		awaitForecast()
		require.Equal(t, board.FollowPerson, p.state().Follow().By)
	})
}
