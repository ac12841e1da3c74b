package photo

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"math/rand/v2"
	"testing"

	"github.com/google/uuid"
)

// BenchmarkAdd keeps a photo of a phone's usual size: soft shapes with some noise.
func BenchmarkAdd12MegapixelJPEG(b *testing.B) {
	noise := rand.New(rand.NewPCG(1, 2))
	picture := image.NewRGBA(image.Rect(0, 0, 4000, 3000))
	for y := range 3000 {
		for x := range 4000 {
			grain := noise.IntN(12)
			picture.SetRGBA(x, y, color.RGBA{uint8(x/20 + grain), uint8(y/15 + grain), uint8((x+y)/35 + grain), 255})
		}
	}
	file := jpegOf(b, picture)
	s, _ := openStore(b)
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Add(b.Context(), uuid.NewString(), bytes.NewReader(file)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAddRefused144MegapixelPNG(b *testing.B) {
	file := blankPNG(b, 12_000, 12_000)
	s, _ := openStore(b)
	b.ReportAllocs()
	for b.Loop() {
		var refused *Refused
		if _, err := s.Add(b.Context(), someID, bytes.NewReader(file)); !errors.As(err, &refused) {
			b.Fatal(err)
		}
	}
}
