package desk

import (
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// laptop is a machine whose clock a test sets, and which it sends to sleep.
type laptop struct {
	off, slept atomic.Int64
	begun      time.Time
}

func newLaptop() *laptop { return &laptop{begun: time.Now()} }

func (l *laptop) now() time.Time { return time.Now().Add(time.Duration(l.off.Load() + l.slept.Load())) }

func (l *laptop) boot() time.Duration {
	return time.Since(l.begun) + time.Duration(l.slept.Load())
}

// step sets the clock by so much from where it would be by itself.
func (l *laptop) step(by time.Duration) { l.off.Store(int64(by)) }

func (l *laptop) sleep(long time.Duration) { l.slept.Add(int64(long)) }

func (l *laptop) options() Options { return Options{Now: l.now, Boot: l.boot} }

func TestTheBoardsTimeGoesOnWhateverIsDoneToTheLaptopsClock(t *testing.T) {
	for _, step := range []struct {
		by   time.Duration
		said string
	}{
		{0, ""},
		{-59 * time.Second, ""},
		{-20 * time.Minute, "The laptop's clock is 20 min behind the board."},
		{20 * time.Minute, "The laptop's clock is 20 min ahead of the board."},
		{-26 * time.Hour, "The laptop's clock is 26 h behind the board."},
		{75*24*time.Hour + time.Hour, "The laptop's clock is 75 days 1 h ahead of the board."},
	} {
		t.Run(step.by.String(), func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				l := newLaptop()
				p := newPit(t, l.options())
				first := p.line(p.ok(p.asBen(), board.NoteAdd{Text: "one"}).Rev).At
				l.step(step.by)
				time.Sleep(90 * time.Second)
				second := p.line(p.ok(p.asBen(), board.NoteAdd{Text: "two"}).Rev).At
				require.Equal(t, 90*time.Second, second.Sub(first), "one second a second")
				require.Equal(t, step.said, p.d.ClockSaid())
				f := p.join("", 0)
				require.Equal(t, step.said, nextBeat(t, f).Clock)
				now := p.d.Now()

				p = p.again(l.options())
				require.Equal(t, now, p.line(p.state().Rev).At, "nor is anything lost at a restart")
				require.Equal(t, step.said, p.d.ClockSaid())
			})
		})
	}
}

// nextBeat is the next beat of a follower.
func nextBeat(t *testing.T, f *Follower) BeatMessage {
	t.Helper()
	for {
		frames, err := f.Next(t.Context())
		require.NoError(t, err)
		var m BeatMessage
		require.NoError(t, json.Unmarshal(frames[len(frames)-1].Data, &m))
		if m.T == "beat" {
			return m
		}
	}
}

func TestAStepThatNobodySawCommandsAfterIsKeptForTheNextStart(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLaptop()
		p := newPit(t, l.options())
		before := p.d.Now()
		l.step(-20 * time.Minute)
		time.Sleep(beatEvery)
		p.stop()
		time.Sleep(time.Hour)
		p = p.again(l.options())
		require.Equal(t, before.Add(beatEvery+time.Hour), p.d.Now())
	})
}

func TestTheBoardsTimeRunsOnFromTheJournalWhereTheLaptopsClockIsBehindIt(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLaptop()
		p := newPit(t, l.options())
		last := p.d.View().At
		p.stop()
		l.step(-3 * time.Hour)
		p = p.again(l.options())
		require.Equal(t, last, p.line(p.state().Rev).At)
		require.Equal(t, "The laptop's clock is 3 h behind the board.", p.d.ClockSaid())
		time.Sleep(time.Minute)
		require.Equal(t, last.Add(time.Minute), p.d.Now(), "it runs")
	})
}

func TestALaptopsClockThatWasPutRightBetweenTwoStartsIsBelieved(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLaptop()
		p := newPit(t, l.options())
		l.step(26 * time.Hour) // the board does not follow
		p.note("the board is 26 h behind the laptop")
		p.stop()
		l.step(0)
		time.Sleep(time.Minute)
		p = p.again(l.options())
		require.Equal(t, board.MomentOf(time.Now()), p.d.Now())
		require.Empty(t, p.d.ClockSaid())
	})
}

func TestABackupTakesNoOffsetOfAnotherLaptopWithIt(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLaptop()
		p := newPit(t, l.options())
		l.step(-20 * time.Minute)
		p.note("the board is 20 min ahead of this laptop")
		copied := filepath.Join(t.TempDir(), "board.db")
		_, err := p.d.Store().Backup(copied)
		require.NoError(t, err)
		time.Sleep(time.Hour)
		other := newLaptop()
		o := other.options()
		o.Path = copied
		q := emptyPit(t, o)
		require.Equal(t, board.MomentOf(time.Now()), q.d.Now())
		require.Empty(t, q.d.ClockSaid())
	})
}

