package copies

import (
	"context"
	"fmt"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/desk"
	"mendline/server/store"
)

// pit is a board with a keeper and a stick, in fake time.
type pit struct {
	t     *testing.T
	d     *desk.Desk
	k     *Keeper
	stick string
	stop  func()
	n     int
}

func newPit(t *testing.T, folders ...string) *pit {
	t.Helper()
	data := t.TempDir()
	d, err := desk.New(desk.Options{Path: filepath.Join(data, "board.db"), Store: store.Options{FreeBytesLeast: -1}})
	require.NoError(t, err)
	p := &pit{t: t, d: d, stick: filepath.Join(t.TempDir(), "stick")}
	require.NoError(t, os.Mkdir(p.stick, 0o700))
	p.k, err = New(Options{Desk: d, Data: data, Photos: filepath.Join(data, "photos"), Folders: append(folders, p.stick)})
	require.NoError(t, err)
	deskCtx, stopDesk := context.WithCancel(context.Background())
	ended, copied := make(chan error, 1), make(chan struct{})
	go func() { ended <- d.Run(deskCtx) }()
	copyCtx, stopCopies := context.WithCancel(context.Background())
	p.changes()
	go func() { p.k.Run(copyCtx, time.Second); close(copied) }()
	stopped := false
	p.stop = func() {
		if stopped {
			return
		}
		stopped = true
		stopCopies()
		<-copied
		stopDesk()
		require.NoError(t, <-ended)
		left, err := filepath.Glob(filepath.Join(data, "copy-*"))
		require.NoError(t, err)
		require.Empty(t, left)
	}
	t.Cleanup(p.stop)
	synctest.Wait()
	return p
}

// changes gives the board a command that changes something.
func (p *pit) changes() {
	p.t.Helper()
	p.n++
	c := board.PersonAdd{PersonFields: board.PersonFields{Name: fmt.Sprintf("Person %d", p.n), Role: board.RoleCrew}}
	with, err := json.Marshal(c)
	require.NoError(p.t, err)
	a, err := p.d.Do(context.Background(), desk.Request{ID: p.d.NewCommandID(), Do: board.Name(c), With: with, Actor: board.Actor{Role: board.RoleCaptain}})
	require.NoError(p.t, err)
	require.Nil(p.t, a.Refusal)
}

// passes lets time pass, and everyone do what is due then.
func (p *pit) passes(d time.Duration) {
	time.Sleep(d)
	synctest.Wait()
}

// copies are those in the folder, oldest first; each must pass the check.
func (p *pit) copies(folder string) []Copy {
	p.t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(p.t, err)
	var list []Copy
	for _, e := range entries {
		c, ok := parseName(e.Name())
		if !ok {
			require.NotContains(p.t, e.Name(), ".db", "half a copy")
			continue
		}
		r, err := store.Check(filepath.Join(folder, e.Name()))
		require.NoError(p.t, err)
		require.NoError(p.t, r.Err())
		require.EqualValues(p.t, c.Rev, r.Rev)
		list = append(list, c)
	}
	return list
}

func (p *pit) state() FolderCopies { return p.k.State().Folders[0] }

func TestEachMinuteInWhichSomethingChangedIsCopied(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t)
		require.Len(t, p.copies(p.stick), 1, "at the start")
		for range 5 {
			p.changes()
			p.passes(lookEvery)
		}
		require.Len(t, p.copies(p.stick), 1, "not more than one a minute")
		require.False(t, p.state().Current)
		p.passes(lookEvery)
		list := p.copies(p.stick)
		require.Len(t, list, 2)
		require.Equal(t, p.d.View().State.Rev, list[1].Rev)
		require.True(t, p.state().Current)
		p.passes(time.Hour)
		require.Len(t, p.copies(p.stick), 2, "nothing changed")
		require.Equal(t, list[1].At, p.state().At/1000*1000)
		p.changes()
		p.stop()
		list = p.copies(p.stick)
		require.Equal(t, p.d.View().State.Rev, list[len(list)-1].Rev, "the last change goes with the stick")
	})
}

func TestAStickThatIsPulledOutIsSaidAndTakesTheNextCopyByItself(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t)
		require.Empty(t, p.k.State().Alarms())
		require.NoError(t, os.Rename(p.stick, p.stick+" away"))
		out := p.d.Now()
		p.passes(lookEvery)
		require.Equal(t, "it is not there", p.state().Failing, "though nothing changed")
		alarms := p.k.State().Alarms()
		require.Len(t, alarms, 1)
		require.EqualValues(t, "C", alarms[0].Class)
		require.Contains(t, alarms[0].What, p.stick)
		p.changes()
		p.passes(5 * time.Minute)
		require.NoDirExists(t, p.stick, "no folder is made in its place")
		require.LessOrEqual(t, p.state().Since, out.Add(lookEvery), "it has failed since then")
		require.False(t, p.state().Current)

		require.NoError(t, os.Rename(p.stick+" away", p.stick))
		p.passes(lookEvery)
		require.Empty(t, p.k.State().Alarms())
		require.True(t, p.state().Current)
		require.Len(t, p.copies(p.stick), 2)
	})
}

