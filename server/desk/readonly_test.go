package desk

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

// crampedBytes is a size that the board's file soon reaches.
const crampedBytes = 512 << 10

// cram writes notes until the file can take no more, and gives the request that
// was not acknowledged.
func (p *pit) cram() Request {
	p.t.Helper()
	for range 1000 {
		r := p.request(p.asBen(), board.NoteAdd{Text: strings.Repeat("日", 2000)})
		if a := p.do(r); a.Refusal != nil {
			require.Equal(p.t, board.CodeReadOnly, a.Refusal.Code)
			return r
		}
	}
	p.t.Fatal("the file never fills up")
	return Request{}
}

func TestAFullFileMakesTheBoardReadOnlyAndAgainBringsItBack(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		readOnly := []bool{}
		p := newPit(t, Options{
			Store:   store.Options{BytesMost: crampedBytes},
			Metrics: Metrics{ReadOnly: func(is bool) { readOnly = append(readOnly, is) }},
		})
		p.open()
		job := p.running()
		done := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1})
		p.accepted(done)
		s := &screen{t: t}
		f := p.join("", 0)
		ended := make(chan error, 1)
		go func() { ended <- s.follow(f) }()
		lost := p.cram()
		synctest.Wait()

		// What was acknowledged stands, and nothing else.
		v := p.d.View()
		require.NotEmpty(t, v.ReadOnly)
		require.Equal(t, []bool{true}, readOnly)
		s.same(v)
		require.Equal(t, board.Work, p.power().State)
		p.refused(p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1}), board.CodeReadOnly)
		p.refused(lost, board.CodeReadOnly)
		p.accepted(done)
		require.Equal(t, 1, p.state().Stocks[p.blade].Count)
		m := next(t, p.join("", 0))
		require.Equal(t, []string{"board"}, kinds(m))
		time.Sleep(beatEvery)
		late := p.join("", 0)
		next(t, late)
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Equal(t, v.ReadOnly, next(t, late)[0].ReadOnly, "every beat says so")

		// Trying again while it cannot be copied, or the start cannot be written,
		// leaves all as it is.
		inTheWay := filepath.Join(p.d.o.Path+".new", "x")
		require.NoError(t, os.MkdirAll(inTheWay, 0o700))
		require.Error(t, p.d.Again(t.Context()))
		requireSameView(t, v, p.d.View())
		require.NoError(t, os.RemoveAll(filepath.Dir(inTheWay)))
		p.d.o.Store.FreeBytesLeast = 1 << 62
		require.ErrorIs(t, p.d.Again(t.Context()), store.ErrLowDisk)
		requireSameView(t, v, p.d.View())
		require.Empty(t, atOnce(t, late), "nobody hears of it")
		p.refused(lost, board.CodeReadOnly)
		p.accepted(done)

		// With room, the board comes back as its file has it.
		p.d.o.Store = store.Options{FreeBytesLeast: -1}
		require.NoError(t, p.d.Again(t.Context()))
		synctest.Wait()
		require.ErrorIs(t, <-ended, ErrRestored)
		require.Empty(t, p.d.View().ReadOnly)
		require.Equal(t, []bool{true, false}, readOnly)
		require.NotEqual(t, v.Epoch, p.d.View().Epoch)
		require.Equal(t, board.Unknown, p.power().State)
		require.Len(t, p.state().Tags, 1)
		require.Equal(t, board.JobHeld, p.state().Jobs[job].State)
		p.accepted(done)
		require.Equal(t, 1, p.state().Stocks[p.blade].Count)
		notes := len(p.state().Notes)
		a := p.accepted(lost)
		require.Equal(t, a, p.accepted(lost))
		require.LessOrEqual(t, len(p.state().Notes), notes+1)
		s2 := &screen{t: t}
		for _, m := range next(t, p.join(v.Epoch, v.State.Rev)) {
			s2.apply(m)
		}
		s2.same(p.d.View())
		require.NoError(t, p.d.Again(t.Context()), "on a board that can write it does nothing")
	})
}

func requireSameView(t *testing.T, want, is *View) {
	t.Helper()
	require.Equal(t, want.State.Rev, is.State.Rev)
	require.Equal(t, want.Epoch, is.Epoch)
	require.Equal(t, want.ReadOnly, is.ReadOnly)
	require.Equal(t, string(want.Snapshot().Data), string(is.Snapshot().Data))
}

func TestAGroupThatIsNotWrittenIsRefusedAsAWhole(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Store: store.Options{BytesMost: crampedBytes}, Metrics: g.metrics()})
		f := p.join("", 0)
		next(t, f)
		g.shut.Store(true)
		go p.note("the desk is busy")
		synctest.Wait()
		answers := make([]Answer, groupCommands-2)
		for i := range answers {
			r := p.request(p.asBen(), board.NoteAdd{Text: strings.Repeat("日", 2000)})
			if i%2 == 1 {
				r.With = []byte(`{"text":""}`) // refused by itself
			}
			go func() { answers[i] = p.do(r) }()
		}
		synctest.Wait()
		rev := p.state().Rev
		g.open <- struct{}{}
		synctest.Wait()
		for _, a := range answers {
			require.NotNil(t, a.Refusal)
			require.Equal(t, board.CodeReadOnly, a.Refusal.Code)
		}
		require.Equal(t, rev+1, p.state().Rev)
		require.Equal(t, []string{"patches", "beat"}, kinds(next(t, f)), "only what was written before")
	})
}

