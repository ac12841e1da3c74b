package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// Where row 0 and column 0 of the stored picture lie in the picture as seen.
// Source: JEITA CP-3451, Exif 2.2, 2002, page 18, tag 274 (the same list as in
// TIFF Revision 6.0, Aldus 1992, and Exif 2.32; those two from memory).
type side int

const (
	top side = iota
	bottom
	left
	right
)

var publishedOrientations = []struct {
	value        int
	row0, column side
}{
	{1, top, left},
	{2, top, right},
	{3, bottom, right},
	{4, bottom, left},
	{5, left, top},
	{6, right, top},
	{7, right, bottom},
	{8, left, bottom},
}

// storeAs lays a picture out as the standard says a camera would have stored
// it: pixel by pixel from the sides where row 0 and column 0 lie.
func storeAs(upright image.Image, row0, column0 side) *image.RGBA {
	width, height := upright.Bounds().Dx(), upright.Bounds().Dy()
	columns, rows := width, height
	if row0 == left || row0 == right {
		columns, rows = height, width
	}
	out := image.NewRGBA(image.Rect(0, 0, columns, rows))
	for row := range rows {
		for column := range columns {
			x, y := 0, 0
			for _, step := range []struct {
				from  side
				steps int
			}{{row0, row}, {column0, column}} {
				switch step.from {
				case top:
					y = step.steps
				case bottom:
					y = height - 1 - step.steps
				case left:
					x = step.steps
				case right:
					x = width - 1 - step.steps
				}
			}
			out.Set(column, row, upright.At(x, y))
		}
	}
	return out
}

func TestAllEightOrientationsGiveTheSameUprightPicture(t *testing.T) {
	upright := fourColours(96, 64)
	for _, published := range publishedOrientations {
		for _, order := range []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian} {
			t.Run(strconv.Itoa(published.value)+" "+order.String(), func(t *testing.T) {
				s, _ := openStore(t)
				camera := jpegOf(t, storeAs(upright, published.row0, published.column))
				file := withSegment(camera, markerAPP1, exifOf(order, []field{orientationField(published.value)}, ""))
				kept, err := s.Add(t.Context(), someID, bytes.NewReader(file))
				require.NoError(t, err)
				require.Equal(t, [2]int{96, 64}, [2]int{kept.WidthPx, kept.HeightPx})
				s.read(t, someID, Full).requireFourColours(t)
				s.read(t, someID, Thumb).requireFourColours(t)
			})
		}
	}
}

// Every pixel of a small picture, so that a turn that is off by one shows.
func TestATurnLosesNoPixel(t *testing.T) {
	upright := image.NewRGBA(image.Rect(0, 0, 5, 3))
	for i := range 15 {
		upright.SetRGBA(i%5, i/5, color.RGBA{R: uint8(i), A: 255})
	}
	for _, published := range publishedOrientations {
		camera := storeAs(upright, published.row0, published.column)
		require.Equal(t, upright, turnUpright(camera, published.value), "orientation %d", published.value)
	}
}

func TestALargePictureIsScaledToItsLongSide(t *testing.T) {
	for _, c := range []struct {
		name        string
		sent        image.Point
		full, thumb image.Point
	}{
		{"wide", image.Pt(2000, 250), image.Pt(1600, 200), image.Pt(320, 40)},
		{"high", image.Pt(250, 2000), image.Pt(200, 1600), image.Pt(40, 320)},
		{"exactly as large as kept", image.Pt(1600, 200), image.Pt(1600, 200), image.Pt(320, 40)},
		{"one pixel more", image.Pt(1601, 200), image.Pt(1600, 200), image.Pt(320, 40)},
		{"small stays small", image.Pt(200, 100), image.Pt(200, 100), image.Pt(200, 100)},
		{"a line stays a line", image.Pt(8000, 2), image.Pt(1600, 1), image.Pt(320, 1)},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := openStore(t)
			kept, err := s.Add(t.Context(), someID, bytes.NewReader(jpegOf(t, fourColours(c.sent.X, c.sent.Y))))
			require.NoError(t, err)
			full, thumb := s.read(t, someID, Full), s.read(t, someID, Thumb)
			require.Equal(t, c.full, full.picture.Bounds().Size())
			require.Equal(t, c.thumb, thumb.picture.Bounds().Size())
			require.Equal(t, c.full, image.Pt(kept.WidthPx, kept.HeightPx))
			require.EqualValues(t, len(full.raw), kept.SizeBytes)
			if c.full.Y > 1 {
				full.requireFourColours(t)
				thumb.requireFourColours(t)
			}
		})
	}
}

