package photo

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/require"
)

func TestWhatADecodingTakesIsKnownBefore(t *testing.T) {
	size := image.Rect(0, 0, 1600, 1200)
	for name, file := range map[string][]byte{
		"grey":     pngOf(t, image.NewGray(size)),
		"grey 16":  pngOf(t, image.NewGray16(size)),
		"colour":   pngOf(t, fourColours(1600, 1200)),
		"16 bits":  blankPNGOf(t, 1600, 1200, 16, 6, 0),
		"palette":  pngOf(t, image.NewPaletted(size, color.Palette{color.White, color.Black})),
		"JPEG":     jpegOf(t, fourColours(1600, 1200)),
		"grey JPG": jpegOf(t, image.NewGray(size)),
	} {
		is, err := measure(file)
		require.NoError(t, err, name)
		decode := png.Decode
		if is.kind == formatJPEG {
			decode = jpeg.Decode
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err = decode(bytes.NewReader(file))
		runtime.ReadMemStats(&after)
		require.NoError(t, err, name)
		taken := float64(after.TotalAlloc - before.TotalAlloc)
		require.InDelta(t, float64(is.bytes), taken, float64(is.bytes)/5+200_000, name)
	}
}

// progressive makes a JPEG's frame one of 5,000 × 5,000 in progressive scans, with the
// first channel's factors.
func progressive(file []byte, factors byte) []byte {
	file = bytes.Clone(file)
	at := bytes.Index(file, []byte{0xff, markerSOF0})
	file[at+1] = markerSOF2
	binary.BigEndian.PutUint16(file[at+5:], 5000)
	binary.BigEndian.PutUint16(file[at+7:], 5000)
	file[at+11] = factors
	return file
}

func TestAPictureThatTakesTooMuchMemoryIsRefused(t *testing.T) {
	colour := jpegOf(t, fourColours(64, 48))
	for name, c := range map[string]struct{ bad, twin []byte }{
		"16 bits, interlaced":            {blankPNGOf(t, 5000, 5000, 16, 6, 1), blankPNGOf(t, 5000, 5000, 16, 6, 0)},
		"progressive, no channel halved": {progressive(colour, 0x11), progressive(colour, 0x22)},
	} {
		_, err := measure(c.bad)
		requireRefused(t, err, TooManyPixels)
		is, err := measure(c.twin)
		require.NoError(t, err, name)
		require.LessOrEqual(t, is.bytes, int64(decodedMost))
	}
}

// A photo of a phone comes when twelve pictures of 25 megapixels are waiting.
func TestASmallPhotoIsDecodedBeforeTheHugeOnesThatWait(t *testing.T) {
	dir := t.TempDir()
	huge, good := blankPNGOf(t, 5000, 5000, 16, 6, 0), jpegOf(t, fourColours(64, 48))
	synctest.Test(t, func(t *testing.T) {
		s, err := OpenStore(dir)
		require.NoError(t, err)
		defer s.Close()
		require.NoError(t, s.turns.wait(t.Context(), 1)) // one is being decoded
		ctx, stop := context.WithCancel(t.Context())
		refused := make(chan error)
		id := func(n int) string { return fmt.Sprintf("0198c0de-5a17-7b3e-9f00-0000000000%02x", n) }
		for i := range 12 {
			go func() {
				_, err := s.Add(ctx, id(i), bytes.NewReader(huge))
				refused <- err
			}()
		}
		synctest.Wait()
		added := make(chan error)
		go func() {
			_, err := s.Add(t.Context(), id(99), bytes.NewReader(good))
			added <- err
		}()
		synctest.Wait()
		require.Len(t, s.turns.waiting, 13)
		next := s.turns.waiting[12]
		stop()
		synctest.Wait()
		require.Equal(t, []*turn{next}, s.turns.waiting, "who gives up makes room")
		for range 12 {
			require.ErrorIs(t, <-refused, context.Canceled)
		}
		for range 3 {
			s.turns.waiting = append([]*turn{{bytes: decodedMost, mine: make(chan struct{})}}, s.turns.waiting...)
		}
		s.turns.next()
		require.NoError(t, <-added)
	})
	_, err := os.Stat(filepath.Join(dir, "0198c0de-5a17-7b3e-9f00-000000000063.jpg"))
	require.NoError(t, err)
}
