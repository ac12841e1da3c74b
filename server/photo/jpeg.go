package photo

import (
	"bytes"
	"encoding/binary"
	"iter"
)

// Markers of ITU-T T.81 (1992), table B.1.
const (
	markerRST0 = 0xd0
	markerRST7 = 0xd7
	markerEOI  = 0xd9
	markerSOS  = 0xda
	markerAPP1 = 0xe1
)

// orientationTag is the number of the Orientation field (TIFF 6.0, Exif 2.2).
const orientationTag = 0x0112

// segments gives marker and payload of each marker segment of a JPEG file, in
// order, up to the end-of-image marker or the first segment that is cut short.
// Coded picture data are passed over.
func segments(file []byte) iter.Seq2[byte, []byte] {
	return func(yield func(byte, []byte) bool) {
		rest := file[min(2, len(file)):]
		for {
			marker, after := nextMarker(rest)
			switch {
			case marker == 0 || marker == markerEOI:
				return
			case marker >= markerRST0 && marker <= markerRST7:
				rest = after
				continue
			case len(after) < 2:
				return
			}
			end := int(binary.BigEndian.Uint16(after))
			if end < 2 || end > len(after) || !yield(marker, after[2:end]) {
				return
			}
			rest = after[end:]
		}
	}
}

// nextMarker finds the first marker in b and gives what follows it; 0 where
// there is none. 0xff00 is a stuffed data byte and 0xffff a fill byte, not a marker.
func nextMarker(b []byte) (marker byte, after []byte) {
	for {
		at := bytes.IndexByte(b, 0xff)
		if at < 0 || at+1 >= len(b) {
			return 0, nil
		}
		if m := b[at+1]; m != 0 && m != 0xff {
			return m, b[at+2:]
		}
		b = b[at+1:]
	}
}

// scanCount gives the number of scans in a JPEG file.
func scanCount(file []byte) int {
	n := 0
	for marker := range segments(file) {
		if marker == markerSOS {
			n++
		}
	}
	return n
}

// exifOrientation gives the orientation that a JPEG file's Exif segment states,
// 1 to 8, and 1 (upright) where it states none or nonsense.
// Source: JEITA CP-3451, Exif 2.2, 2002, page 18, tag 274.
func exifOrientation(file []byte) int {
	for marker, payload := range segments(file) {
		if marker == markerSOS {
			return 1
		}
		tiff, isExif := bytes.CutPrefix(payload, []byte("Exif\x00\x00"))
		if marker != markerAPP1 || !isExif {
			continue
		}
		if o := tiffOrientation(tiff); o != 0 {
			return o
		}
	}
	return 1
}

// tiffOrientation reads the orientation from the first directory of a TIFF
// structure; 0 where there is none, or none that the standard defines.
func tiffOrientation(tiff []byte) int {
	order := byteOrder(tiff)
	if order == nil {
		return 0
	}
	dir := int64(order.Uint32(tiff[4:]))
	if dir+2 > int64(len(tiff)) {
		return 0
	}
	count := int(order.Uint16(tiff[dir:]))
	entries := tiff[dir+2:]
	const entryBytes, typeShort = 12, 3
	for ; count > 0 && len(entries) >= entryBytes; count-- {
		entry := entries[:entryBytes]
		entries = entries[entryBytes:]
		if order.Uint16(entry) != orientationTag {
			continue
		}
		value := int(order.Uint16(entry[8:]))
		if order.Uint16(entry[2:]) != typeShort || order.Uint32(entry[4:]) != 1 || value < 1 || value > 8 {
			return 0
		}
		return value
	}
	return 0
}

// byteOrder reads the eight-byte TIFF header; nil where it is not one.
func byteOrder(tiff []byte) binary.ByteOrder {
	if len(tiff) < 8 {
		return nil
	}
	switch string(tiff[:4]) {
	case "II*\x00":
		return binary.LittleEndian
	case "MM\x00*":
		return binary.BigEndian
	}
	return nil
}
