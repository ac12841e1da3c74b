package desk

import (
	"context"
	"crypto/sha256"
	"errors"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/anishathalye/porcupine"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// noon is the one moment of a history: the board's answers depend on it.
var noon = time.Date(2026, 5, 9, 12, 0, 0, 0, time.UTC)

// asked is a request of a history, told the outcome that its caller saw.
type asked struct {
	Request
	read bool // not a request: what View showed
}

type outcome struct {
	rev     board.Rev
	refusal string // code and sentence
	unknown bool   // the caller gave up waiting
}

// checker is a board with the ids done and a digest of its whole past.
type checker struct {
	state  board.State
	done   map[board.CommandID]board.Rev
	digest [32]byte
}

// linear is the board as porcupine tries it: its own pure function, one command
// after the other.
func linear(start board.State) porcupine.Model {
	return porcupine.Model{
		Init: func() any { return checker{state: start} },
		Step: func(state, input, output any) (bool, any) {
			return state.(checker).step(input.(asked), output.(outcome))
		},
		Equal: func(a, b any) bool { return a.(checker).digest == b.(checker).digest },
	}
}

func (c checker) step(in asked, out outcome) (bool, any) {
	if in.read {
		return out.rev == c.state.Rev, c
	}
	if rev, ok := c.done[in.ID]; ok {
		return out.unknown || out == outcome{rev: rev}, c
	}
	command, refusal := board.Decode(in.Do, in.With)
	if refusal != nil {
		return false, c
	}
	change, refusal := board.Apply(c.state, command, board.Ask{ID: in.ID, At: in.At, Seen: in.Seen}, in.Actor, board.MomentOf(noon))
	if refusal != nil {
		return out.unknown || out == outcome{refusal: said(refusal)}, c
	}
	if !out.unknown && out != (outcome{rev: change.Rev}) {
		return false, c
	}
	next := checker{state: c.state.With(change), done: map[board.CommandID]board.Rev{in.ID: change.Rev}}
	for id, rev := range c.done {
		next.done[id] = rev
	}
	next.digest = sha256.Sum256(append(c.digest[:], in.ID[:]...))
	return true, next
}

func said(bad *board.Refusal) string { return string(bad.Code) + ": " + bad.Sentence }

// history is what many callers asked of one desk, and when.
type history struct {
	start time.Time
	mu    sync.Mutex
	ops   []porcupine.Operation
}

func (h *history) now() int64 { return time.Since(h.start).Nanoseconds() }

func (h *history) add(client int, in asked, call int64, out outcome, end int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.ops = append(h.ops, porcupine.Operation{ClientId: client, Input: in, Call: call, Output: out, Return: end})
}

const forEver = int64(1) << 60

// callers is how many work at once, and each how much.
const (
	callers    = 8
	callerOps  = 30
	abandoners = 2 // callers of which one request's answer was not waited for
)

// work sends commands that get in each other's way, some twice, and reads.
func (h *history) work(p *pit, client int, seed uint64) {
	rng := rand.New(rand.NewPCG(seed, uint64(client)))
	last := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1})
	for n := range callerOps {
		switch rng.IntN(6) {
		case 0:
			last = p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: rng.IntN(6)})
		case 1, 2:
			last = p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1 + rng.IntN(3)})
		case 3:
			last = p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1})
			last.Seen = p.seen(board.KeyOf(board.KindStock, p.blade))
		case 4:
			call := h.now()
			rev := p.state().Rev
			h.add(client, asked{read: true}, call, outcome{rev: rev}, h.now())
			continue
		}
		if !h.send(p, client, last, client < abandoners && n == callerOps-1) {
			return
		}
	}
}

// send asks and notes what came back. One that is abandoned has an outcome that
// nobody knows: it may have been done at any time after.
func (h *history) send(p *pit, client int, r Request, abandon bool) bool {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	if abandon {
		go cancel()
	}
	call := h.now()
	a, err := p.d.Do(ctx, r)
	switch {
	case errors.Is(err, context.Canceled):
		h.add(client, asked{Request: r}, call, outcome{unknown: true}, forEver)
		return false
	case a.Refusal != nil:
		h.add(client, asked{Request: r}, call, outcome{refusal: said(a.Refusal)}, h.now())
	default:
		h.add(client, asked{Request: r}, call, outcome{rev: a.Rev}, h.now())
	}
	return true
}

func recorded(t *testing.T, p *pit, seed uint64) []porcupine.Operation {
	h := &history{start: time.Now()}
	var all sync.WaitGroup
	for client := range callers {
		all.Go(func() { h.work(p, client, seed) })
	}
	all.Wait()
	return h.ops
}

func TestWhatManyCallersSeeIsOneOrderOfTheBoardsOwnFunction(t *testing.T) {
	for seed := range uint64(6) {
		p := newPit(t, Options{Now: func() time.Time { return noon }})
		start := p.state()
		ops := recorded(t, p, seed)
		replay(t, start, ops, p)
		require.Equal(t, porcupine.Ok, porcupine.CheckOperationsTimeout(linear(start), ops, 20*time.Second), "seed %d", seed)

		// The check can fail: two acknowledged revisions exchanged, one answer made
		// up, a refusal turned into a success.
		for name, spoil := range map[string]func([]porcupine.Operation) bool{
			"exchanged": exchange, "made up": makeUp, "accepted after all": accept,
		} {
			bad := slices.Clone(ops)
			require.True(t, spoil(bad), name)
			require.Equal(t, porcupine.Illegal, porcupine.CheckOperationsTimeout(linear(start), bad, 20*time.Second), "%s, seed %d", name, seed)
		}
		p.stop()
	}
}

