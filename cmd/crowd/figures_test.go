package main

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Values worked out by hand from the definition; constructed by us.
func TestAQuantileIsTheLeastValueThatTheShareDoesNotExceed(t *testing.T) {
	five := []time.Duration{15, 20, 35, 40, 50}
	twenty := make([]time.Duration, 20)
	for i := range twenty {
		twenty[i] = time.Duration(i + 1)
	}
	for _, c := range []struct {
		sorted []time.Duration
		p      float64
		want   time.Duration
	}{
		{five, 0.05, 15}, {five, 0.30, 20}, {five, 0.40, 20}, {five, 0.50, 35}, {five, 0.99, 50}, {five, 1, 50},
		{twenty, 0.50, 10}, {twenty, 0.95, 19}, {twenty, 0.951, 20}, {twenty, 0.99, 20},
		{[]time.Duration{7}, 0.01, 7},
	} {
		require.Equal(t, c.want, quantile(c.sorted, c.p), "p %v of %d values", c.p, len(c.sorted))
	}
}

func TestASpreadSortsItsSampleAndCountsInMilliseconds(t *testing.T) {
	sample := []time.Duration{4 * time.Millisecond, 1500 * time.Microsecond, 250 * time.Millisecond}
	require.Equal(t, spread{Count: 3, P50: 4, P95: 250, P99: 250, Max: 250}, spreadOf(sample))
	require.Equal(t, 4*time.Millisecond, sample[0], "the sample stays as it was")
	require.Equal(t, spread{}, spreadOf(nil))
}

func TestARatioIsEachFigureOverTheFloors(t *testing.T) {
	s := spread{Count: 9, P50: 3, P95: 8, P99: 10, Max: 12}
	require.Equal(t, ratio{P50: 1.5, P95: 2, P99: 2, Max: 3}, s.over(spread{Count: 9, P50: 2, P95: 4, P99: 5, Max: 4}))
	require.Equal(t, ratio{}, s.over(spread{}), "without a floor there is no ratio")
}
