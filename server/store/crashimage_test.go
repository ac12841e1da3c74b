package store

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const sectorBytes = 512

// TestAPowerCutLosesNothingAcknowledged builds what a disk may hold after a
// power cut: all that was flushed, and of what was written since nothing, all,
// or a random part in pages or sectors. MENDLINE_IMAGES sets how many.
func TestAPowerCutLosesNothingAcknowledged(t *testing.T) {
	t.Parallel()
	images := times(t, "MENDLINE_IMAGES", 200)
	bad := crashes(t, "commit", images)
	require.Empty(t, bad, "%d of %d images", len(bad), images)
}

// TestWithoutFlushesThePowerCutIsSeen is the control: the same images of a
// child that never flushes must be bad in great number, in rev and in pages.
func TestWithoutFlushesThePowerCutIsSeen(t *testing.T) {
	t.Parallel()
	const images = 60
	bad := crashes(t, "nosync", images)
	require.Greater(t, len(bad), images/2)
	lost := slices.IndexFunc(bad, func(err error) bool { return errors.Is(err, errLost) })
	damaged := slices.IndexFunc(bad, func(err error) bool { return errors.Is(err, ErrDamaged) })
	require.GreaterOrEqual(t, lost, 0)
	require.GreaterOrEqual(t, damaged, 0)
	t.Logf("%d of %d images bad, such as: %.200v", len(bad), images, bad[damaged])
}

var errLost = errors.New("acknowledged, but lost")

// crashes returns what is wrong with the images of a child's work.
func crashes(t *testing.T, mode string, images int) (bad []error) {
	t.Helper()
	seed := seedOf(t)
	path := filepath.Join(t.TempDir(), "board.db")
	s, err := Open(path, Options{})
	require.NoError(t, err)
	commit(t, s, entries(1, 30)...)
	require.NoError(t, s.Close())
	base, err := os.ReadFile(path)
	require.NoError(t, err)
	events := traced(t, mode, path, 40, seed)
	require.NotEmpty(t, events)

	rng := rand.New(rand.NewPCG(seed, 3))
	points := make([]int, images)
	for i := range points {
		points[i] = rng.IntN(len(events) + 1)
	}
	slices.Sort(points)
	d := &disk{flushed: content(base), size: int64(len(base)), acked: 30}
	folder := memoryFolder(t)
	for i, point := range points {
		d.advance(events, point)
		image := filepath.Join(folder, "board.db")
		tear := tears[i%len(tears)]
		require.NoError(t, d.write(image, tear.grain, tear.keep, rng))
		if err := examineImage(image, d.acked); err != nil {
			bad = append(bad, fmt.Errorf("cut before event %d of %d, %s: %w", point, len(events), tear.name, err))
		}
	}
	return bad
}

// tears are the ways in which writes since the last flush reach the disk.
var tears = []struct {
	name  string
	grain int // bytes that reach the disk together
	keep  func(*rand.Rand) bool
}{
	{"nothing since the flush", pageBytes, func(*rand.Rand) bool { return false }},
	{"all since the flush", pageBytes, func(*rand.Rand) bool { return true }},
	{"some pages", pageBytes, func(r *rand.Rand) bool { return r.IntN(2) == 0 }},
	{"some sectors", sectorBytes, func(r *rand.Rand) bool { return r.IntN(2) == 0 }},
	{"few sectors missing", sectorBytes, func(r *rand.Rand) bool { return r.IntN(20) > 0 }},
	{"few sectors there", sectorBytes, func(r *rand.Rand) bool { return r.IntN(20) == 0 }},
}

// disk is what a power cut finds: flushed content, and events since.
type disk struct {
	flushed []byte // without the zeros at its end
	size    int64
	pending []event
	acked   uint64
	next    int // event
}

// advance brings the disk to the moment before the event point.
func (d *disk) advance(events []event, point int) {
	for ; d.next < point; d.next++ {
		switch e := events[d.next]; e.kind {
		case acknowledged:
			d.acked = e.rev
		case wrote, truncated:
			d.pending = append(d.pending, e)
		case flushed:
			for _, p := range d.pending {
				d.flushed, d.size = p.apply(d.flushed, d.size)
			}
			d.pending = nil
		}
	}
}

func (e event) apply(image []byte, size int64) ([]byte, int64) {
	if e.kind == truncated {
		return image[:min(int64(len(image)), e.off)], e.off
	}
	end := e.off + int64(len(e.data))
	if grow := end - int64(len(image)); grow > 0 {
		image = append(image, make([]byte, grow)...)
	}
	copy(image[e.off:], e.data)
	return image, max(size, end)
}

// write makes the file that the cut leaves, with the mark of an unclean stop.
func (d *disk) write(path string, grain int, keep func(*rand.Rand) bool, rng *rand.Rand) error {
	image, size := bytes.Clone(d.flushed), d.size
	for _, e := range d.pending {
		for at := 0; at < max(1, len(e.data)); at += grain {
			if keep(rng) {
				part := e
				part.off += int64(at)
				part.data = e.data[at:min(len(e.data), at+grain)]
				image, size = part.apply(image, size)
			}
		}
	}
	return errors.Join(
		os.WriteFile(path, image, 0o600),
		os.Truncate(path, size),
		os.WriteFile(path+".lock", []byte("open 1"), 0o600))
}

// examineImage opens the image as any start does, and goes on with it.
func examineImage(path string, acked uint64) error {
	s, err := Open(path, Options{FreeBytesLeast: -1})
	if err != nil {
		return err
	}
	err = s.Report().Err()
	if s.rev < acked {
		err = errors.Join(err, fmt.Errorf("revision %d of %d: %w", s.rev, acked, errLost))
	}
	if _, ok := s.Done(entry(acked).ID); !ok {
		err = errors.Join(err, fmt.Errorf("id of %d: %w", acked, errLost))
	}
	return errors.Join(err, s.Commit(entries(s.rev+1, 1)), s.Close())
}

func content(file []byte) []byte {
	return []byte(strings.TrimRight(string(file), "\x00"))
}

// memoryFolder is a folder where flushes cost nothing, if the system has one.
func memoryFolder(t *testing.T) string {
	t.Helper()
	folder, err := os.MkdirTemp("/dev/shm", "mendline")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { require.NoError(t, os.RemoveAll(folder)) })
	return folder
}
