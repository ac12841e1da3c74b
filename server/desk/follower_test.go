package desk

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// screen is a device's copy of the board, made from what a follower gets.
type screen struct {
	t     testing.TB
	epoch string
	rev   board.Rev
	nouns map[board.Key]jsontext.Value
	acked []board.Rev
	left  bool // the board stopped while it was away
}

// apply takes a message in. A gap or an early ack fails the test.
func (s *screen) apply(m message) {
	s.t.Helper()
	switch m.T {
	case "board":
		s.epoch, s.rev, s.nouns = m.Epoch, m.Rev, m.Put
	case "patches":
		for _, p := range m.List {
			require.Equal(s.t, s.rev+1, p.Rev, "a gap")
			s.rev = p.Rev
			for k, v := range p.Put {
				s.nouns[k] = v
			}
			for _, k := range p.Del {
				delete(s.nouns, k)
			}
		}
	case "ack":
		require.GreaterOrEqual(s.t, s.rev, m.Rev, "acknowledged before its patch")
		s.acked = append(s.acked, m.Rev)
	}
}

// follow applies what comes until the follower ends.
func (s *screen) follow(f *Follower) error {
	for {
		frames, err := f.Next(context.Background())
		if err != nil {
			return err
		}
		for _, m := range messages(s.t, frames) {
			s.apply(m)
		}
	}
}

// same fails unless the screen shows the board.
func (s *screen) same(v *View) {
	s.t.Helper()
	require.Equal(s.t, v.State.Rev, s.rev)
	var m message
	require.NoError(s.t, json.Unmarshal(v.Snapshot().Data, &m, json.MatchCaseInsensitiveNames(true)))
	require.Equal(s.t, len(m.Put), len(s.nouns))
	for k, want := range m.Put {
		require.Equal(s.t, string(want), string(s.nouns[k]), k)
	}
}

func TestAFollowerGetsTheBoardAndThenEveryPatch(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		s := &screen{t: t}
		f := p.join("", 0)
		m := next(t, f)
		require.Equal(t, []string{"board"}, kinds(m))
		s.apply(m[0])
		s.same(p.d.View())
		for i := range 3 {
			p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: i})
		}
		p.ok(p.asBen(), board.NoteAdd{Text: "a note"})
		m = next(t, f)
		require.Equal(t, []string{"patches"}, kinds(m), "waiting patches come as one frame")
		require.Len(t, m[0].List, 4)
		s.apply(m[0])
		s.same(p.d.View())
		last := m[0].List[3]
		require.Equal(t, p.ben, last.By)
		require.Equal(t, "note.add", last.Do)
		require.Equal(t, p.d.View().At, last.At)
	})
}

func TestTheSnapshotOfARevisionIsEncodedOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		one, err := p.join("", 0).Next(t.Context())
		require.NoError(t, err)
		two, err := p.join("", 0).Next(t.Context())
		require.NoError(t, err)
		require.Same(t, one[0], two[0])
		p.ok(p.asBen(), board.NoteAdd{Text: "a note"})
		require.NotSame(t, one[0], p.d.View().Snapshot())
	})
}

func TestAPatchIsEncodedOnceForAllFollowers(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		a, b := p.join("", 0), p.join("", 0)
		next(t, a)
		next(t, b)
		p.ok(p.asBen(), board.NoteAdd{Text: "a note"})
		one, err := a.Next(t.Context())
		require.NoError(t, err)
		two, err := b.Next(t.Context())
		require.NoError(t, err)
		require.Same(t, one[0], two[0])
	})
}

func TestAnAckComesBehindThePatchOfItsRevision(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		mine, other := p.join("", 0), p.join("", 0)
		next(t, mine)
		next(t, other)
		ask := func(count int, f *Follower) Request {
			r := p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: count})
			r.Follower = f
			return r
		}
		answers := g.behind(p, ask(3, mine), ask(4, other), ask(5, mine), ask(-1, mine))
		m := next(t, mine)
		require.Equal(t, []string{"patches", "ack", "ack", "refused"}, kinds(m))
		require.Len(t, m[0].List, 4)
		require.Equal(t, []board.Rev{answers[0].Rev, answers[2].Rev}, []board.Rev{m[1].Rev, m[2].Rev})
		require.Equal(t, []string{"patches", "ack"}, kinds(next(t, other)))
	})
}

func TestARepeatedIDIsAcknowledgedOnANewFollower(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		r := p.request(p.asBen(), board.NoteAdd{Text: "a note"})
		a := p.accepted(r)
		f := p.join("", 0)
		r.Follower = f
		p.accepted(r)
		m := next(t, f)
		require.Equal(t, []string{"board", "ack"}, kinds(m))
		require.Equal(t, a.Rev, m[1].Rev)
	})
}

func TestWhoComesBackGetsThePatchesSince(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		p = p.again(Options{}) // so that only the start's patch is kept
		v := p.d.View()
		require.Equal(t, v.State.Rev, v.From)
		p.ok(p.asBen(), board.NoteAdd{Text: "a note"})
		rev := p.state().Rev
		for _, c := range []struct {
			name  string
			epoch string
			rev   board.Rev
			opens []string
			since int
		}{
			{"the last before those kept", v.Epoch, v.From - 1, []string{"patches"}, 2},
			{"one too early", v.Epoch, v.From - 2, []string{"board"}, 0},
			{"one behind", v.Epoch, rev - 1, []string{"patches"}, 1},
			{"up to date", v.Epoch, rev, nil, 0},
			{"ahead of the board", v.Epoch, rev + 1, []string{"board"}, 0},
			{"of another epoch", "1b671a64-40d5-491e-99b0-da01ff1f3341", rev, []string{"board"}, 0},
			{"for the first time", "", 0, []string{"board"}, 0},
		} {
			f := p.join(c.epoch, c.rev)
			m := atOnce(t, f)
			require.Equal(t, c.opens, kinds(m), c.name)
			if c.since > 0 {
				require.Len(t, m[0].List, c.since, c.name)
				require.Equal(t, c.rev+1, m[0].List[0].Rev, c.name)
			}
		}
	})
}

