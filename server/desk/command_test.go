package desk

import (
	"context"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

// gate lets a test hold the desk inside a commit's metric, while commands queue
// up behind it. It works inside a synctest bubble.
type gate struct {
	shut    atomic.Bool
	open    chan struct{}
	commits []int // commands in each
}

func (g *gate) metrics() Metrics {
	g.open = make(chan struct{})
	return Metrics{Commit: func(_ float64, n int) {
		g.commits = append(g.commits, n)
		if g.shut.CompareAndSwap(true, false) {
			<-g.open
		}
	}}
}

// behind holds the desk in the commit of one command, lets the requests wait
// behind it in their order, and gives their answers.
func (g *gate) behind(p *pit, requests ...Request) []Answer {
	g.shut.Store(true)
	go p.do(p.request(p.asAda(), board.NoteAdd{Text: "the desk is busy"}))
	synctest.Wait()
	answers := make([]Answer, len(requests))
	for i, r := range requests {
		go func() { answers[i] = p.do(r) }()
		synctest.Wait()
	}
	g.open <- struct{}{}
	synctest.Wait()
	return answers
}

func TestCommandsThatWaitGoInOneCommitEachWithItsAnswer(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		rev, done := p.state().Rev, len(g.commits)
		answers := g.behind(p,
			p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 5}),
			p.request(p.asBen(), board.StockCount{Stock: "no such", Count: 5}),
			p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 4}),
			p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 4}),
			p.request(p.asAda(), board.StockUse{Stock: p.blade, Count: 1}),
		)
		require.Equal(t, []int{1, 3}, g.commits[done:])
		require.Equal(t, rev+2, answers[0].Rev)
		require.Equal(t, board.CodeUnknown, answers[1].Refusal.Code)
		require.Equal(t, rev+3, answers[2].Rev)
		require.NotNil(t, answers[3].Refusal, "each sees the effect of those before it")
		require.Equal(t, rev+4, answers[4].Rev)
		require.Zero(t, p.state().Stocks[p.blade].Count)
	})
}

func TestALongQueueIsCutIntoGroups(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		done := len(g.commits)
		many := make([]Request, groupCommands+4)
		for i := range many {
			many[i] = p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: i})
		}
		g.behind(p, many...)
		require.Equal(t, []int{1, groupCommands, 4}, g.commits[done:])

		done = len(g.commits)
		long := many[:120]
		for i := range long {
			long[i] = p.request(p.asBen(), board.NoteAdd{Text: strings.Repeat("日", 2000)})
		}
		g.behind(p, long...)
		groups := g.commits[done:]
		require.Len(t, groups, 3, "by bytes too")
		require.Equal(t, 120, groups[1]+groups[2])
		last, err := p.d.Store().Journal(uint64(p.state().Rev-1), 1)
		require.NoError(t, err)
		line := len(last[0].Data)
		require.Equal(t, (groupBytes+line-1)/line, groups[1])
	})
}

func TestAFaultOfTheBoardsOwnTakesNothingDown(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		rev := p.state().Rev
		q := &request{Request: p.request(p.asBen(), board.NoteAdd{Text: "x"}), answer: make(chan Answer, 1)} // no command: Apply panics
		p.d.requests <- q
		a := <-q.answer
		require.Equal(t, board.CodeState, a.Refusal.Code)
		require.Equal(t, rev, p.state().Rev)
		p.note("it goes on")
	})
}

func TestNothingIsSeenBeforeItIsOnDisk(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var p *pit
		var f *Follower
		looked := false
		p = newPit(t, Options{Metrics: Metrics{Commit: func(float64, int) {
			if f == nil {
				return
			}
			looked = true // after the commit, before anyone is told
			require.Equal(t, 2, p.state().Stocks[p.blade].Count)
			ctx, cancel := context.WithCancel(t.Context())
			cancel()
			_, err := f.Next(ctx)
			require.ErrorIs(t, err, context.Canceled)
		}}})
		follower := p.join("", 0)
		next(t, follower)
		f = follower
		p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: 7})
		f = nil
		require.True(t, looked)
		require.Equal(t, 7, p.state().Stocks[p.blade].Count)
	})
}

func TestARepeatedIDGetsItsFirstAnswerAndChangesNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		use := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1})
		first := p.accepted(use)
		p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: 9})
		require.Equal(t, first, p.accepted(use))
		require.Equal(t, 9, p.state().Stocks[p.blade].Count)

		spaced := use
		spaced.With = append([]byte("  "), use.With...)
		require.Equal(t, first, p.accepted(spaced), "spacing is not another command")

		twice := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1})
		answers := g.behind(p, twice, twice, twice)
		require.Equal(t, answers[0], answers[1], "one in the same group waits on the first")
		require.Equal(t, answers[0], answers[2])
		require.Nil(t, answers[0].Refusal)
		require.Equal(t, 8, p.state().Stocks[p.blade].Count)

		after := p.again(Options{})
		require.Equal(t, first, after.accepted(use), "also after a restart")
		require.Equal(t, 8, after.state().Stocks[p.blade].Count)
	})
}