func TestAStoreThatBreaksElsewhereIsNoticed(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{Store: store.Options{BytesMost: crampedBytes}})
		require.Error(t, p.d.Store().SetSecrets(store.KV{Key: "large", Value: make([]byte, 2*crampedBytes)}))
		time.Sleep(beatEvery)
		synctest.Wait()
		require.NotEmpty(t, p.d.View().ReadOnly)
		require.NoError(t, p.d.Again(t.Context()))
		require.True(t, p.d.Store().Opening().Unclean, "the file was copied and examined")
		require.Empty(t, p.d.View().ReadOnly)
		p.note("it writes")
	})
}

func TestADiskNearlyFullIsSaidBeforeAnyoneAsks(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := emptyPit(t, Options{Store: store.Options{FreeBytesLeast: 1 << 62}})
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Contains(t, p.d.View().ReadOnly, "nearly full")
		p.refused(p.request(p.asAda(), board.PlaceAdd{PlaceFields: board.PlaceFields{Name: "bench", Kind: board.PlaceBench}}), board.CodeReadOnly)
		require.ErrorIs(t, p.d.Again(t.Context()), store.ErrLowDisk)
		require.Zero(t, p.state().Rev)
	})
}

func TestShutdownAnswersWhatWasTakenAndRefusesTheRest(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		computing := make(chan struct{})
		p := newPit(t, Options{Metrics: g.metrics(), Forecast: func(board.State, board.Moment, uint64) Derived {
			<-computing
			return Derived{}
		}})
		f := p.join("", 0)
		next(t, f)
		g.shut.Store(true)
		ask := func(text string) chan Answer {
			r := p.request(p.asBen(), board.NoteAdd{Text: text})
			r.Follower = f
			answer := make(chan Answer, 1)
			go func() { answer <- p.do(r) }()
			synctest.Wait()
			return answer
		}
		taken := ask("in its commit when the stop comes")
		stopped := make(chan struct{})
		go func() { p.stop(); close(stopped) }()
		synctest.Wait()
		waiting := ask("behind it")
		g.open <- struct{}{}
		a := <-taken
		require.Nil(t, a.Refusal)
		synctest.Wait()

		var first []string
		var end error
		for end == nil {
			var frames []*Frame
			frames, end = f.Next(t.Context())
			first = append(first, kinds(messages(t, frames))...)
		}
		require.ErrorIs(t, end, ErrRestarting)
		require.Equal(t, []string{"patches", "ack"}, first[:2], "acknowledgements leave before the end")
		b := <-waiting
		require.True(t, b.Refusal == nil || b.Refusal.Code == board.CodeRestarting)
		p.refused(p.request(p.asBen(), board.NoteAdd{Text: "later"}), board.CodeRestarting)
		_, err := p.d.Join(t.Context(), "", 0)
		require.ErrorIs(t, err, ErrRestarting)
		_, err = p.d.State(t.Context())
		require.ErrorIs(t, err, ErrRestarting)
		require.ErrorIs(t, p.d.Again(t.Context()), ErrRestarting)

		select {
		case <-stopped:
			t.Fatal("the desk did not wait for the forecast")
		default:
		}
		require.NoError(t, p.d.Store().Healthy(), "the file is closed last")
		close(computing)
		<-stopped
		require.ErrorIs(t, p.d.Store().Healthy(), store.ErrClosed)

		s, err := store.Open(p.d.o.Path, p.d.o.Store)
		require.NoError(t, err)
		require.False(t, s.Opening().Unclean, "the stop was clean")
		rev := p.state().Rev
		snap, err := s.Load(0)
		require.NoError(t, err)
		require.Equal(t, uint64(rev), snap.Rev)
		require.NoError(t, s.Close())
	})
}

func TestABoardThatCannotBeOpenedIsNotServed(t *testing.T) {
	path := t.TempDir() + "/board.db"
	require.NoError(t, os.WriteFile(path, []byte("not a board"), 0o600))
	_, err := New(Options{Path: path})
	require.ErrorIs(t, err, store.ErrDamaged)
}

func TestStateIsAnsweredByTheDesk(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		v, err := p.d.State(t.Context())
		require.NoError(t, err)
		require.Same(t, p.d.View(), v)
		g.shut.Store(true)
		go p.note("the desk is busy")
		synctest.Wait()
		ctx, cancel := context.WithTimeout(t.Context(), 2*time.Second)
		defer cancel()
		_, err = p.d.State(ctx)
		require.ErrorIs(t, err, context.DeadlineExceeded)
		g.open <- struct{}{}
		synctest.Wait()
	})
}