// atOnce is what a follower has at once, which may be nothing.
func atOnce(t testing.TB, f *Follower) []message {
	t.Helper()
	frames, err := f.take()
	require.NoError(t, err)
	if len(frames) == 0 {
		return nil
	}
	return messages(t, frames)
}

func TestPatchesThatOutweighTheBoardAreNotSent(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		v := p.d.View()
		for i := range 300 {
			p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: i})
		}
		require.Equal(t, []string{"board"}, kinds(atOnce(t, p.join(v.Epoch, v.State.Rev))))
		require.Equal(t, []string{"patches"}, kinds(atOnce(t, p.join(v.Epoch, p.state().Rev-3))))
		weight := 0
		for _, n := range p.state().Nouns() {
			weight += len(board.Encode(n))
		}
		p.stop()
		require.Equal(t, weight, p.d.bytes, "the weight is kept up to date")
	})
}

func TestTheRingKeepsTheNewestPatches(t *testing.T) {
	small, large := make([]byte, 10), make([]byte, 1<<20)
	var r ring
	require.Equal(t, board.Rev(8), r.from(7))
	for rev := range board.Rev(ringPatches + 10) {
		r.add(patch{rev: rev + 1, json: small})
	}
	require.Len(t, r.patches, ringPatches)
	require.Equal(t, board.Rev(11), r.from(ringPatches+10))
	list, bytes := r.since(10)
	require.Len(t, list, ringPatches)
	require.Equal(t, ringPatches*10, bytes)
	list, _ = r.since(ringPatches + 10)
	require.Empty(t, list)
	for rev := range board.Rev(5) {
		r.add(patch{rev: ringPatches + 11 + rev, json: large})
	}
	require.LessOrEqual(t, r.bytes, ringBytes)
	require.Equal(t, board.Rev(ringPatches+12), r.from(0))
}

func TestASlowFollowerIsCutAndTheOthersGoOn(t *testing.T) {
	long := strings.Repeat("日", 2000)
	for _, c := range []struct {
		by, text string
		notes    int
	}{
		{"number", "x", followerPatches + 1},
		{"bytes", long, followerBytes/len(long) + 1},
	} {
		t.Run("by "+c.by, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				p := newPit(t, Options{})
				slow, quick := p.join("", 0), p.join("", 0)
				s := &screen{t: t}
				next(t, slow)
				for _, m := range next(t, quick) {
					s.apply(m)
				}
				for range c.notes {
					p.note(c.text)
					for _, m := range next(t, quick) {
						s.apply(m)
					}
				}
				_, err := slow.Next(t.Context())
				require.ErrorIs(t, err, ErrSlow)
				s.same(p.d.View())
			})
		})
	}
}

func TestAFollowerMayLetAsMuchWaitAsTheLimitAllows(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		f := p.join("", 0)
		next(t, f)
		for range followerPatches {
			p.note("x")
		}
		require.Len(t, next(t, f)[0].List, followerPatches)
	})
}

func TestOneLargeGroupCutsNobody(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var g gate
		p := newPit(t, Options{Metrics: g.metrics()})
		f := p.join("", 0)
		next(t, f)
		many := make([]Request, 2*followerPatches)
		for i := range many {
			many[i] = p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: i})
		}
		g.shut.Store(true)
		go p.note("the desk is busy")
		synctest.Wait()
		for _, r := range many {
			go p.do(r)
		}
		synctest.Wait()
		g.open <- struct{}{}
		synctest.Wait()
		patches := 0
		for patches < len(many)+1 {
			m := next(t, f)
			patches += len(m[0].List)
		}
		require.Equal(t, len(many)+1, patches)
	})
}

func TestAFollowerThatLetsItsAnswersWaitIsCut(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		f := p.join("", 0)
		next(t, f)
		for range followerReplies + 1 {
			r := p.request(p.asBen(), board.StockCount{Stock: "none", Count: 1})
			r.Follower = f
			p.do(r)
		}
		_, err := f.Next(t.Context())
		require.ErrorIs(t, err, ErrSlow)
	})
}

func TestABeatComesEveryTwoSecondsAndTheNewestWins(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		f := p.join("", 0)
		next(t, f)
		time.Sleep(5 * beatEvery)
		synctest.Wait()
		frames, err := f.Next(t.Context())
		require.NoError(t, err)
		require.Len(t, frames, 1)
		require.JSONEq(t, fmt.Sprintf(`{"t":"beat","now":%q}`, p.d.Now()), string(frames[0].Data))
	})
}

func TestWhoHasLeftIsForgotten(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		followers := 0
		p := newPit(t, Options{Metrics: Metrics{Followers: func(n int) { followers = n }}})
		f := p.join("", 0)
		p.join("", 0)
		synctest.Wait()
		require.Equal(t, 2, followers)
		f.Close()
		_, err := f.Next(t.Context())
		require.ErrorIs(t, err, ErrLeft)
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Equal(t, 1, followers)
	})
}