func TestTransparentPartsOfAPNGComeOutWhite(t *testing.T) {
	picture := image.NewNRGBA(image.Rect(0, 0, 64, 32))
	for y := range 32 {
		for x := range 32 {
			picture.SetNRGBA(x, y, color.NRGBA{R: 220, G: 30, B: 30, A: 255})
			picture.SetNRGBA(x+32, y, color.NRGBA{B: 200}) // blue that nobody sees
		}
	}
	s, _ := openStore(t)
	_, err := s.Add(t.Context(), someID, bytes.NewReader(pngOf(t, picture)))
	require.NoError(t, err)
	for _, size := range []Size{Full, Thumb} {
		s.read(t, someID, size).requireColour(t, red, 0.2, 0.5)
		s.read(t, someID, size).requireColour(t, white, 0.8, 0.5)
	}
}

func TestEveryKindOfPNGIsRead(t *testing.T) {
	colours := fourColours(64, 48)
	paletted := image.NewPaletted(colours.Rect, color.Palette{red, green, blue, yellow})
	deep := image.NewNRGBA64(colours.Rect)
	for y := range 48 {
		for x := range 64 {
			paletted.Set(x, y, colours.At(x, y))
			deep.Set(x, y, colours.At(x, y))
		}
	}
	for name, picture := range map[string]image.Image{"RGBA": colours, "palette": paletted, "16 bits": deep} {
		t.Run(name, func(t *testing.T) {
			s, _ := openStore(t)
			_, err := s.Add(t.Context(), someID, bytes.NewReader(pngOf(t, picture)))
			require.NoError(t, err)
			s.read(t, someID, Full).requireFourColours(t)
		})
	}
}

// The secret is planted in one place a row; the test makes sure that it went in.
func TestNothingOfTheMetadataIsLeft(t *testing.T) {
	const secret = "N 51.4778 W 0.0015 planted-secret"
	gps := field{tag: 0x8825, kind: 4, count: 1, value: 38}
	photo := jpegOf(t, fourColours(64, 48))
	shot := pngOf(t, fourColours(64, 48))
	afterHeader := len(pngSignature) + 25

	for name, file := range map[string][]byte{
		"Exif with GPS":      withSegment(photo, markerAPP1, exifOf(binary.BigEndian, []field{orientationField(1), gps}, secret)),
		"XMP":                withSegment(photo, markerAPP1, []byte("http://ns.adobe.com/xap/1.0/\x00"+secret)),
		"ICC profile":        withSegment(photo, 0xe2, []byte("ICC_PROFILE\x00\x01\x01"+secret)),
		"IPTC":               withSegment(photo, 0xed, []byte("Photoshop 3.0\x00"+secret)),
		"comment":            withSegment(photo, 0xfe, []byte(secret)),
		"trailer":            append(bytes.Clone(photo), secret...),
		"second picture":     slices.Concat(photo, withSegment(photo, 0xfe, []byte(secret))),
		"PNG text":           slices.Insert(bytes.Clone(shot), afterHeader, chunk("tEXt", []byte("Location\x00"+secret))...),
		"PNG Exif":           slices.Insert(bytes.Clone(shot), afterHeader, chunk("eXIf", exifOf(binary.BigEndian, []field{gps}, secret)[6:])...),
		"PNG trailer":        append(bytes.Clone(shot), secret...),
		"PNG invented chunk": slices.Insert(bytes.Clone(shot), afterHeader, chunk("piTb", []byte(secret))...),
	} {
		t.Run(name, func(t *testing.T) {
			require.Contains(t, string(file), secret)
			s, dir := openStore(t)
			_, err := s.Add(t.Context(), someID, bytes.NewReader(file))
			require.NoError(t, err)
			require.Len(t, namesIn(t, dir), 2, "the upload itself is gone")
			for _, size := range []Size{Full, Thumb} {
				kept := s.read(t, someID, size)
				kept.requireFourColours(t)
				requireBare(t, kept.raw)
				require.NotContains(t, string(kept.raw), "planted")
			}
		})
	}
}

// requireBare fails unless a JPEG file is tables, frame and one scan, and ends
// with its end-of-image marker.
func requireBare(t testing.TB, file []byte) {
	t.Helper()
	const sof0, dht, dqt = 0xc0, 0xc4, 0xdb
	for marker := range segments(file) {
		require.Contains(t, []byte{sof0, dht, dqt, markerSOS}, marker, "marker %#x", marker)
	}
	require.Equal(t, len(file)-2, bytes.Index(file, []byte{0xff, markerEOI}), "bytes after the picture")
	require.NotContains(t, string(file), "Exif")
}
