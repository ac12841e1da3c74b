package demo_test

import (
	"runtime"
	"testing"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/cmd/mendline/demo"
)

// The whole forecast: plan of 10,000 schedules, 2,048 days, 12 remedies at most.
func BenchmarkTheForecastOfTheDemosBoard(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	s := played(b, now(b), 60, func(demo.Step, board.State) {})
	for b.Loop() {
		forecast.Make(s, now(b), 1, 10_000)
	}
}
