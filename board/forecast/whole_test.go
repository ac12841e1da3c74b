package forecast_test

import (
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board/forecast"
	"mendline/board/plan"
)

func TestTheForecastIsTheSameBytesOnOneCoreAndOnTwo(t *testing.T) {
	p := busy(t, 4, 24, 5)
	made := map[int]forecast.Entries{}
	for _, cores := range []int{1, 2} {
		before := runtime.GOMAXPROCS(cores)
		beside := make(chan forecast.Entries)
		go func() { beside <- p.make().Entries() }()
		made[cores] = p.make().Entries()
		other := <-beside
		runtime.GOMAXPROCS(before)
		require.Equal(t, made[cores], other, "two at a time on %d cores", cores)
	}
	require.Equal(t, made[1], made[2])
	require.NotEmpty(t, p.make().LeaveOff)
}

// A plain re-plan is the search without the days and the remedies.
func BenchmarkWholeForecast6Robots80Jobs10People(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	p := busy(b, 6, 80, 10)
	const schedules = 10_000
	require.NotEmpty(b, forecast.Make(p.s, p.now, 1, 1).LeaveOff)
	var whole, replan time.Duration
	for b.Loop() {
		start := time.Now()
		forecast.Make(p.s, p.now, 1, schedules)
		middle := time.Now()
		forecast.Replan(p.s, p.now, 1, plan.Budget(schedules))
		whole, replan = whole+middle.Sub(start), replan+time.Since(middle)
	}
	b.ReportMetric(float64(whole.Milliseconds())/float64(b.N), "ms/forecast")
	b.ReportMetric(float64(replan.Milliseconds())/float64(b.N), "ms/replan")
	b.ReportMetric(float64(whole)/float64(replan), "forecast/replan")
}
