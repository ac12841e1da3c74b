package main

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

const pictureMostBytes = 200_000

// TestBrowserPicturesOfTheReadMe takes new pictures of wall and phone into
// the folder that MENDLINE_PICTURES names.
func TestBrowserPicturesOfTheReadMe(t *testing.T) {
	dir := os.Getenv("MENDLINE_PICTURES")
	if dir == "" {
		t.Skip("set MENDLINE_PICTURES to a folder to take new pictures")
	}
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Bramwell")
	wall.sees("Grobblequill")
	wall.seesNot("sound off")
	phone.sees("my next move")
	phone.waits(`!document.body.innerText.includes("undefined")`, "its words")
	for _, d := range []*device{wall, phone} {
		shot, err := chromedp.Run(d.ctx, chromedp.CaptureScreenshot())
		require.NoError(t, err)
		small := fewColours(t, shot)
		require.Less(t, len(small), pictureMostBytes, d.name)
		require.NoError(t, os.WriteFile(filepath.Join(dir, d.name+".png"), small, 0o644))
	}
}

// fewColours writes a picture with its 64 most frequent colours: flat areas stay
// as they are, the edges of letters move by a shade.
func fewColours(t testing.TB, shot []byte) []byte {
	t.Helper()
	full, err := png.Decode(bytes.NewReader(shot))
	require.NoError(t, err)
	count := map[color.Color]int{}
	bounds := full.Bounds()
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			count[full.At(x, y)]++
		}
	}
	var palette color.Palette
	for c := range count {
		palette = append(palette, c)
	}
	slices.SortFunc(palette, func(a, b color.Color) int { return cmp.Compare(count[b], count[a]) })
	palette = palette[:min(64, len(palette))]
	few := image.NewPaletted(bounds, palette)
	index := map[color.Color]uint8{}
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			c := full.At(x, y)
			i, known := index[c]
			if !known {
				i = uint8(palette.Index(c))
				index[c] = i
			}
			few.SetColorIndex(x, y, i)
		}
	}
	var out bytes.Buffer
	require.NoError(t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, few))
	return out.Bytes()
}
