package desk

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

// inFolder is a desk whose file lies in a folder that a test may move.
func inFolder(t *testing.T) (p *pit, folder string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "data")
	require.NoError(t, os.Mkdir(folder, 0o700))
	o := Options{Path: filepath.Join(folder, "board.db"), Store: store.Options{FreeBytesLeast: -1}}
	d, err := New(o)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- d.Run(ctx) }()
	p = &pit{t: t, d: d}
	p.stop = sync.OnceFunc(func() { cancel(); <-ended })
	t.Cleanup(p.stop)
	p.fill()
	return p, folder
}

// noted are the revisions of a file, by the ids of their commands.
func noted(t *testing.T, file string) map[string]board.Rev {
	t.Helper()
	s, err := store.Open(file, store.Options{FreeBytesLeast: -1, Existing: true})
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Report().Err())
	all := map[string]board.Rev{}
	for _, l := range journal(t, s, 0) {
		all[l.ID] = l.Rev
	}
	return all
}

func TestAFileThatIsGoneUnderLoadAcknowledgesNothingMore(t *testing.T) {
	for name, gone := range map[string]func(t *testing.T, folder string){
		"the folder is moved":   func(t *testing.T, folder string) { require.NoError(t, os.Rename(folder, folder+" 2")) },
		"the folder is deleted": func(t *testing.T, folder string) { require.NoError(t, os.RemoveAll(folder)) },
		"the file is deleted":   func(t *testing.T, folder string) { require.NoError(t, os.Remove(filepath.Join(folder, "board.db"))) },
		"the file is replaced": func(t *testing.T, folder string) {
			file := filepath.Join(folder, "board.db")
			require.NoError(t, os.WriteFile(file+".synced", nil, 0o600))
			require.NoError(t, os.Rename(file+".synced", file))
		},
	} {
		t.Run(name, func(t *testing.T) {
			p, folder := inFolder(t)
			var mu sync.Mutex
			acked := map[string]board.Rev{}
			var phones sync.WaitGroup
			for range 4 {
				phones.Go(func() {
					for {
						r := p.request(p.asBen(), board.NoteAdd{Text: "tight"})
						a, err := p.d.Do(context.Background(), r)
						if err != nil || a.Refusal != nil {
							return
						}
						mu.Lock()
						acked[r.ID.String()] = a.Rev
						mu.Unlock()
					}
				})
			}
			for p.state().Rev < 200 { // until the load is under way
				p.note("loose")
			}
			gone(t, folder)
			p.refused(p.request(p.asBen(), board.NoteAdd{Text: "too late"}), board.CodeReadOnly)
			phones.Wait()
			require.Contains(t, p.d.View().ReadOnly, "moved, deleted or replaced")

			_, err := p.d.State(t.Context()) // the rescue is behind it
			require.NoError(t, err)
			rescued := p.d.View().Rescued
			require.NotEmpty(t, rescued)
			p.stop()
			held := noted(t, rescued)
			for id, rev := range acked {
				require.Equal(t, rev, held[id], "what was acknowledged is in the copy")
			}
			require.Greater(t, len(acked), 100)
		})
	}
}

func TestAMovedFileIsNoticedWithoutACommandAndTheBoardGoesOnWhenItIsBack(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p, folder := inFolder(t)
		epoch := p.d.View().Epoch
		require.NoError(t, os.Rename(folder, folder+" 2"))
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Equal(t, saidMoved, p.d.View().ReadOnly)
		first := p.d.View().Rescued
		require.Equal(t, filepath.Dir(folder), filepath.Dir(first), "its folder is gone, so beside that")
		require.ErrorIs(t, p.d.Again(t.Context()), store.ErrMoved)
		require.NoDirExists(t, folder, "trying again makes no board of its own")

		require.NoError(t, os.Rename(folder+" 2", folder))
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Empty(t, p.d.View().ReadOnly)
		require.Equal(t, epoch, p.d.View().Epoch, "nothing was lost, so nothing starts over")
		p.note("it writes")
		require.NoError(t, p.d.Again(t.Context()))

		require.NoError(t, os.Rename(folder, folder+" 2"))
		time.Sleep(beatEvery)
		synctest.Wait()
		require.NotEqual(t, first, p.d.View().Rescued, "the board has changed since")
		require.Len(t, rescues(t, filepath.Dir(folder)), 2)
		require.NoError(t, os.Rename(folder+" 2", folder))
		time.Sleep(beatEvery)
		synctest.Wait()
		require.NoError(t, os.Rename(folder, folder+" 2"))
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Len(t, rescues(t, filepath.Dir(folder)), 2, "the board is the same")
		require.NoError(t, os.Rename(folder+" 2", folder))
		p.stop()
	})
}

func rescues(t *testing.T, folder string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(folder, "mendline-rescue-*.db"))
	require.NoError(t, err)
	return found
}

func TestABackupBesideTheFileLeavesTheBoardAsItIs(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p, folder := inFolder(t)
		_, err := p.d.Store().Backup(filepath.Join(folder, "noon.db"))
		require.NoError(t, err)
		require.NoError(t, os.Mkdir(filepath.Join(folder, "photos"), 0o700))
		require.NoError(t, os.Rename(filepath.Join(folder, "noon.db"), filepath.Join(folder, "noon-2.db")))
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Empty(t, p.d.View().ReadOnly)
		require.Empty(t, p.d.View().Rescued)
		p.note("it writes")
		require.Empty(t, rescues(t, filepath.Dir(folder)))
		require.Empty(t, rescues(t, folder))
	})
}
