package copies

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/require"
)

// alone is set in a process that has its mounts for itself.
const alone = "MENDLINE_ALONE"

// inOwnMounts runs the test that calls it again, in a process whose mounts nobody else
// sees, and reports whether this is that process.
func inOwnMounts(t *testing.T) bool {
	t.Helper()
	if os.Getenv(alone) != "" {
		return true
	}
	if out, err := exec.Command("unshare", "-m", "mount", "-t", "tmpfs", "none", t.TempDir()).CombinedOutput(); err != nil {
		t.Skipf("needs a mount namespace of its own: %s", out)
	}
	again := exec.Command("unshare", "-m", os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v")
	again.Env = append(os.Environ(), alone+"=1")
	out, err := again.CombinedOutput()
	require.NoError(t, err, "%s", out)
	require.Contains(t, string(out), "--- PASS: "+t.Name())
	return false
}

func mount(t *testing.T, at string, flags uintptr) {
	t.Helper()
	require.NoError(t, syscall.Mount("stick", at, "tmpfs", flags, "size=4m"))
}

func TestAStickThatIsFullReadOnlyOrPulledOutIsAnAlarmUntilItTakesCopiesAgain(t *testing.T) {
	if !inOwnMounts(t) {
		return
	}
	at := t.TempDir()
	mount(t, at, 0)
	synctest.Test(t, func(t *testing.T) {
		p := newPit(t, at)
		stick := func() FolderCopies { return p.k.State().Folders[0] }
		goes := func() {
			t.Helper()
			require.Empty(t, p.k.State().Alarms())
			require.True(t, stick().Current)
		}
		goes()
		require.True(t, stick().OwnDisk)
		require.Len(t, p.copies(at), 1)

		hog := filepath.Join(at, "holiday.mp4")
		require.ErrorIs(t, os.WriteFile(hog, make([]byte, 8<<20), 0o600), syscall.ENOSPC)
		p.changes()
		p.passes(copyEvery)
		require.Equal(t, "it is full", stick().Failing)
		require.Len(t, p.k.State().Alarms(), 1)
		p.changes() // the board itself goes on
		require.Len(t, p.copies(at), 1, "no half copy, and none is thrown away to make room")
		require.NoError(t, os.Remove(hog))
		p.passes(copyEvery)
		goes()
		require.Len(t, p.copies(at), 2)

		mount(t, at, syscall.MS_REMOUNT|syscall.MS_RDONLY)
		p.changes()
		p.passes(copyEvery)
		require.Equal(t, "it cannot be written to", stick().Failing)
		mount(t, at, syscall.MS_REMOUNT)
		p.passes(copyEvery)
		goes()

		require.NoError(t, syscall.Unmount(at, 0))
		p.passes(lookEvery)
		require.Contains(t, stick().Failing, "the stick is out", "though nothing changed")
		p.changes()
		p.passes(copyEvery)
		entries, err := os.ReadDir(at)
		require.NoError(t, err)
		require.Empty(t, entries, "nothing goes to the place where it was")
		mount(t, at, 0)
		p.passes(lookEvery)
		goes()
		require.Len(t, p.copies(at), 1, "another stick")
		p.stop()
		require.NoError(t, syscall.Unmount(at, 0))
	})
}
