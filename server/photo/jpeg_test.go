package photo

import (
	"bytes"
	"encoding/binary"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTheOrientationIsReadOnlyWhereTheStandardPutsIt(t *testing.T) {
	photo := jpegOf(t, fourColours(16, 12))
	big, little := binary.BigEndian, binary.LittleEndian
	with := func(fields ...field) []byte { return withSegment(photo, markerAPP1, exifOf(big, fields, "")) }
	maker := field{tag: 0x010f, kind: 2, count: 4, value: 0x41424300}
	short := exifOf(big, []field{maker, orientationField(6)}, "")

	for _, c := range []struct {
		name string
		file []byte
		want int
	}{
		{"no Exif", photo, 1},
		{"big-endian", with(orientationField(6)), 6},
		{"little-endian", withSegment(photo, markerAPP1, exifOf(little, []field{orientationField(6)}, "")), 6},
		{"behind another field", with(maker, orientationField(8)), 8},
		{"behind another segment", withSegment(with(orientationField(3)), 0xe0, []byte("JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00")), 3},
		{"behind an XMP segment", withSegment(with(orientationField(3)), markerAPP1, []byte("http://ns.adobe.com/xap/1.0/\x00")), 3},
		{"behind fill bytes", bytes.Join([][]byte{photo[:2], {0xff, 0xff}, with(orientationField(5))[2:]}, nil), 5},
		{"0 is reserved", with(orientationField(0)), 1},
		{"9 is reserved", with(orientationField(9)), 1},
		{"of type LONG", with(field{0x0112, 4, 1, 6 << 16}), 1},
		{"two values", with(field{0x0112, 3, 2, 6}), 1},
		{"another tag", with(field{0x0113, 3, 1, 6}), 1},
		{"no directory", withSegment(photo, markerAPP1, []byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08")), 1},
		{"directory far outside", withSegment(photo, markerAPP1, []byte("Exif\x00\x00MM\x00*\xff\xff\xff\xff\x00\x01")), 1},
		{"entry cut short", withSegment(photo, markerAPP1, short[:len(short)-8]), 1},
		{"entry just whole", withSegment(photo, markerAPP1, short[:len(short)-4]), 6},
		{"wrong magic", withSegment(photo, markerAPP1, []byte("Exif\x00\x00MM\x00+\x00\x00\x00\x08")), 1},
		{"in the comment segment", withSegment(photo, 0xfe, exifOf(big, []field{orientationField(6)}, "")), 1},
		{"between scan and end", bytes.Join([][]byte{photo[:len(photo)-2], with(orientationField(6))[2:]}, nil), 1},
		{"behind the picture", append(bytes.Clone(photo), with(orientationField(6))[2:]...), 1},
		{"nothing", nil, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, exifOrientation(c.file))
		})
	}
}

func TestScansAreCountedAndEmbeddedOnesAreNot(t *testing.T) {
	photo := jpegOf(t, fourColours(64, 48))
	require.Equal(t, 1, scanCount(photo))
	require.Equal(t, 7, scanCount(withScans(photo, 7)))
	require.Equal(t, 1, scanCount(withSegment(photo, 0xe2, withScans(photo, 7))), "a preview in a segment")
	require.Equal(t, 1, scanCount(append(bytes.Clone(photo), withScans(photo, 7)...)), "a picture behind the picture")
	require.Equal(t, 1, scanCount(slices.Concat(photo, []byte{0, 2}, withScans(photo, 7)[2:])), "one that reads as a segment of the end marker")
	require.Equal(t, 0, scanCount(nil))
}