func TestATestEndsInTimeThoughTheLaptopsClockWasSet(t *testing.T) {
	for _, by := range []time.Duration{0, -time.Hour, time.Hour} {
		synctest.Test(t, func(t *testing.T) {
			l := newLaptop()
			p := newPit(t, l.options())
			p.open()
			p.test(3)
			until := p.power().Test.Until
			l.step(by)
			p.ok(p.asBen(), board.NoteAdd{Text: "the clock was set"})
			time.Sleep(3*time.Minute - time.Second)
			synctest.Wait()
			require.Equal(t, board.Test, p.power().State, "not before")
			time.Sleep(time.Second)
			synctest.Wait()
			require.Equal(t, board.Unknown, p.power().State)
			require.Equal(t, until, p.power().Since)
		})
	}
}

func TestTheTimeThatALaptopSleptCounts(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLaptop()
		p := newPit(t, l.options())
		p.open()
		p.test(3)
		before := p.d.Now()
		l.sleep(time.Hour) // its timers slept too
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Equal(t, board.Unknown, p.power().State, "a test that ended meanwhile has ended")
		require.Equal(t, before.Add(time.Hour+beatEvery), p.d.Now())
		require.Empty(t, p.d.ClockSaid())
	})
}

func TestOneCommandOnADayAheadClockFreezesNothingOnceTheCaptainHasSetTheTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLaptop()
		l.step(26 * time.Hour)
		p := newPit(t, l.options())
		p.open()
		l.step(0)
		time.Sleep(time.Minute)
		require.Equal(t, "The laptop's clock is 26 h behind the board.", p.d.ClockSaid())
		require.Equal(t, board.MomentOf(time.Now()), p.d.Laptop())
		steady := p.d.Steady()

		set := p.ok(p.asAda(), board.TimeSet{BySec: -26 * 3600, Sure: true})
		require.Equal(t, "time.set", p.line(set.Rev).Do)
		require.Equal(t, board.MomentOf(time.Now()), p.line(set.Rev).At)
		require.Equal(t, board.MomentOf(time.Now()), p.d.Now())
		require.Equal(t, steady, p.d.Steady(), "what sessions go by does not move")
		require.Empty(t, p.d.ClockSaid())
		require.Equal(t, board.Unknown, p.power().State)
		require.Len(t, p.state().Tags, 1)

		tag, _ := p.tag()
		off := p.request(p.asBen(), board.TagOff{Tag: tag})
		off.Seen = p.seen(board.KeyOf(board.KindTag, tag))
		p.accepted(off)
		p.walk(p.asBen(), board.ListMakeSafe)
		require.Equal(t, board.Verified, p.power().State)
		p.stop()
		time.Sleep(time.Minute)
		p = p.again(l.options())
		require.Equal(t, board.MomentOf(time.Now()), p.d.Now())
		require.Equal(t, steady.Add(time.Minute), p.d.Steady())
		require.Empty(t, p.d.ClockSaid())
	})
}

func TestATestEndsInTimeAfterTheTimeWasSet(t *testing.T) {
	for _, by := range []int{-3600, 3600} {
		synctest.Test(t, func(t *testing.T) {
			l := newLaptop()
			p := newPit(t, l.options())
			p.ok(p.asAda(), board.TimeSet{BySec: by})
			time.Sleep(time.Second)
			p.ok(p.asBen(), board.PackRead{Pack: p.pack, CellVolts: []float64{4.18, 4.18, 4.18, 4.18}, Charged: true})
			p.open()
			p.test(3)
			until := p.power().Test.Until
			time.Sleep(3*time.Minute - time.Second)
			synctest.Wait()
			require.Equal(t, board.Test, p.power().State)
			time.Sleep(time.Second)
			synctest.Wait()
			require.Equal(t, board.Unknown, p.power().State)
			require.Equal(t, until, p.power().Since)
		})
	}
}

func TestASetTimeThatCouldNotBeWrittenMovesNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLaptop()
		p := newPit(t, l.options())
		before := p.d.Now()
		require.NoError(t, p.d.Store().Close())
		p.refused(p.request(p.asAda(), board.TimeSet{BySec: 3600}), board.CodeReadOnly)
		require.Equal(t, before, p.d.Now())
		require.NoError(t, p.d.Again(t.Context()))
		require.Equal(t, before, p.d.Now())
	})
}

