package store

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestAFailingCallNeverLosesWhatWasAcknowledged makes the first, second, third
// … call of a sort fail in a child, from the creation of its file or from the
// copy after an unclean stop on, until the child gets through. The kernel's answer is real to the process: strace
// puts it in the place of the call. The child tries again as the desk does and
// says so.
func TestAFailingCallNeverLosesWhatWasAcknowledged(t *testing.T) {
	t.Parallel()
	strace := requireStrace(t)
	for _, fault := range []struct {
		call, error string
		from        string // file left by an unclean stop; none: a new one
		broken      int    // at least so many of the failures hit a commit
	}{
		{"fdatasync", "EIO", "", 2 * faultGroups},
		{"fsync", "EIO", "", 0},
		{"pwrite64", "ENOSPC", "", 4 * faultGroups},
		{"pwrite64", "EIO", "", 4 * faultGroups},
		{"ftruncate", "ENOSPC", "", 0},
		{"renameat", "EIO", "", 0},
		{"fdatasync", "EIO", "testdata/format3.db", 2 * faultGroups},
		{"fsync", "EIO", "testdata/format3.db", 1}, // the first commit lets the file grow
		{"ftruncate", "ENOSPC", "testdata/format3.db", 1},
		{"renameat", "EIO", "testdata/format3.db", 0},
		{"fsync", "EIO", "testdata/format1.db", 0}, // of an older format: a second copy is migrated
		{"pwrite64", "ENOSPC", "testdata/format1.db", 0},
		{"renameat", "EIO", "testdata/format1.db", 0},
	} {
		t.Run(fmt.Sprintf("%s %s %s", fault.call, fault.error, fault.from), func(t *testing.T) {
			t.Parallel()
			broken, n := 0, 1
			for ; failing(t, strace, fault.call, fault.error, fault.from, n, &broken); n++ {
				require.Less(t, n, 500, "the child never gets through")
			}
			require.Greater(t, n, 1, "no call failed")
			require.GreaterOrEqual(t, broken, fault.broken)
			t.Logf("%d faults, %d of them in a commit", n-1, broken)
		})
	}
}

const faultGroups = 3

// failing runs a child whose n-th call fails; false when it got through.
func failing(t *testing.T, strace, call, fault, from string, n int, broken *int) bool {
	t.Helper()
	path := filepath.Join(t.TempDir(), "board.db")
	acked, said := uint64(0), ""
	if from != "" {
		data, err := os.ReadFile(from)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(path, data, 0o600))
		acked = 9
	}
	cmd, lines, _ := started(t, "commit", path, faultGroups, 7, strace, "-f", "-qq", "-o", "/dev/null",
		"-e", "signal=none", "-e", "trace="+call, "-e", fmt.Sprintf("inject=%s:error=%s:when=%d", call, fault, n))
	for lines.Scan() {
		if said = lines.Text(); strings.HasPrefix(said, "ACK ") {
			acked = ackOf(t, said)
		}
	}
	err := cmd.Wait()
	requireSound(t, path)
	require.GreaterOrEqual(t, load(t, opened(t, path, Options{})).Rev, acked)
	if err == nil {
		return false
	}
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	switch exit.ExitCode() {
	case 3: // did not open
	case 5: // failed and recovered
		*broken++
	default:
		t.Fatalf("call %d: exit %d, %s", n, exit.ExitCode(), said)
	}
	return true
}