func TestAStickThatWasOutForAMomentIsNoAlarmAMomentLater(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t)
		require.NoError(t, os.Rename(p.stick, p.stick+" away"))
		p.passes(lookEvery)
		require.Len(t, p.k.State().Alarms(), 1)
		require.NoError(t, os.Rename(p.stick+" away", p.stick))
		p.passes(lookEvery)
		require.Empty(t, p.k.State().Alarms(), "though nothing changed, and the minute is not over")
		require.Len(t, p.copies(p.stick), 1)
	})
}

func TestAnotherStickGetsACopyAtOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t)
		require.NoError(t, os.Rename(p.stick, p.stick+" away"))
		require.NoError(t, os.Mkdir(p.stick, 0o700))
		p.passes(lookEvery)
		require.Len(t, p.copies(p.stick), 1)
		require.Empty(t, p.state().Failing)
	})
}

func TestAFolderThatFailsKeepsNoOtherFromItsCopies(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, filepath.Join(t.TempDir(), "none"))
		p.changes()
		p.passes(copyEvery)
		all := p.k.State().Folders
		require.NotEmpty(t, all[0].Failing)
		require.Empty(t, all[1].Failing)
		require.Len(t, p.copies(p.stick), 2)
		require.Equal(t, all[1].At, p.k.Newest())
	})
}

func TestAFolderThatDoesNotAnswerIsSaidAndHoldsUpNobody(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t)
		p.changes()
		hung := &folder{path: p.stick, board: p.k.o.Data}
		require.True(t, hung.due(p.d.Now(), p.d.View(), false))
		p.k.folders = append(p.k.folders, hung) // its copy is on the way, and never ends
		state := func() FolderCopies { return p.k.State().Folders[1] }
		require.Empty(t, state().Failing)
		since := p.d.Now()
		p.passes(4 * time.Minute)
		require.Equal(t, "it does not answer", state().Failing)
		require.Equal(t, since, state().Since)
		require.Len(t, p.k.State().Alarms(), 1)
		require.True(t, p.state().Current)
		hung.ends(Copy{}, p.d.Now(), nil)
		require.Empty(t, state().Failing)
	})
}

func TestPhotosGoWithTheCopies(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t)
		require.NoDirExists(t, PhotosIn(p.stick))
		require.NoError(t, os.Mkdir(p.k.o.Photos, 0o700))
		for _, name := range []string{"a.jpg", "a.thumb.jpg", "b.jpg.tmp"} {
			require.NoError(t, os.WriteFile(filepath.Join(p.k.o.Photos, name), []byte(name), 0o600))
		}
		p.changes()
		p.passes(copyEvery)
		there, err := photosIn(PhotosIn(p.stick))
		require.NoError(t, err)
		require.Equal(t, []string{"a.jpg", "a.thumb.jpg"}, there)
	})
}

func TestALineThatARestoreLeftIsNotThinnedOut(t *testing.T) {
	folder := Folder(t.TempDir())
	lost := Copy{At: noon, Rev: 100, Line: "aaaaaaaa"}
	require.NoError(t, folder.Take(lost, strings.NewReader("lost")))
	for h := range 72 {
		c := Copy{At: noon.Add(time.Duration(h) * time.Hour), Rev: board.Rev(60 + h), Line: "bbbbbbbb"}
		require.NoError(t, folder.Take(c, strings.NewReader("goes on")))
	}
	require.FileExists(t, filepath.Join(string(folder), lost.name()))
	all, err := os.ReadDir(string(folder))
	require.NoError(t, err)
	require.Less(t, len(all), 35, "the other line is")
}

func TestALaptopIsKnownByWhatItHasAndWhenItAsked(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t)
		require.Empty(t, p.k.Code(), "no laptop may have a copy before the captain says so")
		code, err := p.k.NewCode()
		require.NoError(t, err)
		require.Equal(t, code, p.k.Code())
		spare := netip.MustParseAddr("10.0.0.7")
		c, in, err := p.k.Asked(spare, "")
		require.NoError(t, err)
		require.NoError(t, in.Close())
		laptop := func() Laptop { return p.k.State().Laptops[0] }
		require.Zero(t, laptop().At, "it was sent one, and has not said that it has it")
		c, in, err = p.k.Asked(spare, c.Tag())
		require.NoError(t, err)
		require.Nil(t, in)
		require.Equal(t, c.At/1000*1000, laptop().At)
		require.True(t, laptop().Current)

		p.changes()
		again, in, err := p.k.Asked(spare, c.Tag())
		require.NoError(t, err)
		require.Nil(t, in, "one a minute at most, however often it asks")
		require.Equal(t, c, again)
		require.False(t, laptop().Current)
		p.passes(copyEvery)
		again, in, err = p.k.Asked(spare, c.Tag())
		require.NoError(t, err)
		require.NoError(t, in.Close())
		require.Greater(t, again.Rev, c.Rev)

		p.passes(4 * time.Minute)
		require.NotEmpty(t, laptop().Failing)
		require.Len(t, p.k.State().Alarms(), 1)
		require.Regexp(t, `^C-[a-z0-9-]{1,120}$`, "C-"+p.k.State().Alarms()[0].Slug)
		_, in, err = p.k.Asked(spare, again.Tag())
		require.NoError(t, err)
		require.Nil(t, in)
		require.Empty(t, p.k.State().Alarms())

		require.NoError(t, p.k.NoCode())
		require.Empty(t, p.k.Code())
		require.Empty(t, p.k.State().Laptops)
	})
}