func TestAnIDUsedForSomethingElseIsRefused(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		use := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1})
		other := use
		other.Actor = p.asAda()
		body := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 2})
		body.ID = use.ID
		saw := use
		saw.Seen = map[board.Key]board.Rev{board.KeyOf(board.KindStock, p.blade): 1}
		when := use
		when.At = p.d.Now()

		answers := g.behind(p, use, other, body)
		require.Nil(t, answers[0].Refusal)
		require.Equal(t, board.CodeIDReused, answers[1].Refusal.Code)
		require.Equal(t, board.CodeIDReused, answers[2].Refusal.Code)
		for _, r := range []Request{other, body, saw, when} {
			p.refused(r, board.CodeIDReused)
		}
		require.Equal(t, answers[0], p.accepted(use))
		require.Equal(t, 1, p.state().Stocks[p.blade].Count)
	})
}

func TestARefusalIsNotRemembered(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		use := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 3})
		p.refused(use, board.CodeBadField)
		answers := g.behind(p, use, p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 3}), use)
		require.NotNil(t, answers[0].Refusal)
		require.Nil(t, answers[2].Refusal, "judged again, in the same group too")
		require.Zero(t, p.state().Stocks[p.blade].Count)
	})
}

func TestAnIDFromBeforeTheWindowIsRefused(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		r := p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 3})
		week := -store.KeepIDs
		r.ID = newCommandID(p.d.Now().Add(week - time.Millisecond))
		p.refused(r, board.CodeTooLate)
		require.Equal(t, 2, p.state().Stocks[p.blade].Count)
		r.ID = newCommandID(p.d.Now().Add(week))
		p.accepted(r)
	})
}

func TestAStaleRefusalCarriesTheNounAsItStands(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		f := p.join("", 0)
		next(t, f)
		key := board.KeyOf(board.KindStock, p.blade)
		r := p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 3})
		r.Seen = map[board.Key]board.Rev{key: 1}
		r.Follower = f
		a := p.refused(r, board.CodeStale)
		is, _ := p.state().Get(key)
		require.Equal(t, key, a.Refusal.Now)
		require.Equal(t, is, a.Entity)
		m := next(t, f)
		require.Equal(t, []string{"refused"}, kinds(m))
		require.Equal(t, r.ID.String(), m[0].ID)
		require.JSONEq(t, string(board.Encode(is)), string(m[0].Entity))
	})
}

func TestACommandThatCannotBeReadNeverReachesTheDesk(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		results := map[string]int{}
		p := newPit(t, Options{Metrics: Metrics{Command: func(do, result string) { results[do+" "+result]++ }}})
		rev := p.state().Rev
		good := p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 3})
		for _, with := range []string{`{"stock":"x","count":1,"more":2}`, `{"stock":"x","stock":"y"}`, `{"stock":`, `[]`} {
			r := good
			r.With = []byte(with)
			p.refused(r, board.CodeMalformed)
		}
		r := good
		r.Do = "stock.eat"
		p.refused(r, board.CodeUnknown)
		require.Equal(t, rev, p.state().Rev)
		require.Equal(t, 4, results["stock.count malformed"])
		require.Equal(t, 1, results["unknown unknown"], "a made-up name is no label")
		p.accepted(good)
	})
}

func TestWhoGivesUpWaitingGetsNoAnswerAndMayAskAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		g.shut.Store(true)
		r := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1})
		ctx, cancel := context.WithCancel(t.Context())
		gone := make(chan error)
		go func() {
			_, err := p.d.Do(ctx, r)
			gone <- err
		}()
		synctest.Wait()
		cancel()
		require.ErrorIs(t, <-gone, context.Canceled)
		g.open <- struct{}{}
		p.accepted(r)
		require.Equal(t, 1, p.state().Stocks[p.blade].Count)
	})
}

func TestSecretsAreWrittenWithTheirCommandOrNotAtAll(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		claim := p.request(board.Itself(), board.PersonClaim{Person: p.ben, Role: board.RoleCrew})
		claim.Secrets = []store.KV{{Key: "pin/ben", Value: []byte("hash one")}}
		claim.Sessions = []store.KV{{Key: "token one", Value: []byte("ben")}}
		p.accepted(claim)
		second := p.request(board.Itself(), board.PersonClaim{Person: p.ben, Role: board.RoleCrew})
		second.Secrets = []store.KV{{Key: "pin/ben", Value: []byte("hash two")}}
		p.refused(second, board.CodeTaken)

		snap, err := p.d.Store().Load(0)
		require.NoError(t, err)
		require.Equal(t, map[string][]byte{"pin/ben": []byte("hash one")}, snap.Secrets)
		require.Equal(t, map[string][]byte{"token one": []byte("ben")}, snap.Sessions)
		for _, n := range p.state().Nouns() {
			require.NotContains(t, string(board.Encode(n)), "hash one")
		}
	})
}

func TestTheJournalTellsTheNounsBeforeAndAfter(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		key := board.KeyOf(board.KindStock, p.blade)
		was, _ := p.state().Get(key)
		r := p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 6})
		a := p.accepted(r)
		is, _ := p.state().Get(key)
		line := p.line(a.Rev)
		require.Equal(t, r.ID.String(), line.ID)
		require.Equal(t, p.ben, line.By)
		require.Equal(t, board.RoleCrew, line.Role)
		require.Equal(t, "stock.count", line.Do)
		require.JSONEq(t, string(r.With), string(line.With))
		require.JSONEq(t, string(board.Encode(was)), string(line.Was[key]))
		require.JSONEq(t, string(board.Encode(is)), string(line.Put[key]))
	})
}
