package estimate_test

import (
	"testing"

	"mendline/board/estimate"
)

func BenchmarkNormalQuantile(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		estimate.NormalQuantile(0.137)
	}
}

func BenchmarkBetaQuantile(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		estimate.BetaQuantile(0.9, 40, 65)
	}
}

func BenchmarkFitCensored10Jobs(b *testing.B) {
	jobs := worked([]float64{12, 15, 18, 22, 25, 30, 41}, 20, 35, 60)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := estimate.FitCensored(jobs); err != nil {
			b.Fatal(err)
		}
	}
}
