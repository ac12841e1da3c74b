package photo

import (
	"image"
	"image/color"
)

// decodedMost is how much memory the decoding of one picture may take: 25 megapixels of
// 16 bits in four channels, and what their like need of 8 bits.
const decodedMost = 8 * PixelsMost

// A frame header gives each channel a factor for width and one for height (ITU-T T.81,
// 1992, B.2.2); SOF2 begins a progressive picture.
const (
	markerSOF0 = 0xc0
	markerSOF1 = 0xc1
	markerSOF2 = 0xc2
)

// decodedBytes is about what the decoder takes for a picture: its pixels, and beside them
// the passes of an interlaced PNG or the coefficients of a progressive JPEG.
func decodedBytes(head []byte, kind format, config image.Config) int64 {
	pixels := int64(config.Width) * int64(config.Height)
	if kind == formatPNG {
		return pngBytes(head, pixels, config.ColorModel)
	}
	return jpegBytes(head, pixels)
}

// interlaced stands in a PNG's header, behind signature, length, type, width, height,
// depth, colour, compression and filter (W3C, "PNG Specification", second edition, 2003,
// 11.2.2). The last of the passes has half of all pixels.
const interlaced = 8 + 4 + 4 + 4 + 4 + 1 + 1 + 1 + 1

func pngBytes(head []byte, pixels int64, model color.Model) int64 {
	each := int64(4)
	switch model {
	case color.GrayModel:
		each = 1
	case color.Gray16Model:
		each = 2
	case color.RGBA64Model, color.NRGBA64Model:
		each = 8
	default:
		if _, ok := model.(color.Palette); ok {
			each = 1
		}
	}
	if len(head) > interlaced && head[interlaced] != 0 {
		return pixels * each * 3 / 2
	}
	return pixels * each
}

func jpegBytes(file []byte, pixels int64) int64 {
	const factors, each = 6, 3 // where the channels begin in a frame header, and bytes of one
	for marker, frame := range segments(file) {
		if marker != markerSOF0 && marker != markerSOF1 && marker != markerSOF2 || len(frame) < factors {
			continue
		}
		var most, all int64 = 1, 0
		for at := factors; at+each <= len(frame); at += each {
			share := int64(frame[at+1]>>4) * int64(frame[at+1]&15)
			most = max(most, share)
			all += share
		}
		bytes := pixels * all / most
		if (len(frame)-factors)/each == 4 {
			bytes *= 2 // four channels are put together again
		}
		if marker == markerSOF2 {
			bytes += 4 * pixels * all / most
		}
		return bytes
	}
	return 4 * pixels
}
