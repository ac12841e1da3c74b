package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"

	"golang.org/x/image/draw"
)

// format is what the first bytes of an upload say it is.
type format int

const (
	formatJPEG format = iota
	formatPNG
)

const (
	pngSignature = "\x89PNG\r\n\x1a\n"
	sniffBytes   = 12
)

// sniff tells the format by the first sniffBytes of a file.
func sniff(head []byte) (format, *Refused) {
	text := string(head)
	switch {
	case strings.HasPrefix(text, "\xff\xd8\xff"):
		return formatJPEG, nil
	case strings.HasPrefix(text, pngSignature):
		return formatPNG, nil
	case len(text) >= 12 && text[4:8] == "ftyp" && isHEIC(text[8:12]):
		return 0, refuseHEIC()
	}
	return 0, refuseNotAPicture()
}

// isHEIC knows the major brands with which phones mark HEIC and AVIF stills
// (ISO/IEC 23008-12 and the AVIF specification; from memory).
func isHEIC(brand string) bool {
	switch brand {
	case "heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif", "avis":
		return true
	}
	return false
}

// clean is an upload decoded, scaled, turned upright and encoded again.
type clean struct {
	full, thumb       []byte
	widthPx, heightPx int
}

// measured is an upload whose declared size was checked.
type measured struct {
	kind  format
	bytes int64 // that its decoding takes
}

// measure reads what a file says of itself, and refuses one that is too large.
func measure(file []byte) (measured, error) {
	kind, refused := sniff(file)
	if refused != nil {
		return measured{}, refused
	}
	decodeConfig := jpeg.DecodeConfig
	if kind == formatPNG {
		decodeConfig = png.DecodeConfig
	}
	config, err := decodeConfig(bytes.NewReader(file))
	if err != nil {
		return measured{}, refuseUnreadable(err)
	}
	if refused := checkSize(config.Width, config.Height); refused != nil {
		return measured{}, refused
	}
	if kind == formatJPEG && scanCount(file) > scansMost {
		return measured{}, refuseUnreadable(fmt.Errorf("more than %d scans", scansMost))
	}
	is := measured{kind, decodedBytes(file, kind, config)}
	if is.bytes > decodedMost {
		return measured{}, refuseTooHeavy()
	}
	return is, nil
}

// cleanse makes clean JPEGs of an uploaded file. Nothing but the pixels passes
// through, so nothing of the file's metadata can.
func cleanse(file []byte) (clean, error) {
	is, err := measure(file)
	if err != nil {
		return clean{}, err
	}
	decode, orientation := png.Decode, 1
	if is.kind == formatJPEG {
		decode, orientation = jpeg.Decode, exifOrientation(file)
	}
	decoded, err := decode(bytes.NewReader(file))
	if err != nil {
		return clean{}, refuseUnreadable(err)
	}
	full := turnUpright(shrink(decoded, fullSidePx, draw.ApproxBiLinear), orientation)
	thumb := shrink(full, thumbSidePx, draw.BiLinear)
	return encode(full, thumb)
}

func checkSize(widthPx, heightPx int) *Refused {
	if widthPx < 1 || heightPx < 1 {
		return refuseUnreadable(errors.New("no pixels"))
	}
	if widthPx > SidePxMost || heightPx > SidePxMost || widthPx*heightPx > PixelsMost {
		return refuseTooManyPixels(widthPx, heightPx)
	}
	return nil
}

// shrink draws src on white, its long side at most sidePx; it never enlarges.
func shrink(src image.Image, sidePx int, scaler draw.Scaler) *image.RGBA {
	from := src.Bounds()
	width, height := from.Dx(), from.Dy()
	if long := max(width, height); long > sidePx {
		width = max(1, (width*sidePx+long/2)/long)
		height = max(1, (height*sidePx+long/2)/long)
	}
	dst := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(dst, dst.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	scaler.Scale(dst, dst.Bounds(), src, from, draw.Over, nil)
	return dst
}

// rotation says how to find an upright picture's pixel in the stored one: mirror
// its x and y within the upright picture, then swap them.
type rotation struct{ mirrorX, mirrorY, swap bool }

// rotationFor gives the rotation for an Exif orientation.
// Source: JEITA CP-3451, Exif 2.2, 2002, page 18, tag 274.
func rotationFor(orientation int) rotation {
	return [...]rotation{
		2: {mirrorX: true},
		3: {mirrorX: true, mirrorY: true},
		4: {mirrorY: true},
		5: {swap: true},
		6: {mirrorX: true, swap: true},
		7: {mirrorX: true, mirrorY: true, swap: true},
		8: {mirrorY: true, swap: true},
	}[orientation]
}

func turnUpright(stored *image.RGBA, orientation int) *image.RGBA {
	t := rotationFor(orientation)
	if t == (rotation{}) {
		return stored
	}
	width, height := stored.Bounds().Dx(), stored.Bounds().Dy()
	if t.swap {
		width, height = height, width
	}
	upright := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			fromX, fromY := x, y
			if t.mirrorX {
				fromX = width - 1 - x
			}
			if t.mirrorY {
				fromY = height - 1 - y
			}
			if t.swap {
				fromX, fromY = fromY, fromX
			}
			upright.SetRGBA(x, y, stored.RGBAAt(fromX, fromY))
		}
	}
	return upright
}

func encode(full, thumb *image.RGBA) (clean, error) {
	var fullJPEG, thumbJPEG bytes.Buffer
	quality := &jpeg.Options{Quality: jpegQuality}
	if err := errors.Join(jpeg.Encode(&fullJPEG, full, quality), jpeg.Encode(&thumbJPEG, thumb, quality)); err != nil {
		return clean{}, fmt.Errorf("encode photo: %w", err)
	}
	return clean{
		full: fullJPEG.Bytes(), thumb: thumbJPEG.Bytes(),
		widthPx: full.Bounds().Dx(), heightPx: full.Bounds().Dy(),
	}, nil
}
