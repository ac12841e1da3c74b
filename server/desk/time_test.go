package desk

import (
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestARestartMakesEveryRobotUnknownWhileTagsStandAndJobsAreHeld(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		p.open()
		job := p.running()
		time.Sleep(time.Minute)
		p.note("a note")
		epoch, rev := p.d.View().Epoch, p.state().Rev
		tags, last := p.state().Tags, p.line(rev).At
		time.Sleep(9 * time.Minute)

		p = p.again(Options{})
		require.NotEqual(t, epoch, p.d.View().Epoch)
		require.Equal(t, rev+1, p.state().Rev)
		require.Equal(t, "board.start", p.line(rev+1).Do)
		require.Equal(t, board.Unknown, p.power().State)
		require.Len(t, p.state().Tags, 1)
		require.Equal(t, tags, p.state().Tags)
		require.Equal(t, board.JobHeld, p.state().Jobs[job].State)
		require.Equal(t, board.HoldLockout, p.state().Jobs[job].HeldFor)
		require.Equal(t, last, p.state().Jobs[job].Stints[0].To, "nobody knows what was so since the last line")
		require.Equal(t, last, p.power().Covered[0].To)
	})
}

func TestAnEmptyBoardStartsWithoutACommand(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := emptyPit(t, Options{})
		require.Zero(t, p.state().Rev)
		require.Zero(t, p.again(Options{}).state().Rev)
	})
}

func TestWhatIsLoadedIsWhatWasThere(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		p.open()
		p.running()
		time.Sleep(9 * time.Minute)
		p.note("a note")
		p.ok(p.asBen(), board.StockCount{Stock: p.blade, Count: 9})
		time.Sleep(2 * time.Minute)
		p.note("what went before can no longer be undone")
		h, err := load(p.d.Store(), p.d.o.Log)
		require.NoError(t, err)
		require.Equal(t, p.state(), h.state)
		require.Equal(t, p.d.View().At, h.at)
		p.stop()
		require.Equal(t, p.d.sizes, h.sizes)
	})
}

func TestWhatWasDoneBeforeARestartCanStillBeUndone(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		count := p.request(p.asBen(), board.StockCount{Stock: p.blade, Count: 6})
		p.accepted(count)
		note := p.request(p.asBen(), board.NoteAdd{Text: "borrowed a vice"})
		p.accepted(note)
		move := p.request(p.asBen(), board.PackMove{Pack: p.pack, Place: p.bench})
		p.accepted(move)

		p = p.again(Options{})
		p.refused(p.request(p.asAda(), board.Undo{Command: count.ID}), board.CodeForbidden)
		p.refused(p.request(p.asBen(), board.Undo{Command: move.ID}), board.CodeSafety)
		p.ok(p.asBen(), board.Undo{Command: count.ID})
		p.ok(p.asBen(), board.Undo{Command: note.ID})
		require.Equal(t, 2, p.state().Stocks[p.blade].Count)
		require.Empty(t, p.state().Notes)
	})
}

func TestATestEndsByItselfAtItsTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		p.open()
		p.test(3)
		until := p.power().Test.Until
		time.Sleep(until.Sub(p.d.Now()) - time.Millisecond)
		synctest.Wait()
		require.Equal(t, board.Test, p.power().State)
		rev := p.state().Rev
		time.Sleep(time.Millisecond)
		synctest.Wait()
		require.Equal(t, board.Unknown, p.power().State)
		require.Equal(t, until, p.power().Since)
		require.Equal(t, rev+1, p.state().Rev)
		line := p.line(rev + 1)
		require.Equal(t, "board.tick", line.Do)
		require.Equal(t, board.RoleSystem, line.Role)
	})
}

func TestANewDayMakesEveryRobotUnknownOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{})
		p.walk(p.asBen(), board.ListMakeSafe)
		rev := p.state().Rev
		time.Sleep(30 * time.Hour)
		synctest.Wait()
		require.Equal(t, board.Unknown, p.power().State)
		require.Equal(t, rev+1, p.state().Rev, "one tick, and then nothing is due")
		require.Equal(t, "04:00:00", p.power().Since.Time().Format(time.TimeOnly))
	})
}
