package photo

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"testing"

	"github.com/stretchr/testify/require"
)

// Pictures and files for the tests, made by us.

var (
	red    = color.RGBA{R: 220, G: 30, B: 30, A: 255}
	green  = color.RGBA{R: 30, G: 180, B: 30, A: 255}
	blue   = color.RGBA{R: 30, G: 30, B: 220, A: 255}
	yellow = color.RGBA{R: 230, G: 220, B: 30, A: 255}
	white  = color.RGBA{R: 255, G: 255, B: 255, A: 255}
)

// fourColours is red and green above, blue and yellow below.
func fourColours(width, height int) *image.RGBA {
	picture := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			quarter := [2][2]color.RGBA{{red, green}, {blue, yellow}}
			picture.SetRGBA(x, y, quarter[2*y/height][2*x/width])
		}
	}
	return picture
}

func jpegOf(t testing.TB, picture image.Image) []byte {
	t.Helper()
	var file bytes.Buffer
	require.NoError(t, jpeg.Encode(&file, picture, &jpeg.Options{Quality: 92}))
	return file.Bytes()
}

func pngOf(t testing.TB, picture image.Image) []byte {
	t.Helper()
	var file bytes.Buffer
	require.NoError(t, png.Encode(&file, picture))
	return file.Bytes()
}

// withSegment puts a marker segment behind a JPEG file's first marker.
func withSegment(file []byte, marker byte, payload []byte) []byte {
	segment := binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(2+len(payload)))
	segment = append(segment, payload...)
	return bytes.Join([][]byte{file[:2], segment, file[2:]}, nil)
}

// field is one directory entry of a TIFF structure.
type field struct {
	tag, kind uint16
	count     uint32
	value     uint32 // as the four bytes of the entry; a SHORT stands in the first two
}

func orientationField(value int) field { return field{0x0112, 3, 1, uint32(value)} }

// exifOf writes an Exif segment's payload: the fields, then any bytes.
func exifOf(order binary.AppendByteOrder, fields []field, tail string) []byte {
	out := []byte("Exif\x00\x00")
	if order.String() == "LittleEndian" {
		out = append(out, "II*\x00"...)
	} else {
		out = append(out, "MM\x00*"...)
	}
	out = order.AppendUint32(out, 8)
	out = order.AppendUint16(out, uint16(len(fields)))
	for _, f := range fields {
		out = order.AppendUint16(out, f.tag)
		out = order.AppendUint16(out, f.kind)
		out = order.AppendUint32(out, f.count)
		if f.kind == 3 {
			out = order.AppendUint16(order.AppendUint16(out, uint16(f.value)), 0)
		} else {
			out = order.AppendUint32(out, f.value)
		}
	}
	return append(order.AppendUint32(out, 0), tail...)
}

// blankPNG is a whole and valid grey PNG of any size, a few hundred KB at most:
// all its rows are zero.
func blankPNG(t testing.TB, width, height int) []byte {
	return blankPNGOf(t, width, height, 8, 0, 0)
}

// blankPNGOf is of so many bits a channel, a colour type and an interlace method as the
// PNG specification numbers them. The data is that of a PNG without interlace.
func blankPNGOf(t testing.TB, width, height int, bits, colour, interlace byte) []byte {
	t.Helper()
	channels := map[byte]int{0: 1, 2: 3, 4: 2, 6: 4}[colour]
	header := binary.BigEndian.AppendUint32(nil, uint32(width))
	header = binary.BigEndian.AppendUint32(header, uint32(height))
	header = append(header, bits, colour, 0, 0, interlace)
	return bytes.Join([][]byte{
		[]byte(pngSignature), chunk("IHDR", header), chunk("IDAT", zlibOfZeroes(t, height*(width*channels*int(bits)/8+1))), chunk("IEND", nil),
	}, nil)
}

// zlibOfZeroes compresses a block of zeroes once and repeats it: RFC 1951 lets
// flushed blocks be joined, and RFC 1950's checksum of n zeroes is plain.
func zlibOfZeroes(t testing.TB, n int) []byte {
	t.Helper()
	const blockBytes = 1 << 20
	out := []byte{0x78, 0x9c}
	out = append(out, bytes.Repeat(deflated(t, blockBytes), n/blockBytes)...)
	out = append(out, deflated(t, n%blockBytes)...)
	out = append(out, 0x03, 0x00) // the empty last block
	return binary.BigEndian.AppendUint32(out, uint32(n%65521)<<16|1)
}

func deflated(t testing.TB, zeroes int) []byte {
	t.Helper()
	var out bytes.Buffer
	w, err := flate.NewWriter(&out, flate.BestCompression)
	require.NoError(t, err)
	_, err = w.Write(make([]byte, zeroes))
	require.NoError(t, err)
	require.NoError(t, w.Flush())
	return out.Bytes()
}

func chunk(name string, data []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	out = append(append(out, name...), data...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// stored is a picture read back.
type stored struct {
	raw     []byte
	picture image.Image
}

func (s *Store) read(t testing.TB, id string, size Size) stored {
	t.Helper()
	file, err := s.Open(id, size)
	require.NoError(t, err)
	defer file.Close()
	raw, err := io.ReadAll(file)
	require.NoError(t, err)
	picture, err := jpeg.Decode(bytes.NewReader(raw))
	require.NoError(t, err)
	return stored{raw, picture}
}

// requireColour looks at the point that lies at the given share of width and height.
func (p stored) requireColour(t testing.TB, want color.RGBA, shareX, shareY float64) {
	t.Helper()
	b := p.picture.Bounds()
	r, g, bl, _ := p.picture.At(int(shareX*float64(b.Dx())), int(shareY*float64(b.Dy()))).RGBA()
	const tolerance = 12 // of 255, twice through JPEG
	require.InDelta(t, want.R, r>>8, tolerance, "red at %v, %v", shareX, shareY)
	require.InDelta(t, want.G, g>>8, tolerance, "green at %v, %v", shareX, shareY)
	require.InDelta(t, want.B, bl>>8, tolerance, "blue at %v, %v", shareX, shareY)
}

// requireFourColours fails unless the picture is fourColours, upright.
func (p stored) requireFourColours(t testing.TB) {
	t.Helper()
	p.requireColour(t, red, 0.2, 0.2)
	p.requireColour(t, green, 0.8, 0.2)
	p.requireColour(t, blue, 0.2, 0.8)
	p.requireColour(t, yellow, 0.8, 0.8)
}