// tagged is a tag that a phone put on so long ago, by the board's time as the phone had it.
func (p *pit) tagged(ago time.Duration, at board.Moment, shiftSec int) board.Tag {
	p.t.Helper()
	r := p.request(p.asBen(), board.TagOn{Robot: p.moth})
	r.At, r.ShiftSec = at.Add(-ago), shiftSec
	p.accepted(r)
	tag, on := p.state().TagOf(p.moth, p.ben)
	require.True(p.t, on)
	return tag
}

func TestWhatAPhoneDatedBeforeARestoreIsMovedByNothing(t *testing.T) {
	for _, c := range []struct{ before, after int }{{0, 0}, {0, -24 * 3600}, {0, 1200}, {1200, 0}, {-1200, 3600}} {
		for _, another := range []bool{false, true} {
			synctest.Test(t, func(t *testing.T) {
				time.Sleep(72 * time.Hour) // a board's dates begin in 2000
				l := newLaptop()
				p := newPit(t, l.options())
				sets := func(by int) {
					if by != 0 {
						p.ok(p.asAda(), board.TimeSet{BySec: by})
					}
				}
				sets(c.before)
				time.Sleep(time.Minute)
				counted := p.d.Now()
				p.note("counted")
				o := l.options()
				o.Path = filepath.Join(t.TempDir(), "board.db")
				_, err := p.d.Store().Backup(o.Path)
				require.NoError(t, err)
				sets(c.after)
				time.Sleep(time.Minute)
				p.note("the newest")
				now, clock := p.d.Now(), p.state().TimeOf()
				o.Restored = &Restored{
					BoardRestore: p.state().Replaced(board.BoardRestore{Why: "restored", Clock: &clock}), Created: p.d.Store().Report().Created,
					AheadMs: p.d.clock.ahead().Milliseconds(), Newest: p.d.View().At,
				}
				if another {
					o.Restored.Created = o.Restored.Created.Add(time.Hour)
				}
				p.stop()
				l.step(0)

				q := *p
				q.d = emptyPit(t, o).d
				time.Sleep(time.Minute)
				if !another || c.after >= 0 { // no board begins before its own newest line
					require.Equal(t, now.Add(time.Minute), q.d.Now(), "the board's time goes on")
				}
				if another {
					require.Equal(t, c.before, q.state().TimeOf().ShiftSec, "what was set on one board moves no date of another")
					return
				}
				require.Equal(t, c.before+c.after, q.state().TimeOf().ShiftSec)
				for _, n := range q.state().Notes {
					require.Equal(t, counted.Add(time.Duration(c.after)*time.Second), n.At, "two minutes ago, whatever was set since")
				}
				require.Equal(t, now.Add(-time.Minute), q.tagged(2*time.Minute, q.d.Now(), clock.ShiftSec).At)
			})
		}
	}
}

func TestAFileThatLostASetTimeIsTakenAgainWithTheTimeAsItIs(t *testing.T) {
	for _, by := range []int{-24 * 3600, -1200, 1200} {
		synctest.Test(t, func(t *testing.T) {
			time.Sleep(72 * time.Hour)
			l := newLaptop()
			p := newPit(t, l.options())
			p.note("before")
			older := filepath.Join(t.TempDir(), "older.db")
			_, err := p.d.Store().Backup(older)
			require.NoError(t, err)
			p.ok(p.asAda(), board.TimeSet{BySec: by})
			p.ok(p.asBen(), board.PackSet{Pack: p.pack, State: board.PackSuspect, Why: "a dent"})
			before, steady := p.d.Now(), p.d.Steady()
			require.NoError(t, p.d.Store().Close())
			b, err := os.ReadFile(older)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(p.d.o.Path, b, 0o600))
			p.refused(p.request(p.asAda(), board.NoteAdd{Text: "lost"}), board.CodeReadOnly)
			require.NoError(t, p.d.Again(t.Context()))
			require.Equal(t, before, p.d.Now())
			require.Equal(t, steady, p.d.Steady())
			require.Equal(t, by, p.state().TimeOf().ShiftSec)
			require.Equal(t, board.PackSuspect, p.state().Packs[p.pack].State, "nor is anything else forgotten that the board knew")
			for _, n := range p.state().Notes {
				require.Equal(t, before, n.At)
			}
			time.Sleep(time.Minute)
			p = p.again(l.options())
			require.Equal(t, before.Add(time.Minute), p.d.Now())
		})
	}
}

func TestTheTimeSinceBootGoesOnAndNeverBack(t *testing.T) {
	boot := BootClock()
	was := boot()
	require.Positive(t, was)
	for range 1000 {
		is := boot()
		require.GreaterOrEqual(t, is, was)
		was = is
	}
}
