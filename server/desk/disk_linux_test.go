package desk

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/store"
)

// TestTheBoardGoesOnByItselfWhenTheDiskHasRoomAgain takes 2 GiB of the disk and
// gives them back.
func TestTheBoardGoesOnByItselfWhenTheDiskHasRoomAgain(t *testing.T) {
	dir := t.TempDir()
	var disk syscall.Statfs_t
	require.NoError(t, syscall.Statfs(dir, &disk))
	free := int64(disk.Bavail) * disk.Bsize
	if free < 4<<30 {
		t.Skip("needs 4 GiB of free disk")
	}
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, Options{Path: filepath.Join(dir, "board.db"), Store: store.Options{FreeBytesLeast: free - 1<<30}})
		epoch := p.d.View().Epoch
		hog, err := os.Create(filepath.Join(dir, "hog"))
		require.NoError(t, err)
		defer hog.Close()
		if err := syscall.Fallocate(int(hog.Fd()), 0, 0, 2<<30); err != nil {
			t.Skip("needs a disk that can set space aside:", err)
		}
		use := p.request(p.asBen(), board.StockUse{Stock: p.blade, Count: 1})
		p.refused(use, board.CodeReadOnly)
		require.Contains(t, p.d.View().ReadOnly, "nearly full")
		f := p.join("", 0)
		time.Sleep(beatEvery)
		synctest.Wait()
		m := next(t, f)
		require.Contains(t, m[len(m)-1].ReadOnly, "nearly full")

		require.NoError(t, hog.Truncate(0))
		time.Sleep(beatEvery)
		synctest.Wait()
		require.Empty(t, p.d.View().ReadOnly)
		p.accepted(use)
		require.Equal(t, epoch, p.d.View().Epoch, "nothing was lost, so nothing starts over")
	})
}