// replay applies what was acknowledged in the order of revisions and compares
// each answer and the end; and who was answered before another asked has the
// earlier revision.
func replay(t *testing.T, start board.State, ops []porcupine.Operation, p *pit) {
	t.Helper()
	byRev := map[board.Rev]porcupine.Operation{}
	for _, op := range ops {
		out, in := op.Output.(outcome), op.Input.(asked)
		if out.rev == 0 || in.read {
			continue
		}
		if first, ok := byRev[out.rev]; ok {
			require.Equal(t, first.Input.(asked).ID, in.ID, "one revision, two commands")
			if first.Call < op.Call {
				continue
			}
		}
		byRev[out.rev] = op
	}
	state := start
	for rev := start.Rev + 1; rev <= p.state().Rev; rev++ {
		op, ok := byRev[rev]
		if !ok { // its caller did not wait for the answer
			state = p.fromJournal(state, rev)
			continue
		}
		in := op.Input.(asked)
		command, _ := board.Decode(in.Do, in.With)
		change, refusal := board.Apply(state, command, board.Ask{ID: in.ID, Seen: in.Seen}, in.Actor, board.MomentOf(noon))
		require.Nil(t, refusal)
		require.Equal(t, rev, change.Rev)
		state = state.With(change)
	}
	require.Equal(t, state, p.state())
	for _, a := range byRev {
		for _, b := range byRev {
			if a.Return < b.Call {
				require.Less(t, a.Output.(outcome).rev, b.Output.(outcome).rev)
			}
		}
	}
}

func (p *pit) fromJournal(s board.State, rev board.Rev) board.State {
	p.t.Helper()
	line := p.line(rev)
	command, refusal := board.Decode(line.Do, line.With)
	require.Nil(p.t, refusal)
	id, _ := board.ParseCommandID(line.ID)
	change, refusal := board.Apply(s, command, board.Ask{ID: id}, board.Actor{Person: line.By, Role: line.Role}, line.At)
	require.Nil(p.t, refusal)
	return s.With(change)
}

// exchange gives two commands, of which one began when the other had ended, each
// other's revision.
func exchange(ops []porcupine.Operation) bool {
	for i, a := range ops {
		for j, b := range ops {
			outA, outB := a.Output.(outcome), b.Output.(outcome)
			if a.Input.(asked).read || b.Input.(asked).read || outA.rev == 0 || outB.rev <= outA.rev || a.Return >= b.Call {
				continue
			}
			ops[i].Output, ops[j].Output = outB, outA
			return true
		}
	}
	return false
}

func makeUp(ops []porcupine.Operation) bool {
	i := slices.IndexFunc(ops, func(op porcupine.Operation) bool { return op.Output.(outcome).rev > 0 })
	if i >= 0 {
		ops[i].Output = outcome{rev: 1_000_000}
	}
	return i >= 0
}

// accept turns a refusal into a copy of another command's revision.
func accept(ops []porcupine.Operation) bool {
	i := slices.IndexFunc(ops, func(op porcupine.Operation) bool { return op.Output.(outcome).refusal != "" })
	j := slices.IndexFunc(ops, func(op porcupine.Operation) bool {
		return op.Output.(outcome).rev > 0 && !op.Input.(asked).read
	})
	if i < 0 || j < 0 {
		return false
	}
	ops[i].Output = ops[j].Output
	return true
}

// TestJoiningInABurstLeavesNoGap has many devices join, leave and come back while
// many others command. Each copy stays gapless and ends as the board.
func TestJoiningInABurstLeavesNoGap(t *testing.T) {
	p := newPit(t, Options{})
	var commanding, following sync.WaitGroup
	var coming sync.Mutex // held by a device from leaving to being back
	staying := false
	screens := make([]*screen, 24)
	for device := range screens {
		s := &screen{t: t}
		screens[device] = s
		f := p.join("", 0)
		following.Go(func() {
			rng := rand.New(rand.NewPCG(9, uint64(device)))
			for {
				end := s.some(f, 1+rng.IntN(20))
				if errors.Is(end, ErrRestarting) {
					return
				}
				coming.Lock()
				if !staying || end != nil {
					f.Close()
					f, end = p.d.Join(context.Background(), s.epoch, s.rev)
				}
				coming.Unlock()
				if end != nil { // too slow at the very end: the board stopped before it came back
					require.ErrorIs(t, end, ErrRestarting)
					s.left = true
					return
				}
			}
		})
	}
	for range 8 {
		commanding.Go(func() {
			for n := range 60 {
				_, _ = p.d.Do(context.Background(), p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: n}))
			}
		})
	}
	commanding.Wait()
	coming.Lock()
	staying = true
	coming.Unlock()
	p.stop()
	following.Wait()
	for _, s := range screens {
		if !s.left {
			s.same(p.d.View())
		}
	}
}

// some follows for so many takes, or till the follower ends.
func (s *screen) some(f *Follower, takes int) error {
	for range takes {
		frames, err := f.Next(context.Background())
		if err != nil {
			return err
		}
		for _, m := range messages(s.t, frames) {
			s.apply(m)
		}
	}
	return nil
}
