package photo

import (
	"bytes"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzExifOrientation(f *testing.F) {
	f.Fuzz(func(t *testing.T, file []byte) {
		got := exifOrientation(file)
		require.GreaterOrEqual(t, got, 1)
		require.LessOrEqual(t, got, 8)
		require.Equal(t, got, exifOrientation(bytes.Clone(file)))
		require.GreaterOrEqual(t, scanCount(file), 0)

		// The segment reader must find an orientation in front of anything.
		exif := []byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x07")
		exif = append(exif, make([]byte, 6)...)
		if len(file) >= 2 {
			require.Equal(t, 7, exifOrientation(withSegment(file, markerAPP1, exif)))
		}
	})
}

// Whatever comes in: refused with a sentence and nothing left, or two clean
// pictures within their sizes.
func FuzzAdd(f *testing.F) {
	f.Fuzz(func(t *testing.T, file []byte) {
		if pixels(file) > 1<<20 {
			t.Skip("takes too long for a fuzzer")
		}
		s, dir := openStore(t)
		_, err := s.Add(t.Context(), someID, bytes.NewReader(file))
		if err != nil {
			var refused *Refused
			require.ErrorAs(t, err, &refused)
			require.NotEmpty(t, refused.Sentence)
			require.Empty(t, namesIn(t, dir))
			return
		}
		for size, limitPx := range map[Size]int{Full: fullSidePx, Thumb: thumbSidePx} {
			kept := s.read(t, someID, size)
			requireBare(t, kept.raw)
			bounds := kept.picture.Bounds()
			require.LessOrEqual(t, max(bounds.Dx(), bounds.Dy()), limitPx)
			require.Positive(t, min(bounds.Dx(), bounds.Dy()))
		}
	})
}

func pixels(file []byte) int {
	config, err := jpeg.DecodeConfig(bytes.NewReader(file))
	if err != nil {
		config, err = png.DecodeConfig(bytes.NewReader(file))
	}
	if err != nil {
		return 0
	}
	return config.Width * config.Height
}
