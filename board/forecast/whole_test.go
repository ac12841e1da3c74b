package forecast_test

import (
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/forecast"
	"mendline/cmd/mendline/demo"
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

func BenchmarkWholeForecast6Robots80Jobs10People(b *testing.B) {
	p := busy(b, 6, 80, 10)
	measure(b, p.s, p.now)
}

func BenchmarkWholeForecastOfTheDemosBoard(b *testing.B) {
	now := clock(b, "14:00")
	var s board.State
	steps, err := demo.Day(now, 60)
	require.NoError(b, err)
	for _, p := range steps {
		change, refusal := board.Apply(s, p.Command, p.Ask(s), p.By, p.At)
		require.Nil(b, refusal)
		s = s.With(change)
	}
	measure(b, s, now)
}

// measure makes forecasts on one core: a plan of 10,000 schedules, 2,048 days, the
// remedies of the robots that are flagged. A plain re-plan is the plan alone.
func measure(b *testing.B, s board.State, now board.Moment) {
	b.Helper()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	const schedules = 10_000
	require.NotEmpty(b, forecast.Make(s, now, 1, 1).LeaveOff)
	var whole, replan []time.Duration
	for b.Loop() {
		start := time.Now()
		forecast.Make(s, now, 1, schedules)
		middle := time.Now()
		forecast.Replan(s, now, 1, schedules)
		whole, replan = append(whole, middle.Sub(start)), append(replan, time.Since(middle))
	}
	slices.Sort(whole)
	slices.Sort(replan)
	n := len(whole) / 2
	b.ReportMetric(whole[n].Seconds()*1000, "ms/forecast")
	b.ReportMetric(replan[n].Seconds()*1000, "ms/replan")
	b.ReportMetric(whole[n].Seconds()/replan[n].Seconds(), "forecast/replan")
}
